package entry

import (
	"context"

	"pullbook/catalog"
)

// Piece is one JPEG file to be made from a photograph: a part of the upright
// picture, scaled to a size.
type Piece struct {
	// Path is where the file goes; its folder exists already.
	Path string
	// X, Y, W, H is the part, in pixels of the upright picture at full size;
	// W 0 means the whole.
	X, Y, W, H int
	// Width and Height are the size of the file, in pixels.
	Width, Height int
	// Plate asks for the plate alone, made rectangular by the corners of the
	// plate mark (Photograph.Mark), upright as its reference stands; the part
	// is then the whole plate. It is asked only of photographs whose plate
	// mark is recorded.
	Plate bool
}

// Pictures makes picture files for an export, which knows no pixels itself.
// Both methods see the picture upright, as EXIF says it is to be viewed.
type Pictures interface {
	// Size is the size of the upright picture, in pixels.
	Size(ctx context.Context, photo *catalog.Photograph) (width, height int, err error)
	// Write makes every piece. The picture should be decoded once for all.
	Write(ctx context.Context, photo *catalog.Photograph, pieces []Piece) error
}

// UprightSize is the size of a photograph as viewed, from what is recorded of
// it: EXIF orientations 5 to 8 lie on their side.
func UprightSize(p *catalog.Photograph) (width, height int) {
	if p.Orientation >= 5 && p.Orientation <= 8 {
		return p.HeightPX, p.WidthPX
	}
	return p.WidthPX, p.HeightPX
}
