package decode

import (
	"image"
	"math"

	"pullbook/imaging/colour"
)

// Stored returns the pixels as the file holds them where these are already what
// [Picture.RGBA] would show at full size: upright, of the YCbCr of JFIF, in
// sRGB. It returns nil for every other picture. They are not to be altered.
func (p *Picture) Stored() *image.YCbCr {
	img, ok := p.img.(*image.YCbCr)
	if !ok || p.video || p.Orientation > 1 || !isSRGB(&p.Profile) {
		return nil
	}
	return img
}

// isSRGB reports whether a profile changes nothing on the way to sRGB: its
// curves lie within a tenth of a code of that space's, its matrix is one.
func isSRGB(p *colour.Profile) bool {
	for i, row := range p.ToSRGB {
		for j, v := range row {
			want := 0.0
			if i == j {
				want = 1
			}
			if math.Abs(v-want) > 1e-3 {
				return false
			}
		}
	}
	for code := range 256 {
		v := float64(code) / 255
		slope := (colour.SRGB.Decode(math.Min(v+0.002, 1)) - colour.SRGB.Decode(math.Max(v-0.002, 0))) / 0.004
		for _, decode := range p.Decode {
			if decode == nil || math.Abs(decode(v)-colour.SRGB.Decode(v)) > slope*0.1/255+1e-9 {
				return false
			}
		}
	}
	return true
}
