package platesim

import "math"

// inkPlanes are what the plate would print: coverage of the lines and of the
// burr, 0..1, at res pixels a millimetre, row by row from the top-left corner
// of the plate. Pixel (i, j) is centred on ((i+0.5)/res, (j+0.5)/res) mm.
type inkPlanes struct {
	res        float64
	cols, rows int
	line, burr []float32
}

// canvas gathers the strokes of one plane; a stroke is first drawn alone, so
// that its own joints do not count twice, and then laid over the others.
type canvas struct {
	*inkPlanes
	scratch []float32
	touched []int32
}

func newCanvas(size Size, res float64) *canvas {
	cols, rows := int(math.Ceil(size.W*res)), int(math.Ceil(size.H*res))
	n := cols * rows
	return &canvas{
		inkPlanes: &inkPlanes{res: res, cols: cols, rows: rows, line: make([]float32, n), burr: make([]float32, n)},
		scratch:   make([]float32, n),
	}
}

// dab raises the scratch pixel to v.
func (c *canvas) dab(i int32, v float32) {
	if v <= c.scratch[i] {
		return
	}
	if c.scratch[i] == 0 {
		c.touched = append(c.touched, i)
	}
	c.scratch[i] = v
}

// settle lays the scratch over a plane: 1-(1-a)(1-b).
func (c *canvas) settle(plane []float32) {
	for _, i := range c.touched {
		plane[i] = 1 - (1-plane[i])*(1-c.scratch[i])
		c.scratch[i] = 0
	}
	c.touched = c.touched[:0]
}

// segment walks the pixels within reach of a segment and gives f the signed
// distance from it (positive to the left, in pixels) and the place along it
// 0..1. Ends are rounded.
func (c *canvas) segment(a, b node, reach float64, f func(i int32, side, along float64)) {
	ax, ay, bx, by := a.x*c.res-0.5, a.y*c.res-0.5, b.x*c.res-0.5, b.y*c.res-0.5
	dx, dy := bx-ax, by-ay
	l2 := dx*dx + dy*dy
	x0, x1 := clampInt(math.Min(ax, bx)-reach, c.cols), clampInt(math.Max(ax, bx)+reach+1, c.cols)
	y0, y1 := clampInt(math.Min(ay, by)-reach, c.rows), clampInt(math.Max(ay, by)+reach+1, c.rows)
	for y := y0; y < y1; y++ {
		xa, xb := x0, x1
		// For long slanting segments only the pixels beside the line matter.
		if math.Abs(dy) > 2*reach {
			pad := reach*math.Sqrt(l2)/math.Abs(dy) + 1
			mid := ax + dx*(float64(y)-ay)/dy
			xa, xb = max(xa, int(mid-pad)), min(xb, int(mid+pad)+2)
		}
		for x := xa; x < xb; x++ {
			px, py := float64(x)-ax, float64(y)-ay
			t := 0.0
			if l2 > 0 {
				t = min(max((px*dx+py*dy)/l2, 0), 1)
			}
			ex, ey := px-t*dx, py-t*dy
			d := ex*ex + ey*ey
			if d > reach*reach {
				continue
			}
			d = math.Sqrt(d)
			if dx*py-dy*px < 0 {
				d = -d
			}
			f(int32(y*c.cols+x), d, t)
		}
	}
}

func clampInt(v float64, n int) int { return min(max(int(math.Floor(v)), 0), n) }

// boxCover is how much of a pixel at distance d from the axis a line of width w
// covers (both in pixels), taken as a box one pixel wide across the line: its
// integral across the line is exactly w.
func boxCover(d, w float64) float64 {
	return max(0, min(d+0.5, w/2)-max(d-0.5, -w/2))
}

// drawStroke draws a stroke as worn.
func (c *canvas) drawStroke(s *stroke, loss, pulls float64) {
	along := 0.0
	hasBurr := false
	type state struct{ w, ink, burr, along float64 }
	st := make([]state, len(s.pts))
	for i := range s.pts {
		if i > 0 {
			along += math.Hypot(s.pts[i].x-s.pts[i-1].x, s.pts[i].y-s.pts[i-1].y)
		}
		w, ink, burr := s.worn(i, along, loss, pulls)
		st[i] = state{w * c.res, ink, burr, along}
		hasBurr = hasBurr || burr > 0.01 && s.burr[0]+s.burr[1] > 0
	}
	for i := 1; i < len(s.pts); i++ {
		p, q := st[i-1], st[i]
		if p.w*p.ink+q.w*q.ink <= 0 {
			continue
		}
		c.segment(s.pts[i-1], s.pts[i], math.Max(p.w, q.w)/2+0.5, func(k int32, d, t float64) {
			w := p.w + (q.w-p.w)*t
			ink := p.ink + (q.ink-p.ink)*t
			if v := boxCover(math.Abs(d), w) * ink; v > 0 {
				c.dab(k, float32(v))
			}
		})
	}
	c.settle(c.line)
	if !hasBurr {
		return
	}
	// Burr is soft: every second node is enough for it.
	for i := 0; i+1 < len(s.pts); i += 2 {
		e := min(i+2, len(s.pts)-1)
		p, q := st[i], st[e]
		// It is ragged: its strength and breadth change along the line.
		rag := 1 + 0.35*ripple(p.along/0.9, 3, s.seed)
		lambda := 0.16 * (1 + 0.3*ripple(p.along/2.3, 7, s.seed)) * c.res
		left, right := s.burr[0]*rag*p.burr, s.burr[1]*rag*p.burr
		step := fadeSteps / lambda
		c.segment(s.pts[i], s.pts[e], math.Max(p.w, q.w)/2+fadeReach*lambda, func(k int32, d, t float64) {
			side := left
			if d < 0 {
				side, d = right, -d
			}
			u := max(0, d-(p.w+(q.w-p.w)*t)/2) * step
			if int(u) < len(fade) {
				if v := min(0.9, side*fade[int(u)]); v > 0.002 {
					c.dab(k, float32(v))
				}
			}
		})
	}
	c.settle(c.burr)
}

// The fading of burr away from its line, exp(-u), by steps of u; beyond
// fadeReach it has faded into nothing.
const (
	fadeReach = 4.5
	fadeSteps = 128
)

var fade = func() (t [int(fadeReach * fadeSteps)]float64) {
	for i := range t {
		u := (float64(i) + 0.5) / fadeSteps
		t[i] = math.Exp(-u) - math.Exp(-fadeReach)
	}
	return t
}()

// ink draws all strokes of a state after so many pulls of it.
func (p *Plate) ink(state, pull int, res float64) *inkPlanes {
	c := newCanvas(p.Size, res)
	for i := range p.strokes {
		s := &p.strokes[i]
		if !s.inState(state) {
			continue
		}
		age := float64(pull + p.pullsBetween(s.born, state))
		c.drawStroke(s, p.faceLoss(age), age)
	}
	return c.inkPlanes
}

// masses integrates the planes in mm2: all ink, lines, burr, the first with
// burr laid over line once only. gain is the share of ink the wiping left.
func (k *inkPlanes) masses(gain func(x, y float64) float64) (all, line, burr float64) {
	for y := range k.rows {
		var ra, rl, rb float64
		for x := range k.cols {
			i := y*k.cols + x
			l, b := float64(k.line[i]), float64(k.burr[i])
			if l == 0 && b == 0 {
				continue
			}
			if gain != nil {
				g := gain((float64(x)+0.5)/k.res, (float64(y)+0.5)/k.res)
				l, b = l*g, b*g
			}
			ra += 1 - (1-l)*(1-b)
			rl += l
			rb += b
		}
		all, line, burr = all+ra, line+rl, burr+rb
	}
	mm2 := 1 / (k.res * k.res)
	return all * mm2, line * mm2, burr * mm2
}
