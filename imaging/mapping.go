package imaging

import "math"

// mapping takes plate millimetres to upright pixels of one photograph: a
// smooth displacement on the plate, then a projective mapping.
type mapping struct {
	h homography
	w *warp // nil: none
}

func (m *mapping) at(p Point) Point {
	if m.w != nil {
		d := m.w.at(p)
		p.X += d.X
		p.Y += d.Y
	}
	return m.h.apply(p)
}

// plateOf finds the plate point seen at an upright pixel, by fixed-point
// iteration on the small displacement.
func (m *mapping) plateOf(px Point) Point {
	inv := m.h.inverse()
	base := inv.apply(px)
	p := base
	for range 8 {
		if m.w == nil {
			break
		}
		d := m.w.at(p)
		p = Point{base.X - d.X, base.Y - d.Y}
	}
	return p
}

// scale is the mean number of photograph pixels to a millimetre over a plate.
func (m *mapping) scale(s Size) float64 {
	var q Quad
	for i, c := range s.rectangle() {
		q[i] = m.h.apply(c)
	}
	return math.Sqrt(math.Abs(q.area()) / (s.Width * s.Height))
}

// corners is where the plate's corners lie in the photograph.
func (m *mapping) corners(s Size) Quad { return corners(m.at, s) }

func corners(at func(Point) Point, s Size) (q Quad) {
	for i, c := range s.rectangle() {
		q[i] = at(c)
	}
	return q
}

// lattice lists plate and stored pixel coordinates on (rows+1) x (cols+1)
// nodes, edges included.
func (m *mapping) lattice(p *Photo, s Size, cols, rows int) [][4]float64 {
	return lattice(m.at, p, s, cols, rows)
}

func lattice(at func(Point) Point, p *Photo, s Size, cols, rows int) [][4]float64 {
	out := make([][4]float64, 0, (cols+1)*(rows+1))
	for j := 0; j <= rows; j++ {
		for i := 0; i <= cols; i++ {
			c := Point{s.Width * float64(i) / float64(cols), s.Height * float64(j) / float64(rows)}
			px := p.Stored(at(c))
			out = append(out, [4]float64{c.X, c.Y, px.X, px.Y})
		}
	}
	return out
}

// grid is a sampling of the plate: the centre of sample (i, j) is at
// ((i+1/2)/s, (j+1/2)/s) millimetres.
type grid struct {
	cols, rows int
	s          float64 // samples to the millimetre
}

func newGrid(size Size, s float64) grid {
	return grid{max(8, int(size.Width*s)), max(8, int(size.Height*s)), s}
}

func (g grid) point(i, j int) Point {
	return Point{(float64(i) + 0.5) / g.s, (float64(j) + 0.5) / g.s}
}

// source is a photograph's luminance prepared for sampling at a grid's scale:
// shrunk first where the photograph is finer than twice the grid.
type source struct {
	lum *plane
	k   int
}

func newSource(p *Photo, pxPerMM, s float64) source {
	k := max(1, int(pxPerMM/s*0.75))
	return source{p.shrunk(k), k}
}

func (c source) at(px Point) Point {
	k := float64(c.k)
	return Point{(px.X - (k-1)/2) / k, (px.Y - (k-1)/2) / k}
}

// rectify samples the photograph over the plate. Samples outside the picture
// are NaN. The mapping is evaluated every eighth sample and interpolated
// between, which is exact to a thousandth of a pixel for what bends as slowly
// as paper does.
func (c source) rectify(m *mapping, g grid) *plane {
	out := newPlane(g.cols, g.rows)
	const step = 8
	nx := (g.cols+step-1)/step + 1
	blocks := (g.rows + step - 1) / step
	strips(blocks, func(_, lo, hi int) {
		top, bot := make([]Point, nx), make([]Point, nx)
		for b := lo; b < hi; b++ {
			for i := range top {
				top[i] = c.at(m.at(g.point(i*step, b*step)))
				bot[i] = c.at(m.at(g.point(i*step, (b+1)*step)))
			}
			for y := b * step; y < min((b+1)*step, g.rows); y++ {
				fy := float64(y-b*step) / step
				row := out.row(y)
				for i := 0; i+1 < nx; i++ {
					l, r := lerp(top[i], bot[i], fy), lerp(top[i+1], bot[i+1], fy)
					dx, dy := (r.X-l.X)/step, (r.Y-l.Y)/step
					c.lum.along(row[i*step:min((i+1)*step, g.cols)], l, Point{dx, dy})
				}
			}
		}
	})
	return out
}

// along reads p at evenly spaced places by cubic convolution; places outside
// the picture are NaN.
func (p *plane) along(dst []float32, at, by Point) {
	limitX, limitY := float64(p.w)-0.5, float64(p.h)-0.5
	for x := range dst {
		if at.X >= 1 && at.Y >= 1 && at.X < float64(p.w-2) && at.Y < float64(p.h-2) {
			i, j := int(at.X), int(at.Y)
			dst[x] = p.cubic((j-1)*p.w+i-1, float32(at.X-float64(i)), float32(at.Y-float64(j)))
		} else if at.X < -0.5 || at.Y < -0.5 || at.X > limitX || at.Y > limitY {
			dst[x] = float32(math.NaN())
		} else {
			dst[x] = p.bicubic(at.X, at.Y)
		}
		at.X += by.X
		at.Y += by.Y
	}
}
