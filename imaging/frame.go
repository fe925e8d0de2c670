package imaging

import "math"

// laidPlate is where one photograph shows the plate, twice: as its lines lie on
// the reference's, and as its own plate mark says.
type laidPlate struct {
	m     *mapping // the reference's plate to upright pixels
	photo *Photo   // its frame only, without pixels
	own   *mapping // by its own mark and the bow of its sides; nil: no mark of its own
	bow   float64  // rms of that bow, mm
}

// laid keeps of a registered photograph what settling the frame needs.
func (r *Reference) laid(reg *registration, p *Photo) *laidPlate {
	out := &laidPlate{m: reg.m, photo: p.frame()}
	if reg.mark != nil && reg.mark.How == "found" && reg.mark.Sure > 0.5 {
		out.own, out.bow = ownFrame(p, reg.mark.standing(reg.m, r.Size), r.Size)
	}
	return out
}

// ownFrame is the plate where a mark and its traced sides put it.
func ownFrame(p *Photo, m *foundMark, size Size) (*mapping, float64) {
	if m == nil {
		return nil, 0
	}
	h, err := quadMapping(size.rectangle(), m.Corners)
	if err != nil {
		return nil, 0
	}
	mp := &mapping{h: h}
	if mp.w = bowedSides(p, m, mp, size); mp.w == nil {
		return nil, 0
	}
	var s, n float64
	for _, e := range m.edges {
		for _, o := range e.off {
			s += o * o
			n++
		}
	}
	return mp, math.Sqrt(s / n)
}

const (
	frameU   = 0.05 // mm, how well a flat sheet's mark tells the plate's frame
	frameOff = 0.7  // mm, a mark further off than this was misread
)

// SettleFrame tells the plate's own millimetres from all photographs of a run
// together. Copper keeps its shape, paper does not: every sheet buckles and
// stretches in its own way, the reference as well, and its mark shows that at
// the four sides only. As all sheets lie on the reference by their lines, what
// their marks say of the plate can be averaged, flatter sheets counting for
// more. It draws the lattices and marks of the results anew and returns those
// of the reference. Scores are not touched: they are told on the reference.
// Corners set by hand are left as they are.
func (r *Reference) SettleFrame(results []*Result, cols, rows int) ([][4]float64, Quad) {
	frame := r.commonFrame(results)
	for _, res := range results {
		l := res.Registration.plate
		if l == nil {
			continue
		}
		at := func(x Point) Point { return l.m.at(frame(x)) }
		if res.Registration.Lattice != nil {
			res.Registration.Lattice = lattice(at, l.photo, r.Size, cols, rows)
		}
		res.Mark = l.photo.storedQuad(corners(at, r.Size))
	}
	at := func(x Point) Point { return r.Sheet.m.at(frame(x)) }
	return lattice(at, r.photo, r.Size, cols, rows), r.photo.storedQuad(corners(at, r.Size))
}

// commonFrame takes a place of the plate to where the reference's frame has it.
func (r *Reference) commonFrame(results []*Result) func(Point) Point {
	sheets := []*laidPlate{{m: r.Sheet.m, own: r.Sheet.m}}
	_, sheets[0].bow = ownFrame(r.photo, r.mark, r.Size)
	if r.Mark.How != "by hand" {
		for _, res := range results {
			if l := res.Registration.plate; l != nil && l.own != nil {
				sheets = append(sheets, l)
			}
		}
	}
	var says [][]Point
	var kept []*laidPlate
	for _, l := range sheets {
		d := l.off(r.Size)
		if rmsOf(d) < frameOff {
			says, kept = append(says, d), append(kept, l)
		}
	}
	weight := frameWeights(says, kept)
	return func(x Point) Point {
		out := x
		for i, l := range kept {
			y := l.says(x)
			out.X += weight[i] * (y.X - x.X)
			out.Y += weight[i] * (y.Y - x.Y)
		}
		return out
	}
}

// says is where, in the reference's frame, the sheet's own mark puts a place
// of the plate.
func (l *laidPlate) says(x Point) Point {
	if l.own == l.m {
		return x
	}
	return l.m.plateOf(l.own.at(x))
}

// off lists, over the plate, by how much the sheet's own mark differs from the
// reference's frame.
func (l *laidPlate) off(size Size) []Point {
	const n = 7
	var out []Point
	for j := range n {
		for i := range n {
			x := Point{size.Width * float64(i) / (n - 1), size.Height * float64(j) / (n - 1)}
			out = append(out, l.says(x).sub(x))
		}
	}
	return out
}

func rmsOf(d []Point) float64 {
	var s float64
	for _, p := range d {
		s += p.X*p.X + p.Y*p.Y
	}
	return math.Sqrt(s / float64(len(d)))
}

// frameWeights weighs sheets by inverse variance: what their bow lets expect,
// and, the more of them there are, how far they stray from the others.
func frameWeights(says [][]Point, sheets []*laidPlate) []float64 {
	n := len(sheets)
	variance, expected := make([]float64, n), make([]float64, n)
	for i, l := range sheets {
		expected[i] = frameU*frameU + l.bow*l.bow
		variance[i] = expected[i]
	}
	w := make([]float64, n)
	for range 20 {
		var sum float64
		for i, v := range variance {
			w[i] = 1 / v
			sum += w[i]
		}
		for i := range w {
			w[i] /= sum
		}
		seen := float64(n-1) / float64(n+3) // how much the stray of so few can tell
		for i := range sheets {
			var ss float64
			for k := range says[i] {
				d := says[i][k]
				for j := range says {
					d.X -= w[j] * says[j][k].X
					d.Y -= w[j] * says[j][k].Y
				}
				ss += d.X*d.X + d.Y*d.Y
			}
			// A sheet pulls the mean towards itself by its own weight.
			stray := ss / float64(len(says[i])) / max(1-w[i], 0.3)
			variance[i] = (1-seen)*expected[i] + seen*stray
		}
	}
	return w
}
