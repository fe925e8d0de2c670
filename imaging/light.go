package imaging

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// lightOrder is the degree of the polynomial that follows the light.
const lightOrder = 4

// lightTerms is how many coefficients that takes.
const lightTerms = (lightOrder + 1) * (lightOrder + 2) / 2

// light is what bare paper would reflect in a photograph, at every place of
// the plate's frame: the exponential of a polynomial fitted on the margins.
// Nothing inside the plate mark may fit it, for there plate tone looks just
// like dim light.
type light struct {
	cx, cy, r float64 // the frame's origin and scale: (x-cx)/r, (y-cy)/r
	c         [lightTerms]float64
	cov       *mat.SymDense // of c
	cells     int           // millimetres squared of margin it rests on
	noise     float64       // of one cell, natural log
	clipped   float64       // share of the margin at the top of the scale
	trimmed   bool          // no margin to go by: fitted on the ground, tone cannot be told
}

func lightBasis(x, y float64) [lightTerms]float64 {
	var b [lightTerms]float64
	var px, py [lightOrder + 1]float64
	px[0], py[0], px[1], py[1] = 1, 1, x, y
	for n := 2; n <= lightOrder; n++ { // Legendre, of even size over the frame
		f := float64(n)
		px[n] = ((2*f-1)*x*px[n-1] - (f-1)*px[n-2]) / f
		py[n] = ((2*f-1)*y*py[n-1] - (f-1)*py[n-2]) / f
	}
	k := 0
	for n := 0; n <= lightOrder; n++ {
		for i := 0; i <= n; i++ {
			b[k] = px[n-i] * py[i]
			k++
		}
	}
	return b
}

// at is the light at a plate point and its relative standard uncertainty.
func (l *light) at(p Point) float64 {
	b := lightBasis((p.X-l.cx)/l.r, (p.Y-l.cy)/l.r)
	var s float64
	for i, v := range b {
		s += v * l.c[i]
	}
	return math.Exp(s)
}

// u is the standard uncertainty of the natural log of the light averaged over
// the plate.
func (l *light) u(size Size) float64 {
	var m [lightTerms]float64
	const n = 9
	for j := 0; j < n; j++ {
		for i := 0; i < n; i++ {
			b := lightBasis((size.Width*(float64(i)+0.5)/n-l.cx)/l.r, (size.Height*(float64(j)+0.5)/n-l.cy)/l.r)
			for k := range b {
				m[k] += b[k] / (n * n)
			}
		}
	}
	v := mat.NewVecDense(lightTerms, m[:])
	return math.Sqrt(max(0, mat.Inner(v, l.cov, v)))
}

// falloff is (max-min)/mean of the light over the plate.
func (l *light) falloff(size Size) float64 {
	lo, hi, sum := math.Inf(1), math.Inf(-1), 0.0
	const n = 21
	for j := 0; j < n; j++ {
		for i := 0; i < n; i++ {
			v := l.at(Point{size.Width * float64(i) / (n - 1), size.Height * float64(j) / (n - 1)})
			lo, hi, sum = min(lo, v), max(hi, v), sum+v
		}
	}
	return (hi - lo) / (sum / (n * n))
}

// marginCell is the mean light of about one square millimetre of margin.
type marginCell struct {
	x, y float64 // plate mm
	v    float64 // natural log of luminance
	clip float64
}

const (
	markGuard  = 2.2 // mm kept clear outside the plate mark: its ridge casts shadows
	sheetGuard = 3.0 // mm kept clear inside the sheet's edge
)

// margins collects the cells of bare paper around the mark.
func margins(p *Photo, m *mapping, size Size, sheet *sheetEdge) []marginCell {
	scale := m.scale(size)
	k := max(1, int(math.Round(scale)))
	small := p.shrunk(k)
	reach := 14.0
	// A plate is printed within its sheet: what leaves out a corner of the mark
	// is no sheet but the dark of the picture itself.
	if sheet.found && !sheet.holds(m.corners(size), 2*scale) {
		sheet = &sheetEdge{}
	}
	if sheet.found {
		reach = 0.6 * max(size.Width, size.Height)
	}
	var out []marginCell
	for y := -reach; y <= size.Height+reach; y++ {
		for x := -reach; x <= size.Width+reach; x++ {
			if x > -markGuard && x < size.Width+markGuard && y > -markGuard && y < size.Height+markGuard {
				continue
			}
			px := m.h.apply(Point{x, y})
			if px.X < 2*scale || px.Y < 2*scale || px.X > float64(p.Width)-2*scale || px.Y > float64(p.Height)-2*scale {
				continue
			}
			if sheet.found && !sheet.quad.contains(px, sheetGuard*scale) {
				continue
			}
			q := source{small, k}.at(px)
			v := small.bilinear(q.X, q.Y)
			out = append(out, marginCell{x, y, math.Log(float64(max(v, 1e-5))), p.clipAt(px)})
		}
	}
	return out
}

func (p *Photo) clipAt(px Point) float64 {
	return float64(p.clipped.bilinear((px.X-3.5)/clipShrink, (px.Y-3.5)/clipShrink))
}

// groundCells is what a sheet trimmed to its plate mark leaves to go by: the
// brighter ground between the lines.
func groundCells(p *Photo, m *mapping, size Size) []marginCell {
	scale := m.scale(size)
	k := max(1, int(math.Round(scale/3)))
	small := p.shrunk(k)
	const block = 4.0
	var out []marginCell
	for y := 0.0; y+block <= size.Height; y += block {
		for x := 0.0; x+block <= size.Width; x += block {
			var v []float64
			for j := 0.25; j < block; j += 0.4 {
				for i := 0.25; i < block; i += 0.4 {
					px := m.h.apply(Point{x + i, y + j})
					if px.X < 0 || px.Y < 0 || px.X > float64(p.Width-1) || px.Y > float64(p.Height-1) {
						continue
					}
					q := source{small, k}.at(px)
					v = append(v, float64(small.bilinear(q.X, q.Y)))
				}
			}
			if len(v) > 30 {
				out = append(out, marginCell{x + block/2, y + block/2, math.Log(max(quantile(v, 0.85), 1e-5)), 0})
			}
		}
	}
	return out
}

// fitLight fits the light on the margins (Tukey's biweight rejects spots,
// stamps and pencil), each order held in check by how much a lamp or a lens
// can bend it.
func fitLight(p *Photo, m *mapping, size Size, sheet *sheetEdge) (*light, error) {
	cells := margins(p, m, size, sheet)
	l := &light{cx: size.Width / 2, cy: size.Height / 2, cells: len(cells)}
	if len(cells) < 150 {
		cells = groundCells(p, m, size)
		l.trimmed = true
	}
	if len(cells) < 40 {
		return nil, refuse("There is too little bare paper in the photograph to judge the light by; photograph the whole sheet.")
	}
	for _, c := range cells {
		l.r = max(l.r, math.Abs(c.x-l.cx), math.Abs(c.y-l.cy))
		l.clipped += c.clip / float64(len(cells))
	}
	if l.clipped > 0.3 {
		return nil, burntOut()
	}
	basis := make([][lightTerms]float64, len(cells))
	w := make([]float64, len(cells))
	for i, c := range cells {
		basis[i] = lightBasis((c.x-l.cx)/l.r, (c.y-l.cy)/l.r)
		w[i] = 1
		if c.clip > 0.02 {
			w[i] = 0
		}
	}
	base := slices.Clone(w)
	res := make([]float64, len(cells))
	l.noise = 0.05
	for range 10 {
		if err := l.solve(cells, basis, w); err != nil {
			return nil, refuse("The light on the margins of the sheet cannot be followed; photograph the sheet on a plain ground under even light.")
		}
		for i, c := range cells {
			res[i] = c.v
			for k, b := range basis[i] {
				res[i] -= b * l.c[k]
			}
		}
		l.noise = max(spread(slices.Clone(res)), 0.001)
		for i := range w {
			u := res[i] / (4.5 * l.noise)
			w[i] = 0
			if math.Abs(u) < 1 {
				w[i] = base[i] * (1 - u*u) * (1 - u*u)
			}
		}
	}
	return l, nil
}

// cellRun is how many neighbouring cells share their error: paper's
// unevenness reaches over some millimetres.
const cellRun = 9

// solve finds the coefficients and their covariance given the weights.
func (l *light) solve(cells []marginCell, basis [][lightTerms]float64, w []float64) error {
	a := mat.NewSymDense(lightTerms, nil)
	rhs := mat.NewVecDense(lightTerms, nil)
	acc := make([]float64, lightTerms*lightTerms)
	var r [lightTerms]float64
	for i, c := range cells {
		b := &basis[i]
		for p := 0; p < lightTerms; p++ {
			t := w[i] * b[p]
			r[p] += t * c.v
			for q := p; q < lightTerms; q++ {
				acc[p*lightTerms+q] += t * b[q]
			}
		}
	}
	s2 := l.noise * l.noise * cellRun
	k := 0
	for n := 0; n <= lightOrder; n++ {
		prior := [lightOrder + 1]float64{1e3, 0.6, 0.3, 0.12, 0.06}[n]
		for i := 0; i <= n; i++ {
			acc[k*lightTerms+k] += s2 / (prior * prior)
			k++
		}
	}
	for p := 0; p < lightTerms; p++ {
		rhs.SetVec(p, r[p])
		for q := p; q < lightTerms; q++ {
			a.SetSym(p, q, acc[p*lightTerms+q])
		}
	}
	var ch mat.Cholesky
	if !ch.Factorize(a) {
		return errDegenerate
	}
	var x mat.VecDense
	if err := ch.SolveVecTo(&x, rhs); err != nil {
		return err
	}
	copy(l.c[:], x.RawVector().Data)
	l.cov = mat.NewSymDense(lightTerms, nil)
	if err := ch.InverseTo(l.cov); err != nil {
		return err
	}
	l.cov.ScaleSym(s2, l.cov)
	return nil
}

// divide turns rectified luminance into reflectance relative to bare paper.
func (l *light) divide(lum *plane, g grid) {
	const step = 16
	nx := (g.cols+step-1)/step + 1
	strips((g.rows+step-1)/step, func(_, lo, hi int) {
		top, bot := make([]float64, nx), make([]float64, nx)
		for b := lo; b < hi; b++ {
			for i := range top {
				top[i], bot[i] = 1/l.at(g.point(i*step, b*step)), 1/l.at(g.point(i*step, (b+1)*step))
			}
			for y := b * step; y < min((b+1)*step, g.rows); y++ {
				fy := float64(y-b*step) / step
				row := lum.row(y)
				for i := 0; i+1 < nx; i++ {
					v0, v1 := top[i]+fy*(bot[i]-top[i]), top[i+1]+fy*(bot[i+1]-top[i+1])
					part := row[i*step : min((i+1)*step, g.cols)]
					for x := range part {
						part[x] *= float32(v0 + float64(x)/step*(v1-v0))
					}
				}
			}
		}
	})
}
