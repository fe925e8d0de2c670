package studio

import (
	"context"
	"image"

	resample "github.com/disintegration/imaging"

	"pullbook/catalog"
	"pullbook/catalog/exchange"
)

// pieces makes the picture files of an export.
type pieces struct{ s *Studio }

// Size implements exchange.Pictures.
func (x pieces) Size(_ context.Context, p *catalog.Photograph) (width, height int, err error) {
	width, height = infoOf(p).Turned()
	return width, height, nil
}

// pieceQuality is the JPEG quality of exported pictures.
const pieceQuality = 88

// Write implements exchange.Pictures: the photograph is decoded once for all
// pieces. The library that scales gets only pictures made here, of a type it
// is known to handle.
func (x pieces) Write(ctx context.Context, p *catalog.Photograph, list []exchange.Piece) error {
	if err := rest(ctx); err != nil {
		return err
	}
	pic, err := x.s.read(ctx, p)
	if err != nil {
		return err
	}
	upright, err := pic.Proxy(ctx, 0)
	if err != nil {
		return err
	}
	for _, q := range list {
		if err := ctx.Err(); err != nil {
			return err
		}
		var part image.Image = upright
		switch {
		case q.Plate:
			if part, err = x.plate(ctx, p, &view{img: upright, stand: pic.Stand, scale: 1}); err != nil {
				return err
			}
		case q.W > 0:
			part = upright.SubImage(image.Rect(q.X, q.Y, q.X+q.W, q.Y+q.H))
		}
		if b := part.Bounds(); b.Dx() != q.Width || b.Dy() != q.Height {
			part = resample.Resize(part, q.Width, q.Height, resample.Box)
		}
		if err := writeFile(q.Path, encodeJPEG(part, pieceQuality)); err != nil {
			return sentence("The picture %s cannot be written: %v. See that the disk is not full.", q.Path, err)
		}
	}
	return nil
}

// plate rectifies the plate at the scale of the photograph.
func (x pieces) plate(ctx context.Context, p *catalog.Photograph, v *view) (image.Image, error) {
	size, err := x.s.sizeOfPhotograph(ctx, p)
	if err != nil {
		return nil, err
	}
	l, err := latticeOfMark(p.Mark, size)
	if err != nil {
		return nil, err
	}
	return v.rectify(l, [4]float64{0, 0, size.WidthMM, size.HeightMM}, l.pxPerMM()), nil
}
