package platesim

import (
	"image"
	"math"
	"math/rand/v2"
)

// blur softens the light as lens and focus do: a Gaussian.
func (s *shot) blur() {
	if s.c.Blur <= 0 {
		return
	}
	radius := int(math.Ceil(3.2 * s.c.Blur))
	taps := make([]float32, 2*radius+1)
	sum := 0.0
	for i := range taps {
		d := float64(i-radius) / s.c.Blur
		v := math.Exp(-d * d / 2)
		taps[i] = float32(v)
		sum += v
	}
	for i := range taps {
		taps[i] /= float32(sum)
	}
	w, h := s.c.Width, s.c.Height
	tmp := make([]float32, w*h)
	for c := range s.light {
		src := s.light[c]
		parallel(h, func(y int) { softenRow(tmp[y*w:(y+1)*w], src[y*w:(y+1)*w], taps, radius) })
		parallel(h, func(y int) {
			dst := src[y*w : (y+1)*w]
			clear(dst)
			for i, k := range taps {
				row := tmp[min(max(y+i-radius, 0), h-1)*w:][:w]
				for x, v := range row {
					dst[x] += k * v
				}
			}
		})
	}
}

func softenRow(dst, src, taps []float32, radius int) {
	w := len(src)
	for x := range dst {
		var v float32
		if x >= radius && x < w-radius {
			for i, s := range src[x-radius : x+radius+1] {
				v += taps[i] * s
			}
		} else {
			for i, k := range taps {
				v += k * src[min(max(x+i-radius, 0), w-1)]
			}
		}
		dst[x] = v
	}
}

// develop adds the sensor's noise, goes to the file's colour space and rounds
// to 8 bits, in stored orientation.
func (s *shot) develop(seed uint64) *image.RGBA {
	w, h := s.c.Width, s.c.Height
	sw, sh := s.c.storedSize()
	out := image.NewRGBA(image.Rect(0, 0, sw, sh))
	space := fileSpace(s.c.Profile)
	// Noise in codes at white, turned to linear light: the slope of the sRGB
	// curve at white is 2.27 / 255 a code.
	sigma := s.c.Noise * 2.27 / 255
	parallel(h, func(y int) {
		r := rand.New(rand.NewPCG(seed, uint64(y)))
		for x := range w {
			i := y*w + x
			var lin [3]float64
			for c := range lin {
				v := float64(s.light[c][i])
				// Photon noise grows with the root of the light, over a floor.
				lin[c] = v + sigma*math.Sqrt(0.08+0.92*math.Max(v, 0))*r.NormFloat64()
			}
			code := space.encode(lin)
			ux, uy := s.c.stored(float64(x), float64(y))
			d := out.Pix[out.PixOffset(int(ux), int(uy)):][:4:4]
			d[0], d[1], d[2], d[3] = code[0], code[1], code[2], 255
		}
	})
	return out
}
