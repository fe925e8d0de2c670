package imaging

import (
	"math"
	"slices"
)

// Flattened divides a photograph by one of a blank sheet taken with the camera
// and lamps left as they were: what remains is even light, and the margins
// need only say how bright. Both must be of one size and way up.
func (p *Photo) Flattened(blank *Photo) (*Photo, error) {
	if blank.Width != p.Width || blank.Height != p.Height {
		return nil, refuse("The photograph of the blank sheet is %d x %d pixels, this one %d x %d; take both with the camera left as it is.", blank.Width, blank.Height, p.Width, p.Height)
	}
	const k = 16
	field := blank.lum.shrink(k)
	// Specks and fibres are no light: a middle value of nine, then smooth.
	field = medianOfNine(field).blur(2.5)
	var mean float64
	for _, v := range field.v {
		mean += float64(v) / float64(len(field.v))
	}
	if mean < 0.02 {
		return nil, refuse("The photograph of the blank sheet is black.")
	}
	out := &Photo{Path: p.Path, Width: p.Width, Height: p.Height, Orientation: p.Orientation, Bits: p.Bits, Grey: p.Grey, Profile: p.Profile, tint: p.tint, clipped: p.clipped}
	out.lum = newPlane(p.Width, p.Height)
	strips(p.Height, func(_, lo, hi int) {
		for y := lo; y < hi; y++ {
			src, dst := p.lum.row(y), out.lum.row(y)
			for x := range dst {
				e := field.bilinear((float64(x)-(k-1)/2.0)/k, (float64(y)-(k-1)/2.0)/k)
				dst[x] = src[x] * float32(mean) / max(e, float32(0.05*mean))
			}
		}
	})
	return out, nil
}

// medianOfNine is the middle value of each sample and its neighbours.
func medianOfNine(p *plane) *plane {
	q := newPlane(p.w, p.h)
	strips(p.h, func(_, lo, hi int) {
		var v [9]float32
		for y := lo; y < hi; y++ {
			for x := 0; x < p.w; x++ {
				n := 0
				for dy := -1; dy <= 1; dy++ {
					for dx := -1; dx <= 1; dx++ {
						v[n] = p.v[min(max(y+dy, 0), p.h-1)*p.w+min(max(x+dx, 0), p.w-1)]
						n++
					}
				}
				slices.Sort(v[:])
				q.v[y*p.w+x] = v[4]
			}
		}
	})
	return q
}

// Repeatability is what photographing one impression several times, laid anew
// each time, says of a score.
type Repeatability struct {
	N     int
	Mean  float64
	SD    float64 // repeatability standard deviation
	Limit float64 // two results differ by more one time in twenty (ISO 5725-6:1994, 2.8 SD)
	Ratio float64 // SD over the mean stated uncertainty; above 1 the statement was too bold
}

// Repeat sums up a score measured on several photographs of one impression.
// Fewer than two give a zero SD and NaN ratio.
func Repeat(v []Value) Repeatability {
	r := Repeatability{N: len(v), Ratio: math.NaN()}
	var u float64
	for _, x := range v {
		r.Mean += x.V / float64(len(v))
		u += x.U / float64(len(v))
	}
	if len(v) < 2 {
		return r
	}
	for _, x := range v {
		r.SD += (x.V - r.Mean) * (x.V - r.Mean)
	}
	r.SD = math.Sqrt(r.SD / float64(len(v)-1))
	r.Limit = 2.8 * r.SD
	if u > 0 {
		r.Ratio = r.SD / u
	}
	return r
}
