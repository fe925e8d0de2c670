package colour

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"unicode/utf16"
)

// Profile is what an embedded ICC profile says, as far as it is used here:
// three curves and a matrix. Source: ICC.1:2022.
type Profile struct {
	Name string // a recognised space, or the profile's own description
	// Honoured is false when the profile works by tables (LUT) or holds none of
	// the curves needed: pixels are then read as sRGB and the name says whose
	// they were.
	Honoured bool
	Grey     bool
	// Decode turns code values 0..1 of red, green, blue into linear light.
	Decode [3]func(float64) float64
	// Luminance weighs linear red, green, blue; the weights add up to 1.
	Luminance Vector
	// ToSRGB carries linear RGB of the profile to linear sRGB.
	ToSRGB Matrix
}

// Assumed is the profile of a picture that carries none.
func Assumed() Profile {
	p := profileOf(SRGB)
	p.Name = "assumed sRGB"
	return p
}

func profileOf(s Space) Profile {
	return Profile{
		Name: s.Name, Honoured: true,
		Decode:    [3]func(float64) float64{s.Decode, s.Decode, s.Decode},
		Luminance: Vector(s.ToXYZ()[1]),
		ToSRGB:    s.ToSRGB(),
	}
}

// ErrProfile is returned for bytes that are no ICC profile.
var ErrProfile = errors.New("not an ICC profile")

// maxTags bounds the tag table; real profiles have about twenty tags.
const maxTags = 200

// ReadProfile reads an ICC profile. A valid profile of a kind that cannot be
// honoured (tables only, CMYK, Lab) comes back with Honoured false and no
// error; its curves are then those of sRGB.
func ReadProfile(b []byte) (Profile, error) {
	if len(b) < 132 || !bytes.Equal(b[36:40], []byte("acsp")) {
		return Profile{}, ErrProfile
	}
	tags := tagTable(b)
	name := description(tags["desc"])
	if name == "" {
		name = "unnamed profile"
	}
	switch string(b[16:20]) {
	case "GRAY":
		if curve, ok := readCurve(tags["kTRC"]); ok {
			return greyProfile(curve), nil
		}
	case "RGB ":
		if p, ok := matrixProfile(tags, name); ok {
			return p, nil
		}
	}
	p := Assumed()
	p.Name, p.Honoured = name, false
	return p, nil
}

// tagTable returns the tags by their four letters; entries that point outside
// the profile are left out.
func tagTable(b []byte) map[string][]byte {
	count := binary.BigEndian.Uint32(b[128:])
	tags := map[string][]byte{}
	for i := uint64(0); i < uint64(min(count, maxTags)); i++ {
		at := 132 + 12*i
		if at+12 > uint64(len(b)) {
			break
		}
		offset := uint64(binary.BigEndian.Uint32(b[at+4:]))
		size := uint64(binary.BigEndian.Uint32(b[at+8:]))
		if offset+size <= uint64(len(b)) {
			tags[string(b[at:at+4])] = b[offset : offset+size]
		}
	}
	return tags
}

func greyProfile(curve func(float64) float64) Profile {
	p := profileOf(SRGB)
	p.Grey = true
	p.Decode = [3]func(float64) float64{curve, curve, curve}
	p.Name = "grey, own curve"
	if sameCurve(curve, DecodeSRGB) {
		p.Name = "grey, sRGB curve"
	} else if g, ok := pureGamma(curve); ok {
		p.Name = fmt.Sprintf("grey, gamma %.3g", g)
	}
	return p
}

// matrixProfile reads the three-curves-and-a-matrix kind and gives the name of
// a known space to what has its colours and its curve.
func matrixProfile(tags map[string][]byte, name string) (Profile, bool) {
	p := Profile{Name: name, Honoured: true}
	var toPCS Matrix
	for i, c := range []string{"r", "g", "b"} {
		curve, ok := readCurve(tags[c+"TRC"])
		if !ok {
			return Profile{}, false
		}
		p.Decode[i] = curve
		col, ok := readXYZ(tags[c+"XYZ"])
		if !ok {
			return Profile{}, false
		}
		for row := range col {
			toPCS[row][i] = col[row]
		}
	}
	for _, s := range []Space{SRGB, AdobeRGB, DisplayP3} {
		if nearMatrix(toPCS, s.ToD50()) && sameCurve(p.Decode[0], s.Decode) &&
			sameCurve(p.Decode[1], s.Decode) && sameCurve(p.Decode[2], s.Decode) {
			return profileOf(s), true
		}
	}
	y := toPCS[1]
	sum := y[0] + y[1] + y[2]
	back, ok := SRGB.ToD50().Inverse()
	if !ok || sum < 0.5 || sum > 2 {
		return Profile{}, false
	}
	p.Luminance = Vector{y[0] / sum, y[1] / sum, y[2] / sum}
	p.ToSRGB = back.Mul(toPCS)
	return p, true
}

// nearMatrix allows for the rounding of profiles to 1/65536 and for makers who
// adapted with another matrix than Bradford's.
func nearMatrix(a, b Matrix) bool {
	for i := range a {
		for j := range a[i] {
			if math.Abs(a[i][j]-b[i][j]) > 0.004 {
				return false
			}
		}
	}
	return true
}

// sameCurve compares two curves to a third of an 8-bit code at mid-scale.
func sameCurve(a, b func(float64) float64) bool {
	for _, v := range []float64{0.02, 0.05, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9, 1} {
		if d := math.Abs(a(v) - b(v)); !(d < 0.0025) {
			return false
		}
	}
	return true
}

func pureGamma(curve func(float64) float64) (float64, bool) {
	g := math.Log(curve(0.5)) / math.Log(0.5)
	if math.IsNaN(g) || g < 0.5 || g > 4 {
		return 0, false
	}
	return g, sameCurve(curve, func(v float64) float64 { return math.Pow(v, g) })
}

// readXYZ reads an XYZType tag: three s15Fixed16 numbers.
func readXYZ(b []byte) (Vector, bool) {
	if len(b) < 20 || string(b[:4]) != "XYZ " {
		return Vector{}, false
	}
	return Vector{fixed(b[8:]), fixed(b[12:]), fixed(b[16:])}, true
}

func fixed(b []byte) float64 {
	return float64(int32(binary.BigEndian.Uint32(b))) / 65536
}

// description reads the profile's name from a v2 "desc" or v4 "mluc" tag.
func description(b []byte) string {
	if len(b) < 12 {
		return ""
	}
	switch string(b[:4]) {
	case "desc":
		n := uint64(binary.BigEndian.Uint32(b[8:]))
		if n == 0 || 12+n > uint64(len(b)) {
			return ""
		}
		return printable(string(bytes.TrimRight(b[12:12+n], "\x00")))
	case "mluc":
		if len(b) < 28 {
			return ""
		}
		n, at := uint64(binary.BigEndian.Uint32(b[20:])), uint64(binary.BigEndian.Uint32(b[24:]))
		if at+n > uint64(len(b)) {
			return ""
		}
		var units []uint16
		for i := at; i+1 < at+n; i += 2 {
			units = append(units, binary.BigEndian.Uint16(b[i:]))
		}
		return printable(string(utf16.Decode(units)))
	}
	return ""
}

// printable keeps a name short and free of control characters, for it is shown
// in reports.
func printable(s string) string {
	var out []rune
	for _, r := range s {
		if r >= ' ' && r != 0x7f && r != 0xfffd && len(out) < 80 {
			out = append(out, r)
		}
	}
	return string(out)
}
