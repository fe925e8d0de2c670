package colour

import "math"

// Lab is a colour in CIE 1976 L*a*b* (ISO/CIE 11664-4).
type Lab struct{ L, A, B float64 }

// ToLab turns XYZ (Y of white = 1) into Lab against the white given.
func ToLab(xyz, white Vector) Lab {
	fx, fy, fz := labF(xyz[0]/white[0]), labF(xyz[1]/white[1]), labF(xyz[2]/white[2])
	return Lab{116*fy - 16, 500 * (fx - fy), 200 * (fy - fz)}
}

// labF is the cube root with its straight foot, with the exact fractions
// epsilon = 216/24389 and kappa = 24389/27.
func labF(t float64) float64 {
	const epsilon, kappa = 216.0 / 24389.0, 24389.0 / 27.0
	if t > epsilon {
		return math.Cbrt(t)
	}
	return (kappa*t + 16) / 116
}

// LabD50 turns a code value triple 0..1 of the space into Lab under D50, the
// viewing light of the graphic trade.
func (s Space) LabD50(code Vector) Lab {
	lin := Vector{s.Decode(code[0]), s.Decode(code[1]), s.Decode(code[2])}
	return ToLab(s.ToD50().Apply(lin), D50.XYZ())
}
