package webpages

import (
	"context"
	"fmt"
	"math"
	"os"
	"path"
	"path/filepath"

	"pullbook/catalog"
	"pullbook/catalog/exchange/entry"
	"pullbook/catalog/exchange/xmp"
)

// Longer sides of the pictures, in pixels: in lists, on a page, enlarged.
const (
	thumbSide = 320
	viewSide  = 1400
	largeSide = 3600
)

// file is one picture file as a page shows it.
type file struct {
	Src           string
	Width, Height int
}

// pictures are the files of one view of a photograph: small, on a page, large.
// View is empty where the photograph stands in a table only.
type pictures struct {
	Thumb, View file
	Large       string
}

// shot is a photograph as the pages show it: the whole sheet, or, where the
// plate mark is known, the plate alone. Src of each file is relative to a
// plate's page.
type shot struct {
	pictures
	// Plate are the pictures of the plate alone; empty where there are none.
	Plate        pictures
	Alt, Caption string
	Last         bool
}

// ofPlate is the shot of the plate alone where there is one.
func (s *shot) ofPlate() *shot {
	if s == nil || s.Plate.View.Src == "" {
		return s
	}
	c := *s
	c.pictures = s.Plate
	return &c
}

// shoot makes the files of a photograph, once; nil when there is none to make.
// In a table it is shown small and enlarged; to stand on the page itself it is
// made in that size too, and so is the plate alone.
func (w *writer) shoot(ctx context.Context, p *catalog.Plate, photo *catalog.Photograph, alt string, onPage bool) (*shot, error) {
	if photo == nil || w.pics == nil {
		return nil, nil
	}
	if s, ok := w.shots[string(photo.ID)]; ok && (s.View.Src != "" || !onPage) {
		s.Alt = alt
		return &s, nil
	}
	width, height, err := w.pics.Size(ctx, photo)
	if err != nil {
		return nil, fmt.Errorf("a picture of %s cannot be made: %w", w.Title(p), err)
	}
	if width < 1 || height < 1 {
		return nil, nil
	}
	var pieces []entry.Piece
	set := func(kind string, w0, h0 int, plate bool) (out pictures) {
		one := func(kind string, side int) file {
			name := slug(string(photo.ID)) + "-" + kind + ".jpg"
			wide, high := within(w0, h0, side)
			pieces = append(pieces, entry.Piece{Path: filepath.Join(w.dir, "pictures", name), Width: wide, Height: high, Plate: plate})
			return file{path.Join("..", "pictures", name), wide, high}
		}
		out.Thumb, out.Large = one(kind+"small", thumbSide), one(kind+"large", largeSide).Src
		if onPage {
			out.View = one(kind+"page", viewSide)
		}
		return out
	}
	var s shot
	s.pictures = set("", width, height, false)
	if pw, ph := platePixels(p, photo); onPage && pw > 0 {
		s.Plate = set("plate-", pw, ph, true)
	}
	if err := os.MkdirAll(filepath.Join(w.dir, "pictures"), 0o755); err != nil {
		return nil, err
	}
	if err := w.pics.Write(ctx, photo, pieces); err != nil {
		return nil, fmt.Errorf("the pictures of %s were not made: %w", w.Title(p), err)
	}
	// The large pictures are what people save: they say what they show.
	for _, large := range []string{s.Large, s.Plate.Large} {
		if large == "" {
			continue
		}
		if err := xmp.MarkCopy(filepath.Join(w.dir, "pictures", path.Base(large)), xmp.For(w.Catalogue, photo)); err != nil {
			return nil, err
		}
	}
	w.shots[string(photo.ID)] = s
	s.Alt = alt
	return &s, nil
}

// platePixels is the size at which a photograph shows the plate, in the plate's
// own proportions; 0 when its plate mark is not known. Proportions are the
// same for every state, so that pictures of states lie on each other.
func platePixels(p *catalog.Plate, photo *catalog.Photograph) (width, height int) {
	size := p.MeasureSize()
	if photo.MarkBy == "" || size.HeightMM <= 0 || size.WidthMM <= 0 || (photo.View != catalog.ViewWhole && photo.View != "") {
		return 0, 0
	}
	long := 0.0
	for i := range 4 {
		a, b := photo.Mark[i], photo.Mark[(i+1)%4]
		long = max(long, math.Hypot(a[0]-b[0], a[1]-b[1]))
	}
	perMM := long / max(size.HeightMM, size.WidthMM)
	return int(size.WidthMM*perMM + 0.5), int(size.HeightMM*perMM + 0.5)
}

// within scales a size down so that its longer side is no more than side.
func within(w, h, side int) (int, int) {
	long := max(w, h)
	if long <= side {
		return w, h
	}
	return max(1, (w*side+long/2)/long), max(1, (h*side+long/2)/long)
}
