package studio

import (
	"image"
	"math"
	"testing"

	"pullbook/catalog/exchange"
)

// Every piece is the mean of what it covers, wherever it lies and whichever
// level it is made from; a picture with no two rows or columns alike shows a
// piece that lies a pixel off.
func TestPiecesAreMeans(t *testing.T) {
	const w, h = 48, 32
	img := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio444)
	for y := range h {
		for x := range w {
			o := img.YOffset(x, y)
			img.Y[o], img.Cb[o], img.Cr[o] = uint8(60+2*x+2*y), uint8(110+y/2), uint8(120+x/2)
		}
	}
	plane := func(m image.Image, c, x, y int) float64 {
		switch m := m.(type) {
		case *image.YCbCr:
			return float64([]uint8{m.Y[m.YOffset(x, y)], m.Cb[m.COffset(x, y)], m.Cr[m.COffset(x, y)]}[c])
		case *image.RGBA:
			p := planes(m)
			return float64([]uint8{p.Y[p.YOffset(x, y)], p.Cb[p.COffset(x, y)], p.Cr[p.COffset(x, y)]}[c])
		}
		t.Fatalf("a piece is a %T", m)
		return 0
	}
	l := levels{img}
	for _, q := range []exchange.Piece{
		{Width: w, Height: h}, {Width: 24, Height: 16}, {Width: 6, Height: 4}, {Width: 16, Height: 8},
		{X: 16, Y: 16, W: 16, H: 16, Width: 16, Height: 16}, {X: 32, Y: 16, W: 16, H: 16, Width: 8, Height: 8},
		{X: 1, Y: 3, W: 16, H: 16, Width: 4, Height: 4}, {X: 24, Y: 0, W: 24, H: 32, Width: 3, Height: 4},
	} {
		got := l.piece(q)
		if q.W == 0 {
			q.W, q.H = w, h
		}
		b := got.Bounds()
		if b.Dx() != q.Width || b.Dy() != q.Height {
			t.Errorf("%+v is %v", q, b)
			continue
		}
		fx, fy := q.W/q.Width, q.H/q.Height
		for y := range q.Height {
			for x := range q.Width {
				for c := range 3 {
					sum := 0.0
					for j := range fy {
						for i := range fx {
							sum += plane(img, c, q.X+x*fx+i, q.Y+y*fy+j)
						}
					}
					mean := sum / float64(fx*fy)
					// Three levels at the most, each rounded, and RGB between.
					if at := plane(got, c, b.Min.X+x, b.Min.Y+y); math.Abs(mean-at) > 2 {
						t.Fatalf("%+v at %d, %d: %v, mean %.1f", q, x, y, at, mean)
					}
				}
			}
		}
	}
}

// Odd sizes round up at every level, as IIIF's tiles do, and reach down to one
// pixel, however the colour is held.
func TestPiecesOfOddPictures(t *testing.T) {
	for _, held := range []image.YCbCrSubsampleRatio{image.YCbCrSubsampleRatio444, image.YCbCrSubsampleRatio422, image.YCbCrSubsampleRatio420,
		image.YCbCrSubsampleRatio440, image.YCbCrSubsampleRatio411, image.YCbCrSubsampleRatio410} {
		img := image.NewYCbCr(image.Rect(0, 0, 1641, 1231), held)
		for _, p := range [][]uint8{img.Y, img.Cb, img.Cr} {
			for i := range p {
				p[i] = 77
			}
		}
		l := levels{img}
		for _, q := range []exchange.Piece{{Width: 821, Height: 616}, {X: 1024, Y: 1024, W: 617, H: 207, Width: 309, Height: 104}, {Width: 200, Height: 150}, {Width: 1, Height: 1}} {
			if b := l.piece(q).Bounds(); b.Dx() != q.Width || b.Dy() != q.Height {
				t.Errorf("%v: %+v is %v", held, q, b)
			}
		}
		for n, m := range l {
			for _, p := range [][]uint8{m.Y, m.Cb, m.Cr} {
				for i, v := range p {
					if v != 77 {
						t.Fatalf("%v: level %d has %d at %d of a plane that is 77 throughout", held, n, v, i)
					}
				}
			}
		}
	}
}
