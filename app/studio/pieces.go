package studio

import (
	"bytes"
	"context"
	"image"
	"io"

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
// pieces, and so is the plate rectified.
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
	photograph, plate := levels{upright}, levels(nil)
	wholes := map[exchange.Piece][]byte{} // may be asked for under two names
	for _, q := range list {
		if err := ctx.Err(); err != nil {
			return err
		}
		from := &photograph
		if q.Plate {
			if plate == nil {
				rectified, err := x.plate(ctx, p, &view{img: upright, stand: pic.Stand, scale: 1})
				if err != nil {
					return err
				}
				plate = levels{rectified}
			}
			from = &plate
		}
		what := q
		what.Path = ""
		data := wholes[what]
		if data == nil {
			var b bytes.Buffer
			if err := encodeJPEG(from.piece(q), pieceQuality)(&b); err != nil {
				return err
			}
			data = b.Bytes()
			if q.W == 0 {
				wholes[what] = data
			}
		}
		err := writeFile(q.Path, func(w io.Writer) error { _, err := w.Write(data); return err })
		if err != nil {
			return sentence("The picture %s cannot be written: %v. See that the disk is not full.", q.Path, err)
		}
	}
	return nil
}

// levels are one picture at full, half, quarter… size, made as they are asked
// for. All are opaque.
type levels []*image.RGBA

// level is the picture at 1/2^n of its size, rounded up.
func (l *levels) level(n int) *image.RGBA {
	for len(*l) <= n {
		last := (*l)[len(*l)-1].Rect
		*l = append(*l, scaled((*l)[len(*l)-1], (last.Dx()+1)/2, (last.Dy()+1)/2))
	}
	return (*l)[n]
}

// piece is a part in its size, from the smallest level that is large enough
// and in which the part begins at a whole pixel.
func (l *levels) piece(q exchange.Piece) *image.RGBA {
	if whole := l.level(0).Rect; q.W == 0 {
		q.X, q.Y, q.W, q.H = 0, 0, whole.Dx(), whole.Dy()
	}
	n := 0
	for (q.W+1)/2 >= q.Width && (q.H+1)/2 >= q.Height && q.X%2 == 0 && q.Y%2 == 0 && (q.W > 1 || q.H > 1) {
		n++
		q.X, q.Y, q.W, q.H = q.X/2, q.Y/2, (q.W+1)/2, (q.H+1)/2
	}
	part := l.level(n).SubImage(image.Rect(q.X, q.Y, q.X+q.W, q.Y+q.H)).(*image.RGBA)
	if b := part.Bounds(); b.Dx() != q.Width || b.Dy() != q.Height {
		return scaled(part, q.Width, q.Height)
	}
	return part
}

// scaled averages an opaque picture down to a size. The library that scales
// gets only pictures made here, of a type it is known to handle, and gives one
// without premultiplied alpha, which is the same where there is none.
func scaled(img *image.RGBA, width, height int) *image.RGBA {
	out := resample.Resize(img, width, height, resample.Box)
	return &image.RGBA{Pix: out.Pix, Stride: out.Stride, Rect: out.Rect}
}

// plate rectifies the plate at the scale of the photograph.
func (x pieces) plate(ctx context.Context, p *catalog.Photograph, v *view) (*image.RGBA, error) {
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
