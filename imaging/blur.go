package imaging

import (
	"math"

	"gonum.org/v1/gonum/blas/blas32"
)

// boxFrom is the standard deviation, samples, above which a Gaussian is made
// of running means: they cost the same at any width.
const boxFrom = 5

// gaussKernel is a sampled Gaussian of the given standard deviation, summing
// to one, of odd length.
func gaussKernel(sigma float64) []float32 {
	r := max(1, int(math.Ceil(3*sigma)))
	k := make([]float64, 2*r+1)
	var s float64
	for i := range k {
		d := float64(i-r) / sigma
		k[i] = math.Exp(-d * d / 2)
		s += k[i]
	}
	out := make([]float32, len(k))
	for i := range k {
		out[i] = float32(k[i] / s)
	}
	return out
}

// blur returns p under a Gaussian of standard deviation sigma (pixels),
// repeating the edge outwards.
func (p *plane) blur(sigma float64) *plane {
	return p.blurXY(sigma, sigma)
}

func (p *plane) blurXY(sx, sy float64) *plane {
	out := p
	if sx > 0.05 {
		out = out.blurRows(sx)
	}
	if sy > 0.05 {
		out = out.blurColumns(sy)
	}
	if out == p {
		out = p.clone()
	}
	return out
}

// addScaled adds f*src to dst, sample by sample.
func addScaled(dst, src []float32, f float32) {
	n := len(dst)
	blas32.Axpy(f, blas32.Vector{N: n, Inc: 1, Data: src}, blas32.Vector{N: n, Inc: 1, Data: dst})
}

// blurRows blurs along the rows.
func (p *plane) blurRows(sigma float64) *plane {
	q := newPlane(p.w, p.h)
	if sigma > boxFrom {
		half := boxHalves(sigma)
		strips(p.h, func(_, lo, hi int) {
			a, b := make([]float32, p.w), make([]float32, p.w)
			for y := lo; y < hi; y++ {
				runningMean(p.row(y), a, half[0])
				runningMean(a, b, half[1])
				runningMean(b, q.row(y), half[2])
			}
		})
		return q
	}
	k := gaussKernel(sigma)
	r := len(k) / 2
	strips(p.h, func(_, lo, hi int) {
		ext := make([]float32, p.w+2*r)
		for y := lo; y < hi; y++ {
			src, dst := p.row(y), q.row(y)
			for i := 0; i < r; i++ {
				ext[i], ext[p.w+r+i] = src[0], src[p.w-1]
			}
			copy(ext[r:], src)
			for i, kv := range k {
				addScaled(dst, ext[i:i+p.w], kv)
			}
		}
	})
	return q
}

// blurColumns blurs down the columns.
func (p *plane) blurColumns(sigma float64) *plane {
	q := newPlane(p.w, p.h)
	if sigma > boxFrom {
		half := boxHalves(sigma)
		// Slabs of columns are narrow enough to stay in the cache.
		strips(p.w, func(_, lo, hi int) {
			n := hi - lo
			a, b := make([]float32, n*p.h), make([]float32, n*p.h)
			sums := make([]float64, n)
			columnMeans(p.v[lo:], p.w, a, n, p.h, half[0], sums)
			columnMeans(a, n, b, n, p.h, half[1], sums)
			columnMeans(b, n, q.v[lo:], p.w, p.h, half[2], sums)
		})
		return q
	}
	k := gaussKernel(sigma)
	r := len(k) / 2
	strips(p.h, func(_, lo, hi int) {
		for y := lo; y < hi; y++ {
			d := q.row(y)
			for i, kv := range k {
				addScaled(d, p.row(min(max(y+i-r, 0), p.h-1)), kv)
			}
		}
	})
	return q
}

// boxHalves are the half widths of three running means of near-equal width
// that together come near a Gaussian (Wells 1986, Efficient synthesis of
// Gaussian filters).
func boxHalves(sigma float64) [3]int {
	ideal := math.Sqrt(12*sigma*sigma/3 + 1)
	lo := int(ideal)
	if lo%2 == 0 {
		lo--
	}
	l := float64(lo)
	m := int(math.Round((12*sigma*sigma - 3*l*l - 12*l - 9) / (-4*l - 4)))
	var half [3]int
	for i := range half {
		half[i] = lo / 2
		if i >= m {
			half[i]++
		}
	}
	return half
}

// runningMean is the mean of the 2*r+1 samples about each, the ends repeated,
// from a running sum in double precision.
func runningMean(src, dst []float32, r int) {
	n := len(src)
	at := func(i int) float64 { return float64(src[min(max(i, 0), n-1)]) }
	var s float64
	for i := -r; i <= r; i++ {
		s += at(i)
	}
	inv := 1 / float64(2*r+1)
	i := 0
	for ; i < min(r, n); i++ {
		dst[i] = float32(s * inv)
		s += at(i+r+1) - at(i-r)
	}
	if m := n - r - 1; m > i {
		in, out, d := src[i+r+1:][:m-i], src[i-r:][:m-i], dst[i:m]
		for k := range d {
			d[k] = float32(s * inv)
			s += float64(in[k]) - float64(out[k])
		}
		i = m
	}
	for ; i < n; i++ {
		dst[i] = float32(s * inv)
		s += at(i+r+1) - at(i-r)
	}
}

// columnMeans is runningMean down w columns of h samples at once; rows of src
// and dst begin srcStep and dstStep apart.
func columnMeans(src []float32, srcStep int, dst []float32, dstStep, h, r int, sums []float64) {
	w := len(sums)
	at := func(y int) []float32 { return src[min(max(y, 0), h-1)*srcStep:][:w] }
	clear(sums)
	for y := -r; y <= r; y++ {
		for x, v := range at(y) {
			sums[x] += float64(v)
		}
	}
	inv := 1 / float64(2*r+1)
	for y := 0; y < h; y++ {
		in, out, d := at(y+r+1), at(y-r), dst[y*dstStep:][:w]
		for x, s := range sums {
			d[x] = float32(s * inv)
			sums[x] = s + (float64(in[x]) - float64(out[x]))
		}
	}
}
