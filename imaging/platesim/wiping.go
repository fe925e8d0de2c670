package platesim

import "math"

// field is a function over the plate sampled every few tenths of a millimetre.
type field struct {
	step       float64
	cols, rows int
	v          []float32
}

// newField samples f over the plate and a little beyond.
func newField(size Size, step float64, f func(x, y float64) float64) *field {
	g := &field{step: step, cols: int(size.W/step) + 2, rows: int(size.H/step) + 2}
	g.v = make([]float32, g.cols*g.rows)
	for j := range g.rows {
		for i := range g.cols {
			g.v[j*g.cols+i] = float32(f(float64(i)*step, float64(j)*step))
		}
	}
	return g
}

// at interpolates between the samples.
func (g *field) at(x, y float64) float64 {
	fx := min(max(x/g.step, 0), float64(g.cols)-1.001)
	fy := min(max(y/g.step, 0), float64(g.rows)-1.001)
	i, j := int(fx), int(fy)
	u, v := float32(fx-float64(i)), float32(fy-float64(j))
	p := g.v[j*g.cols+i:]
	q := g.v[(j+1)*g.cols+i:]
	top := p[0] + (p[1]-p[0])*u
	return float64(top + (q[0]+(q[1]-q[0])*u-top)*v)
}

// through turns a field of densities into the share of light that passes.
func (g *field) through() *field {
	out := *g
	out.v = make([]float32, len(g.v))
	for i, d := range g.v {
		out.v[i] = float32(math.Pow(10, -float64(d)))
	}
	return &out
}

// toneField is the density of the ink that wiping left on the ground: clouds,
// and streaks along the last strokes of the cloth.
func toneField(c *Conditions, size Size, seed uint32) *field {
	s, co := math.Sincos(c.StreakDeg * math.Pi / 180)
	return newField(size, 0.2, func(x, y float64) float64 {
		if c.Tone == 0 {
			return 0
		}
		along, across := x*co+y*s, y*co-x*s
		v := 1 + c.ToneCloud*1.6*clouds(x/31, y/31, seed)
		v += c.Streak * 1.5 * (ripple(along/55, across/0.9, seed+11) + 0.6*ripple(along/38, across/2.7, seed+12))
		return c.Tone * math.Max(v, 0.05)
	})
}

// inkField is the share of line ink that over-wiping left, never even.
func inkField(c *Conditions, size Size, seed uint32) *field {
	return newField(size, 0.5, func(x, y float64) float64 {
		return math.Min(1, math.Max(0, 1-c.OverWipe*(1+0.6*clouds(x/22, y/22, seed+21))))
	})
}

// groundTone is the mean density of the ground 1.5 mm in from the mark, where
// no line lies.
func groundTone(tone *field, ink *inkPlanes, size Size) float64 {
	sum, n := 0.0, 0
	for y := 1.5; y <= size.H-1.5; y += tone.step {
		for x := 1.5; x <= size.W-1.5; x += tone.step {
			i := min(int(y*ink.res), ink.rows-1)*ink.cols + min(int(x*ink.res), ink.cols-1)
			if ink.line[i]+ink.burr[i] < 0.02 {
				sum += tone.at(x, y)
				n++
			}
		}
	}
	if n == 0 {
		return 0
	}
	return sum / float64(n)
}
