package imaging

import (
	"math"
)

// markSide is one side of a plate mark, traced: for positions along the side
// (0 at its first corner, 1 at its second) how far outside (+, mm) the
// straight line between the corners the edge runs, with its weight.
type markSide struct {
	at, off, weight []float64
	score           float64   // mean capped evidence along the side, 0..1
	curve           []float64 // off at even places from 0 to 1
}

const (
	sideReach = 4.0 // mm looked at on either side of the guessed edge
	sideStep  = 0.1 // mm between samples across the edge
	sideRuns  = 168 // places along a side
	sidePiece = 8   // places averaged for one exact fit
)

// traceMark traces the four sides near a guessed mark, in the first pass as
// straight lines, in later ones exactly, and returns the corners where they
// meet, or nil when they do not meet in a sensible quad. It does the passes
// from one up to another; held, exact fits may not leave the lines.
func traceMark(p *Photo, guess Quad, size Size, paper *sheetEdge, from, to int, held bool) *foundMark {
	w, h := size.Width, size.Height
	if (guess.sideLength(0)+guess.sideLength(2) > guess.sideLength(1)+guess.sideLength(3)) != (w > h) {
		w, h = h, w
	}
	m := &foundMark{}
	q := guess
	for pass := from; pass < to; pass++ {
		rect := Size{Height: h, Width: w}.rectangle()
		toPx, err := quadMapping(rect, q)
		if err != nil {
			return nil
		}
		reach := sideReach
		if pass > 0 {
			reach = 3.6
		}
		m.edges = traceSides(p, &toPx, rect, reach, paper, sideFar(pass, held), held)
		var next Quad
		for i := range next {
			c := meetSides(rect, (i+3)&3, i, &m.edges)
			next[i] = toPx.apply(c)
		}
		if next.area() < 0.5*guess.area() || next.area() > 2*guess.area() {
			return nil
		}
		q = next
	}
	m.Corners = q
	weak, sum := 1.0, 0.0
	for _, e := range m.edges {
		weak = min(weak, e.score)
		sum += e.score
	}
	m.Sure = 0.6*weak + 0.1*sum
	stands := Size{Height: h, Width: w}
	if !q.proportioned(stands) {
		m.Sure *= 0.3
	} else if to > 1 && q.outOfProportion(stands) {
		m.skewed = true
		m.Sure *= 0.45
	}
	return m
}

// outOfProportion reports whether an exactly traced mark is further from the
// plate's proportions than damp paper's shrinking, to 3 %, and the camera's
// tilt explain. A tilt that shortens one pair of sides lets the other pair
// converge, and by more.
func (q Quad) outOfProportion(s Size) bool {
	var l [4]float64
	for i := range l {
		l[i] = q.sideLength(i)
	}
	converge := max(math.Abs(math.Log(l[0]/l[2])), math.Abs(math.Log(l[1]/l[3])))
	return math.Abs(math.Log((l[0]+l[2])/(l[1]+l[3])*s.Height/s.Width)) > 0.03+0.5*converge
}

// proportioned reports whether the quad can be a picture of a rectangle of
// this size: its mean sides agree within a tilt of the camera.
func (q Quad) proportioned(s Size) bool {
	a := (q.sideLength(0) + q.sideLength(2)) / (q.sideLength(1) + q.sideLength(3))
	r := a / (s.Width / s.Height)
	return r > 0.88 && r < 1.14
}

// outward is the unit normal of a side of an upright clockwise rectangle.
func outward(a, b Point) Point {
	n := a.dist(b)
	return Point{(b.Y - a.Y) / n, -(b.X - a.X) / n}
}

// sideFar is how far off, mm, an exact fit looks for a side in each pass of a
// trace; the first pass follows lines within the whole reach. Held fits stay by
// those lines: drawn work further in can look more like an edge than a clean
// sheet's relief does.
func sideFar(pass int, held bool) float64 {
	switch {
	case pass == 0:
		return 0
	case held && pass == 1:
		return 0.8
	case held:
		return 0.5
	}
	return 1.8
}

// traceSides samples the picture across the sides and finds their edges: as
// lines by capped evidence, outermost first, where far is 0, or else exactly,
// within far of where they are thought to be, piece by piece, by fitting what
// an edge looks like.
func traceSides(p *Photo, toPx *homography, rect Quad, reach float64, paper *sheetEdge, far float64, held bool) (sides [4]markSide) {
	var across [4]*plane
	strips1(4, func(i int) {
		a, b := rect.side(i)
		across[i] = stripAcross(p, toPx, a, b, reach)
		if far > 0 {
			sides[i].curve = []float64{0, 0}
			return
		}
		sides[i] = lineSide(across[i], limitReach(across[i].w, toPx, a, b, reach, paper), reach)
	})
	if far > 0 {
		fitSides(&across, &sides, reach, far)
	}
	for i := range sides {
		if held && far > 0 {
			sides[i].holdTo(far + 0.4)
		}
	}
	return sides
}

// stripAcross samples the logarithm of the picture across a side, a row for
// each place along it.
func stripAcross(p *Photo, toPx *homography, a, b Point, reach float64) *plane {
	n := outward(a, b)
	across := int(2*reach/sideStep) + 1
	strip := newPlane(across, sideRuns)
	scale := toPx.apply(a).dist(toPx.apply(b)) / a.dist(b)
	sub := max(2, min(6, int(a.dist(b)*scale/sideRuns)))
	for r := 0; r < sideRuns; r++ {
		row := strip.row(r)
		for s := 0; s < sub; s++ {
			t := 0.02 + 0.96*(float64(r)+(float64(s)+0.5)/float64(sub))/sideRuns
			c := lerp(a, b, t)
			for k := range row {
				d := float64(k)*sideStep - reach
				px := toPx.apply(Point{c.X + d*n.X, c.Y + d*n.Y})
				row[k] += p.lum.bilinear(px.X, px.Y)
			}
		}
		for k := range row {
			row[k] = float32(math.Log(float64(max(row[k]/float32(sub), 1e-5))))
		}
	}
	return strip
}

// limitReach is, for each place along a side, the sample from which the strip
// has left the paper, a little before its edge: the paper's own edge is no
// plate mark.
func limitReach(across int, toPx *homography, a, b Point, reach float64, paper *sheetEdge) []int {
	limit := make([]int, sideRuns)
	n := outward(a, b)
	inset := 1.5 * toPx.apply(a).dist(toPx.apply(b)) / a.dist(b)
	for r := range limit {
		c := lerp(a, b, 0.02+0.96*(float64(r)+0.5)/sideRuns)
		limit[r] = across
		for k := range across {
			d := float64(k)*sideStep - reach
			if paper.found && !paper.quad.contains(toPx.apply(Point{c.X + d*n.X, c.Y + d*n.Y}), inset) {
				limit[r] = k
				break
			}
		}
	}
	return limit
}

// lineSide finds the straight track with the most capped evidence. Where a
// track further out is nearly as good it is taken instead, for printed border
// lines lie inside the mark.
func lineSide(strip *plane, limit []int, reach float64) markSide {
	sm := strip.blurXY(1.5, 1.2)
	e := newPlane(strip.w, strip.h)
	sideEvidence(sm, e, 3)
	sideEvidence(sm, e, 8)
	for y, l := range limit {
		clear(e.row(y)[max(0, l):])
	}
	maxSlope := int(1.2 / sideStep)
	type track struct {
		x0, dx int
		score  float64
	}
	tracks := make([]track, e.w)
	for x0 := range tracks {
		for dx := -maxSlope; dx <= maxSlope; dx++ {
			lo, hi := x0-dx, x0+dx
			if min(lo, hi) < 3 || max(lo, hi) > e.w-4 {
				continue
			}
			var s float64
			for y := 0; y < e.h; y++ {
				x := lo + (hi-lo)*y/(e.h-1)
				s += float64(max(e.v[y*e.w+x-1], e.v[y*e.w+x], e.v[y*e.w+x+1]))
			}
			if s > tracks[x0].score {
				tracks[x0] = track{x0, dx, s}
			}
		}
	}
	var best track
	for _, t := range tracks {
		if t.score > best.score {
			best = t
		}
	}
	gap := int(1.3 / sideStep)
	for x0 := e.w - 1; x0 > best.x0+gap; x0-- {
		t := tracks[x0]
		peak := t.score >= tracks[max(x0-2, 0)].score && t.score >= tracks[min(x0+2, e.w-1)].score
		if peak && t.score > 0.7*best.score && t.score > 0.45*float64(e.h) {
			best = t
			break
		}
	}
	mid := float64(best.x0)*sideStep - reach
	return markSide{
		score: best.score / float64(e.h),
		curve: []float64{mid - float64(best.dx)*sideStep, mid + float64(best.dx)*sideStep},
	}
}

// sideEvidence raises e to the capped edge strength of sm at one width, in
// units of the strip's own unevenness.
func sideEvidence(sm, e *plane, d int) {
	t := newPlane(sm.w, sm.h)
	var all []float64
	for y := 0; y < e.h; y++ {
		r, o := sm.row(y), t.row(y)
		for x := d; x < e.w-d; x++ {
			o[x] = edgeEnergy(r[x-d], r[x], r[x+d])
			if (x+y)%3 == 0 {
				all = append(all, float64(o[x]))
			}
		}
	}
	unit := float32(max(quantile(all, 0.3), 1e-3))
	for i, v := range t.v {
		e.v[i] = max(e.v[i], max(0, min(v/unit, markCap)-1)/(markCap-1))
	}
}

func (s *markSide) offset(t float64) float64 {
	n := len(s.curve) - 1
	u := min(max(t, -0.02), 1.02) * float64(n)
	i := min(max(int(u), 0), n-1)
	return s.curve[i] + (u-float64(i))*(s.curve[i+1]-s.curve[i])
}

// fitSides fits the profile of an edge to each side as a whole, all of one
// shape, then, held to that, to pieces of the sides, and smooth curves through
// what they say.
func fitSides(strips *[4]*plane, sides *[4]markSide, reach, first float64) {
	shape := usualEdge
	for round := range 3 {
		var whole [4]edgeFit
		far := min(first, 0.8)
		if round == 0 {
			far = first
		}
		strips1(4, func(i int) {
			s := &sides[i]
			whole[i] = fitEdge(medianProfile(strips[i], 0, strips[i].h, s, reach), shape, nil, far)
			if round == 0 {
				// The guess may be off as a whole: go there first.
				for k := range s.curve {
					s.curve[k] += whole[i].at
				}
			}
		})
		var profiles [4][]float64
		strips1(4, func(i int) { profiles[i] = medianProfile(strips[i], 0, strips[i].h, &sides[i], reach) })
		shape = shapeOf(profiles)
		var tone [4]float64
		strips1(2, func(i int) {
			tone[i] = shiftedTone(profiles[i], profiles[i+2], shape, far)
			tone[i+2] = -tone[i]
		})
		strips1(4, func(i int) {
			own := shape
			own.tone = tone[i]
			whole[i] = fitEdge(profiles[i], own, nil, far)
			sides[i].fitPieces(strips[i], &whole[i], reach, min(1.5*first, 1.2))
		})
	}
}

// holdTo takes back an exact fit that went further than it was to look: what
// it found is not the side it started from.
func (s *markSide) holdTo(far float64) {
	var sum float64
	for _, o := range s.curve {
		sum += o
	}
	if math.Abs(sum) <= far*float64(len(s.curve)) {
		return
	}
	clear(s.curve)
	for i := range s.weight {
		s.off[i], s.weight[i] = 0, 0
	}
}

// fitPieces fits pieces of a side, held to what the whole showed.
func (s *markSide) fitPieces(strip *plane, whole *edgeFit, reach, far float64) {
	s.at, s.off, s.weight = s.at[:0], s.off[:0], s.weight[:0]
	for r := 0; r+sidePiece <= strip.h; r += sidePiece {
		t := 0.02 + 0.96*(float64(r)+sidePiece/2.0)/float64(strip.h)
		f := fitEdge(medianProfile(strip, r, r+sidePiece, s, reach), whole.edgeShape, whole, far)
		s.at = append(s.at, t)
		s.off = append(s.off, f.at+s.offset(t))
		s.weight = append(s.weight, f.weight)
	}
	s.curve = smoothCurve(s.at, s.off, s.weight)
	s.score = min(1, math.Abs(whole.step)/0.02+math.Abs(whole.ridge)/0.02)
}

// meetSides is where side i ends and side j begins, in the rectangle's
// millimetres.
func meetSides(rect Quad, i, j int, e *[4]markSide) Point {
	ti, tj := 1.0, 0.0
	ai, bi := rect.side(i)
	aj, bj := rect.side(j)
	ni, nj := outward(ai, bi), outward(aj, bj)
	var c Point
	for range 6 {
		oi, oj := e[i].offset(ti), e[j].offset(tj)
		// Sides of an upright rectangle: each fixes one coordinate.
		c = bi
		c.X += oi*ni.X + oj*nj.X
		c.Y += oi*ni.Y + oj*nj.Y
		ti = ((c.X-ai.X)*(bi.X-ai.X) + (c.Y-ai.Y)*(bi.Y-ai.Y)) / (ai.dist(bi) * ai.dist(bi))
		tj = ((c.X-aj.X)*(bj.X-aj.X) + (c.Y-aj.Y)*(bj.Y-aj.Y)) / (aj.dist(bj) * aj.dist(bj))
	}
	return c
}
