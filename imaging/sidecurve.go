package imaging

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// curveNodes is how many even places a side's curve is held at.
const curveNodes = 25

// smoothCurve lays a curve through scattered offsets: least squares against
// second differences, as stiff as the evidence asks for, robust against
// pieces that disagree. Weights are inverse variances, mm^-2.
func smoothCurve(at, off, weight []float64) []float64 {
	w := slices.Clone(weight)
	for i := range w {
		w[i] = 1 / (1/max(w[i], 1e-6) + 0.03*0.03)
	}
	base := slices.Clone(w)
	var curve []float64
	sd := 0.02 // of second differences, mm
	for round := range 8 {
		if round%3 == 1 {
			best := math.Inf(-1)
			for _, s := range []float64{0.002, 0.006, 0.02, 0.06} {
				if _, e := solveCurve(at, off, w, s); e > best {
					best, sd = e, s
				}
			}
		}
		curve, _ = solveCurve(at, off, w, sd)
		m := markSide{curve: curve}
		for i := range w {
			u := math.Abs(off[i]-m.offset(at[i])) * math.Sqrt(base[i])
			w[i] = base[i] / (1 + (u/2)*(u/2))
			if u > 5 {
				w[i] = base[i] * 1e-3
			}
		}
	}
	return curve
}

func solveCurve(at, off, w []float64, sd float64) ([]float64, float64) {
	const n = curveNodes
	a := mat.NewSymDense(n, nil)
	b := mat.NewVecDense(n, nil)
	var fitted float64
	for k, t := range at {
		u := t * (n - 1)
		i := min(int(u), n-2)
		f := u - float64(i)
		c := [2]float64{1 - f, f}
		for p := range c {
			b.SetVec(i+p, b.AtVec(i+p)+w[k]*c[p]*off[k])
			for q := p; q < 2; q++ {
				a.SetSym(i+p, i+q, a.At(i+p, i+q)+w[k]*c[p]*c[q])
			}
		}
		fitted += w[k] * off[k] * off[k]
	}
	s := 1 / (sd * sd)
	d := [3]float64{1, -2, 1}
	for i := 0; i+2 < n; i++ {
		for p := range d {
			for q := p; q < 3; q++ {
				a.SetSym(i+p, i+q, a.At(i+p, i+q)+s*d[p]*d[q])
			}
		}
	}
	for i := 0; i < n; i++ {
		a.SetSym(i, i, a.At(i, i)+0.05)
	}
	var ch mat.Cholesky
	out := make([]float64, n)
	if !ch.Factorize(a) {
		return out, math.Inf(-1)
	}
	x := mat.NewVecDense(n, nil)
	if ch.SolveVecTo(x, b) != nil {
		return out, math.Inf(-1)
	}
	copy(out, x.RawVector().Data)
	return out, 0.5 * (float64(n-2)*math.Log(s) - ch.LogDet() - (fitted - mat.Dot(x, b)))
}
