package sheetview

import (
	"image"
	"image/color"
	"math"
)

// Mode is how two sheets are shown.
type Mode int

// Modes.
const (
	Beside     Mode = iota // one at the left, one at the right
	Edge                   // divided by a movable edge
	InTurn                 // now one, now the other
	Difference             // what one has and the other has not
	Single                 // the second sheet alone
)

// divide copies the part of b right of the device column edge over a, so
// that a shows at the left and b at the right.
func divide(dst, a, b *image.RGBA, edge int) {
	w, h := dst.Rect.Dx(), dst.Rect.Dy()
	edge = min(max(edge, 0), w)
	bands(h, func(y0, y1 int) {
		for y := y0; y < y1; y++ {
			o := y * dst.Stride
			copy(dst.Pix[o:o+4*edge], a.Pix[o:o+4*edge])
			copy(dst.Pix[o+4*edge:o+4*w], b.Pix[o+4*edge:o+4*w])
		}
	})
}

// Gain and Lack are the two colours of a difference: blue where the second
// sheet carries more ink, orange where it carries less. The pair is told apart
// with any of the common deficiencies of colour vision (Okabe and Ito, Color
// Universal Design, 2008: their blue and vermilion).
var (
	Gain = color.NRGBA{0x00, 0x72, 0xB2, 0xff}
	Lack = color.NRGBA{0xD5, 0x5E, 0x00, 0xff}
)

// quietBelow and loudAt are the difference of lightness, of 255, below which
// nothing is shown and from which the colour is full: paper grain and a
// fraction of a pixel of misregistration stay quiet.
const (
	quietBelow = 9
	loudAt     = 70
)

// difference draws, over a pale grey of the first sheet, Gain where the second
// is darker, each relative to its own bare paper, and Lack where it is lighter. Both are smoothed over 3 x 3 pixels
// first. Where on says false (outside either sheet) the ground is left.
func difference(dst, a, b *image.RGBA, whiteA, whiteB uint8, ground color.NRGBA, on func(y int) (x0, x1 int)) {
	w, h := dst.Rect.Dx(), dst.Rect.Dy()
	la, lb := relative(luma(a), whiteA), relative(luma(b), whiteB)
	bands(h, func(y0, y1 int) {
		d := make([]int32, w)
		for y := y0; y < y1; y++ {
			x0, x1 := on(y)
			paint(dst, 0, x0, y, y+1, ground)
			paint(dst, x1, w, y, y+1, ground)
			smoothed(d, la, lb, w, h, y, x0, x1)
			row := dst.Pix[y*dst.Stride:]
			for x := x0; x < x1; x++ {
				base := int32(la[y*w+x])
				base = 190 + base*60/255
				t := &toGain
				v := d[x]
				if v < 0 {
					v, t = -v, &toLack
				}
				k := t[min(v, 255)]
				p := row[4*x : 4*x+4]
				p[0] = uint8((base*(256-k.w) + k.r) >> 8)
				p[1] = uint8((base*(256-k.w) + k.g) >> 8)
				p[2] = uint8((base*(256-k.w) + k.b) >> 8)
				p[3] = 0xff
			}
		}
	})
}

// relative brings lightness to that of bare paper, so that a yellower sheet is
// no difference.
func relative(l []uint8, white uint8) []uint8 {
	var table [256]uint8
	for v := range table {
		table[v] = uint8(min(v*240/int(white), 255))
	}
	bands(len(l), func(i0, i1 int) {
		for i := i0; i < i1; i++ {
			l[i] = table[l[i]]
		}
	})
	return l
}

// smoothed is the difference a-b of lightness averaged over 3 x 3 pixels: more
// than nought where b is darker.
func smoothed(d []int32, la, lb []uint8, w, h, y, x0, x1 int) {
	ya, yb := max(y-1, 0), min(y+1, h-1)
	col := func(x int) int32 {
		x = min(max(x, 0), w-1)
		i, j, k := ya*w+x, y*w+x, yb*w+x
		return int32(la[i]) - int32(lb[i]) + int32(la[j]) - int32(lb[j]) + int32(la[k]) - int32(lb[k])
	}
	if x1 <= x0 {
		return
	}
	p, q := col(x0-1), col(x0)
	for x := x0; x < x1; x++ {
		r := col(x + 1)
		d[x] = (p + q + r) / 9
		p, q = q, r
	}
}

// luma is the lightness of every pixel, weights of ITU-R BT.709 in 1/256.
func luma(p *image.RGBA) []uint8 {
	w, h := p.Rect.Dx(), p.Rect.Dy()
	out := make([]uint8, w*h)
	bands(h, func(y0, y1 int) {
		for y := y0; y < y1; y++ {
			row := p.Pix[y*p.Stride : y*p.Stride+4*w]
			o := out[y*w : y*w+w]
			for x := range o {
				o[x] = uint8((uint32(row[4*x])*54 + uint32(row[4*x+1])*183 + uint32(row[4*x+2])*19) >> 8)
			}
		}
	})
	return out
}

type tint struct{ w, r, g, b int32 }

var toGain, toLack = tints(Gain), tints(Lack)

func tints(c color.NRGBA) (t [256]tint) {
	for i := range t {
		w := int32(math.Round(256 * min(max(float64(i-quietBelow)/(loudAt-quietBelow), 0), 1)))
		t[i] = tint{w, w * int32(c.R), w * int32(c.G), w * int32(c.B)}
	}
	return t
}

// Tiles is a map of values over the plate, drawn over a sheet. Values are row
// by row from the top-left corner of the plate mark; those that cannot be told
// are NaN. Low and High are the ends of the scale.
type Tiles struct {
	StepMM     float64
	Rows, Cols int
	V          []float64
	Low, High  float64
	More       bool // values say that there is more ink, not less
}

// overlay tints the picture by the tile under each pixel: nothing at Low,
// Lack in full at High; values below nought take Gain; the other way about
// where values say more ink. Tiles that cannot be told are crossed with fine
// grey lines.
func (t *Tiles) overlay(dst *image.RGBA, m Motion) {
	w, h := dst.Rect.Dx(), dst.Rect.Dy()
	if t.Rows == 0 || t.Cols == 0 || t.StepMM <= 0 {
		return
	}
	col := make([]int, w)
	for x := range col {
		mx, _ := m.At(float64(x)+0.5, 0, float64(w), float64(h))
		col[x] = int(math.Floor(mx / t.StepMM))
	}
	bands(h, func(y0, y1 int) {
		for y := y0; y < y1; y++ {
			_, my := m.At(0, float64(y)+0.5, float64(w), float64(h))
			r := int(math.Floor(my / t.StepMM))
			if r < 0 || r >= t.Rows {
				continue
			}
			row := dst.Pix[y*dst.Stride:]
			for x, c := range col {
				if c < 0 || c >= t.Cols {
					continue
				}
				t.mix(row[4*x:4*x+3], t.V[r*t.Cols+c], x, y)
			}
		}
	})
}

// fullTint is how much of the tint's colour a tile takes at most, of 256.
const fullTint = 170

func (t *Tiles) mix(p []uint8, v float64, x, y int) {
	if math.IsNaN(v) {
		if (x+y)%8 == 0 {
			p[0], p[1], p[2] = 0x80, 0x80, 0x80
		}
		return
	}
	c := Lack
	if (v < 0) != t.More {
		c = Gain
	}
	k := int(fullTint * min(max((math.Abs(v)-t.Low)/(t.High-t.Low), 0), 1))
	p[0] = uint8((int(p[0])*(256-k) + int(c.R)*k) >> 8)
	p[1] = uint8((int(p[1])*(256-k) + int(c.G)*k) >> 8)
	p[2] = uint8((int(p[2])*(256-k) + int(c.B)*k) >> 8)
}
