package studio

import (
	"context"
	"image"
	"image/color"
	"image/draw"

	resample "github.com/disintegration/imaging"

	"pullbook/catalog/exchange"
	"pullbook/imaging/decode"
)

// levels are one picture at full, half, quarter… size, made as they are asked
// for. They are kept as JPEG keeps pictures, brightness apart from colour, since
// all that is made of them is JPEG files.
type levels []*image.YCbCr

// uprightLevels begins the levels of a photograph: with its own pixels where
// these stand as they are to be seen.
func uprightLevels(ctx context.Context, pic *decode.Picture) (levels, error) {
	if img := pic.Stored(); img != nil {
		return levels{img}, nil
	}
	upright, err := pic.Proxy(ctx, 0)
	if err != nil {
		return nil, err
	}
	return levels{planes(upright)}, nil
}

// level is the picture at 1/2^n of its size, rounded up.
func (l *levels) level(n int) *image.YCbCr {
	for len(*l) <= n {
		*l = append(*l, halved((*l)[len(*l)-1]))
	}
	return (*l)[n]
}

// piece is a part in its size, from the smallest level that is large enough
// and in which the part begins at a whole pixel.
func (l *levels) piece(q exchange.Piece) image.Image {
	n, part := l.place(q)
	img := l.level(n).SubImage(part).(*image.YCbCr)
	if part.Dx() != q.Width || part.Dy() != q.Height {
		return scaled(img, q.Width, q.Height)
	}
	return img
}

// place is where a piece lies: in which level, and where in that.
func (l *levels) place(q exchange.Piece) (level int, part image.Rectangle) {
	if whole := l.level(0).Rect; q.W == 0 {
		q.X, q.Y, q.W, q.H = 0, 0, whole.Dx(), whole.Dy()
	}
	n := 0
	for (q.W+1)/2 >= q.Width && (q.H+1)/2 >= q.Height && q.X%2 == 0 && q.Y%2 == 0 && (q.W > 1 || q.H > 1) {
		n++
		q.X, q.Y, q.W, q.H = q.X/2, q.Y/2, (q.W+1)/2, (q.H+1)/2
	}
	return n, image.Rect(q.X, q.Y, q.X+q.W, q.Y+q.H)
}

// planes parts an opaque picture into brightness and colour.
func planes(img *image.RGBA) *image.YCbCr {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	out := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio444)
	for y := range h {
		row, at := img.Pix[y*img.Stride:], y*out.YStride
		for x := range w {
			p := row[4*x : 4*x+3 : 4*x+3]
			out.Y[at+x], out.Cb[at+x], out.Cr[at+x] = color.RGBToYCbCr(p[0], p[1], p[2])
		}
	}
	return out
}

// halved averages a picture down to half its size, rounded up. The colour of
// most photographs is held at half size already, and is halved in turn.
func halved(img *image.YCbCr) *image.YCbCr {
	w, h := (img.Rect.Dx()+1)/2, (img.Rect.Dy()+1)/2
	out := image.NewYCbCr(image.Rect(0, 0, w, h), img.SubsampleRatio)
	halve(img.Y, img.YStride, img.Rect.Dx(), img.Rect.Dy(), out.Y, out.YStride)
	cw, ch := colourSize(img)
	halve(img.Cb, img.CStride, cw, ch, out.Cb, out.CStride)
	halve(img.Cr, img.CStride, cw, ch, out.Cr, out.CStride)
	return out
}

// colourSize is the size of the planes that hold a picture's colour.
func colourSize(img *image.YCbCr) (w, h int) {
	end := img.COffset(img.Rect.Max.X-1, img.Rect.Max.Y-1)
	return end%img.CStride + 1, end/img.CStride + 1
}

// halve averages four values to one; at an odd edge the last stands for two.
func halve(src []uint8, stride, w, h int, dst []uint8, dstStride int) {
	for y := range (h + 1) / 2 {
		a := src[2*y*stride:]
		b := src[min(2*y+1, h-1)*stride:]
		to := dst[y*dstStride:]
		a, b = a[:w], b[:w]
		for x := range w / 2 {
			to[x] = uint8((uint(a[2*x]) + uint(a[2*x+1]) + uint(b[2*x]) + uint(b[2*x+1]) + 2) / 4)
		}
		if w%2 == 1 {
			to[w/2] = uint8((uint(a[w-1]) + uint(b[w-1]) + 1) / 2)
		}
	}
}

// scaled averages a picture down to a size that is no half of it. The library
// that scales gets only pictures made here, of a type it is known to handle,
// and gives one without premultiplied alpha, which is the same where there is
// none.
func scaled(img *image.YCbCr, width, height int) *image.RGBA {
	opaque := image.NewRGBA(image.Rect(0, 0, img.Rect.Dx(), img.Rect.Dy()))
	draw.Draw(opaque, opaque.Rect, img, img.Rect.Min, draw.Src)
	out := resample.Resize(opaque, width, height, resample.Box)
	return &image.RGBA{Pix: out.Pix, Stride: out.Stride, Rect: out.Rect}
}
