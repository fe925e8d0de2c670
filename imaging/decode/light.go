package decode

import (
	"context"
	"image"
	"image/color"
	"sync/atomic"

	"pullbook/imaging/colour"
	"pullbook/imaging/hands"
)

// topCode is the code from which a channel counts as burnt out (8-bit scale).
const topCode = 253

// Luminance returns linear luminance 0..1 (CIE Y, white of the picture's space
// = 1), row by row in stored orientation, with the embedded profile's curves
// and primaries honoured. It fails only when the context ends.
func (p *Picture) Luminance(ctx context.Context) (pix []float32, w, h int, err error) {
	pix = make([]float32, p.Width*p.Height)
	t := p.newTables(p.Profile.Luminance)
	err = strips(ctx, p.Height, func(y0, y1 int) {
		for y := y0; y < y1; y++ {
			p.luminanceRow(t, y, pix[y*p.Width:(y+1)*p.Width])
		}
	})
	if err != nil {
		return nil, 0, 0, err
	}
	return pix, p.Width, p.Height, nil
}

// strips cuts rows 0..n into strips of 64 and works on them on all cores. What
// f writes must depend on its rows alone, so that runs are bit-identical.
func strips(ctx context.Context, n int, f func(y0, y1 int)) error {
	const rows = 64
	var next atomic.Int64
	hands.Share((n+rows-1)/rows, func() {
		for ctx.Err() == nil {
			y := int(next.Add(1)-1) * rows
			if y >= n {
				return
			}
			f(y, min(y+rows, n))
		}
	})
	return ctx.Err()
}

func (p *Picture) luminanceRow(t *tables, y int, dst []float32) {
	switch m := p.img.(type) {
	case *image.YCbCr:
		luminanceYCbCr(m, t, y, dst)
	case *image.Gray:
		row := m.Pix[y*m.Stride:][:len(dst)]
		for x, v := range row {
			dst[x] = t.whole[0][v]
		}
	case *image.Gray16:
		row := m.Pix[y*m.Stride:][:2*len(dst)]
		for x := range dst {
			dst[x] = t.whole[0][int(row[2*x])<<8|int(row[2*x+1])]
		}
	case *image.RGBA:
		row := m.Pix[y*m.Stride:][:4*len(dst)]
		r, g, b := t.whole[0], t.whole[1], t.whole[2]
		for x := range dst {
			s := row[4*x : 4*x+3 : 4*x+3]
			dst[x] = r[s[0]] + g[s[1]] + b[s[2]]
		}
	case *image.RGBA64:
		row := m.Pix[y*m.Stride:][:8*len(dst)]
		r, g, b := t.whole[0], t.whole[1], t.whole[2]
		for x := range dst {
			s := row[8*x : 8*x+6 : 8*x+6]
			dst[x] = r[int(s[0])<<8|int(s[1])] + g[int(s[2])<<8|int(s[3])] + b[int(s[4])<<8|int(s[5])]
		}
	}
}

// luminanceYCbCr looks red, green and blue up without ever rounding them to
// whole codes, and reads the planes directly.
func luminanceYCbCr(m *image.YCbCr, t *tables, y int, dst []float32) {
	xs, _ := chromaStep(m.SubsampleRatio)
	row := m.Y[m.YOffset(m.Rect.Min.X, m.Rect.Min.Y+y):][:len(dst)]
	c := m.COffset(m.Rect.Min.X, m.Rect.Min.Y+y)
	cb, cr := m.Cb[c:], m.Cr[c:]
	lr, lg, lb, k := t.fine[0], t.fine[1], t.fine[2], t.chroma
	gain := k.gain
	for x := 0; x < len(row); {
		i := x >> xs
		b, r := cb[i], cr[i]
		dr, dg, db := k.base+k.rCr[r], k.base+k.gCr[r]+k.gCb[b], k.base+k.bCb[b]
		// Pixels that share one chroma sample.
		for end := min((i+1)<<xs, len(row)); x < end; x++ {
			v := (int32(row[x]) * gain) >> 16
			dst[x] = lr[fineIndex(v+dr)] + lg[fineIndex(v+dg)] + lb[fineIndex(v+db)]
		}
	}
}

// fineIndex is never out of range for JFIF; video codes below 16 or above 235
// may be by a little.
func fineIndex(i int32) int32 { return min(max(i, 0), fineLen-1) }

// linearRow writes linear red, green, blue of one row, interleaved.
func (p *Picture) linearRow(t *tables, y int, dst []float32) {
	w := len(dst) / 3
	switch m := p.img.(type) {
	case *image.YCbCr:
		linearYCbCr(m, t, y, dst)
	case *image.Gray:
		for x, v := range m.Pix[y*m.Stride:][:w] {
			l := t.whole[0][v]
			dst[3*x], dst[3*x+1], dst[3*x+2] = l, l, l
		}
	case *image.Gray16:
		row := m.Pix[y*m.Stride:][:2*w]
		for x := range w {
			l := t.whole[0][int(row[2*x])<<8|int(row[2*x+1])]
			dst[3*x], dst[3*x+1], dst[3*x+2] = l, l, l
		}
	case *image.RGBA:
		row := m.Pix[y*m.Stride:][:4*w]
		for x := range w {
			for c := range 3 {
				dst[3*x+c] = t.whole[c][row[4*x+c]]
			}
		}
	case *image.RGBA64:
		row := m.Pix[y*m.Stride:][:8*w]
		for x := range w {
			for c := range 3 {
				dst[3*x+c] = t.whole[c][int(row[8*x+2*c])<<8|int(row[8*x+2*c+1])]
			}
		}
	}
}

func linearYCbCr(m *image.YCbCr, t *tables, y int, dst []float32) {
	xs, _ := chromaStep(m.SubsampleRatio)
	w := len(dst) / 3
	row := m.Y[m.YOffset(m.Rect.Min.X, m.Rect.Min.Y+y):][:w]
	c := m.COffset(m.Rect.Min.X, m.Rect.Min.Y+y)
	k := t.chroma
	for x, v := range row {
		b, r := m.Cb[c+x>>xs], m.Cr[c+x>>xs]
		q := (int32(v)*k.gain)>>16 + k.base
		d := dst[3*x : 3*x+3 : 3*x+3]
		d[0] = t.fine[0][fineIndex(q+k.rCr[r])]
		d[1] = t.fine[1][fineIndex(q+k.gCr[r]+k.gCb[b])]
		d[2] = t.fine[2][fineIndex(q+k.bCb[b])]
	}
}

// TopCode returns the largest channel of a stored pixel on the 8-bit scale.
func (p *Picture) TopCode(x, y int) uint8 {
	switch m := p.img.(type) {
	case *image.YCbCr:
		i, c := m.YOffset(x, y), m.COffset(x, y)
		v := m.Y[i]
		if p.video {
			v = uint8(min(max((int(v)-16)*255/219, 0), 255))
		}
		r, g, b := color.YCbCrToRGB(v, m.Cb[c], m.Cr[c])
		return max(r, g, b)
	case *image.Gray:
		return m.Pix[y*m.Stride+x]
	case *image.Gray16:
		return m.Pix[y*m.Stride+2*x]
	case *image.RGBA:
		s := m.Pix[y*m.Stride+4*x:]
		return max(s[0], s[1], s[2])
	case *image.RGBA64:
		s := m.Pix[y*m.Stride+8*x:]
		return max(s[0], s[2], s[4])
	}
	return 0
}

// Clipped says whether a stored pixel is burnt out: some channel at 253 of 255
// or above.
func (p *Picture) Clipped(x, y int) bool { return p.TopCode(x, y) >= topCode }

// ClippedRow writes 1 for every burnt out pixel of a stored row and 0 for the
// others, taking every step-th pixel from the first.
func (p *Picture) ClippedRow(y, step int, dst []float32) {
	m, ok := p.img.(*image.YCbCr)
	if !ok || p.video {
		for i := range dst {
			dst[i] = 0
			if p.Clipped(i*step, y) {
				dst[i] = 1
			}
		}
		return
	}
	xs, _ := chromaStep(m.SubsampleRatio)
	row := m.Y[m.YOffset(m.Rect.Min.X, m.Rect.Min.Y+y):]
	c := m.COffset(m.Rect.Min.X, m.Rect.Min.Y+y)
	cb, cr := m.Cb[c:], m.Cr[c:]
	for i := range dst {
		x := i * step
		// As color.YCbCrToRGB reckons.
		v, b, r := int32(row[x])*0x10101, int32(cb[x>>xs])-128, int32(cr[x>>xs])-128
		dst[i] = 0
		if max(v+91881*r, v-22554*b-46802*r, v+116130*b) >= topCode<<16 {
			dst[i] = 1
		}
	}
}

// LinearRGB returns a stored pixel as linear sRGB light, profile honoured.
// Colours that sRGB cannot hold fall outside 0..1.
func (p *Picture) LinearRGB(x, y int) colour.Vector {
	code := p.codes(x, y)
	d := p.Profile.Decode
	return p.Profile.ToSRGB.Apply(colour.Vector{d[0](code[0]), d[1](code[1]), d[2](code[2])})
}

// codes is a stored pixel as red, green, blue 0..1 of the file's space, not
// rounded on the way from YCbCr.
func (p *Picture) codes(x, y int) colour.Vector {
	m, ok := p.img.(*image.YCbCr)
	if !ok {
		r, g, b, _ := p.img.At(x, y).RGBA()
		return colour.Vector{float64(r) / 65535, float64(g) / 65535, float64(b) / 65535}
	}
	c := m.COffset(x, y)
	v, cb, cr := float64(m.Y[m.YOffset(x, y)]), float64(m.Cb[c])-128, float64(m.Cr[c])-128
	if p.video {
		v, cb, cr = (v-16)*255/219, cb*255/224, cr*255/224
	}
	clamp := func(v float64) float64 { return min(max(v/255, 0), 1) }
	return colour.Vector{clamp(v + 1.402*cr), clamp(v - 0.344136*cb - 0.714136*cr), clamp(v + 1.772*cb)}
}
