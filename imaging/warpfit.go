package imaging

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// The coefficients of a warp go in pairs, x before y, row by row of the
// spline's knots, so that its normal matrix is a band: a place speaks for
// sixteen neighbours only.

// bands is the upper half of a symmetric band matrix: v[i*(k+1)+j-i] is the
// entry in row i and column j, j from i to i+k.
type bands struct {
	n, k int
	v    []float64
}

func newBands(n, k int) *bands { return &bands{n, k, make([]float64, n*(k+1))} }

func (b *bands) at(i, j int) float64 { return b.v[i*(b.k+1)+j-i] }

func (b *bands) add(i, j int, t float64) { b.v[i*(b.k+1)+j-i] += t }

// bandsOf makes an empty matrix for the coefficients of w.
func (w *warp) bandsOf() *bands { return newBands(2*w.terms(), 2*(3*(w.nx+3)+3)+1) }

// factor is the upper factor of Cholesky's method in the place of b; ok is
// false when b is not positive definite.
func (b *bands) factor() (u blas64.TriangularBand, ok bool) {
	return lapack64.Pbtrf(blas64.SymmetricBand{Uplo: blas.Upper, N: b.n, K: b.k, Data: b.v, Stride: b.k + 1})
}

// gathered is what sightings say together: the normal matrix, the right-hand
// side, and the weighed sum of squares of the displacements.
type gathered struct {
	a   *bands
	rhs []float64
	dd  float64
}

func (w *warp) gather(seen []sighting, weight []float64, scale float64) gathered {
	sum := gathered{a: w.bandsOf(), rhs: make([]float64, 2*w.terms())}
	for k, s := range seen {
		f, b := w.weights(s.at)
		g := weight[k] * scale
		ex, ey := g*(s.xx*s.d.X+s.xy*s.d.Y), g*(s.xy*s.d.X+s.yy*s.d.Y)
		sum.dd += ex*s.d.X + ey*s.d.Y
		for p, u := range b {
			i := 2 * w.index(f, p)
			sum.rhs[i] += u * ex
			sum.rhs[i+1] += u * ey
			for q, v := range b[p:] {
				j := 2 * w.index(f, p+q)
				t := g * u * v
				sum.a.add(i, j, t*s.xx)
				sum.a.add(i, j+1, t*s.xy)
				if j > i {
					sum.a.add(i+1, j, t*s.xy)
				}
				sum.a.add(i+1, j+1, t*s.yy)
			}
		}
	}
	return sum
}

// roughness is the energy of a displacement whose parts forget one another over
// warpReach: that of a bent plate, and less of a stretched and a shifted one
// (the Matérn family of smooth fields, first order in the plane; Whittle 1954).
func (w *warp) roughness() *bands {
	const stretched, shifted = 2 / (warpReach * warpReach), 1 / (warpReach * warpReach * warpReach * warpReach)
	e := w.bandsOf()
	cols, rows := w.nx+3, w.ny+3
	area := w.sx * w.sy
	add := func(idx []int, c []float64, weight float64) {
		for p, i := range idx {
			for q, j := range idx {
				if j >= i {
					t := weight * c[p] * c[q]
					e.add(2*i, 2*j, t)
					e.add(2*i+1, 2*j+1, t)
				}
			}
		}
	}
	step := []float64{1, -1}
	second := []float64{1, -2, 1}
	mixed := []float64{1, -1, -1, 1}
	for r := 0; r < rows; r++ {
		for c := 0; c < cols; c++ {
			i := r*cols + c
			add([]int{i}, []float64{1}, area*shifted)
			if c < cols-1 {
				add([]int{i, i + 1}, step, area/(w.sx*w.sx)*stretched)
			}
			if r < rows-1 {
				add([]int{i, i + cols}, step, area/(w.sy*w.sy)*stretched)
			}
			if c > 0 && c < cols-1 {
				add([]int{i - 1, i, i + 1}, second, area/math.Pow(w.sx, 4))
			}
			if r > 0 && r < rows-1 {
				add([]int{i - cols, i, i + cols}, second, area/math.Pow(w.sy, 4))
			}
			if c < cols-1 && r < rows-1 {
				add([]int{i, i + 1, i + cols, i + cols + 1}, mixed, 2*area/(w.sx*w.sx*w.sy*w.sy))
			}
		}
	}
	return e
}

// inverseBands is the inverse of U'U within the band: its entries follow from
// one another, last row first (Takahashi, Fagan and Chin 1973; Erisman and
// Tinney 1975).
func inverseBands(u blas64.TriangularBand) *bands {
	z := newBands(u.N, u.K)
	sum := make([]float64, u.K+1)
	for i := u.N - 1; i >= 0; i-- {
		m := min(u.K, u.N-1-i)
		row := u.Data[i*u.Stride:][:m+1]
		d := 1 / row[0]
		clear(sum)
		for a := 1; a <= m; a++ {
			r := z.v[(i+a)*(z.k+1):][:m-a+1]
			t := row[a]
			s := t * r[0]
			for b := 1; b < len(r); b++ {
				s += row[a+b] * r[b]
				sum[a+b] += t * r[b]
			}
			sum[a] += s
		}
		out := z.v[i*(z.k+1):][:m+1]
		var s float64
		for a := 1; a <= m; a++ {
			out[a] = -d * sum[a]
			s += row[a] * out[a]
		}
		out[0] = d*d - d*s
	}
	return z
}
