package colour

import "math"

// DecodeSRGB turns an sRGB code value 0..1 into linear light 0..1.
// Values outside are carried on with the sign kept, as CSS Color 4 does.
// Source: IEC 61966-2-1:1999.
func DecodeSRGB(v float64) float64 {
	if v < 0 {
		return -DecodeSRGB(-v)
	}
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// EncodeSRGB turns linear light 0..1 into an sRGB code value 0..1.
// Source: IEC 61966-2-1:1999.
func EncodeSRGB(l float64) float64 {
	if l < 0 {
		return -EncodeSRGB(-l)
	}
	if l <= 0.0031308 {
		return 12.92 * l
	}
	return 1.055*math.Pow(l, 1/2.4) - 0.055
}

// adobeGamma is the exponent of Adobe RGB (1998): 563/256, no straight part.
const adobeGamma = 563.0 / 256.0

// DecodeAdobe turns an Adobe RGB (1998) code value 0..1 into linear light.
func DecodeAdobe(v float64) float64 {
	if v < 0 {
		return -DecodeAdobe(-v)
	}
	return math.Pow(v, adobeGamma)
}
