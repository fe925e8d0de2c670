package imaging

import "math"

// toneField is the plate tone on a grid of toneStep mm: density of the ground
// between the lines, and the share of each cell that is ground.
type toneField struct {
	w, h int
	step float64 // mm
	d    *plane  // density; filled in from around where no ground shows
	seen *plane  // 0..1
}

const toneStep = 0.5

// toneOf averages the density of the ground in cells.
func toneOf(s *Sheet) *toneField {
	k := max(1, int(math.Round(toneStep*s.PxPerMM)))
	t := &toneField{w: s.Cols / k, h: s.Rows / k, step: float64(k) / s.PxPerMM}
	t.d, t.seen = newPlane(t.w, t.h), newPlane(t.w, t.h)
	border := int(math.Ceil(rim * s.PxPerMM))
	strips(t.h, func(_, lo, hi int) {
		for y := lo; y < hi; y++ {
			for x := 0; x < t.w; x++ {
				var sum, n float64
				for yy := y * k; yy < (y+1)*k; yy++ {
					for xx := x * k; xx < (x+1)*k; xx++ {
						i := yy*s.Cols + xx
						if !s.Line[i] && xx >= border && yy >= border && xx < s.Cols-border && yy < s.Rows-border {
							sum += float64(s.Reflectance[i])
							n++
						}
					}
				}
				c := y*t.w + x
				if n > 0.2*float64(k*k) {
					// Noise bends the mean of logarithms by a hair; the mean of
					// a cell first leaves only the tone's own unevenness.
					t.d.v[c] = float32(-math.Log10(max(sum/n, 1e-3)))
					t.seen.v[c] = float32(n / float64(k*k))
				}
			}
		}
	})
	return t
}

// mean is the mean density of the ground seen and how many cells' worth that
// was.
func (t *toneField) mean() (d, n float64) {
	var s float64
	for i, w := range t.seen.v {
		s += float64(w) * float64(t.d.v[i])
		n += float64(w)
	}
	return s / n, n
}

// percentiles of the tone over cells of about a millimetre.
func (t *toneField) percentiles() (p5, p95 float64) {
	num, den := newPlane(t.w, t.h), newPlane(t.w, t.h)
	for i, w := range t.seen.v {
		num.v[i], den.v[i] = w*t.d.v[i], w
	}
	a, b := num.blur(0.4/t.step), den.blur(0.4/t.step)
	var v []float64
	for i, w := range t.seen.v {
		if w > 0.3 && b.v[i] > 0 {
			v = append(v, float64(a.v[i]/b.v[i]))
		}
	}
	if len(v) == 0 {
		return math.NaN(), math.NaN()
	}
	p95 = quantile(v, 0.95)
	return quantile(v, 0.05), p95
}

// tiles averages the tone in tiles; those with hardly any ground are NaN.
func (t *toneField) tiles(size Size, step float64) Map {
	m := newMap(size, step)
	n := make([]float64, len(m.V))
	all := make([]float64, len(m.V))
	for y := 0; y < t.h; y++ {
		for x := 0; x < t.w; x++ {
			c := min(int((float64(y)+0.5)*t.step/step), m.Rows-1)*m.Cols + min(int((float64(x)+0.5)*t.step/step), m.Cols-1)
			i := y*t.w + x
			m.V[c] += float64(t.seen.v[i]) * float64(t.d.v[i])
			n[c] += float64(t.seen.v[i])
			all[c]++
		}
	}
	for c := range m.V {
		if n[c] < 0.06*all[c] {
			m.V[c] = math.NaN()
			continue
		}
		m.V[c] /= n[c]
	}
	return m
}

// filled is the tone with what lies under lines filled in from around, so that
// lines leave no trace in it.
func (t *toneField) filled() *plane {
	sum, weight := newPlane(t.w, t.h), newPlane(t.w, t.h)
	num, den := newPlane(t.w, t.h), newPlane(t.w, t.h)
	for i, w := range t.seen.v {
		num.v[i], den.v[i] = w*t.d.v[i], w
	}
	gain := float32(1)
	for _, mm := range []float64{0, 0.6, 1.5, 5, 20} {
		a, b := num, den
		if mm > 0 {
			a, b = num.blur(mm/t.step), den.blur(mm/t.step)
		}
		for i := range sum.v {
			sum.v[i] += gain * a.v[i]
			weight.v[i] += gain * b.v[i]
		}
		gain *= 0.03
	}
	for i := range sum.v {
		sum.v[i] /= max(weight.v[i], 1e-9)
	}
	return sum
}

// wiping is the unevenness of the tone at 3 to 30 mm and the direction of its
// streaks.
type wiping struct {
	spread  float64 // density
	degrees float64 // 0..180, from x towards y
	q       float64 // 0..1, how much the streaks agree
	spin    float64 // standard uncertainty of degrees
}

// wipingOf measures the unevenness in the band of 3 to 30 mm (a difference of
// Gaussians) and, by the structure tensor, whether it runs one way.
func wipingOf(t *toneField) wiping {
	f := t.filled()
	fine, wide := f.blur(0.5/t.step), f.blur(5/t.step)
	band := newPlane(t.w, t.h)
	b := int(math.Ceil((rim + 1) / t.step))
	var v []float64
	for y := b; y < t.h-b; y++ {
		for x := b; x < t.w-b; x++ {
			i := y*t.w + x
			band.v[i] = fine.v[i] - wide.v[i]
			if t.seen.v[i] > 0.5 {
				v = append(v, float64(band.v[i]))
			}
		}
	}
	out := wiping{}
	if len(v) < 100 {
		out.spread = math.NaN()
		return out
	}
	out.spread = spread(v)
	smooth := band.blur(0.8 / t.step)
	// Four quarters speak apart, so that their scatter tells how sure the
	// direction is.
	var c, s, w [4]float64
	for y := b + 1; y < t.h-b-1; y++ {
		for x := b + 1; x < t.w-b-1; x++ {
			i := y*t.w + x
			gx, gy := float64(smooth.v[i+1]-smooth.v[i-1]), float64(smooth.v[i+t.w]-smooth.v[i-t.w])
			q := 0
			if 2*x > t.w {
				q = 1
			}
			if 2*y > t.h {
				q += 2
			}
			k := float64(t.seen.v[i])
			c[q] += k * (gx*gx - gy*gy)
			s[q] += k * 2 * gx * gy
			w[q] += k * (gx*gx + gy*gy)
		}
	}
	C, S, W := c[0]+c[1]+c[2]+c[3], s[0]+s[1]+s[2]+s[3], w[0]+w[1]+w[2]+w[3]
	if W <= 0 {
		return out
	}
	out.q = math.Hypot(C, S) / W
	grad := 0.5 * math.Atan2(S, C)
	out.degrees = math.Mod(grad*180/math.Pi+90+360, 180)
	var dev float64
	for q := range c {
		d := 0.5 * math.Atan2(s[q], c[q])
		e := math.Remainder(d-grad, math.Pi)
		dev += e * e * w[q] / W
	}
	out.spin = max(1, math.Sqrt(dev)*180/math.Pi/math.Sqrt(3))
	return out
}
