package imaging

import (
	"math"
	"slices"
)

// sheetEdge is the outline of the paper in a picture, as four corners running
// clockwise from the one nearest the top-left.
type sheetEdge struct {
	quad  Quad
	found bool    // false: the paper fills the picture, or could not be told apart
	touch [4]bool // the paper runs out of the picture at the top, right, bottom, left
}

// holds reports whether a plate mark lies on the sheet, but for some pixels.
func (e *sheetEdge) holds(mark Quad, but float64) bool {
	for _, c := range mark {
		if !e.quad.contains(c, -but) {
			return false
		}
	}
	return true
}

// findSheet tells the paper from what lies around it by Otsu's threshold
// (Otsu 1979) on the square root of luminance. Paper may be the lighter or the
// darker of the two.
func findSheet(p *plane) sheetEdge {
	frame := Quad{{0, 0}, {float64(p.w - 1), 0}, {float64(p.w - 1), float64(p.h - 1)}, {0, float64(p.h - 1)}}
	whole := sheetEdge{quad: frame, touch: [4]bool{true, true, true, true}}
	root := newPlane(p.w, p.h)
	for i, v := range p.v {
		root.v[i] = float32(math.Sqrt(float64(max(v, 0))))
	}
	root = root.blur(1.5)
	t, lo, hi := otsu(root.v)
	if hi-lo < 0.05 || hi < 1.08*lo {
		return whole
	}
	best, found := sheetEdge{}, false
	for _, bright := range []bool{true, false} {
		e, ok := outline(root, t, bright)
		if ok && (!found || e.quad.area() > best.quad.area()) {
			best, found = e, true
		}
		if found && bright {
			break
		}
	}
	if !found {
		return whole
	}
	return best
}

// otsu returns the threshold that parts v best and the mean on either side.
func otsu(v []float32) (t, lo, hi float64) {
	const bins = 256
	var n [bins]float64
	for _, x := range v {
		n[min(max(int(x*bins), 0), bins-1)]++
	}
	var total, sum float64
	for i, c := range n {
		total += c
		sum += c * float64(i)
	}
	var w, s, bestVar float64
	for i := 0; i < bins-1; i++ {
		w += n[i]
		s += n[i] * float64(i)
		if w == 0 || w == total {
			continue
		}
		a, b := s/w, (sum-s)/(total-w)
		if d := w * (total - w) * (a - b) * (a - b); d > bestVar {
			bestVar, t, lo, hi = d, (float64(i)+1)/bins, a/bins, b/bins
		}
	}
	return t, lo, hi
}

// outline fits four sides to the largest patch on one side of the threshold.
func outline(p *plane, t float64, bright bool) (sheetEdge, bool) {
	in := make([]bool, len(p.v))
	for i, v := range p.v {
		in[i] = (float64(v) > t) == bright
	}
	patch, area := largestPatch(in, p.w, p.h)
	if float64(area) < 0.08*float64(len(in)) {
		return sheetEdge{}, false
	}
	var e sheetEdge
	pts, filled := boundary(patch, p.w, p.h, &e)
	if e.touch == [4]bool{true, true, true, true} {
		return e, false
	}
	q, ok := fitQuad(pts)
	if !ok {
		return e, false
	}
	covered := filled / q.area()
	if covered < 0.7 || covered > 1.1 {
		return e, false
	}
	e.quad, e.found = q, true
	return e, true
}

// largestPatch returns the largest 4-connected patch of in and its size.
func largestPatch(in []bool, w, h int) (patch []bool, area int) {
	label := make([]int32, len(in))
	var stack []int32
	var best int32
	var next int32
	for i := range in {
		if !in[i] || label[i] != 0 {
			continue
		}
		next++
		n := 0
		stack = append(stack[:0], int32(i))
		label[i] = next
		for len(stack) > 0 {
			j := int(stack[len(stack)-1])
			stack = stack[:len(stack)-1]
			n++
			x, y := j%w, j/w
			for _, d := range [4][2]int{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
				if a, b := x+d[0], y+d[1]; a >= 0 && b >= 0 && a < w && b < h {
					if k := b*w + a; in[k] && label[k] == 0 {
						label[k] = next
						stack = append(stack, int32(k))
					}
				}
			}
		}
		if n > area {
			area, best = n, next
		}
	}
	patch = make([]bool, len(in))
	for i := range in {
		patch[i] = in[i] && label[i] == best
	}
	return patch, area
}

// boundary lists the outermost points of a patch along every row and column
// notes where it runs out of the picture, and gives its area with holes filled.
func boundary(in []bool, w, h int, e *sheetEdge) (pts []Point, filled float64) {
	var top, right, bottom, left int
	for y := 0; y < h; y++ {
		a := slices.Index(in[y*w:(y+1)*w], true)
		if a < 0 {
			continue
		}
		b := w - 1
		for !in[y*w+b] {
			b--
		}
		if a == 0 {
			left++
		}
		if b == w-1 {
			right++
		}
		filled += float64(b - a + 1)
		pts = append(pts, Point{float64(a), float64(y)}, Point{float64(b), float64(y)})
	}
	for x := 0; x < w; x++ {
		a := 0
		for a < h && !in[a*w+x] {
			a++
		}
		if a == h {
			continue
		}
		b := h - 1
		for !in[b*w+x] {
			b--
		}
		if a == 0 {
			top++
		}
		if b == h-1 {
			bottom++
		}
		pts = append(pts, Point{float64(x), float64(a)}, Point{float64(x), float64(b)})
	}
	e.touch = [4]bool{top*20 > w, right*20 > h, bottom*20 > w, left*20 > h}
	return pts, filled
}

// hull is the convex hull of pts (Andrew's monotone chain), clockwise with y
// down.
func hull(pts []Point) []Point {
	slices.SortFunc(pts, func(a, b Point) int {
		if a.X != b.X {
			return sign(a.X - b.X)
		}
		return sign(a.Y - b.Y)
	})
	half := func(seq []Point) []Point {
		var c []Point
		for _, p := range seq {
			for len(c) >= 2 && cross(c[len(c)-2], c[len(c)-1], p) <= 0 {
				c = c[:len(c)-1]
			}
			c = append(c, p)
		}
		return c[:max(len(c)-1, 0)]
	}
	a := half(pts)
	back := slices.Clone(pts)
	slices.Reverse(back)
	return append(a, half(back)...)
}

func sign(v float64) int {
	if v < 0 {
		return -1
	}
	if v > 0 {
		return 1
	}
	return 0
}

// fitQuad fits four straight sides to the outline: the tightest rectangle
// first, then a robust line to the points near each of its sides.
func fitQuad(pts []Point) (Quad, bool) {
	rect, ok := tightest(hull(slices.Clone(pts)))
	if !ok {
		return Quad{}, false
	}
	var lines [4]line
	for i := range rect {
		a, b := rect.side(i)
		n := a.dist(b)
		if n < 10 {
			return Quad{}, false
		}
		var near []Point
		reach := 0.12 * rect.sideLength((i+1)&3)
		for _, p := range pts {
			along := ((p.X-a.X)*(b.X-a.X) + (p.Y-a.Y)*(b.Y-a.Y)) / (n * n)
			if along > 0.08 && along < 0.92 && math.Abs(cross(a, b, p))/n < reach {
				near = append(near, p)
			}
		}
		if len(near) < 10 {
			return Quad{}, false
		}
		lines[i] = robustLine(near)
	}
	var q Quad
	for i := range q {
		c, ok := lines[(i+3)&3].meet(lines[i])
		if !ok {
			return Quad{}, false
		}
		q[i] = c
	}
	return q.fromTopLeft(), q.area() > 0
}

// fromTopLeft turns the corners so that the first is the one nearest the
// top-left of the picture.
func (q Quad) fromTopLeft() Quad {
	k := 0
	for i := range q {
		if q[i].X+q[i].Y < q[k].X+q[k].Y {
			k = i
		}
	}
	return q.turned(k)
}

// tightest is the enclosing rectangle of least area, clockwise with y down.
func tightest(h []Point) (Quad, bool) {
	if len(h) < 3 {
		return Quad{}, false
	}
	best := math.Inf(1)
	var out Quad
	for i := range h {
		a, b := h[i], h[(i+1)%len(h)]
		n := a.dist(b)
		if n == 0 {
			continue
		}
		ux, uy := (b.X-a.X)/n, (b.Y-a.Y)/n
		lo, hi := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
		for _, p := range h {
			s, t := p.X*ux+p.Y*uy, -p.X*uy+p.Y*ux
			lo.X, hi.X = min(lo.X, s), max(hi.X, s)
			lo.Y, hi.Y = min(lo.Y, t), max(hi.Y, t)
		}
		if ar := (hi.X - lo.X) * (hi.Y - lo.Y); ar < best {
			best = ar
			at := func(s, t float64) Point { return Point{s*ux - t*uy, s*uy + t*ux} }
			out = Quad{at(lo.X, lo.Y), at(hi.X, lo.Y), at(hi.X, hi.Y), at(lo.X, hi.Y)}
		}
	}
	return out, !math.IsInf(best, 1)
}

// line is all points with a*x + b*y = c; (a, b) has length one.
type line struct{ a, b, c float64 }

func (l line) meet(m line) (Point, bool) {
	d := l.a*m.b - m.a*l.b
	if math.Abs(d) < 1e-6 {
		return Point{}, false
	}
	return Point{(l.c*m.b - m.c*l.b) / d, (l.a*m.c - m.a*l.c) / d}, true
}

// robustLine fits a line by total least squares, reweighted by Tukey's
// biweight.
func robustLine(p []Point) line {
	w := make([]float64, len(p))
	for i := range w {
		w[i] = 1
	}
	var l line
	r := make([]float64, len(p))
	for range 8 {
		var s, mx, my float64
		for i, q := range p {
			s += w[i]
			mx += w[i] * q.X
			my += w[i] * q.Y
		}
		mx, my = mx/s, my/s
		var xx, xy, yy float64
		for i, q := range p {
			dx, dy := q.X-mx, q.Y-my
			xx += w[i] * dx * dx
			xy += w[i] * dx * dy
			yy += w[i] * dy * dy
		}
		th := 0.5*math.Atan2(2*xy, xx-yy) + math.Pi/2
		l.a, l.b = math.Cos(th), math.Sin(th)
		l.c = l.a*mx + l.b*my
		for i, q := range p {
			r[i] = l.a*q.X + l.b*q.Y - l.c
		}
		sc := max(spread(slices.Clone(r)), 0.3)
		for i := range r {
			u := r[i] / (4.7 * sc)
			w[i] = 0
			if math.Abs(u) < 1 {
				w[i] = (1 - u*u) * (1 - u*u)
			}
		}
	}
	return l
}
