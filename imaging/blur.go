package imaging

import (
	"math"
	"sync"

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
	const least = 0.05
	switch {
	case sx > least && sy > least:
		mid := lend(p.w, p.h)
		p.blurRows(mid, sx)
		out := newPlane(p.w, p.h)
		mid.blurColumns(out, sy)
		lent.Put(mid)
		return out
	case sx > least:
		out := newPlane(p.w, p.h)
		p.blurRows(out, sx)
		return out
	case sy > least:
		out := newPlane(p.w, p.h)
		p.blurColumns(out, sy)
		return out
	}
	return p.clone()
}

// lent keeps planes that are needed only between two steps: clearing new ones
// costs more than some of the steps do.
var lent = sync.Pool{New: func() any { return &plane{} }}

// lend gives a plane of any content.
func lend(w, h int) *plane {
	p := lent.Get().(*plane)
	if cap(p.v) < w*h {
		p.v = make([]float32, w*h)
	}
	p.w, p.h, p.v = w, h, p.v[:w*h]
	return p
}

// addScaled adds f*src to dst, sample by sample.
func addScaled(dst, src []float32, f float32) {
	n := len(dst)
	blas32.Axpy(f, blas32.Vector{N: n, Inc: 1, Data: src}, blas32.Vector{N: n, Inc: 1, Data: dst})
}

// blurRows blurs along the rows into q, whatever was there.
func (p *plane) blurRows(q *plane, sigma float64) {
	if sigma > boxFrom {
		half := boxHalves(sigma)
		strips(p.h, func(_, lo, hi int) {
			rows := make([]float32, 8*p.w)
			for y := lo; y < hi; y += 4 {
				var src, a, b, dst [4][]float32
				for i := range src {
					// The last rows of a strip may be done twice.
					src[i], dst[i] = p.row(min(y+i, hi-1)), q.row(min(y+i, hi-1))
					a[i], b[i] = rows[2*i*p.w:][:p.w], rows[(2*i+1)*p.w:][:p.w]
				}
				rowMeans(src, a, half[0])
				rowMeans(a, b, half[1])
				rowMeans(b, dst, half[2])
			}
		})
		return
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
			clear(dst)
			for i, kv := range k {
				addScaled(dst, ext[i:i+p.w], kv)
			}
		}
	})
}

// blurColumns blurs down the columns into q, whatever was there.
func (p *plane) blurColumns(q *plane, sigma float64) {
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
		return
	}
	k := gaussKernel(sigma)
	r := len(k) / 2
	strips(p.h, func(_, lo, hi int) {
		for y := lo; y < hi; y++ {
			d := q.row(y)
			clear(d)
			for i, kv := range k {
				addScaled(d, p.row(min(max(y+i-r, 0), p.h-1)), kv)
			}
		}
	})
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

// rowMeans is, in four rows, the mean of the 2*r+1 samples about each, the ends
// repeated, from running sums in double precision. One row alone would wait
// for each sum to be ready.
func rowMeans(src, dst [4][]float32, r int) {
	n := len(src[0])
	at := func(row []float32, i int) float64 { return float64(row[min(max(i, 0), n-1)]) }
	var s [4]float64
	for k, row := range src {
		for i := -r; i <= r; i++ {
			s[k] += at(row, i)
		}
	}
	inv := 1 / float64(2*r+1)
	ends := func(from, to int) {
		for k, row := range src {
			for i := from; i < to; i++ {
				dst[k][i] = float32(s[k] * inv)
				s[k] += at(row, i+r+1) - at(row, i-r)
			}
		}
	}
	from, to := min(r, n), n-r-1
	if to <= from {
		ends(0, n)
		return
	}
	ends(0, from)
	m := to - from
	in0, in1, in2, in3 := src[0][from+r+1:][:m], src[1][from+r+1:][:m], src[2][from+r+1:][:m], src[3][from+r+1:][:m]
	out0, out1, out2, out3 := src[0][from-r:][:m], src[1][from-r:][:m], src[2][from-r:][:m], src[3][from-r:][:m]
	d0, d1, d2, d3 := dst[0][from:][:m], dst[1][from:][:m], dst[2][from:][:m], dst[3][from:][:m]
	s0, s1, s2, s3 := s[0], s[1], s[2], s[3]
	for i := range d0 {
		d0[i], d1[i], d2[i], d3[i] = float32(s0*inv), float32(s1*inv), float32(s2*inv), float32(s3*inv)
		s0 += float64(in0[i]) - float64(out0[i])
		s1 += float64(in1[i]) - float64(out1[i])
		s2 += float64(in2[i]) - float64(out2[i])
		s3 += float64(in3[i]) - float64(out3[i])
	}
	s = [4]float64{s0, s1, s2, s3}
	ends(to, n)
}

// columnMeans is the same down w columns of h samples at once; rows of src
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
