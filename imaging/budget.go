package imaging

import "math"

// budget is what makes the scores of one pair of sheets uncertain, each a
// standard uncertainty (GUM, JCGM 100:2008), combined by root sum of squares.
type budget struct {
	ground float64 // ink loss: the ground under the lines, both sheets
	curve  float64 // ink loss: the camera's curve and the ink's own reflectance
	blur   float64 // ink loss: halo lost beyond the support
	shift  float64 // ink loss: registration
	light  float64 // density: the light followed from the margins
	crowd  float64 // density, a share of it: tone told from the little ground that shows
	paper  float64 // density: paper inside and outside the mark
	halo   float64 // burr loss
	spot   float64 // coverage: noise of a place on a line
}

// Component is one line of a score's uncertainty.
type Component struct {
	Score string  // "ink_loss", "plate_tone", "burr_loss"
	Cause string  // "ground", "curve", "focus", "registration", "light", "paper"
	U     float64 // in the score's unit
}

func (b *budget) inkLoss() float64 {
	return math.Sqrt(b.ground*b.ground + b.curve*b.curve + b.blur*b.blur + b.shift*b.shift)
}

func (b *budget) tone(d float64) float64 {
	return math.Sqrt(b.light*b.light + b.paper*b.paper + (0.008*0.008+b.crowd*b.crowd)*d*d)
}

// burr grows with the loss: what lines spill into a halo stays when burr goes.
func (b *budget) burr(v float64) float64 { return math.Hypot(b.halo, 0.12*v) }

func (b *budget) lines() []Component {
	return []Component{
		{"ink_loss", "ground", b.ground}, {"ink_loss", "curve", b.curve}, {"ink_loss", "focus", b.blur}, {"ink_loss", "registration", b.shift},
		{"plate_tone", "light", b.light}, {"plate_tone", "paper", b.paper},
		{"burr_loss", "ground", b.halo},
	}
}

// crowdedU is what a plate would be uncertain by, as a fraction of its ink, if
// no ground showed between its lines anywhere.
const crowdedU = 0.012

// crowdedTone is by what share of it plate tone would be uncertain then: what
// ground shows is stained by the lines beside it, and more so where tone fills
// the gaps. Of a plate cross-hatched over half its area tone was told up to 8 %
// too dark.
const crowdedTone = 0.08

// budget draws up the budget of a pair.
func (r *Reference) budget(s *Sheet, all tally, inkU, shift float64) *budget {
	b := &budget{}
	e1, n1 := groundError(s, r.lines.support)
	e0 := r.groundU
	keep := all.mov / all.ref
	if n1 > 0 && e0 == e0 {
		b.ground = math.Hypot(e1, keep*e0) / all.ref
	} else {
		b.ground = 0.01
	}
	b.ground = math.Hypot(min(b.ground, 0.01), crowdedU*r.lines.crowded)
	// A wrong ink reflectance scales all coverages of its sheet.
	b.curve = math.Hypot(0.001+0.012*math.Abs(1-keep), keep*inkU)
	d := math.Abs(s.BlurMM - r.Sheet.BlurMM)
	b.blur = 0.05 * d
	b.shift = 0.01 * shift
	b.light = s.ToneU
	b.paper = 0.0004 + 0.0006*r.lines.crowded
	b.crowd = crowdedTone * math.Pow(r.lines.crowded, 3)
	if r.lines.burr != nil {
		mm2 := r.lines.burr.mass / (s.PxPerMM * s.PxPerMM)
		b.halo = math.Hypot(0.012, 0.05/math.Sqrt(mm2))
		if r.lines.burr.fading {
			b.halo = math.Hypot(0.05, 0.1/math.Sqrt(mm2))
		}
	}
	b.spot = 0.004 + 0.4*math.Max(s.Noise, r.Sheet.Noise)
	return b
}

// groundError tells how wrong the coverage summed over the line work may be
// because the ground under lines is only known from beside them. It lays the
// line work, moved aside by some millimetres, over bare ground, asks for the
// ground under it in the same way, and sees by how much that misses: mm2,
// scaled up to the whole support, and how many places could be tried.
func groundError(s *Sheet, support []bool) (mm2 float64, n int) {
	k := max(1, int(math.Round(s.PxPerMM/groundStep)))
	cs := s.PxPerMM / float64(k)
	w, h := s.Cols/k, s.Rows/k
	val, free, line := newPlane(w, h), make([]bool, w*h), make([]bool, w*h)
	b := int(math.Ceil(rim * cs))
	var lines float64
	for y := 0; y < h; y++ {
		for x := 0; x < w; x++ {
			var sum float32
			clear, under := 0, 0
			for yy := y * k; yy < (y+1)*k; yy++ {
				for xx := x * k; xx < (x+1)*k; xx++ {
					i := yy*s.Cols + xx
					if !s.Line[i] {
						sum += s.Reflectance[i]
						clear++
					}
					if support[i] {
						under++
					}
				}
			}
			c := y*w + x
			in := x >= b && y >= b && x < w-b && y < h-b
			if clear == k*k {
				val.v[c] = sum / float32(clear)
				free[c] = in
			}
			line[c] = 2*under > k*k
			if line[c] && in {
				lines++
			}
		}
	}
	var ss float64
	for _, mv := range [][2]float64{{4.3, 1.7}, {-1.9, 4.1}, {-4.7, -2.3}, {2.9, -5.3}} {
		dx, dy := int(mv[0]*cs), int(mv[1]*cs)
		num, den := newPlane(w, h), newPlane(w, h)
		var test []int
		for y := 0; y < h; y++ {
			for x := 0; x < w; x++ {
				c := y*w + x
				sx, sy := x-dx, y-dy
				moved := sx >= 0 && sy >= 0 && sx < w && sy < h && line[sy*w+sx]
				if !free[c] {
					continue
				}
				if moved {
					test = append(test, c)
					continue
				}
				num.v[c], den.v[c] = val.v[c], 1
			}
		}
		if len(test) < 40 {
			continue
		}
		g := pushGround(num, den, cs)
		var e float64
		tried := 0
		for _, c := range test {
			if g.v[c] < 0.25 { // no ground within reach
				continue
			}
			e += float64((g.v[c] - val.v[c]) / (g.v[c] - solidInk))
			tried++
		}
		if tried < 40 {
			continue
		}
		// A part of the support was tried; errors of the rest are as large
		// and independent.
		e *= math.Sqrt(lines / float64(tried))
		ss += e * e
		n++
	}
	if n == 0 {
		return 0, 0
	}
	return math.Sqrt(ss/float64(n)) / (cs * cs), n
}
