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
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			o := img.PixOffset(x, y)
			img.Pix[o], img.Pix[o+1], img.Pix[o+2], img.Pix[o+3] = uint8(5*x), uint8(7*y), uint8(2*x+4*y), 255
		}
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
		if b := got.Bounds(); b.Dx() != q.Width || b.Dy() != q.Height {
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
							sum += float64(img.Pix[img.PixOffset(q.X+x*fx+i, q.Y+y*fy+j)+c])
						}
					}
					mean := sum / float64(fx*fy)
					at := got.Pix[got.PixOffset(got.Rect.Min.X+x, got.Rect.Min.Y+y)+c]
					// Three levels at the most, each rounded across and down.
					if math.Abs(mean-float64(at)) > 3 {
						t.Fatalf("%+v at %d, %d: %d, mean %.1f", q, x, y, at, mean)
					}
				}
			}
		}
	}
}

// Odd sizes round up at every level, as IIIF's tiles do, and reach down to one
// pixel.
func TestPiecesOfOddPictures(t *testing.T) {
	l := levels{image.NewRGBA(image.Rect(0, 0, 1641, 1231))}
	for _, q := range []exchange.Piece{{Width: 821, Height: 616}, {X: 1024, Y: 1024, W: 617, H: 207, Width: 309, Height: 104}, {Width: 200, Height: 150}, {Width: 1, Height: 1}} {
		if b := l.piece(q).Bounds(); b.Dx() != q.Width || b.Dy() != q.Height {
			t.Errorf("%+v is %v", q, b)
		}
	}
}
