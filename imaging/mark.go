package imaging

import (
	"context"
	"math"
	"slices"
)

// FindPlate finds the plate mark of a plate of the given size: the outermost
// rectangle of the plate's proportions pressed into the sheet. It knows the
// corners but not which way up the plate stands: Corners start at the one
// nearest the top-left of the picture that agrees with the plate's
// proportions, and registering against a reference decides the turn. A mark
// that cannot be found is a *RefusedError.
func FindPlate(ctx context.Context, p *Photo, size Size) (PlateMark, error) {
	m, err := findMark(ctx, p, size)
	if err != nil {
		return PlateMark{}, err
	}
	return m.PlateMark, nil
}

// foundMark is a plate mark with what was learnt on the way.
type foundMark struct {
	PlateMark
	sheet  sheetEdge // upright pixels
	edges  [4]markSide
	coarse float64 // evidence at first sight, 0..1
	skewed bool    // its proportions are not the plate's
}

// markStep is how many photograph pixels one working pixel spans.
func markStep(p *Photo) int { return max(1, int(math.Ceil(float64(max(p.Width, p.Height))/900))) }

func findMark(ctx context.Context, p *Photo, size Size) (*foundMark, error) {
	if !(size.Height > 0 && size.Width > 0) {
		return nil, refuse("The plate's height and width must be given in millimetres before its mark can be looked for.")
	}
	if err := exposed(p); err != nil {
		return nil, err
	}
	k := markStep(p)
	work := p.shrunk(k)
	sheet := findSheet(work)
	up := func(q Quad) Quad {
		for i := range q {
			q[i] = Point{q[i].X*float64(k) + float64(k-1)/2, q[i].Y*float64(k) + float64(k-1)/2}
		}
		return q
	}
	paper := sheet
	paper.quad = up(sheet.quad)
	best, err := bestMark(ctx, p, work, &paper, sheet, size, up)
	if err != nil {
		return nil, err
	}
	if best == nil || best.Sure < 0.25 {
		return nil, markMissing(work, sheet)
	}
	best.How = "found"
	if q := best.Corners; !q.proportioned(size) && q.turned(1).proportioned(size) {
		best.Corners = q.turned(1)
		e := best.edges
		for i := range e {
			best.edges[i] = e[(i+1)&3]
		}
	}
	return best, nil
}

// coarseLeast is the evidence at first sight below which a rectangle may be a
// chance of lines: it is not tried again when its proportions are wrong.
const coarseLeast = 0.6

// bestMark traces what may be the mark. Of the turns it takes the first that
// shows a sure one by its lines, and then the likeliest that has the plate's
// proportions when traced exactly; where none has, the likeliest of all.
func bestMark(ctx context.Context, p *Photo, work *plane, paper *sheetEdge, sheet sheetEdge, size Size, up func(Quad) Quad) (*foundMark, error) {
	var seen []*foundMark
	for _, turn := range markTurns(sheet.found) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		for _, c := range coarseMarks(work, sheet, size, turn) {
			if m := traceMark(p, up(c.quad), size, paper, 0, 1, false); m != nil {
				m.coarse = c.score
				seen = append(seen, m)
			}
		}
		if slices.ContainsFunc(seen, func(m *foundMark) bool { return m.Sure > 0.5 }) {
			break
		}
	}
	var best *foundMark
	for tried := 0; len(seen) > 0 && tried < 4; tried++ {
		k := 0
		for i, m := range seen {
			if m.better(seen[k]) {
				k = i
			}
		}
		if tried > 0 && (seen[k].Sure <= 0.5 || seen[k].coarse < coarseLeast) {
			break
		}
		m := traceExactly(p, seen[k], size, paper)
		seen = slices.Delete(seen, k, k+1)
		if m != nil && (best == nil || !m.skewed) {
			best = m
		}
		if best != nil && !best.skewed {
			break
		}
	}
	if best != nil {
		best.sheet = sheet
		best.sheet.quad = paper.quad
	}
	return best, nil
}

// traceExactly traces a mark that was followed by its lines; where drawn work
// drew a side away from faint relief, so that the mark is out of proportion, it
// stays by the lines.
func traceExactly(p *Photo, lines *foundMark, size Size, paper *sheetEdge) *foundMark {
	m := traceMark(p, lines.Corners, size, paper, 0, 3, false)
	if m != nil && m.skewed && lines.coarse >= coarseLeast {
		if h := traceMark(p, lines.Corners, size, paper, 1, 3, true); h != nil && !h.skewed {
			m = h
		}
	}
	if m != nil {
		m.coarse = lines.coarse
	}
	return m
}

// better prefers the surer mark, and of two about as sure the larger: printed
// border lines lie inside the mark, never outside.
func (m *foundMark) better(o *foundMark) bool {
	a, b := m.Corners.area(), o.Corners.area()
	p, r := m.Sure*m.coarse, o.Sure*o.coarse
	if min(p, r) > 0.6 && min(p, r) > 0.93*max(p, r) {
		if a > 1.02*b {
			return true
		}
		if b > 1.02*a {
			return false
		}
	}
	return p > r
}

// markTurns are the angles of the plate against the sheet, or against the
// picture where no sheet was told apart, to be tried in order.
func markTurns(sheet bool) []float64 {
	if sheet {
		return []float64{0, -2, 2}
	}
	return []float64{0, -2, 2, -4, 4, -6, 6, -9, 9}
}

func exposed(p *Photo) error {
	var s float64
	for _, v := range p.clipped.v {
		s += float64(v)
	}
	if s/float64(len(p.clipped.v)) > 0.4 {
		return burntOut()
	}
	return nil
}

func burntOut() error {
	return refuse("The photograph is burnt out: the paper is at the top of the scale over much of the picture; lower the exposure and take it again.")
}

func markMissing(work *plane, s sheetEdge) error {
	if blank(work) {
		return refuse("There is only blank paper in the photograph: no plate mark and no lines were found.")
	}
	if s.found {
		for i, side := range []string{"top", "right", "bottom", "left"} {
			if s.touch[i] {
				return refuse("The whole plate is not in view: the sheet runs out of the picture at the %s and no complete plate mark was found; step back and take it again.", side)
			}
		}
	}
	return refuse("No plate mark of this size was found in the photograph; set its corners by hand, or light the sheet from one side so that the mark shows.")
}

// blank reports whether nothing in the picture stands out from a smooth
// ground.
func blank(p *plane) bool {
	fine := p.blur(0.7)
	ground := p.blur(12)
	var dark int
	for i := range fine.v {
		if fine.v[i] < 0.85*ground.v[i] {
			dark++
		}
	}
	return float64(dark) < 0.0005*float64(len(fine.v))
}
