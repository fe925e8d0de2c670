package imaging

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// eccResult is a projective mapping between two sheets on one grid and how
// well they then agree.
type eccResult struct {
	h    homography // reference mm -> moving mm
	rho  float64    // correlation, -1..1
	done bool       // the steps died away
}

// alignECC finds the projective mapping that makes the moving coverage agree
// best with the reference's: the enhanced correlation coefficient maximised by
// inverse composition (Evangelidis and Psarakis 2008). Places where either is
// NaN, or within rim mm of the plate's edge, do not count.
func alignECC(ref, mov *plane, g grid, start homography, rim float64, steps int) eccResult {
	e := newECC(ref, g, rim)
	best := eccResult{h: start, rho: -1}
	cur := start
	for i := 0; i < steps; i++ {
		rho, delta, ok := e.step(mov, cur)
		if rho > best.rho {
			best.rho, best.h = rho, cur
		} else if rho < best.rho-0.02 {
			break
		}
		if !ok {
			break
		}
		move := e.apply(&cur, delta)
		if move < 0.02/g.s {
			best.done = true
			if r, _, _ := e.step(mov, cur); r > best.rho {
				best.rho, best.h = r, cur
			}
			break
		}
	}
	return best
}

// ecc holds what the reference fixes once and for all.
type ecc struct {
	ref    *plane
	g      grid
	border int
	norm   homography // mm -> -1..1
	gx, gy *plane     // gradient of ref along the normalised axes
}

func newECC(ref *plane, g grid, rim float64) *ecc {
	w, h := float64(g.cols)/g.s, float64(g.rows)/g.s
	e := &ecc{ref: ref, g: g, border: max(1, int(rim*g.s))}
	e.norm = homography{2 / w, 0, -1, 0, 2 / h, -1, 0, 0, 1}
	e.gx, e.gy = newPlane(ref.w, ref.h), newPlane(ref.w, ref.h)
	sx, sy := float32(w/2*g.s/2), float32(h/2*g.s/2)
	for y := 1; y < ref.h-1; y++ {
		for x := 1; x < ref.w-1; x++ {
			i := y*ref.w + x
			e.gx.v[i] = (ref.v[i+1] - ref.v[i-1]) * sx
			e.gy.v[i] = (ref.v[i+ref.w] - ref.v[i-ref.w]) * sy
		}
	}
	return e
}

// eccSums is what one pass over the pictures adds up: the counts, sums and
// products from which the step follows.
type eccSums struct {
	n, st, si, stt, sii, sti float64
	jj                       [36]float64
	jt, ji, j                [8]float64
}

func (a *eccSums) add(b *eccSums) {
	a.n += b.n
	a.st += b.st
	a.si += b.si
	a.stt += b.stt
	a.sii += b.sii
	a.sti += b.sti
	for i := range a.jj {
		a.jj[i] += b.jj[i]
	}
	for i := range a.j {
		a.jt[i] += b.jt[i]
		a.ji[i] += b.ji[i]
		a.j[i] += b.j[i]
	}
}

func (e *ecc) sums(mov *plane, h *homography) eccSums {
	part := make([]eccSums, stripCount(e.g.rows))
	strips(e.g.rows, func(k, lo, hi int) {
		s := &part[k]
		for y := max(lo, e.border); y < min(hi, e.g.rows-e.border); y++ {
			for x := e.border; x < e.g.cols-e.border; x++ {
				i := y*e.g.cols + x
				p := e.g.point(x, y)
				q := h.apply(p)
				mx, my := q.X*e.g.s-0.5, q.Y*e.g.s-0.5
				b := float64(e.border)
				if mx < b || my < b || mx > float64(mov.w-1)-b || my > float64(mov.h-1)-b {
					continue
				}
				t, v := float64(e.ref.v[i]), float64(mov.bilinear(mx, my))
				if t != t || v != v {
					continue
				}
				X, Y := p.X*e.norm[0]-1, p.Y*e.norm[4]-1
				gx, gy := float64(e.gx.v[i]), float64(e.gy.v[i])
				c := -(gx*X + gy*Y)
				j := [8]float64{gx * X, gx * Y, gx, gy * X, gy * Y, gy, c * X, c * Y}
				s.n++
				s.st += t
				s.si += v
				s.stt += t * t
				s.sii += v * v
				s.sti += t * v
				k := 0
				for a := 0; a < 8; a++ {
					s.jt[a] += j[a] * t
					s.ji[a] += j[a] * v
					s.j[a] += j[a]
					for b := a; b < 8; b++ {
						s.jj[k] += j[a] * j[b]
						k++
					}
				}
			}
		}
	})
	var all eccSums
	for i := range part {
		all.add(&part[i])
	}
	return all
}

// step returns the correlation at h and the step that improves it.
func (e *ecc) step(mov *plane, h homography) (rho float64, delta [8]float64, ok bool) {
	s := e.sums(mov, &h)
	if s.n < 0.2*float64(e.g.rows*e.g.cols) {
		return -1, delta, false
	}
	mt, mi := s.st/s.n, s.si/s.n
	tt, ii, ti := s.stt-s.n*mt*mt, s.sii-s.n*mi*mi, s.sti-s.n*mt*mi
	if tt <= 0 || ii <= 0 {
		return -1, delta, false
	}
	rho = ti / math.Sqrt(tt*ii)
	hess := mat.NewSymDense(8, nil)
	jt, ji := mat.NewVecDense(8, nil), mat.NewVecDense(8, nil)
	k := 0
	for a := 0; a < 8; a++ {
		jt.SetVec(a, s.jt[a]-mt*s.j[a])
		ji.SetVec(a, s.ji[a]-mi*s.j[a])
		for b := a; b < 8; b++ {
			hess.SetSym(a, b, s.jj[k])
			k++
		}
		hess.SetSym(a, a, hess.At(a, a)*(1+1e-6)+1e-9)
	}
	var ch mat.Cholesky
	if !ch.Factorize(hess) {
		return rho, delta, false
	}
	var pt, pi mat.VecDense
	if ch.SolveVecTo(&pt, jt) != nil || ch.SolveVecTo(&pi, ji) != nil {
		return rho, delta, false
	}
	// lambda of the paper: (|t|^2 - t'Pt)/(i't - i'Pt), P the projector on J.
	den := ti - mat.Dot(jt, &pi)
	lambda := (tt - mat.Dot(jt, &pt)) / den
	if !(den > 0) {
		lambda = ti / ii
	}
	for a := range delta {
		delta[a] = lambda*pi.AtVec(a) - pt.AtVec(a)
	}
	return rho, delta, true
}

// apply composes cur with the inverse of the step and returns how far the
// plate's corners moved, mm.
func (e *ecc) apply(cur *homography, d [8]float64) float64 {
	step := homography{1 + d[0], d[1], d[2], d[3], 1 + d[4], d[5], d[6], d[7], 1}
	mm := e.norm.inverse().times(step.inverse()).times(e.norm)
	w, h := float64(e.g.cols)/e.g.s, float64(e.g.rows)/e.g.s
	var move float64
	for _, c := range (Size{h, w}).rectangle() {
		move = max(move, mm.apply(c).dist(c))
	}
	if limit := 1.5 / e.g.s; move > limit {
		f := limit / move
		for i := range d {
			d[i] *= f
		}
		step = homography{1 + d[0], d[1], d[2], d[3], 1 + d[4], d[5], d[6], d[7], 1}
		mm = e.norm.inverse().times(step.inverse()).times(e.norm)
		move = limit
	}
	*cur = cur.times(mm)
	return move
}
