package webpages

import (
	"context"
	"fmt"
	"os"
	"path"
	"path/filepath"

	"pullbook/catalog"
	"pullbook/catalog/exchange/entry"
)

// Longer sides of the pictures, in pixels: in lists, on a page, enlarged, and
// of a plate for comparing.
const (
	thumbSide = 320
	viewSide  = 1400
	largeSide = 3600
	plateSide = 1400
)

// file is one picture file as a page shows it.
type file struct {
	Src           string
	Width, Height int
}

// shot is a photograph as the pages show it. Src of each file is relative to
// a plate's page.
type shot struct {
	Thumb, View, Plate file
	Large              string
	Alt, Caption       string
	Last               bool
}

// shoot makes the files of a photograph, once; nil when there is none to make.
func (w *writer) shoot(ctx context.Context, p *catalog.Plate, photo *catalog.Photograph, alt string) (*shot, error) {
	if photo == nil || w.pics == nil {
		return nil, nil
	}
	if s, ok := w.shots[string(photo.ID)]; ok {
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
	name := slug(string(photo.ID))
	var pieces []entry.Piece
	add := func(kind string, w2, h2 int, plate bool) file {
		base := name + "-" + kind + ".jpg"
		pieces = append(pieces, entry.Piece{Path: filepath.Join(w.dir, "pictures", base), Width: w2, Height: h2, Plate: plate})
		return file{path.Join("..", "pictures", base), w2, h2}
	}
	var s shot
	tw, th := within(width, height, thumbSide)
	s.Thumb = add("small", tw, th, false)
	vw, vh := within(width, height, viewSide)
	s.View = add("page", vw, vh, false)
	lw, lh := within(width, height, largeSide)
	s.Large = add("large", lw, lh, false).Src
	if size := p.MeasureSize(); photo.MarkBy != "" && !size.IsZero() && size.WidthMM > 0 && size.HeightMM > 0 && (photo.View == catalog.ViewWhole || photo.View == "") {
		// Every state of a plate gets the same size, so that they lie on each
		// other to the pixel.
		pw, ph := within(int(size.WidthMM*100), int(size.HeightMM*100), plateSide)
		s.Plate = add("plate", pw, ph, true)
	}
	if err := os.MkdirAll(filepath.Join(w.dir, "pictures"), 0o755); err != nil {
		return nil, err
	}
	if err := w.pics.Write(ctx, photo, pieces); err != nil {
		return nil, fmt.Errorf("the pictures of %s were not made: %w", w.Title(p), err)
	}
	w.shots[string(photo.ID)] = s
	s.Alt = alt
	return &s, nil
}

// within scales a size down so that its longer side is no more than side.
func within(w, h, side int) (int, int) {
	long := max(w, h)
	if long <= side {
		return w, h
	}
	return max(1, (w*side+long/2)/long), max(1, (h*side+long/2)/long)
}
