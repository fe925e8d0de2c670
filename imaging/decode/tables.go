package decode

import (
	"image"

	"pullbook/imaging/colour"
)

// Brightness of YCbCr is looked up in quarter codes, so that nothing is lost
// to rounding on the way from Y, Cb, Cr to red, green, blue. The index runs
// from -256 to 512 codes: blue leaves 0..255 by up to 227.
const (
	quarter  = 4
	fineBase = 256 * quarter
	fineLen  = 768 * quarter
)

// fine is a curve by quarter codes, clamped at both ends.
type fine [fineLen]float32

func fineTable(curve func(float64) float64, weight float64) *fine {
	t := new(fine)
	for i := range t {
		v := float64(i-fineBase) / (255 * quarter)
		t[i] = float32(weight * curve(min(max(v, 0), 1)))
	}
	return t
}

// codes is a curve by whole codes, 256 or 65536 of them.
func codes(n int, curve func(float64) float64, weight float64) []float32 {
	t := make([]float32, n)
	for i := range t {
		t[i] = float32(weight * curve(float64(i)/float64(n-1)))
	}
	return t
}

// chroma holds what Cb and Cr add to red, green and blue, in quarter codes,
// and how Y becomes quarter codes: (Y*gain)>>16 + base.
type chroma struct {
	rCr, gCr, gCb, bCb [256]int32
	gain, base         int32
}

// chromaTables builds the tables of JFIF (ITU-T T.871) or, for video, of
// BT.601 with codes 16..235, which lossy WebP uses (RFC 9649).
func chromaTables(video bool) *chroma {
	c := &chroma{gain: quarter << 16, base: fineBase}
	k := 1.0
	if video {
		k = 255.0 / 224.0
		gain := quarter * 255.0 / 219.0
		c.gain = int32(gain * 65536)
		c.base = fineBase - int32(16*gain+0.5)
	}
	round := func(v float64) int32 {
		if v < 0 {
			return -int32(-v*quarter + 0.5)
		}
		return int32(v*quarter + 0.5)
	}
	for i := range 256 {
		d := k * float64(i-128)
		c.rCr[i] = round(1.402 * d)
		c.gCr[i] = round(-0.714136 * d)
		c.gCb[i] = round(-0.344136 * d)
		c.bCb[i] = round(1.772 * d)
	}
	return c
}

// chromaStep says by how many bits x and y are shifted to reach the chroma of
// a pixel.
func chromaStep(r image.YCbCrSubsampleRatio) (xs, ys uint) {
	switch r {
	case image.YCbCrSubsampleRatio422:
		return 1, 0
	case image.YCbCrSubsampleRatio420:
		return 1, 1
	case image.YCbCrSubsampleRatio440:
		return 0, 1
	case image.YCbCrSubsampleRatio411:
		return 2, 0
	case image.YCbCrSubsampleRatio410:
		return 2, 1
	}
	return 0, 0
}

// tables hold everything needed to turn code values of one picture to light:
// each channel's curve, weighted.
type tables struct {
	chroma *chroma
	fine   [3]*fine
	whole  [3][]float32
}

// newTables builds the curves of a picture with the weights given; a grey one
// has a single curve and no weights.
func (p *Picture) newTables(weights colour.Vector) *tables {
	t := &tables{}
	decode := p.Profile.Decode
	switch p.img.(type) {
	case *image.YCbCr:
		t.chroma = chromaTables(p.video)
		for i := range t.fine {
			t.fine[i] = fineTable(decode[i], weights[i])
		}
	case *image.Gray:
		t.whole[0] = codes(1<<8, decode[0], 1)
	case *image.Gray16:
		t.whole[0] = codes(1<<16, decode[0], 1)
	case *image.RGBA64:
		for i := range t.whole {
			t.whole[i] = codes(1<<16, decode[i], weights[i])
		}
	default:
		for i := range t.whole {
			t.whole[i] = codes(1<<8, decode[i], weights[i])
		}
	}
	return t
}
