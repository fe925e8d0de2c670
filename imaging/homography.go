package imaging

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// homography is a plane projective mapping, row by row, with last entry 1.
type homography [9]float64

var identity = homography{1, 0, 0, 0, 1, 0, 0, 0, 1}

func (h *homography) apply(p Point) Point {
	d := h[6]*p.X + h[7]*p.Y + h[8]
	return Point{(h[0]*p.X + h[1]*p.Y + h[2]) / d, (h[3]*p.X + h[4]*p.Y + h[5]) / d}
}

// times returns the mapping "first g, then h".
func (h homography) times(g homography) homography {
	var r homography
	for i := 0; i < 3; i++ {
		for j := 0; j < 3; j++ {
			for k := 0; k < 3; k++ {
				r[3*i+j] += h[3*i+k] * g[3*k+j]
			}
		}
	}
	return r.normal()
}

func (h homography) normal() homography {
	if h[8] == 0 {
		return h
	}
	for i := range h {
		if i != 8 {
			h[i] /= h[8]
		}
	}
	h[8] = 1
	return h
}

func (h homography) inverse() homography {
	return homography{
		h[4]*h[8] - h[5]*h[7], h[2]*h[7] - h[1]*h[8], h[1]*h[5] - h[2]*h[4],
		h[5]*h[6] - h[3]*h[8], h[0]*h[8] - h[2]*h[6], h[2]*h[3] - h[0]*h[5],
		h[3]*h[7] - h[4]*h[6], h[1]*h[6] - h[0]*h[7], h[0]*h[4] - h[1]*h[3],
	}.normal()
}

var errDegenerate = errors.New("imaging: the points do not fix a projective mapping")

// fitHomography finds the mapping that takes from[i] to to[i], in the least
// squares sense with weights w (nil: all one); four pairs fix it. Points are
// centred and scaled first (Hartley 1997).
func fitHomography(from, to []Point, w []float64) (homography, error) {
	if len(from) < 4 || len(from) != len(to) {
		return identity, errDegenerate
	}
	a, b := normaliser(from), normaliser(to)
	rows := mat.NewDense(2*len(from), 8, nil)
	rhs := mat.NewVecDense(2*len(from), nil)
	for i := range from {
		p, q := a.apply(from[i]), b.apply(to[i])
		s := 1.0
		if w != nil {
			s = math.Sqrt(w[i])
		}
		rows.SetRow(2*i, []float64{s * p.X, s * p.Y, s, 0, 0, 0, -s * p.X * q.X, -s * p.Y * q.X})
		rows.SetRow(2*i+1, []float64{0, 0, 0, s * p.X, s * p.Y, s, -s * p.X * q.Y, -s * p.Y * q.Y})
		rhs.SetVec(2*i, s*q.X)
		rhs.SetVec(2*i+1, s*q.Y)
	}
	var x mat.VecDense
	if err := x.SolveVec(rows, rhs); err != nil {
		return identity, errDegenerate
	}
	var h homography
	copy(h[:8], x.RawVector().Data)
	h[8] = 1
	r := b.inverse().times(h).times(a)
	for _, v := range r {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return identity, errDegenerate
		}
	}
	return r, nil
}

func normaliser(p []Point) homography {
	var cx, cy float64
	for _, q := range p {
		cx += q.X
		cy += q.Y
	}
	n := float64(len(p))
	cx, cy = cx/n, cy/n
	var d float64
	for _, q := range p {
		d += math.Hypot(q.X-cx, q.Y-cy)
	}
	s := 1.0
	if d > 0 {
		s = math.Sqrt2 * n / d
	}
	return homography{s, 0, -s * cx, 0, s, -s * cy, 0, 0, 1}
}

// rectangle is the quad of a plate of the given size in its own millimetres.
func (s Size) rectangle() Quad {
	return Quad{{0, 0}, {s.Width, 0}, {s.Width, s.Height}, {0, s.Height}}
}

// quadMapping takes the corners of one quad to those of another.
func quadMapping(from, to Quad) (homography, error) {
	return fitHomography(from[:], to[:], nil)
}

// turned gives the quad's corners starting k places later: the plate as it
// stands after k quarter turns.
func (q Quad) turned(k int) Quad {
	var r Quad
	for i := range r {
		r[i] = q[(i+k)&3]
	}
	return r
}

// mirrored gives the corners as seen in a looking-glass.
func (q Quad) mirrored() Quad { return Quad{q[1], q[0], q[3], q[2]} }

func (p Point) sub(q Point) Point       { return Point{p.X - q.X, p.Y - q.Y} }
func (p Point) dist(q Point) float64    { return math.Hypot(p.X-q.X, p.Y-q.Y) }
func lerp(p, q Point, t float64) Point  { return Point{p.X + t*(q.X-p.X), p.Y + t*(q.Y-p.Y)} }
func (q Quad) side(i int) (a, b Point)  { return q[i], q[(i+1)&3] }
func (q Quad) sideLength(i int) float64 { return q[i].dist(q[(i+1)&3]) }
func cross(o, a, b Point) float64       { return (a.X-o.X)*(b.Y-o.Y) - (a.Y-o.Y)*(b.X-o.X) }
func (q Quad) area() float64 {
	var s float64
	for i := range q {
		a, b := q.side(i)
		s += a.X*b.Y - b.X*a.Y
	}
	return s / 2
}

// contains reports whether p lies inside the convex quad (clockwise with y
// down) by at least inset.
func (q Quad) contains(p Point, inset float64) bool {
	for i := range q {
		a, b := q.side(i)
		if cross(a, b, p) < inset*a.dist(b) {
			return false
		}
	}
	return true
}
