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
	still  eccStill
}

func newECC(ref *plane, g grid, rim float64) *ecc {
	w, h := float64(g.cols)/g.s, float64(g.rows)/g.s
	e := &ecc{ref: ref, g: g, border: max(1, int(rim*g.s))}
	e.norm = homography{2 / w, 0, -1, 0, 2 / h, -1, 0, 0, 1}
	e.gx, e.gy = newPlane(ref.w, ref.h), newPlane(ref.w, ref.h)
	sx, sy := float32(w/2*g.s/2), float32(h/2*g.s/2)
	part := make([]eccStill, stripCount(g.rows))
	strips(ref.h, func(k, lo, hi int) {
		for y := max(lo, 1); y < min(hi, ref.h-1); y++ {
			above, row, below := ref.row(y-1), ref.row(y), ref.row(y+1)
			gx, gy := e.gx.row(y), e.gy.row(y)
			for x := 1; x < len(row)-1; x++ {
				gx[x] = (row[x+1] - row[x-1]) * sx
				gy[x] = (below[x] - above[x]) * sy
			}
			if y >= e.border && y < g.rows-e.border {
				for x := e.border; x < g.cols-e.border; x++ {
					part[k].add(e, x, y, 1)
				}
			}
		}
	})
	for i := range part {
		e.still.sum(&part[i])
	}
	return e
}

// eccStill is what the reference alone adds up to: counts, sums and products.
type eccStill struct {
	n, st, stt float64
	jj         [36]float64
	jt, j      [8]float64
}

// add takes in one sample f times; NaN does not count.
func (a *eccStill) add(e *ecc, x, y int, f float64) {
	i := y*e.g.cols + x
	t := float64(e.ref.v[i])
	if t != t {
		return
	}
	p := e.g.point(x, y)
	X, Y := p.X*e.norm[0]-1, p.Y*e.norm[4]-1
	gx, gy := float64(e.gx.v[i]), float64(e.gy.v[i])
	c := -(gx*X + gy*Y)
	j := [8]float64{gx * X, gx * Y, gx, gy * X, gy * Y, gy, c * X, c * Y}
	a.n += f
	a.st += f * t
	a.stt += f * t * t
	k := 0
	for p := range j {
		u := f * j[p]
		a.jt[p] += u * t
		a.j[p] += u
		for _, v := range j[p:] {
			a.jj[k] += u * v
			k++
		}
	}
}

func (a *eccStill) sum(b *eccStill) {
	a.n += b.n
	a.st += b.st
	a.stt += b.stt
	for i := range a.jj {
		a.jj[i] += b.jj[i]
	}
	for i := range a.j {
		a.jt[i] += b.jt[i]
		a.j[i] += b.j[i]
	}
}

// eccSums is what one pass over both pictures adds up: from it the step
// follows.
type eccSums struct {
	eccStill
	si, sii, sti float64
	ji           [8]float64
}

// sums goes over the moving picture. What the reference alone adds up to is
// known; places that the moving picture does not show are taken off it.
func (e *ecc) sums(mov *plane, h *homography) eccSums {
	part := make([]eccSums, stripCount(e.g.rows))
	strips(e.g.rows, func(k, lo, hi int) {
		for y := max(lo, e.border); y < min(hi, e.g.rows-e.border); y++ {
			e.sumRow(&part[k], mov, h, y)
		}
	})
	all := eccSums{eccStill: e.still}
	for i := range part {
		b := &part[i]
		all.sum(&b.eccStill)
		all.si += b.si
		all.sii += b.sii
		all.sti += b.sti
		for k := range all.ji {
			all.ji[k] += b.ji[k]
		}
	}
	return all
}

func (e *ecc) sumRow(s *eccSums, mov *plane, h *homography, y int) {
	ref, gx, gy := e.ref.row(y), e.gx.row(y), e.gy.row(y)
	py := (float64(y) + 0.5) / e.g.s
	Y := py*e.norm[4] - 1
	// The mapping's terms that stay the same along the row.
	ax, ay, ad := h[1]*py+h[2], h[4]*py+h[5], h[7]*py+h[8]
	least := float64(e.border)
	mostX, mostY := float64(mov.w-1-e.border), float64(mov.h-1-e.border)
	var si, sii, sti float64
	// Sums of v times a gradient times a power of X.
	var g0, g1, g2, h0, h1 float64
	for x := e.border; x < e.g.cols-e.border; x++ {
		px := (float64(x) + 0.5) / e.g.s
		d := e.g.s / (h[6]*px + ad)
		mx, my := (h[0]*px+ax)*d-0.5, (h[3]*px+ay)*d-0.5
		if !(mx >= least && my >= least && mx <= mostX && my <= mostY) {
			s.add(e, x, y, -1)
			continue
		}
		// Within the border, so there are four neighbours.
		i, j := int(mx), int(my)
		o := j*mov.w + i
		fx, fy := float32(mx-float64(i)), float32(my-float64(j))
		top, bottom := mov.v[o:o+2:o+2], mov.v[o+mov.w:][:2:2]
		a, b := top[0]*(1-fx)+top[1]*fx, bottom[0]*(1-fx)+bottom[1]*fx
		t, v := float64(ref[x]), float64(a*(1-fy)+b*fy)
		if t != t {
			continue
		}
		if v != v {
			s.add(e, x, y, -1)
			continue
		}
		X := px*e.norm[0] - 1
		si += v
		sii += v * v
		sti += t * v
		g, h := float64(gx[x])*v, float64(gy[x])*v
		g0 += g
		h0 += h
		g *= X
		g1 += g
		g2 += g * X
		h1 += h * X
	}
	s.si += si
	s.sii += sii
	s.sti += sti
	for k, v := range [8]float64{g1, Y * g0, g0, h1, Y * h0, h0, -(g2 + Y*h1), -Y * (g1 + Y*h0)} {
		s.ji[k] += v
	}
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
