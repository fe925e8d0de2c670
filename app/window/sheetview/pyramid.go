package sheetview

import (
	"image"
	"image/draw"
	"slices"
	"sync"
)

// Sheet is a picture on the plate's millimetres, ready to be drawn at any
// scale: the whole picture and its halvings. PxPerMM is of level 0; OX, OY is
// the place in millimetres of the picture's top-left edge.
type Sheet struct {
	Levels  []*image.RGBA
	PxPerMM float64
	OX, OY  float64
	White   uint8 // lightness of its bare paper, as judged from its brightest parts
}

// NewSheet builds the halvings of a picture. It does not run on the interface
// goroutine: 24 megapixels take some tenths of a second.
func NewSheet(img image.Image, pxPerMM, ox, oy float64) *Sheet {
	s := &Sheet{PxPerMM: pxPerMM, OX: ox, OY: oy}
	level := Tight(img)
	s.Levels = append(s.Levels, level)
	for level.Rect.Dx() > 64 && level.Rect.Dy() > 64 {
		level = halve(level)
		s.Levels = append(s.Levels, level)
	}
	s.White = paperWhite(level)
	return s
}

// paperWhite is the lightness that nine tenths of a small picture stay below.
func paperWhite(small *image.RGBA) uint8 {
	l := luma(small)
	slices.Sort(l)
	return max(l[len(l)*9/10], 1)
}

// Tight is the picture as RGBA with its origin at 0,0 and no spare stride,
// the one form the toolkit uploads without converting. A picture already so
// is returned itself.
func Tight(img image.Image) *image.RGBA {
	b := img.Bounds()
	if r, ok := img.(*image.RGBA); ok && b.Min == (image.Point{}) && r.Stride == 4*b.Dx() {
		return r
	}
	out := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	bands(b.Dy(), func(y0, y1 int) {
		part := out.SubImage(image.Rect(0, y0, b.Dx(), y1)).(*image.RGBA)
		draw.Draw(part, part.Bounds(), img, image.Pt(b.Min.X, b.Min.Y+y0), draw.Src)
	})
	return out
}

// Box is the sheet's extent in millimetres.
func (s *Sheet) Box() Box {
	b := s.Levels[0].Rect
	return Box{s.OX, s.OY, s.OX + float64(b.Dx())/s.PxPerMM, s.OY + float64(b.Dy())/s.PxPerMM}
}

// level is the index of the halving to draw from at a scale of device pixels
// per millimetre, so that a device pixel covers between one and two of its
// pixels, or with finer between two and four.
func (s *Sheet) level(scale float64, finer bool) int {
	shrink := s.PxPerMM / scale
	limit := 2.0
	if finer {
		limit = 4
	}
	i := 0
	for shrink >= limit && i < len(s.Levels)-1 {
		shrink /= 2
		i++
	}
	return i
}

// halve averages 2 x 2 pixels. An odd last row or column is averaged with
// itself.
func halve(src *image.RGBA) *image.RGBA {
	w, h := src.Rect.Dx(), src.Rect.Dy()
	nw, nh := (w+1)/2, (h+1)/2
	out := image.NewRGBA(image.Rect(0, 0, nw, nh))
	bands(nh, func(y0, y1 int) {
		for y := y0; y < y1; y++ {
			a := src.Pix[2*y*src.Stride:]
			b := a
			if 2*y+1 < h {
				b = src.Pix[(2*y+1)*src.Stride:]
			}
			o := out.Pix[y*out.Stride : y*out.Stride+4*nw]
			for x := range nw {
				i, j := 8*x, 8*x+4
				if 2*x+1 >= w {
					j = i
				}
				for c := range 3 {
					sum := int(a[i+c]) + int(a[j+c]) + int(b[i+c]) + int(b[j+c])
					o[4*x+c] = uint8((sum + 2) >> 2)
				}
				o[4*x+3] = 0xff
			}
		}
	})
	return out
}

// workers is how many bands a picture is cut into; the machine we measure on
// has two cores.
const workers = 2

// bands runs f over the rows 0..n in parallel bands.
func bands(n int, f func(y0, y1 int)) {
	if n < 2*workers {
		f(0, n)
		return
	}
	var wg sync.WaitGroup
	for i := range workers {
		wg.Add(1)
		go func() {
			defer wg.Done()
			f(n*i/workers, n*(i+1)/workers)
		}()
	}
	wg.Wait()
}
