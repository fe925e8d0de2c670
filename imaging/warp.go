package imaging

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// warp is a smooth displacement over the plate in millimetres: a uniform cubic
// B-spline of nx x ny spans.
type warp struct {
	nx, ny int
	sx, sy float64 // span, mm
	cx, cy []float64
	cov    *mat.SymDense // of all coefficients, x first; nil when unknown
}

// warpSpan is about how far apart the knots lie: paper buckles over some
// centimetres.
const warpSpan = 11.0

func newWarp(size Size) *warp {
	w := &warp{
		nx: min(max(int(math.Round(size.Width/warpSpan)), 4), 15),
		ny: min(max(int(math.Round(size.Height/warpSpan)), 4), 15),
	}
	w.sx, w.sy = size.Width/float64(w.nx), size.Height/float64(w.ny)
	w.cx, w.cy = make([]float64, w.terms()), make([]float64, w.terms())
	return w
}

func (w *warp) terms() int { return (w.nx + 3) * (w.ny + 3) }

func cubicBasis(t float64) [4]float64 {
	u := 1 - t
	return [4]float64{u * u * u / 6, (3*t*t*t - 6*t*t + 4) / 6, (3*u*u*u - 6*u*u + 4) / 6, t * t * t / 6}
}

// weights are the sixteen coefficients that speak at p and their weights.
func (w *warp) weights(p Point) (first int, b [16]float64) {
	u, v := p.X/w.sx, p.Y/w.sy
	i := min(max(int(math.Floor(u)), 0), w.nx-1)
	j := min(max(int(math.Floor(v)), 0), w.ny-1)
	bu, bv := cubicBasis(min(max(u-float64(i), -0.2), 1.2)), cubicBasis(min(max(v-float64(j), -0.2), 1.2))
	for r := 0; r < 4; r++ {
		for c := 0; c < 4; c++ {
			b[4*r+c] = bv[r] * bu[c]
		}
	}
	return j*(w.nx+3) + i, b
}

func (w *warp) index(first, k int) int { return first + k/4*(w.nx+3) + k%4 }

func (w *warp) at(p Point) Point {
	f, b := w.weights(p)
	var d Point
	for k, v := range b {
		i := w.index(f, k)
		d.X += v * w.cx[i]
		d.Y += v * w.cy[i]
	}
	return d
}

// u is the standard uncertainty of the displacement at p in millimetres, both
// directions together.
func (w *warp) u(p Point) float64 {
	if w.cov == nil {
		return math.NaN()
	}
	f, b := w.weights(p)
	n := w.terms()
	var s float64
	for k, v := range b {
		i := w.index(f, k)
		for l, u := range b {
			j := w.index(f, l)
			s += v * u * (w.cov.At(i, j) + w.cov.At(n+i, n+j))
		}
	}
	return math.Sqrt(max(s, 0))
}

// sighting is where one patch of the plate was seen to be displaced to, with
// its information matrix (mm^-2).
type sighting struct {
	at         Point
	d          Point
	xx, xy, yy float64
}

// fit finds the displacement that agrees with what was seen, as stiff as the
// evidence asks for (the stiffness is chosen by its marginal likelihood), and
// robust against sightings that disagree. It returns the root of the reduced
// chi square, 1 when scatter and stated information agree.
func (w *warp) fit(seen []sighting, stiffnesses []float64) (chi, stiffness float64) {
	weight := make([]float64, len(seen))
	for i := range weight {
		weight[i] = 1
	}
	stiffness = stiffnesses[len(stiffnesses)/2]
	scale := 1.0
	for round := 0; round < 5; round++ {
		if round == 1 || round == 3 {
			best := math.Inf(-1)
			for _, mu := range stiffnesses {
				if e := w.solve(seen, weight, mu, scale); e > best {
					best, stiffness = e, mu
				}
			}
		}
		w.solve(seen, weight, stiffness, scale)
		chi = w.reweigh(seen, weight, &scale)
	}
	return chi, stiffness
}

// reweigh judges each sighting by its misfit and rescales the information to
// the scatter found.
func (w *warp) reweigh(seen []sighting, weight []float64, scale *float64) float64 {
	m := make([]float64, len(seen))
	for i, s := range seen {
		d := w.at(s.at)
		dx, dy := s.d.X-d.X, s.d.Y-d.Y
		m[i] = math.Sqrt(s.xx*dx*dx + 2*s.xy*dx*dy + s.yy*dy*dy)
	}
	// The median of the root of a chi square with two degrees is 1.18.
	chi := median(append([]float64(nil), m...)) / 1.18
	if math.IsNaN(chi) {
		chi = 1
	}
	*scale = 1 / max(chi*chi, 0.25)
	for i := range weight {
		weight[i] = 1
		if u := m[i] / max(chi, 0.5); u > 2.5 {
			weight[i] = 2.5 / u
			if u > 6 {
				weight[i] = 0.02
			}
		}
	}
	return chi
}

// solve fits at one stiffness and returns the log evidence.
func (w *warp) solve(seen []sighting, weight []float64, mu, scale float64) float64 {
	n := w.terms()
	a := make([]float64, 4*n*n)
	rhs := make([]float64, 2*n)
	var fitted float64
	for k, s := range seen {
		f, b := w.weights(s.at)
		g := weight[k] * scale
		ex, ey := g*(s.xx*s.d.X+s.xy*s.d.Y), g*(s.xy*s.d.X+s.yy*s.d.Y)
		fitted += ex*s.d.X + ey*s.d.Y
		for p, u := range b {
			i := w.index(f, p)
			rhs[i] += u * ex
			rhs[n+i] += u * ey
			for q, v := range b {
				j := w.index(f, q)
				t := g * u * v
				a[i*2*n+j] += t * s.xx
				a[i*2*n+n+j] += t * s.xy
				a[(n+i)*2*n+n+j] += t * s.yy
			}
		}
	}
	logPrior := w.stiffen(a, mu)
	sym := mat.NewSymDense(2*n, a)
	var ch mat.Cholesky
	if !ch.Factorize(sym) {
		return math.Inf(-1)
	}
	x := mat.NewVecDense(2*n, nil)
	b := mat.NewVecDense(2*n, rhs)
	if err := ch.SolveVecTo(x, b); err != nil {
		return math.Inf(-1)
	}
	copy(w.cx, x.RawVector().Data[:n])
	copy(w.cy, x.RawVector().Data[n:])
	left := fitted - mat.Dot(x, b)
	return 0.5 * (logPrior - ch.LogDet() - left)
}

// stiffen adds the bending energy of a thin plate and a weak hold on size to
// the normal matrix and returns the log determinant of what it added, up to a
// constant.
func (w *warp) stiffen(a []float64, mu float64) float64 {
	n := w.terms()
	cols, rows := w.nx+3, w.ny+3
	area := w.sx * w.sy
	add := func(idx []int, c []float64, weight float64) {
		for p, i := range idx {
			for q, j := range idx {
				t := weight * c[p] * c[q]
				a[i*2*n+j] += t
				a[(n+i)*2*n+n+j] += t
			}
		}
	}
	second := []float64{1, -2, 1}
	mixed := []float64{1, -1, -1, 1}
	for r := 0; r < rows; r++ {
		for c := 0; c < cols; c++ {
			i := r*cols + c
			if c > 0 && c < cols-1 {
				add([]int{i - 1, i, i + 1}, second, mu*area/math.Pow(w.sx, 4))
			}
			if r > 0 && r < rows-1 {
				add([]int{i - cols, i, i + cols}, second, mu*area/math.Pow(w.sy, 4))
			}
			if c < cols-1 && r < rows-1 {
				add([]int{i, i + 1, i + cols, i + cols + 1}, mixed, 2*mu*area/(w.sx*w.sx*w.sy*w.sy))
			}
		}
	}
	for i := 0; i < 2*n; i++ {
		a[i*2*n+i] += 0.5
	}
	// All but the six flat motions carry mu.
	return float64(2*n-6) * math.Log(mu)
}

// settle keeps the covariance of the coefficients at the chosen stiffness.
func (w *warp) settle(seen []sighting, mu, chi float64) {
	n := w.terms()
	a := make([]float64, 4*n*n)
	scale := 1 / max(chi*chi, 0.25)
	for _, s := range seen {
		f, b := w.weights(s.at)
		for p, u := range b {
			i := w.index(f, p)
			for q, v := range b {
				j := w.index(f, q)
				t := scale * u * v
				a[i*2*n+j] += t * s.xx
				a[i*2*n+n+j] += t * s.xy
				a[(n+i)*2*n+n+j] += t * s.yy
			}
		}
	}
	w.stiffen(a, mu)
	var ch mat.Cholesky
	if !ch.Factorize(mat.NewSymDense(2*n, a)) {
		return
	}
	cov := mat.NewSymDense(2*n, nil)
	if err := ch.InverseTo(cov); err == nil {
		w.cov = cov
	}
}
