package specimen

import (
	"context"
	"image"
	"image/jpeg"
	"math"
	"os"

	"pullbook/catalog"
	"pullbook/catalog/exchange/entry"
)

// Pictures draws pictures that look roughly like impressions: a sheet, a plate
// mark, lines, more of them in a later photograph. It is for tests.
type Pictures struct {
	// Made counts the files written.
	Made  int
	drawn map[[3]int]*image.Gray
}

// Size implements entry.Pictures.
func (p *Pictures) Size(_ context.Context, photo *catalog.Photograph) (int, int, error) {
	w, h := entry.UprightSize(photo)
	return w, h, nil
}

// Write implements entry.Pictures.
func (p *Pictures) Write(ctx context.Context, photo *catalog.Photograph, pieces []entry.Piece) error {
	w, h := entry.UprightSize(photo)
	key := [3]int{w, h, len(photo.ID) + int(photo.ID[len(photo.ID)-1])}
	if p.drawn[key] == nil {
		if p.drawn == nil {
			p.drawn = map[[3]int]*image.Gray{}
		}
		p.drawn[key] = draw(w, h, key[2])
	}
	full := p.drawn[key]
	for _, piece := range pieces {
		if err := ctx.Err(); err != nil {
			return err
		}
		if piece.Plate {
			// The specimen's plate marks lie square, so cutting them out makes
			// them rectangular.
			piece.X, piece.Y = int(photo.Mark[0][0])*w/photo.WidthPX, int(photo.Mark[0][1])*h/photo.HeightPX
			piece.W, piece.H = w-2*piece.X, h-piece.Y-h/12
		}
		x, y, pw, ph := piece.X, piece.Y, piece.W, piece.H
		if pw == 0 {
			x, y, pw, ph = 0, 0, w, h
		}
		out := image.NewGray(image.Rect(0, 0, piece.Width, piece.Height))
		for j := range piece.Height {
			for i := range piece.Width {
				out.Pix[j*out.Stride+i] = full.Pix[(y+j*ph/piece.Height)*full.Stride+x+i*pw/piece.Width]
			}
		}
		f, err := os.Create(piece.Path)
		if err != nil {
			return err
		}
		if err := jpeg.Encode(f, out, &jpeg.Options{Quality: 80}); err != nil {
			f.Close()
			return err
		}
		if err := f.Close(); err != nil {
			return err
		}
		p.Made++
	}
	return nil
}

// draw makes a sheet with a plate of curved lines.
func draw(w, h, seed int) *image.Gray {
	img := image.NewGray(image.Rect(0, 0, w, h))
	x0, y0, x1, y1 := w/6, h/6, w-w/6, h-h/12
	wave := make([]int, w)
	for x := range wave {
		wave[x] = 14 + int(12*math.Sin(float64(x)/40+float64(seed)))
	}
	for y := range h {
		for x := range w {
			v := uint8(240)
			if x > x0 && x < x1 && y > y0 && y < y1 {
				v = 215
				if (y-y0+wave[x])%14 < 2 {
					v = 50
				}
				if seed%2 == 1 && x-x0 > (x1-x0)/2 && y-y0 < (y1-y0)/3 && (x+y)%11 < 2 {
					v = 70
				}
			}
			img.Pix[y*img.Stride+x] = v
		}
	}
	return img
}
