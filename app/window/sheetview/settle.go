package sheetview

import (
	"image"
	"image/color"
	"math"
)

// span is the source pixels one device pixel covers: the first, and the
// weight of each in 1/65536, which add up to 65536.
type span struct {
	first  int
	weight []uint32
}

// spans cuts one side of the view into exact shares of source pixels. A nil
// weight means the device pixel lies outside the picture.
func spans(n, size int, per, origin float64) []span {
	out := make([]span, n)
	for i := range n {
		a, b := origin+float64(i)*per, origin+float64(i+1)*per
		if (a+b)/2 < 0 || (a+b)/2 > float64(size) {
			continue
		}
		a, b = math.Max(a, 0), math.Min(b, float64(size))
		k0, k1 := int(a), int(math.Ceil(b))
		if k1 <= k0 || b-a < 1e-9 {
			continue
		}
		w := make([]uint32, k1-k0)
		left := uint32(65536)
		for k := k0; k < k1; k++ {
			cover := math.Min(b, float64(k+1)) - math.Max(a, float64(k))
			v := min(uint32(cover/(b-a)*65536+0.5), left)
			w[k-k0] = v
			left -= v
		}
		w[len(w)/2] += left
		out[i] = span{k0, w}
	}
	return out
}

// Settle draws the sheet by exact area averages into dst: the picture for
// when nothing moves, free of moiré in fine hatching. Enlarged pictures are
// drawn as Draft does.
func (s *Sheet) Settle(dst *image.RGBA, m Motion, ground color.NRGBA) {
	w, h := dst.Rect.Dx(), dst.Rect.Dy()
	lv := s.level(m.Scale, true)
	k := s.PxPerMM / float64(int(1)<<lv)
	per := k / m.Scale
	if per <= 1 {
		s.Draft(dst, m, ground)
		return
	}
	src := s.Levels[lv]
	mx, my := m.At(0, 0, float64(w), float64(h))
	cols := spans(w, src.Rect.Dx(), per, (mx-s.OX)*k)
	rows := spans(h, src.Rect.Dy(), per, (my-s.OY)*k)
	bands(h, func(y0, y1 int) {
		sum := make([]uint32, 3*src.Rect.Dx())
		for y := y0; y < y1; y++ {
			if rows[y].weight == nil {
				paint(dst, 0, w, y, y+1, ground)
				continue
			}
			addRows(sum, src, rows[y], cols)
			row := dst.Pix[y*dst.Stride:]
			for x, c := range cols {
				if c.weight == nil {
					paint(dst, x, x+1, y, y+1, ground)
					continue
				}
				var r, g, b uint64
				for i, wt := range c.weight {
					j := 3 * (c.first + i)
					r += uint64(sum[j]) * uint64(wt)
					g += uint64(sum[j+1]) * uint64(wt)
					b += uint64(sum[j+2]) * uint64(wt)
				}
				row[4*x], row[4*x+1], row[4*x+2], row[4*x+3] = narrow(r), narrow(g), narrow(b), 0xff
			}
		}
	})
}

// narrow brings a sum of 8-bit values weighted by 2^24 and 2^16 to 8 bits.
func narrow(v uint64) uint8 { return uint8((v>>16 + 1<<15) >> 16) }

// addRows weighs the source rows of one device row, only over the columns in
// view; each sum is an 8-bit value times 65536.
func addRows(sum []uint32, src *image.RGBA, r span, cols []span) {
	from, to := -1, 0
	for _, c := range cols {
		if c.weight != nil {
			if from < 0 {
				from = c.first
			}
			to = c.first + len(c.weight)
		}
	}
	if from < 0 {
		return
	}
	part := sum[3*from : 3*to]
	clear(part)
	for i, wt := range r.weight {
		line := src.Pix[(r.first+i)*src.Stride+4*from:]
		for x := range to - from {
			part[3*x] += uint32(line[4*x]) * wt
			part[3*x+1] += uint32(line[4*x+1]) * wt
			part[3*x+2] += uint32(line[4*x+2]) * wt
		}
	}
}
