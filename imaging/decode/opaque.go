package decode

import (
	"errors"
	"fmt"
	"image"
	"image/draw"
)

var errCMYK = errors.New("CMYK picture")

// opaque brings a decoded picture to one of the five opaque types of Picture.
// Transparent pixels are laid on white, as paper would be.
func opaque(img image.Image) (image.Image, error) {
	switch m := img.(type) {
	case *image.YCbCr, *image.Gray, *image.Gray16:
		return m, nil
	case *image.RGBA:
		if m.Opaque() {
			return m, nil
		}
		return overWhite(m), nil
	case *image.RGBA64:
		if m.Opaque() {
			return m, nil
		}
		return overWhite64(m), nil
	case *image.NRGBA:
		if m.Opaque() {
			return &image.RGBA{Pix: m.Pix, Stride: m.Stride, Rect: m.Rect}, nil
		}
		return overWhite(m), nil
	case *image.NRGBA64:
		if m.Opaque() {
			return &image.RGBA64{Pix: m.Pix, Stride: m.Stride, Rect: m.Rect}, nil
		}
		return overWhite64(m), nil
	case *image.NYCbCrA:
		if opaqueAlpha(m) {
			return &m.YCbCr, nil
		}
		return overWhite(m), nil
	case *image.Paletted:
		return overWhite(m), nil
	case *image.CMYK:
		return nil, errCMYK
	}
	return nil, fmt.Errorf("unexpected picture type %T", img)
}

func opaqueAlpha(m *image.NYCbCrA) bool {
	for _, a := range m.A {
		if a != 255 {
			return false
		}
	}
	return true
}

func overWhite(img image.Image) *image.RGBA {
	out := image.NewRGBA(img.Bounds())
	draw.Draw(out, out.Bounds(), image.White, image.Point{}, draw.Src)
	draw.Draw(out, out.Bounds(), img, img.Bounds().Min, draw.Over)
	return out
}

func overWhite64(img image.Image) *image.RGBA64 {
	out := image.NewRGBA64(img.Bounds())
	draw.Draw(out, out.Bounds(), image.White, image.Point{}, draw.Src)
	draw.Draw(out, out.Bounds(), img, img.Bounds().Min, draw.Over)
	return out
}
