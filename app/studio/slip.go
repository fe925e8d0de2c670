package studio

import (
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"os"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"pullbook/catalog"
	"pullbook/imaging"
	"pullbook/pdfout"
)

// slipIn finds the impression named by the slip lying beside a sheet, "" when
// there is none. The picture is the photograph's proxy: a slip as printed is
// some hundred pixels wide in it.
func slipIn(img image.Image) catalog.ID {
	text, ok := readCode(img)
	if !ok {
		return ""
	}
	id, ok := pdfout.ReadCode(text)
	if !ok {
		return "" // somebody else's code, on a package perhaps
	}
	return id
}

// readCode reads a QR code (ISO/IEC 18004) anywhere and any way up. A slip may
// be small in the frame: if nothing is found in the whole, the quarters are
// looked through, overlapping, where a code stands out better.
func readCode(img image.Image) (text string, ok bool) {
	b := img.Bounds()
	if text, ok = readCodeIn(img); ok {
		return text, true
	}
	sub, can := img.(interface {
		SubImage(image.Rectangle) image.Image
	})
	if !can {
		return "", false
	}
	w, h := b.Dx()*3/5, b.Dy()*3/5
	for _, at := range []image.Point{{0, 0}, {b.Dx() - w, 0}, {0, b.Dy() - h}, {b.Dx() - w, b.Dy() - h}} {
		r := image.Rectangle{Min: b.Min.Add(at), Max: b.Min.Add(at).Add(image.Pt(w, h))}
		if text, ok = readCodeIn(sub.SubImage(r)); ok {
			return text, true
		}
	}
	return "", false
}

func readCodeIn(img image.Image) (text string, ok bool) {
	defer func() {
		// The reader is fed whatever lies on a press's table; a fault in it is
		// no slip.
		if recover() != nil {
			text, ok = "", false
		}
	}()
	bitmap, err := gozxing.NewBinaryBitmapFromImage(img)
	if err != nil {
		return "", false
	}
	r, err := qrcode.NewQRCodeReader().Decode(bitmap, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true})
	if err != nil {
		return "", false
	}
	return r.GetText(), true
}

// proxyPicture is the proxy of a photograph, decoded, and made ready for
// measuring.
func (s *Studio) proxyPicture(ctx context.Context, photo catalog.ID) (image.Image, *imaging.Photo, error) {
	path, err := s.Proxy(ctx, photo)
	if err != nil {
		return nil, nil, err
	}
	img, err := abandon(ctx, func() (image.Image, error) { return readProxy(path) })
	if err != nil {
		return nil, nil, err
	}
	pic, err := abandon(ctx, func() (*imaging.Photo, error) { return imaging.FromImage(img), nil })
	return img, pic, err
}

func readProxy(path string) (image.Image, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	img, err := jpeg.Decode(f)
	if err != nil {
		return nil, fmt.Errorf("the derived picture %s is damaged; delete the folder of derived pictures, they are made again: %w", path, err)
	}
	return img, nil
}
