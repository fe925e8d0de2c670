package imaging

import (
	"math"
	"slices"
)

// markGuess is a rectangle that may be the plate mark.
type markGuess struct {
	quad  Quad
	score float64
}

// markCap bounds the evidence any one place may give, in units of the paper's
// own unevenness: a faint edge that runs the whole side then beats strong
// lines that do not.
const markCap = 6

// coarseMarks looks for rectangles of the plate's proportions in the sheet
// laid straight, and returns the best few.
func coarseMarks(work *plane, sheet sheetEdge, size Size, turn float64) []markGuess {
	q := sheet.quad
	w, h := (q.sideLength(0)+q.sideLength(2))/2, (q.sideLength(1)+q.sideLength(3))/2
	const long = 420
	f := long / max(w, h)
	gw, gh := int(w*f), int(h*f)
	if gw < 40 || gh < 40 {
		return nil
	}
	rect := Quad{{0, 0}, {float64(gw), 0}, {float64(gw), float64(gh)}, {0, float64(gh)}}
	lay, err := quadMapping(rect, q)
	if err != nil {
		return nil
	}
	lay = lay.times(turnAbout(float64(gw)/2, float64(gh)/2, turn))
	flat := newPlane(gw, gh)
	smooth := work.blur(max(0.5, 0.5/f))
	for y := 0; y < gh; y++ {
		for x := 0; x < gw; x++ {
			c := lay.apply(Point{float64(x), float64(y)})
			flat.v[y*gw+x] = float32(math.Log(float64(max(smooth.bilinear(c.X, c.Y), 1e-4))))
		}
	}
	border := 4
	if !sheet.found {
		border = 1
	}
	ev := edgeEvidence(flat, border)
	ev.strokes(flat, 2*border)
	var all []markGuess
	aspect := size.Height / size.Width
	for _, a := range []float64{aspect, 1 / aspect} {
		all = append(all, rectangles(ev, gw, gh, a)...)
		if math.Abs(aspect-1) < 1e-3 {
			break
		}
	}
	slices.SortStableFunc(all, func(a, b markGuess) int { return sign(b.score - a.score) })
	var keep []markGuess
	for _, g := range all {
		if len(keep) == 5 || g.score < 0.5*all[0].score {
			break
		}
		near := slices.ContainsFunc(keep, func(k markGuess) bool {
			var d float64
			for i := range k.quad {
				d = max(d, k.quad[i].dist(g.quad[i]))
			}
			return d < 0.03*long
		})
		if !near {
			keep = append(keep, g)
		}
	}
	for i := range keep {
		for j := range keep[i].quad {
			keep[i].quad[j] = lay.apply(keep[i].quad[j])
		}
		keep[i].quad = keep[i].quad.fromTopLeft()
	}
	return keep
}

func turnAbout(x, y, degrees float64) homography {
	s, c := math.Sincos(degrees * math.Pi / 180)
	return homography{c, -s, x - c*x + s*y, s, c, y - s*x - c*y, 0, 0, 1}
}

// evidence holds, for horizontal and vertical edges, running sums of capped
// edge strength along rows and columns.
type evidence struct {
	w, h       int
	rows, cols []float32 // (w+1) x h and w x (h+1) running sums
	ink        []float32 // (w+1) x (h+1) running sums of dark strokes
}

// strokes fills in the running sums of places darker than their surroundings,
// as lines are and the mark's faint edge is not.
func (e *evidence) strokes(flat *plane, border int) {
	ground := flat.blur(8)
	e.ink = make([]float32, (e.w+1)*(e.h+1))
	for y := 0; y < e.h; y++ {
		var s float32
		for x := 0; x < e.w; x++ {
			i := y*e.w + x
			inside := x >= border && y >= border && x < e.w-border && y < e.h-border
			if d := ground.v[i] - flat.v[i]; inside && d > 0.12 {
				s += min(d, 0.5)
			}
			e.ink[(y+1)*(e.w+1)+x+1] = e.ink[y*(e.w+1)+x+1] + s
		}
	}
}

// inkShare is the share of all dark strokes that lies in a rectangle.
func (e *evidence) inkShare(x, y, w, h int) float32 {
	o := e.w + 1
	all := e.ink[len(e.ink)-1]
	if all < 20 {
		return 1
	}
	return (e.ink[(y+h)*o+x+w] - e.ink[y*o+x+w] - e.ink[(y+h)*o+x] + e.ink[y*o+x]) / all
}

// edgeEvidence measures first and second differences across both directions
// of the log picture, in units of the paper's own unevenness, and lets each
// place vouch for its neighbours one away so that slightly tilted sides count.
func edgeEvidence(flat *plane, border int) evidence {
	w, h := flat.w, flat.h
	sh, sv := flat.blurXY(5, 0.8), flat.blurXY(0.8, 5)
	eh, evv := newPlane(w, h), newPlane(w, h)
	const d = 2
	for y := d; y < h-d; y++ {
		for x := d; x < w-d; x++ {
			i := y*w + x
			eh.v[i] = edgeEnergy(sh.v[i-d*w], sh.v[i], sh.v[i+d*w])
			evv.v[i] = edgeEnergy(sv.v[i-d], sv.v[i], sv.v[i+d])
		}
	}
	capEvidence(eh, border)
	capEvidence(evv, border)
	ev := evidence{w: w, h: h, rows: make([]float32, (w+1)*h), cols: make([]float32, w*(h+1))}
	for y := 0; y < h; y++ {
		for x := 0; x < w; x++ {
			var a, b float32
			for d := -1; d <= 1; d++ {
				if yy := y + d; yy >= 0 && yy < h {
					a = max(a, eh.v[yy*w+x])
				}
				if xx := x + d; xx >= 0 && xx < w {
					b = max(b, evv.v[y*w+xx])
				}
			}
			ev.rows[y*(w+1)+x+1] = ev.rows[y*(w+1)+x] + a
			ev.cols[(y+1)*w+x] = ev.cols[y*w+x] + b
		}
	}
	return ev
}

func edgeEnergy(a, b, c float32) float32 {
	g1, g2 := (c-a)/2, a-2*b+c
	return float32(math.Sqrt(float64(g1*g1 + 6.25*g2*g2)))
}

func capEvidence(e *plane, border int) {
	var s []float64
	for i := 0; i < len(e.v); i += 3 {
		s = append(s, float64(e.v[i]))
	}
	unit := float32(max(quantile(s, 0.4), 1e-3))
	for y := 0; y < e.h; y++ {
		for x := 0; x < e.w; x++ {
			v := &e.v[y*e.w+x]
			if x < border || y < border || x >= e.w-border || y >= e.h-border {
				*v = 0
				continue
			}
			*v = max(0, min(*v/unit, markCap)-1) / (markCap - 1)
		}
	}
}

func (e *evidence) row(y, x0, x1 int) float32 {
	o := y * (e.w + 1)
	return (e.rows[o+x1] - e.rows[o+x0]) / float32(x1-x0)
}

func (e *evidence) col(x, y0, y1 int) float32 {
	return (e.cols[y1*e.w+x] - e.cols[y0*e.w+x]) / float32(y1-y0)
}

// rectangles scores every upright rectangle of height aspect times width, give
// or take three per cent, by the evidence along its weakest side and along all
// four.
func rectangles(e evidence, gw, gh int, aspect float64) []markGuess {
	const minSide = 0.22
	var out []markGuess
	lo := int(minSide * float64(max(gw, gh)))
	var widths []int
	for w := lo; w < gw-2; w += 2 {
		widths = append(widths, w)
	}
	found := make([][]markGuess, len(widths))
	strips(len(widths), func(_, a, b int) {
		for n := a; n < b; n++ {
			w := widths[n]
			var best []markGuess
			for _, f := range []float64{0.975, 1, 1.025} {
				h := int(math.Round(float64(w) * aspect * f))
				if h < lo/3 || h >= gh-2 {
					continue
				}
				best = bestPlaces(e, w, h, best)
			}
			found[n] = best
		}
	})
	for _, f := range found {
		out = append(out, f...)
	}
	return out
}

// bestPlaces adds the three best places for a w x h rectangle to keep.
func bestPlaces(e evidence, w, h int, keep []markGuess) []markGuess {
	var top [3]markGuess
	for y := 1; y+h < e.h-1; y += 2 {
		for x := 1; x+w < e.w-1; x += 2 {
			a := e.row(y, x, x+w)
			if a < 0.12 {
				continue
			}
			b := e.row(y+h, x, x+w)
			if b < 0.12 {
				continue
			}
			c, d := e.col(x, y, y+h), e.col(x+w, y, y+h)
			weak := min(a, b, c, d)
			s := float64(0.6*weak + 0.1*(a+b+c+d))
			if weak < 0.12 {
				continue
			}
			// A plate's lines all lie inside its mark; a little may lie
			// outside, pencil and stamps.
			s *= float64(max(0, min(1, 5*e.inkShare(x, y, w, h)-4)))
			if s <= top[2].score {
				continue
			}
			x0, y0, x1, y1 := float64(x), float64(y), float64(x+w), float64(y+h)
			top[2] = markGuess{Quad{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}, s}
			if top[2].score > top[1].score {
				top[1], top[2] = top[2], top[1]
			}
			if top[1].score > top[0].score {
				top[0], top[1] = top[1], top[0]
			}
		}
	}
	for _, g := range top {
		if g.score > 0 {
			keep = append(keep, g)
		}
	}
	return keep
}
