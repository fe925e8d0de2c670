package sheetview

import (
	"encoding/binary"
	"image"
	"image/color"
	"math"
)

// axis says, for every device pixel along one side of a view, which source
// pixel it begins at and how far between that and the next it lies (0..256).
// from and to bound the device pixels that lie on the picture at all.
type axis struct {
	at       []int32
	frac     []uint32
	from, to int
}

func newAxis(n, size int, pxPerDev, origin float64) axis {
	a := axis{at: make([]int32, n), frac: make([]uint32, n), from: n}
	for i := range n {
		p := origin + (float64(i)+0.5)*pxPerDev - 0.5
		if p < -0.5 || p > float64(size)-0.5 {
			if a.from < i {
				break
			}
			continue
		}
		if a.from > i {
			a.from = i
		}
		a.to = i + 1
		f := math.Floor(p)
		k, fr := int(f), uint32((p-f)*256)
		if k < 0 {
			k, fr = 0, 0
		}
		if k >= size-1 {
			k, fr = size-2, 256
			if size == 1 {
				k, fr = 0, 0
			}
		}
		a.at[i], a.frac[i] = int32(k), fr
	}
	if a.from > a.to {
		a.from, a.to = 0, 0
	}
	return a
}

// axes maps the view w x h onto a level of the sheet.
func (s *Sheet) axes(m Motion, w, h int, lv int) (x, y axis) {
	l := s.Levels[lv]
	k := s.PxPerMM / float64(int(1)<<lv) // level pixels per mm
	per := k / m.Scale                   // level pixels per device pixel
	mx, my := m.At(0, 0, float64(w), float64(h))
	x = newAxis(w, l.Rect.Dx(), per, (mx-s.OX)*k)
	y = newAxis(h, l.Rect.Dy(), per, (my-s.OY)*k)
	return x, y
}

// spread sets the three channels of a pixel 16 bits apart, so that one
// multiplication weighs all three.
func spread(p []byte) uint64 {
	v := uint64(binary.LittleEndian.Uint32(p))
	return v&0xff | v&0xff00<<8 | v&0xff0000<<16
}

const lanes = 0x00ff00ff00ff

// Draft draws the sheet bilinearly into dst, ground outside it. It takes a
// few milliseconds for a view of a megapixel and is meant for pictures in
// motion; fine hatching may shimmer.
func (s *Sheet) Draft(dst *image.RGBA, m Motion, ground color.NRGBA) {
	w, h := dst.Rect.Dx(), dst.Rect.Dy()
	lv := s.level(m.Scale, false)
	src := s.Levels[lv]
	ax, ay := s.axes(m, w, h, lv)
	if src.Rect.Dx() < 2 || src.Rect.Dy() < 2 {
		bands(h, func(y0, y1 int) { paint(dst, 0, w, y0, y1, ground) })
		return
	}
	nearest := s.PxPerMM/m.Scale < 0.34 // above three device pixels a pixel, show pixels
	bands(h, func(y0, y1 int) {
		for y := y0; y < y1; y++ {
			if y < ay.from || y >= ay.to {
				paint(dst, 0, w, y, y+1, ground)
				continue
			}
			paint(dst, 0, ax.from, y, y+1, ground)
			paint(dst, ax.to, w, y, y+1, ground)
			row := dst.Pix[y*dst.Stride:]
			r0 := src.Pix[int(ay.at[y])*src.Stride:]
			r1 := r0[src.Stride:]
			fy := uint64(ay.frac[y])
			if nearest {
				if fy >= 128 {
					r0 = r1
				}
				for x := ax.from; x < ax.to; x++ {
					i := 4 * (int(ax.at[x]) + int(ax.frac[x]>>7&1))
					if ax.frac[x] == 256 {
						i = 4 * (int(ax.at[x]) + 1)
					}
					copy(row[4*x:4*x+4], r0[i:i+4])
				}
				continue
			}
			gy := 256 - fy
			for x := ax.from; x < ax.to; x++ {
				i := 4 * int(ax.at[x])
				a, b := r0[i:i+8], r1[i:i+8]
				left := (spread(a)*gy + spread(b)*fy) >> 8 & lanes
				right := (spread(a[4:])*gy + spread(b[4:])*fy) >> 8 & lanes
				fx := uint64(ax.frac[x])
				v := (left*(256-fx) + right*fx) >> 8
				binary.LittleEndian.PutUint32(row[4*x:], uint32(v&0xff|v>>8&0xff00|v>>16&0xff0000)|0xff000000)
			}
		}
	})
}

// paint fills part of the rows y0..y1 with one colour.
func paint(dst *image.RGBA, x0, x1, y0, y1 int, c color.NRGBA) {
	if x1 <= x0 {
		return
	}
	v := uint32(c.R) | uint32(c.G)<<8 | uint32(c.B)<<16 | 0xff000000
	for y := y0; y < y1; y++ {
		row := dst.Pix[y*dst.Stride+4*x0 : y*dst.Stride+4*x1]
		for i := 0; i < len(row); i += 4 {
			binary.LittleEndian.PutUint32(row[i:], v)
		}
	}
}
