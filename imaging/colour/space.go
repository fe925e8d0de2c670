package colour

// Chromaticity is a CIE 1931 x and y.
type Chromaticity struct{ X, Y float64 }

// White points. D50 is given twice: from its four-figure chromaticity, and as
// the profile connection space of ICC.1:2022 rounds it.
var (
	D65    = Chromaticity{0.3127, 0.3290}
	D50    = Chromaticity{0.3457, 0.3585}
	PCSD50 = Vector{0.9642, 1, 0.8249}
)

// XYZ returns the tristimulus values of the chromaticity at Y = 1.
func (c Chromaticity) XYZ() Vector {
	return Vector{c.X / c.Y, 1, (1 - c.X - c.Y) / c.Y}
}

// Space is an RGB working space: three primaries, a white point and a curve
// from code value 0..1 to linear light 0..1.
type Space struct {
	Name           string
	R, G, B, White Chromaticity
	Decode         func(float64) float64
}

// The working spaces that cameras and scanners embed. Primaries after
// IEC 61966-2-1 (sRGB), Adobe RGB (1998) and W3C CSS Color 4 (Display P3).
var (
	SRGB = Space{"sRGB", Chromaticity{0.64, 0.33}, Chromaticity{0.30, 0.60},
		Chromaticity{0.15, 0.06}, D65, DecodeSRGB}
	AdobeRGB = Space{"Adobe RGB", Chromaticity{0.64, 0.33}, Chromaticity{0.21, 0.71},
		Chromaticity{0.15, 0.06}, D65, DecodeAdobe}
	DisplayP3 = Space{"Display P3", Chromaticity{0.680, 0.320}, Chromaticity{0.265, 0.690},
		Chromaticity{0.150, 0.060}, D65, DecodeSRGB}
)

// ToXYZ returns the matrix from linear RGB to XYZ under the space's own white.
func (s Space) ToXYZ() Matrix {
	r, g, b := s.R.XYZ(), s.G.XYZ(), s.B.XYZ()
	m := Matrix{{r[0], g[0], b[0]}, {r[1], g[1], b[1]}, {r[2], g[2], b[2]}}
	inv, _ := m.Inverse()
	scale := inv.Apply(s.White.XYZ())
	for i := range m {
		for j := range m[i] {
			m[i][j] *= scale[j]
		}
	}
	return m
}

// bradford holds the cone responses of the Bradford transform (Lam 1985, as
// used by ICC.1:2022 annex E).
var bradford = Matrix{
	{0.8951, 0.2664, -0.1614},
	{-0.7502, 1.7135, 0.0367},
	{0.0389, -0.0685, 1.0296},
}

// Adapt returns the Bradford matrix that carries XYZ seen under the white from
// to XYZ under the white to.
func Adapt(from, to Vector) Matrix {
	f, t := bradford.Apply(from), bradford.Apply(to)
	inv, _ := bradford.Inverse()
	scale := Matrix{{t[0] / f[0], 0, 0}, {0, t[1] / f[1], 0}, {0, 0, t[2] / f[2]}}
	return inv.Mul(scale).Mul(bradford)
}

// ToD50 returns the matrix from linear RGB to XYZ adapted to D50.
func (s Space) ToD50() Matrix {
	return Adapt(s.White.XYZ(), D50.XYZ()).Mul(s.ToXYZ())
}

// ToSRGB returns the matrix from linear RGB of this space to linear sRGB.
// Values may fall outside 0..1 for colours that sRGB cannot hold.
func (s Space) ToSRGB() Matrix {
	inv, _ := SRGB.ToXYZ().Inverse()
	return inv.Mul(Adapt(s.White.XYZ(), SRGB.White.XYZ())).Mul(s.ToXYZ())
}
