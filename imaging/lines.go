package imaging

import (
	"math"
	"slices"
)

// lineWork is what the reference's lines are, found once: every impression is
// measured on the same support.
type lineWork struct {
	support  []bool    // where line ink may lie, halo included
	mass     float64   // integrated coverage on the support inside the rim, mm2
	strong   []bool    // support of the strongest quarter of the line work
	axis     []axisDot // the middle of every line
	gathered []float32 // the reference's coverage about each dot of axis
	length   float64   // mm of line
	crowded  float64   // share of the ink where hardly any ground shows
	burr     *burrWork // nil: the reference shows none,
	noBurr   string    // and why
}

// axisDot is one sample on the middle of a line.
type axisDot struct {
	at     int32   // index on the sheet's grid
	length float32 // mm of line it stands for
}

// findLines marks the reference's line work.
func findLines(s *Sheet) *lineWork {
	w := &lineWork{support: s.Line}
	cov := &plane{w: s.Cols, h: s.Rows, v: s.Coverage}
	area := 1 / (s.PxPerMM * s.PxPerMM)
	w.mass = area * sumStrips(s.Rows, func(lo, hi int) float64 {
		var t float64
		for y := lo; y < hi; y++ {
			for x := 0; x < s.Cols; x++ {
				if i := y*s.Cols + x; s.inside(x, y) && s.Line[i] && s.Coverage[i] == s.Coverage[i] {
					t += float64(s.Coverage[i])
				}
			}
		}
		return t
	})
	var open, all float64
	for i, v := range s.Coverage {
		if s.Line[i] && v == v {
			all += float64(v)
			if s.Valid[i] || !s.inside(i%s.Cols, i/s.Cols) {
				open += float64(v)
			}
		}
	}
	w.crowded = min(max(1-open/max(all, 1), 0), 1)
	w.axis, w.length = axes(s, cov)
	w.gathered = gatheredAt(w.axis, cov, lostGathers*s.PxPerMM)
	w.burr, w.noBurr = findBurr(s, cov)
	w.strong = strongest(s, cov, w.burr)
	return w
}

// strongest marks the support of the broadest, deepest lines that carry a
// quarter of the ink, clear of burr: they wear least, so what they gain or
// lose is inking.
func strongest(s *Sheet, cov *plane, burr *burrWork) []bool {
	// Ink per millimetre of line, about: coverage gathered across a line.
	gathered := cov.blur(0.12 * s.PxPerMM)
	peak := maxWithin(gathered, int(math.Round(0.25*s.PxPerMM)))
	soft := make([]bool, len(s.Coverage))
	if burr != nil {
		for _, i := range burr.halo {
			soft[i] = true
		}
		soft = grow(soft, s.Cols, s.Rows, int(math.Round(0.7*s.PxPerMM)))
	}
	var hist [256]float64
	bin := func(v float32) int { return min(max(int(v*255), 0), 255) }
	var total float64
	for i, v := range s.Coverage {
		if s.Line[i] && s.Valid[i] && !soft[i] {
			hist[bin(peak.v[i])] += float64(v)
			total += float64(v)
		}
	}
	limit, sum := 255, 0.0
	for ; limit > 0 && sum < 0.25*total; limit-- {
		sum += hist[limit]
	}
	out := make([]bool, len(s.Coverage))
	for i := range out {
		out[i] = s.Line[i] && s.Valid[i] && !soft[i] && bin(peak.v[i]) > limit
	}
	return out
}

// maxWithin is the greatest value in a square of radius r.
func maxWithin(p *plane, r int) *plane { return extreme(p, r, 1) }

// minWithin is the least value in a square of radius r.
func minWithin(p *plane, r int) *plane { return extreme(p, r, -1) }

// extreme runs van Herk's filter (1992) along rows, then along columns.
func extreme(p *plane, r int, sgn float32) *plane {
	mid, out := newPlane(p.w, p.h), newPlane(p.w, p.h)
	strips(p.h, func(_, lo, hi int) {
		buf := newHerk(p.w, r)
		for y := lo; y < hi; y++ {
			buf.run(p.row(y), mid.row(y), sgn)
		}
	})
	strips(p.w, func(_, lo, hi int) {
		buf := newHerk(p.h, r)
		src, dst := make([]float32, p.h), make([]float32, p.h)
		for x := lo; x < hi; x++ {
			for y := range src {
				src[y] = mid.v[y*p.w+x]
			}
			buf.run(src, dst, sgn)
			for y := range dst {
				out.v[y*p.w+x] = dst[y]
			}
		}
	})
	return out
}

type herk struct {
	r           int
	ext, fw, bw []float32
}

func newHerk(n, r int) *herk {
	k := 2*r + 1
	m := (n+2*r+k-1)/k*k + k
	return &herk{r, make([]float32, m), make([]float32, m), make([]float32, m)}
}

func (h *herk) run(src, dst []float32, sgn float32) {
	k := 2*h.r + 1
	const none = float32(-math.MaxFloat32)
	for i := range h.ext {
		h.ext[i] = none
	}
	for i, v := range src {
		if v == v {
			h.ext[i+h.r] = v * sgn
		}
	}
	for i := range h.ext {
		if i%k == 0 {
			h.fw[i] = h.ext[i]
		} else {
			h.fw[i] = max(h.fw[i-1], h.ext[i])
		}
	}
	for i := len(h.ext) - 1; i >= 0; i-- {
		if i%k == k-1 || i == len(h.ext)-1 {
			h.bw[i] = h.ext[i]
		} else {
			h.bw[i] = max(h.bw[i+1], h.ext[i])
		}
	}
	for i := range dst {
		dst[i] = sgn * max(h.bw[i], h.fw[i+k-1])
	}
}

// axisCoverage is the coverage from which a place counts as line when the
// middle of lines is sought.
const axisCoverage = 0.14

// axes thins the line work to its middle (Zhang and Suen 1984) and adds up its
// length.
func axes(s *Sheet, cov *plane) ([]axisDot, float64) {
	w, h := s.Cols, s.Rows
	on := make([]uint8, w*h)
	smooth := cov.blur(0.05 * s.PxPerMM)
	for y := 1; y < h-1; y++ {
		for x := 1; x < w-1; x++ {
			if i := y*w + x; s.Line[i] && smooth.v[i] > axisCoverage {
				on[i] = 1
			}
		}
	}
	thin(on, w, h)
	var out []axisDot
	var total float64
	for y := 1; y < h-1; y++ {
		for x := 1; x < w-1; x++ {
			i := y*w + x
			if on[i] == 0 || !s.inside(x, y) {
				continue
			}
			// Half of each step to a neighbour belongs to this dot; straight
			// steps hide the diagonal behind them.
			var l float64
			n, e, so, we := on[i-w], on[i+1], on[i+w], on[i-1]
			l += 0.5 * float64(n+e+so+we)
			for _, d := range [4][3]int{{i - w - 1, int(n), int(we)}, {i - w + 1, int(n), int(e)}, {i + w - 1, int(so), int(we)}, {i + w + 1, int(so), int(e)}} {
				if on[d[0]] == 1 && d[1] == 0 && d[2] == 0 {
					l += 0.5 * math.Sqrt2
				}
			}
			l /= s.PxPerMM
			if l == 0 {
				continue
			}
			out = append(out, axisDot{int32(i), float32(l)})
			total += l
		}
	}
	return out, total
}

// thin is Zhang and Suen's thinning, done on a list of what is left.
func thin(on []uint8, w, h int) {
	var live []int32
	for i, v := range on {
		if v == 1 {
			live = append(live, int32(i))
		}
	}
	var gone []int32
	for {
		removed := 0
		for phase := 0; phase < 2; phase++ {
			gone = gone[:0]
			for _, li := range live {
				if thinnable(on, int(li), w, phase) {
					gone = append(gone, li)
				}
			}
			for _, g := range gone {
				on[g] = 0
			}
			removed += len(gone)
			live = slices.DeleteFunc(live, func(i int32) bool { return on[i] == 0 })
		}
		if removed == 0 {
			return
		}
	}
}

func thinnable(on []uint8, i, w, phase int) bool {
	p := [8]uint8{on[i-w], on[i-w+1], on[i+1], on[i+w+1], on[i+w], on[i+w-1], on[i-1], on[i-w-1]}
	var b, a uint8
	for k := range p {
		b += p[k]
		if p[k] == 0 && p[(k+1)&7] == 1 {
			a++
		}
	}
	if b < 2 || b > 6 || a != 1 {
		return false
	}
	if phase == 0 {
		return p[0]*p[2]*p[4] == 0 && p[2]*p[4]*p[6] == 0
	}
	return p[0]*p[2]*p[6] == 0 && p[0]*p[4]*p[6] == 0
}

// gatheredAt is p under a blur of sigma samples at the dots only.
func gatheredAt(dots []axisDot, p *plane, sigma float64) []float32 {
	out := make([]float32, len(dots))
	if sigma > boxFrom {
		all := p.blur(sigma)
		for i, d := range dots {
			out[i] = all.v[d.at]
		}
		return out
	}
	rows := lend(p.w, p.h)
	defer lent.Put(rows)
	p.blurRows(rows, sigma)
	k := gaussKernel(sigma)
	r := len(k) / 2
	strips(len(dots), func(_, lo, hi int) {
		for i := lo; i < hi; i++ {
			x, y := int(dots[i].at)%p.w, int(dots[i].at)/p.w
			for j, f := range k {
				out[i] += f * rows.v[min(max(y+j-r, 0), p.h-1)*p.w+x]
			}
		}
	})
	return out
}
