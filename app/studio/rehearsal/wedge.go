package rehearsal

import (
	"image"
	"math"
	"math/rand/v2"
)

// Camera is what a camera does to coded values beyond the sRGB curve.
type Camera func(u float64) float64

// Brightening is a camera that lifts the middle tones to make pictures pleasing.
func Brightening(u float64) float64 { return math.Pow(u, 0.85) }

// Through puts the channels of a picture through a camera's curve.
func (c Camera) Through(img *image.RGBA) *image.RGBA {
	var table [256]uint8
	for i := range table {
		table[i] = uint8(min(max(255*c(float64(i)/255), 0), 255) + 0.5)
	}
	out := image.NewRGBA(img.Rect)
	for i, v := range img.Pix {
		if out.Pix[i] = v; i%4 != 3 {
			out.Pix[i] = table[v]
		}
	}
	return out
}

// Wedge photographs a grey wedge of the given densities lying across the
// picture, under a lamp that falls off from left to right; without densities,
// the blank sheet under the same lamp. White comes out at 0.85 of full light.
func Wedge(w, h int, densities []float64, c Camera) *image.RGBA {
	r := rand.New(rand.NewPCG(uint64(w), 12))
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	n := len(densities)
	for y := range h {
		for x := range w {
			u, v := float64(x)/float64(w), float64(y)/float64(h)
			paper := 0.2
			switch i := int(math.Floor((u - 0.1) / 0.8 * float64(n))); {
			case n == 0:
				paper = 0.85
			case i >= 0 && i < n && math.Abs(v-0.5) < 0.07:
				paper = math.Pow(10, -densities[i])
			case math.Abs(u-0.5) < 0.44 && math.Abs(v-0.5) < 0.12:
				paper = 0.7 // the card it is mounted on
			}
			light := 0.85*paper*(1.02-0.06*u) + 0.0006*r.NormFloat64()
			code := 12.92 * light
			if light > 0.0031308 {
				code = 1.055*math.Pow(light, 1/2.4) - 0.055
			}
			b := uint8(min(max(255*code, 0), 255) + 0.5)
			o := img.PixOffset(x, y)
			img.Pix[o], img.Pix[o+1], img.Pix[o+2], img.Pix[o+3] = b, b, b, 255
		}
	}
	if c == nil {
		return img
	}
	return c.Through(img)
}
