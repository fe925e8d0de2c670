package platesim

import "math"

// Technique is how a stroke was made.
type Technique int

// Techniques. Mixed is for whole plates: each part of the scene takes the
// technique that suits it.
const (
	Engraved Technique = iota
	Etched
	Drypoint
	Mixed
)

// String returns the trade word.
func (t Technique) String() string {
	return [...]string{"engraving", "etching", "drypoint", "etching and drypoint"}[t]
}

// node is a point of a stroke in plate millimetres with the width of the line.
type node struct{ x, y, w float64 }

// stroke is one line on the plate.
type stroke struct {
	pts  []node
	tech Technique
	// depth is how much wear the groove stands: 1 outlives an edition of
	// hundreds, 0.1 a few dozen pulls.
	depth float64
	// burr is the strength of the ridge left and right of a drypoint line.
	burr [2]float64
	// born is the first state the stroke stands in; gone the first it does not
	// (0: it stays).
	born, gone int
	seed       uint32
}

// inState says whether the stroke prints in a state.
func (s *stroke) inState(state int) bool {
	return s.born <= state && (s.gone == 0 || state < s.gone)
}

// box is the stroke's extent with its width.
func (s *stroke) box() Box {
	b := emptyBox()
	for _, p := range s.pts {
		b.add(p.x-p.w/2, p.y-p.w/2)
		b.add(p.x+p.w/2, p.y+p.w/2)
	}
	return b
}

// length is the stroke's length in millimetres.
func (s *stroke) length() float64 {
	sum := 0.0
	for i := 1; i < len(s.pts); i++ {
		sum += math.Hypot(s.pts[i].x-s.pts[i-1].x, s.pts[i].y-s.pts[i-1].y)
	}
	return sum
}

// Box is x0, y0, x1, y1 in plate millimetres.
type Box [4]float64

func emptyBox() Box { return Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)} }

func (b *Box) add(x, y float64) {
	b[0], b[1] = math.Min(b[0], x), math.Min(b[1], y)
	b[2], b[3] = math.Max(b[2], x), math.Max(b[3], y)
}

func (b Box) holds(x, y float64) bool { return x >= b[0] && y >= b[1] && x < b[2] && y < b[3] }

func (b Box) grown(d float64) Box { return Box{b[0] - d, b[1] - d, b[2] + d, b[3] + d} }

func (b Box) meets(c Box) bool {
	return b[0] < c[2] && c[0] < b[2] && b[1] < c[3] && c[1] < b[3]
}
