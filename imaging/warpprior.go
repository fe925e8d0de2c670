package imaging

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"
)

// What is expected of a displacement before anything is seen of it: a
// projective one of any size, as a camera's place and paper's even shrinking
// make; a lens's bending; and on these a smooth one of the buckling paper.
const (
	warpReach = 20.0 // mm over which buckling paper forgets itself
	warpLens  = 0.02 // expected bending of a lens at the corners of its picture, as a share of the way there
	warpFree  = 3.0  // mm, what a shift, a turn or a shrinking may come to
	warpTilt  = 0.3  // mm, what is left of the camera's tilt once sheets lie on one another
	warpModes = 9
)

// expectation is that of one warp.
type expectation struct {
	stiff  *bands
	logDet float64              // of stiff
	modes  [warpModes][]float64 // coefficients of the projective and the lens's displacement
	pull   [warpModes][]float64 // stiff times modes
	own    *mat.SymDense        // modes times stiff times modes
}

// prior works the expectation out for the warp's grid and its eye. The stiffness
// is positive definite by the way it is made, so it can always be factored.
func (w *warp) prior() *expectation {
	e := &expectation{stiff: w.roughness(), modes: w.modes(), own: mat.NewSymDense(warpModes, nil)}
	u, _ := e.stiff.clone().factor()
	for i := range e.stiff.n {
		e.logDet += 2 * math.Log(u.Data[i*u.Stride])
	}
	for k, m := range e.modes {
		e.pull[k] = e.stiff.times(m)
		for l := range k + 1 {
			e.own.SetSym(k, l, dot(e.pull[k], e.modes[l]))
		}
	}
	return e
}

// modes are the coefficients of one standard deviation of each displacement
// that is not the paper's. All are polynomials of at most the third degree,
// and a cubic spline holds those exactly: its coefficients are their polar
// forms at three knots that follow one another (Ramshaw 1987).
func (w *warp) modes() (out [warpModes][]float64) {
	for k := range out {
		out[k] = make([]float64, 2*w.terms())
	}
	long := math.Max(w.sx*float64(w.nx), w.sy*float64(w.ny)) / 2
	lens := warpLens / (w.half * w.half)
	cols := w.nx + 3
	for i := range w.terms() {
		x, y := polar(float64(i%cols-1), w.sx, w.eye.X), polar(float64(i/cols-1), w.sy, w.eye.Y)
		for k, d := range [warpModes]Point{
			{warpFree, 0}, {0, warpFree},
			{warpFree * x[1] / long, 0}, {0, warpFree * x[1] / long},
			{warpFree * y[1] / long, 0}, {0, warpFree * y[1] / long},
			{warpTilt * x[2] / (long * long), warpTilt * x[1] * y[1] / (long * long)},
			{warpTilt * x[1] * y[1] / (long * long), warpTilt * y[2] / (long * long)},
			{lens * (x[3] + x[1]*y[2]), lens * (x[2]*y[1] + y[3])},
		} {
			out[k][2*i], out[k][2*i+1] = d.X, d.Y
		}
	}
	return out
}

// polar gives the polar forms of the first powers of a coordinate, told from
// origin, at the knots about knot k.
func polar(k, span, origin float64) [4]float64 {
	a, b, c := (k-1)*span-origin, k*span-origin, (k+1)*span-origin
	return [4]float64{1, b, (a*b + b*c + c*a) / 3, a * b * c}
}

// weighed is what was seen and what was expected, solved together.
type weighed struct {
	u     blas64.TriangularBand // factor of the normal matrix of the coefficients
	about []columns             // its inverse times the pull of each mode and, last, the right-hand side
	modes mat.Cholesky          // of the modes, the coefficients settled
}

// columns is one row of what is solved for: the modes and the right-hand side.
type columns [warpModes + 1]float64

// solveColumns puts the solution of U'U x = b in the place of b. All columns go
// together, for the band is read once then.
func solveColumns(u blas64.TriangularBand, b []columns) {
	for i := range b {
		row := u.Data[i*u.Stride:][:min(u.K+1, len(b)-i)]
		at := b[i]
		for c := range at {
			at[c] /= row[0]
		}
		b[i] = at
		for j, t := range row[1:] {
			d := &b[i+1+j]
			for c := range d {
				d[c] -= t * at[c]
			}
		}
	}
	for i := len(b) - 1; i >= 0; i-- {
		row := u.Data[i*u.Stride:][:min(u.K+1, len(b)-i)]
		at := b[i]
		for j, t := range row[1:] {
			d := &b[i+1+j]
			for c := range d {
				at[c] -= t * d[c]
			}
		}
		for c := range at {
			at[c] /= row[0]
		}
		b[i] = at
	}
}

// weigh solves what was seen together with what is expected at stiffness mu, by
// blocks: the coefficients with the modes held, then the few modes (their Schur
// complement). It reports false where the equations have no solution.
func (e *expectation) weigh(sum gathered, mu float64) (*weighed, bool) {
	n := e.stiff.n
	a := newBands(n, e.stiff.k)
	for i, v := range sum.a.v {
		a.v[i] = v + mu*e.stiff.v[i]
	}
	out := &weighed{about: make([]columns, n)}
	var ok bool
	if out.u, ok = a.factor(); !ok {
		return nil, false
	}
	for i := range out.about {
		for k, p := range e.pull {
			out.about[i][k] = mu * p[i]
		}
		out.about[i][warpModes] = sum.rhs[i]
	}
	solveColumns(out.u, out.about)
	left := mat.NewSymDense(warpModes, nil)
	for k := range warpModes {
		for l := k; l < warpModes; l++ {
			var s float64
			for i, v := range e.pull[k] {
				s += v * out.about[i][l]
			}
			left.SetSym(k, l, mu*(e.own.At(k, l)-s))
		}
		left.SetSym(k, k, left.At(k, k)+1)
	}
	return out, out.modes.Factorize(left)
}

// solve fits at one stiffness and returns the log evidence.
func (w *warp) solve(sum gathered, e *expectation, mu float64) float64 {
	s, ok := e.weigh(sum, mu)
	if !ok {
		return math.Inf(-1)
	}
	n := len(sum.rhs)
	x := make([]float64, n)
	for i := range x {
		x[i] = s.about[i][warpModes]
	}
	share := mat.NewVecDense(warpModes, nil)
	for k := range warpModes {
		share.SetVec(k, mu*dot(e.pull[k], x))
	}
	if s.modes.SolveVecTo(share, share) != nil {
		return math.Inf(-1)
	}
	left, logDet := sum.dd, s.modes.LogDet()
	for i := range x {
		for k := range warpModes {
			x[i] += s.about[i][k] * share.AtVec(k)
		}
		left -= x[i] * sum.rhs[i]
		logDet += 2 * math.Log(s.u.Data[i*s.u.Stride])
	}
	for i := range w.cx {
		w.cx[i], w.cy[i] = x[2*i], x[2*i+1]
	}
	return 0.5 * (float64(n)*math.Log(mu) + e.logDet - logDet - left)
}

// settle keeps the covariance of the coefficients at the chosen stiffness.
func (w *warp) settle(seen []sighting, mu, chi float64) {
	weight := make([]float64, len(seen))
	for i := range weight {
		weight[i] = 1
	}
	s, ok := w.prior().weigh(w.gather(seen, weight, 1/max(chi*chi, 0.25)), mu)
	if !ok {
		return
	}
	w.cov = inverseBands(s.u)
	var spread mat.SymDense
	if s.modes.InverseTo(&spread) != nil {
		w.cov = nil
		return
	}
	row := func(i int) []float64 { return s.about[i][:warpModes] }
	half := make([]float64, warpModes)
	for i := range w.cov.n {
		for k := range half {
			half[k] = 0
			for l, v := range row(i) {
				half[k] += spread.At(k, l) * v
			}
		}
		for j := i; j <= min(i+w.cov.k, w.cov.n-1); j++ {
			w.cov.add(i, j, dot(half, row(j)))
		}
	}
}

func (b *bands) clone() *bands { return &bands{b.n, b.k, append([]float64(nil), b.v...)} }

// times is the matrix times x.
func (b *bands) times(x []float64) []float64 {
	out := make([]float64, b.n)
	blas64.Sbmv(1, blas64.SymmetricBand{Uplo: blas.Upper, N: b.n, K: b.k, Data: b.v, Stride: b.k + 1},
		blas64.Vector{N: b.n, Inc: 1, Data: x}, 0, blas64.Vector{N: b.n, Inc: 1, Data: out})
	return out
}

func dot(a, b []float64) float64 {
	var s float64
	for i, v := range a {
		s += v * b[i]
	}
	return s
}
