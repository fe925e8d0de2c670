package imaging

import "math"

// groundStep is about how many samples to the millimetre the ground is
// followed at: tone changes over millimetres, save for wiping streaks, which
// average out.
const groundStep = 4.0

// groundUnder estimates the reflectance of the ground everywhere from the
// samples that carry no line, by normalised convolution; where no ground shows
// (dense hatching) ever wider surroundings speak.
func groundUnder(r *plane, line []bool, s float64) *plane {
	k := groundCell(s)
	num, den := groundShares(r, line, k)
	return pushGround(num, den, s/float64(k)).enlarge(k, r.w, r.h)
}

// groundAndShare is groundUnder with, on a coarser grid, the share of ground
// seen near each place.
func groundAndShare(r *plane, line []bool, s float64) (ground, seen *plane) {
	k := groundCell(s)
	num, den := groundShares(r, line, k)
	cs := s / float64(k)
	return pushGround(num, den, cs).enlarge(k, r.w, r.h), den.blur(1.6 * cs)
}

// groundCell is how many samples a cell of the ground's own grid spans.
func groundCell(s float64) int { return max(1, int(math.Round(s/groundStep))) }

// groundShares adds up, over cells of k x k samples, those that carry no line
// and how many they are, as shares of a cell.
func groundShares(r *plane, line []bool, k int) (num, den *plane) {
	num, den = newPlane((r.w+k-1)/k, (r.h+k-1)/k), newPlane((r.w+k-1)/k, (r.h+k-1)/k)
	strips(num.h, func(_, lo, hi int) {
		for y := lo; y < hi; y++ {
			n, d := num.row(y), den.row(y)
			for yy := y * k; yy < min((y+1)*k, r.h); yy++ {
				src := r.row(yy)
				msk := line[yy*r.w:][:len(src)]
				for c := range n {
					from, to := c*k, min((c+1)*k, len(src))
					sum, count := n[c], d[c]
					for x := from; x < to; x++ {
						if v := src[x]; !msk[x] && v == v {
							sum += v
							count++
						}
					}
					n[c], d[c] = sum, count
				}
			}
			for x := range d {
				n[x] /= float32(k * k)
				d[x] /= float32(k * k)
			}
		}
	})
	return num, den
}

// pushGround spreads ground (num over den) at ever wider reach, the nearest
// speaking loudest. The wider the reach, the coarser the grid it is followed on.
func pushGround(num, den *plane, s float64) *plane {
	halfNum, halfDen := num.shrink(2), den.shrink(2)
	farNum, farDen := halfNum.shrink(2), halfDen.shrink(2)
	sum, weight := newPlane(farNum.w, farNum.h), newPlane(farNum.w, farNum.h)
	spread := func(num, den *plane, sigma float64, gain float32) {
		n, d := num.blur(sigma), den.blur(sigma)
		strips(num.h, func(_, lo, hi int) {
			lo, hi = lo*num.w, hi*num.w
			sum, weight := sum.v[lo:hi], weight.v[lo:hi]
			n, d := n.v[lo:hi], d.v[lo:hi]
			for j, dj := range d {
				// A thin weight is worth little: squaring keeps a few stray
				// samples from speaking for a crowded place.
				sum[j] += gain * n[j] * dj
				weight[j] += gain * dj * dj
			}
		})
	}
	spread(farNum, farDen, 15*s/4, 8e-6)
	spread(farNum, farDen, 5*s/4, 4e-4)
	sum, weight = sum.enlarge(2, halfNum.w, halfNum.h), weight.enlarge(2, halfNum.w, halfNum.h)
	spread(halfNum, halfDen, 1.6*s/2, 2e-2)
	sum, weight = sum.enlarge(2, num.w, num.h), weight.enlarge(2, num.w, num.h)
	spread(num, den, 0.7*s, 1)
	for j := range sum.v {
		sum.v[j] /= max(weight.v[j], 1e-12)
	}
	return sum
}

// enlarge reads p, whose samples span k x k samples of the result, between its
// samples.
func (p *plane) enlarge(k, w, h int) *plane {
	if k == 1 {
		return p
	}
	q := newPlane(w, h)
	first, share := between(k, w, p.w)
	top, part := between(k, h, p.h)
	strips(h, func(_, lo, hi int) {
		// Rows of p at the result's width, kept while they serve.
		a, b := make([]float32, w), make([]float32, w)
		at := -1
		for y := lo; y < hi; y++ {
			if top[y] != at {
				if at >= 0 && top[y] == at+1 {
					a, b = b, a
				} else {
					widen(p.row(top[y]), a, first, share)
				}
				at = top[y]
				widen(p.row(min(at+1, p.h-1)), b, first, share)
			}
			row, ty := q.row(y), part[y]
			for x, t := range a[:len(row)] {
				row[x] = t + ty*(b[x]-t)
			}
		}
	})
	return q
}

// between says for n samples, k to each of m coarser ones, after which coarse
// sample each lies and how far.
func between(k, n, m int) (first []int, share []float32) {
	first, share = make([]int, n), make([]float32, n)
	f := float64(k)
	for i := range first {
		at := min(max((float64(i)+0.5)/f-0.5, 0), float64(m-1))
		first[i] = min(int(at), max(m-2, 0))
		share[i] = float32(at - float64(first[i]))
	}
	return first, share
}

func widen(src, dst []float32, first []int, share []float32) {
	first, share = first[:len(dst)], share[:len(dst)]
	last := len(src) - 1
	for x := range dst {
		i := first[x]
		v := src[i]
		dst[x] = v + share[x]*(src[min(i+1, last)]-v)
	}
}

// grow widens a mask by a square of the given radius in samples.
func grow(mask []bool, w, h, r int) []bool {
	if r <= 0 {
		return mask
	}
	mid, out := make([]bool, len(mask)), make([]bool, len(mask))
	strips(h, func(_, lo, hi int) {
		for y := lo; y < hi; y++ {
			last := -1 << 30
			src, dst := mask[y*w:(y+1)*w], mid[y*w:(y+1)*w]
			for x := range src {
				if src[x] {
					for i := max(x-r, last+1, 0); i <= min(x+r, w-1); i++ {
						dst[i] = true
					}
					last = x + r
				}
			}
		}
	})
	strips(w, func(_, lo, hi int) {
		n := hi - lo
		last := make([]int, n) // the lowest row that is set, so far
		for x := range last {
			last[x] = -r - 1
		}
		for y := -r; y < h; y++ {
			if a := y + r; a < h {
				row := mid[a*w+lo:][:n]
				for x, set := range row {
					if set {
						last[x] = a
					}
				}
			}
			if y >= 0 {
				row := out[y*w+lo:][:n]
				for x, l := range last {
					row[x] = l >= y-r
				}
			}
		}
	})
	return out
}

// ownLines marks what is darker than the ground around it by the given share,
// judged from one impression alone, and the ground under it.
func ownLines(r *plane, s float64) (mask []bool, ground *plane) {
	fine := r.blur(0.06 * s)
	top := localTop(fine, s)
	mask = make([]bool, len(r.v))
	darker := func(g *plane, share float32) {
		strips(r.h, func(_, lo, hi int) {
			for i := lo * r.w; i < hi*r.w; i++ {
				mask[i] = !(fine.v[i] > share*g.v[i])
			}
		})
	}
	darker(top, 0.78)
	wide := int(math.Ceil(0.2 * s))
	ground = groundUnder(r, grow(mask, r.w, r.h, wide), s)
	darker(ground, 1-darkness(fine, ground, mask))
	ground = groundUnder(r, grow(mask, r.w, r.h, wide), s)
	return mask, ground
}

// darkness is how much darker than the ground around it a sample must be to
// count as line: well clear of the ground's own unevenness.
func darkness(fine, ground *plane, line []bool) float32 {
	var v []float64
	for i := 0; i < len(fine.v); i += 43 {
		if q := float64(fine.v[i] / ground.v[i]); !line[i] && q == q {
			v = append(v, q)
		}
	}
	if len(v) < 100 {
		return 0.08
	}
	return float32(min(max(4.5*spread(v), 0.06), 0.2))
}

// localTop is a first guess at the ground: the brightest fifth of what lies
// within some millimetres, smoothed.
func localTop(r *plane, s float64) *plane {
	k := max(1, int(math.Round(2*s)))
	w, h := (r.w+k-1)/k, (r.h+k-1)/k
	t := newPlane(w, h)
	strips(h, func(_, lo, hi int) {
		var v []float64
		for y := lo; y < hi; y++ {
			for x := 0; x < w; x++ {
				v = v[:0]
				for yy := y * k; yy < min((y+1)*k, r.h); yy += 2 {
					for xx := x * k; xx < min((x+1)*k, r.w); xx += 2 {
						if f := r.v[yy*r.w+xx]; f == f {
							v = append(v, float64(f))
						}
					}
				}
				if len(v) > 0 {
					t.v[y*w+x] = float32(quantile(v, 0.8))
				}
			}
		}
	})
	m := newPlane(w, h)
	for y := 0; y < h; y++ {
		for x := 0; x < w; x++ {
			for yy := max(0, y-1); yy <= min(h-1, y+1); yy++ {
				for xx := max(0, x-1); xx <= min(w-1, x+1); xx++ {
					m.v[y*w+x] = max(m.v[y*w+x], t.v[yy*w+xx])
				}
			}
		}
	}
	return m.blur(1).enlarge(k, r.w, r.h)
}

// coverageOf is the line coverage a = (G-R)/(G-Ri) of Murray and Davies, with
// the local ground G in the role of the paper.
func coverageOf(r, ground *plane, ink float64) *plane {
	a := newPlane(r.w, r.h)
	ri := float32(ink)
	strips(r.h, func(_, lo, hi int) {
		lo, hi = lo*r.w, hi*r.w
		out, r, ground := a.v[lo:hi], r.v[lo:hi], ground.v[lo:hi]
		for i, g := range ground {
			d := g - ri
			if d < 0.05 {
				d = 0.05
			}
			out[i] = (g - r[i]) / d
		}
	})
	return a
}
