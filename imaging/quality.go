package imaging

import (
	"math"
)

// blurScales are the two widths, mm, at which the sharpness of strokes is
// compared.
var blurScales = [2]float64{0.08, 0.32}

// strokeBlur estimates the blur of line work from how much sharper its edges
// grow when looked at more finely. A stroke thin against the blur, smoothed to
// a total variance v, has gradient energy in proportion to v^(-3/2); so the
// ratio of energies at two smoothings gives the variance they share. The
// result, mm, includes about a third of the strokes' width. A border, in
// samples, is left out.
func strokeBlur(r *plane, s float64, border int) float64 {
	var e [2]float64
	for k, mm := range blurScales {
		b := r.blur(mm * s)
		e[k] = sumStrips(b.h, func(lo, hi int) float64 {
			var t float64
			for y := max(lo, border); y < min(hi, b.h-border); y++ {
				above, row, below := b.row(y-1), b.row(y), b.row(y+1)
				for x := border; x < len(row)-border; x++ {
					gx, gy := float64(row[x+1]-row[x-1]), float64(below[x]-above[x])
					if g := gx*gx + gy*gy; g > 1e-4 { // NaN is not
						t += g
					}
				}
			}
			return t
		})
	}
	if e[1] <= 0 {
		return math.NaN()
	}
	q := math.Pow(e[0]/e[1], 2.0/3)
	a, b := blurScales[0]*blurScales[0], blurScales[1]*blurScales[1]
	if q <= 1.02 {
		return 1
	}
	return math.Sqrt(max(0, (b-a*q)/(q-1)))
}

// blurLimit is the blur, mm, past which single lines can no longer be judged.
const blurLimit = 0.30

// photoBlur is the blur seen within a plate mark before anything is known of
// the plate, in mm on it.
func photoBlur(p *Photo, m *mapping, size Size) float64 {
	g := newGrid(size, 8)
	r := newSource(p, m.scale(size), g.s).rectify(m, g)
	top := 0.0
	for _, v := range r.v {
		top = max(top, float64(v))
	}
	for i := range r.v {
		r.v[i] /= float32(max(top, 1e-4))
	}
	return strokeBlur(r, g.s, int(2.5*g.s)+1)
}

// quality judges a photograph for measuring, after the table for prints and
// photographs in FADGI 2016 where it has a figure.
func quality(p *Photo, s *Sheet) Quality {
	q := Quality{PxPerMM: s.NativePx, LightFalloff: s.light.falloff(s.Size), Clipped: s.light.clipped}
	q.BlurMM = s.BlurMM
	q.Noise = paperNoise(p, s)
	q.Findings = findings(q, p)
	return q
}

// paperNoise is the pixel-to-pixel standard deviation on the margins in 8-bit
// counts of the sRGB scale.
func paperNoise(p *Photo, s *Sheet) float64 {
	var d []float64
	m := s.m
	step := 1.7
	for y := -6.0; y <= s.Size.Height+6; y += step {
		for x := -6.0; x <= s.Size.Width+6; x += step {
			if x > -3 && x < s.Size.Width+3 && y > -3 && y < s.Size.Height+3 {
				continue
			}
			px := m.h.apply(Point{x, y})
			i, j := int(px.X), int(px.Y)
			if i < 1 || j < 1 || i >= p.Width-2 || j >= p.Height-2 {
				continue
			}
			o := j*p.Width + i
			// A second difference along the row leaves slopes out.
			a, b, c := encodeSRGB(float64(p.lum.v[o-1])), encodeSRGB(float64(p.lum.v[o])), encodeSRGB(float64(p.lum.v[o+1]))
			d = append(d, 255*(a-2*b+c)/math.Sqrt(6))
		}
	}
	if len(d) < 30 {
		return math.NaN()
	}
	if n := spread(d); n > 0 {
		return n
	}
	// JPEG flattens paper until more than half of the differences are nought,
	// and a median says nothing of the rest.
	return rootMeanSquare(d, 4)
}

// rootMeanSquare is that of the values no larger than limit; NaN of none.
func rootMeanSquare(v []float64, limit float64) float64 {
	var sum, n float64
	for _, x := range v {
		if math.Abs(x) <= limit {
			sum += x * x
			n++
		}
	}
	return math.Sqrt(sum / n)
}

// stars gives the FADGI level of a value against limits for one to four
// stars.
func stars(v float64, limits [4]float64, more bool) int {
	n := 0
	for _, l := range limits {
		if (more && v >= l) || (!more && v < l) {
			n++
		}
	}
	return n
}

// findings are the lines of the quality report. The limits are those of the
// Federal Agencies Digital Guidelines Initiative, Technical Guidelines for
// Digitizing Cultural Heritage Materials, September 2016, table "Prints and
// Photographs"; blur and clipping have none there and are judged by what
// measuring lines needs.
func findings(q Quality, p *Photo) []Finding {
	ppi := q.PxPerMM * 25.4
	light := 100 * q.LightFalloff
	out := []Finding{
		{What: "resolution", Value: ppi, Unit: "pixels to the inch", Stars: stars(ppi, [4]float64{100, 200, 400, 600}, true)},
		{What: "evenness of light", Value: light, Unit: "%", Stars: stars(light, [4]float64{8, 5, 3, 1}, false)},
		{What: "noise", Value: q.Noise, Unit: "8-bit counts", Stars: stars(q.Noise, [4]float64{6, 5, 4, 3}, false)},
		{What: "bit depth", Value: float64(p.Bits), Unit: "bit", Stars: bitStars(p.Bits)},
		{What: "focus", Value: q.BlurMM, Unit: "mm", Stars: stars(q.BlurMM, [4]float64{0.25, 0.16, 0.11, 0.07}, false)},
		{What: "exposure", Value: 100 * q.Clipped, Unit: "% of the margin at the top of the scale", Stars: stars(100*q.Clipped, [4]float64{2, 0.5, 0.1, 0.02}, false)},
	}
	advice := map[string]string{
		"resolution":        "Move closer or fill the frame: fine lines need at least 200 pixels to the inch.",
		"evenness of light": "Place two lamps alike at 45 degrees, or photograph a blank sheet under the same light.",
		"noise":             "Use a lower sensitivity and a longer exposure on a stand.",
		"bit depth":         "",
		"focus":             "Focus again on the lines, use a stand and a smaller aperture.",
		"exposure":          "Lower the exposure until no part of the paper is burnt out.",
	}
	for i, f := range out {
		if f.Stars < 2 {
			out[i].Advice = advice[f.What]
		}
	}
	return out
}

func bitStars(bits int) int {
	if bits >= 16 {
		return 4
	}
	if bits >= 8 {
		return 3
	}
	return 0
}

// focused refuses what is too blurred to be measured.
func focused(q Quality) error {
	if q.BlurMM > blurLimit {
		return unfocused(q.BlurMM)
	}
	return nil
}

func unfocused(mm float64) error {
	return refuse("The photograph is out of focus: its lines are blurred over about %.1f mm; focus on them and take it again.", 2.4*mm)
}
