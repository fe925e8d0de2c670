package imaging

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Manner is how the sheet of a photograph was lit, read off the bare paper
// around the plate mark, or along the sheet's edges where no mark is known, and
// off what lies around the sheet.
// Lengths go by the picture: its longer side counts as 900 samples, about three
// to the millimetre where a sheet fills it. All are NaN where the paper's edges
// cannot be made out.
type Manner struct {
	// Falloff is the light at the brightest end of the sheet over that at the
	// darkest, along the way it falls: 1.0 to 1.5 on a copy stand or by hand,
	// several where a lamp rakes the sheet.
	Falloff float64
	// Texture is the spread (natural log) of the paper's brightness over one to
	// four samples: its grain, a hundredth or two under even light.
	Texture float64
	// Cloud is the same over ten samples and more, the light taken out: the look
	// of the paper against the light.
	Cloud float64
	// Surround is the brightness of what lies around the sheet, in terms of the
	// paper; NaN where the sheet fills the picture.
	Surround float64
	// Edges reports whether all four edges of the sheet are in view, as they never
	// are in a detail.
	Edges bool
}

// mannerCell is the side of the cells that the light is read on, in samples.
const mannerCell = 10

const (
	// strangeCell is how far, natural log, a cell may be off the light's smooth
	// surface and still be paper; strangeMost the share that may be off.
	strangeCell, strangeMost = 0.22, 0.07
	strangeByMark            = 0.25 // around a mark: the table is near at some sides
)

// MannerOf reads how a photograph was lit; mark is its plate mark, nil when none
// is known.
func MannerOf(p *Photo, mark *PlateMark) Manner {
	k := markStep(p)
	work := p.shrunk(k)
	sheet := findSheet(work)
	long := float64(max(work.w, work.h))
	fine, coarse := work.blur(0.6), work.blur(3)
	m := Manner{Surround: math.NaN(), Edges: sheet.found && sheet.touch == [4]bool{}}
	var grain [][]float64 // by cell
	var around, paper []float64
	var cells []marginCell
	outline, near, far, most := sheet.quad, 0.02, 0.085, strangeMost
	if mark != nil {
		for i, c := range mark.Corners {
			outline[i] = Point{(c.X - float64(k-1)/2) / float64(k), (c.Y - float64(k-1)/2) / float64(k)}
		}
		near, far, most = -0.075, -0.018, strangeByMark
	}
	within := func(q Quad, x, y int, by float64) bool { return q.contains(Point{float64(x), float64(y)}, by*long) }
	for cy := 0; cy+mannerCell <= work.h; cy += mannerCell {
		for cx := 0; cx+mannerCell <= work.w; cx += mannerCell {
			x, y := cx+mannerCell/2, cy+mannerCell/2
			switch {
			case within(outline, x, y, near) && !within(outline, x, y, far):
				var v, g []float64
				for j := cy; j < cy+mannerCell; j++ {
					for i := cx; i < cx+mannerCell; i++ {
						o := j*work.w + i
						a := math.Log(float64(max(fine.v[o], 1e-4)))
						g = append(g, a-math.Log(float64(max(coarse.v[o], 1e-4))))
						v = append(v, a)
					}
				}
				mid := median(v)
				paper, grain = append(paper, mid), append(grain, g)
				cells = append(cells, marginCell{x: float64(x)/long - 0.5, y: float64(y)/long - 0.5, v: mid})
			case sheet.found && !within(sheet.quad, x, y, -0.02):
				around = append(around, math.Log(float64(max(coarse.v[y*work.w+x], 1e-4))))
			}
		}
	}
	nothing := Manner{Falloff: math.NaN(), Texture: math.NaN(), Cloud: math.NaN(), Surround: math.NaN(), Edges: m.Edges}
	if len(cells) < 40 {
		return nothing
	}
	var over []float64
	m.Falloff, over = fallOf(cells)
	m.Cloud = spread(over)
	var even []float64
	strange := 0
	for i, r := range over {
		if math.Abs(r) > strangeCell {
			strange++
			continue
		}
		even = append(even, grain[i]...)
	}
	if float64(strange) > most*float64(len(cells)) {
		// The outline is not that of the paper, or something lies on it.
		return nothing
	}
	m.Texture = spread(even)
	if float64(len(around)*mannerCell*mannerCell) > 0.03*float64(len(work.v)) {
		m.Surround = math.Exp(median(around) - median(paper))
	}
	return m
}

// fallOf fits a plane, and a surface of second order, to the log of the light:
// the ratio between the ends of the plane, and what the surface leaves over.
func fallOf(cells []marginCell) (ratio float64, left []float64) {
	fit := func(terms int) ([]float64, []float64) {
		row := func(c marginCell) []float64 {
			return []float64{1, c.x, c.y, c.x * c.x, c.x * c.y, c.y * c.y}[:terms]
		}
		w := make([]float64, len(cells))
		for i := range w {
			w[i] = 1
		}
		res := make([]float64, len(cells))
		var c mat.VecDense
		for range 6 {
			a, b := mat.NewDense(len(cells), terms, nil), mat.NewVecDense(len(cells), nil)
			for i, q := range cells {
				for k, v := range row(q) {
					a.Set(i, k, w[i]*v)
				}
				b.SetVec(i, w[i]*q.v)
			}
			if err := c.SolveVec(a, b); err != nil {
				return make([]float64, terms), res
			}
			for i, q := range cells {
				res[i] = q.v
				for k, v := range row(q) {
					res[i] -= v * c.AtVec(k)
				}
			}
			s := 4.5 * max(spread(res), 1e-3)
			for i := range w {
				u := res[i] / s
				w[i] = math.Sqrt(max(0, (1-u*u)*math.Abs(1-u*u)))
				if math.Abs(u) >= 1 {
					w[i] = 0
				}
			}
		}
		return c.RawVector().Data, res
	}
	plain, _ := fit(3)
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range cells {
		v := plain[1]*c.x + plain[2]*c.y
		lo, hi = min(lo, v), max(hi, v)
	}
	_, over := fit(6)
	return math.Exp(hi - lo), over
}
