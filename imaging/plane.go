package imaging

import (
	"math"
	"slices"
	"sync/atomic"

	"pullbook/imaging/hands"
)

// plane is one channel of a picture: w x h float32 samples, row by row. The
// centre of sample (i, j) is at (i, j).
type plane struct {
	w, h int
	v    []float32
}

func newPlane(w, h int) *plane {
	return &plane{w: w, h: h, v: make([]float32, w*h)}
}

func (p *plane) row(y int) []float32 { return p.v[y*p.w : (y+1)*p.w] }

func (p *plane) clone() *plane {
	q := newPlane(p.w, p.h)
	copy(q.v, p.v)
	return q
}

// strips cuts 0..n into a number of strips that depends on n alone, so that
// results do not depend on how many processors share the work, and runs f on
// each. f gets the strip's number for ordered reductions.
func strips(n int, f func(k, lo, hi int)) {
	const size = 32
	count := (n + size - 1) / size
	if count <= 1 || hands.Most() <= 1 {
		for k := 0; k < count; k++ {
			f(k, k*size, min(n, (k+1)*size))
		}
		return
	}
	var next atomic.Int64
	hands.Share(count, func() {
		for {
			k := int(next.Add(1)) - 1
			if k >= count {
				return
			}
			f(k, k*size, min(n, (k+1)*size))
		}
	})
}

// stripCount is how many strips cut n.
func stripCount(n int) int { return (n + 31) / 32 }

// sumStrips adds what f returns for each strip, in the strips' order.
func sumStrips(n int, f func(lo, hi int) float64) float64 {
	part := make([]float64, stripCount(n))
	strips(n, func(k, lo, hi int) { part[k] = f(lo, hi) })
	var s float64
	for _, v := range part {
		s += v
	}
	return s
}

// shrink averages k x k blocks. Sample (i, j) of the result is centred at
// (k*i + (k-1)/2, k*j + (k-1)/2) of p.
func (p *plane) shrink(k int) *plane {
	if k <= 1 {
		return p.clone()
	}
	q := newPlane(max(1, p.w/k), max(1, p.h/k))
	inv := 1 / float32(k*k)
	strips(q.h, func(_, lo, hi int) {
		for y := lo; y < hi; y++ {
			d := q.row(y)
			for j := 0; j < k; j++ {
				s := p.row(min(y*k+j, p.h-1))
				if len(s) < k {
					for i := 0; i < k; i++ {
						d[0] += s[min(i, len(s)-1)]
					}
					continue
				}
				for x := range d {
					var t float32
					for _, v := range s[x*k : x*k+k] {
						t += v
					}
					d[x] += t
				}
			}
			for x := range d {
				d[x] *= inv
			}
		}
	})
	return q
}

// bilinear reads p between its samples, repeating the edge outwards.
func (p *plane) bilinear(x, y float64) float32 {
	x = min(max(x, 0), float64(p.w-1))
	y = min(max(y, 0), float64(p.h-1))
	i, j := min(int(x), max(p.w-2, 0)), min(int(y), max(p.h-2, 0))
	fx, fy := float32(x-float64(i)), float32(y-float64(j))
	o := j*p.w + i
	i1, j1 := 1, p.w
	if p.w < 2 {
		i1 = 0
	}
	if p.h < 2 {
		j1 = 0
	}
	t := p.v[o]*(1-fx) + p.v[o+i1]*fx
	b := p.v[o+j1]*(1-fx) + p.v[o+j1+i1]*fx
	return t*(1-fy) + b*fy
}

// bicubic reads p between its samples by Keys' cubic convolution (Keys 1981,
// a = -1/2), bilinear within one sample of the edge.
func (p *plane) bicubic(x, y float64) float32 {
	i, j := int(math.Floor(x)), int(math.Floor(y))
	if i < 1 || j < 1 || i > p.w-3 || j > p.h-3 {
		return p.bilinear(x, y)
	}
	return p.cubic((j-1)*p.w+i-1, float32(x-float64(i)), float32(y-float64(j)))
}

// cubic is the cubic convolution over the four by four samples from index o on,
// at the shares tx and ty between the middle two.
func (p *plane) cubic(o int, tx, ty float32) float32 {
	x, y := keys(tx), keys(ty)
	w := p.w
	a, b, c, d := p.v[o:o+4:o+4], p.v[o+w:][:4:4], p.v[o+2*w:][:4:4], p.v[o+3*w:][:4:4]
	s := y[0] * (x[0]*a[0] + x[1]*a[1] + x[2]*a[2] + x[3]*a[3])
	s += y[1] * (x[0]*b[0] + x[1]*b[1] + x[2]*b[2] + x[3]*b[3])
	s += y[2] * (x[0]*c[0] + x[1]*c[1] + x[2]*c[2] + x[3]*c[3])
	s += y[3] * (x[0]*d[0] + x[1]*d[1] + x[2]*d[2] + x[3]*d[3])
	return s
}

func keys(t float32) [4]float32 {
	t2, t3 := t*t, t*t*t
	return [4]float32{
		-0.5*t + t2 - 0.5*t3,
		1 - 2.5*t2 + 1.5*t3,
		0.5*t + 2*t2 - 1.5*t3,
		-0.5*t2 + 0.5*t3,
	}
}

// quantile returns the q-quantile of v, which it reorders. An empty v gives
// NaN.
func quantile(v []float64, q float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	t := q * float64(len(v)-1)
	i := min(int(t), len(v)-1)
	lower := selectNth(v, i)
	if i == len(v)-1 {
		return lower
	}
	return lower + (t-float64(i))*(slices.Min(v[i+1:])-lower)
}

// selectNth returns what would stand at index n were v sorted, with nothing
// greater before it and nothing less behind (Hoare 1961). It sorts v when it
// is short or holds NaN.
func selectNth(v []float64, n int) float64 {
	lo, hi := 0, len(v)
	if slices.ContainsFunc(v, math.IsNaN) {
		slices.Sort(v)
		return v[n]
	}
	for hi-lo > 24 {
		a, b, c := v[lo], v[lo+(hi-lo)/2], v[hi-1]
		pivot := max(min(a, b), min(max(a, b), c))
		i, j := lo, hi-1
		for i <= j {
			for v[i] < pivot {
				i++
			}
			for v[j] > pivot {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i++
				j--
			}
		}
		switch {
		case n <= j:
			hi = j + 1
		case n >= i:
			lo = i
		default:
			return v[n]
		}
	}
	slices.Sort(v[lo:hi])
	return v[n]
}

func median(v []float64) float64 { return quantile(v, 0.5) }

// spread is the median absolute deviation scaled to a standard deviation.
func spread(v []float64) float64 {
	m := median(v)
	d := make([]float64, len(v))
	for i := range v {
		d[i] = math.Abs(v[i] - m)
	}
	return 1.4826 * median(d)
}
