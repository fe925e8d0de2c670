package finish

import (
	"encoding/binary"
	"math"
	"sync"
)

// SRGB returns an ICC profile of the sRGB colour space, made here from the
// published figures: primaries and white of IEC 61966-2-1:1999, adapted to the
// profile white D50 by the Bradford transform, as ICC.1:2001-04 (version 2.4)
// lays a matrix profile out.
func SRGB() []byte { return srgbOnce() }

var srgbOnce = sync.OnceValue(makeSRGB)

// D50 is the white of the profile connection space (ICC.1:2001-04, 6.1.3.2).
var d50 = [3]float64{0.9642, 1.0000, 0.8249}

// makeSRGB builds the profile.
func makeSRGB() []byte {
	columns := srgbColumns()
	curve := curveTag()
	type tag struct {
		sig  string
		data []byte
	}
	tags := []tag{
		{"desc", descTag("sRGB IEC61966-2.1, made by Pullbook")},
		{"cprt", textTag("No copyright is claimed; it may be used freely.")},
		{"wtpt", xyzTag(d50)},
		{"rXYZ", xyzTag(columns[0])}, {"gXYZ", xyzTag(columns[1])}, {"bXYZ", xyzTag(columns[2])},
		{"rTRC", curve}, {"gTRC", nil}, {"bTRC", nil}, // the three curves are one
	}
	head := make([]byte, 128)
	copy(head[8:], []byte{2, 0x40, 0, 0})
	copy(head[12:], "mntrRGB XYZ ")
	for i, v := range []uint16{2026, 1, 1, 0, 0, 0} {
		binary.BigEndian.PutUint16(head[24+2*i:], v)
	}
	copy(head[36:], "acsp")
	copy(head[68:], fixed(d50[0], d50[1], d50[2]))
	table := binary.BigEndian.AppendUint32(nil, uint32(len(tags)))
	offset := 128 + 4 + 12*len(tags)
	var body []byte
	curveAt := 0
	for _, t := range tags {
		at, size := offset+len(body), len(t.data)
		switch t.sig {
		case "rTRC":
			curveAt = at
		case "gTRC", "bTRC":
			at, size = curveAt, len(curve)
		}
		table = append(table, t.sig...)
		table = binary.BigEndian.AppendUint32(table, uint32(at))
		table = binary.BigEndian.AppendUint32(table, uint32(size))
		body = append(body, t.data...)
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
	}
	out := append(append(head, table...), body...)
	binary.BigEndian.PutUint32(out, uint32(len(out)))
	return out
}

// srgbColumns computes the colorants: the primaries scaled to the white, then
// adapted from D65 to D50.
func srgbColumns() [3][3]float64 {
	primaries := [3][2]float64{{.64, .33}, {.30, .60}, {.15, .06}}
	white := xyY(.3127, .3290)
	var m [3][3]float64 // rows X, Y, Z; columns r, g, b
	for c, p := range primaries {
		v := xyY(p[0], p[1])
		for r := range 3 {
			m[r][c] = v[r]
		}
	}
	scale := apply(inverse(m), white)
	adapt := bradford(white, d50)
	var out [3][3]float64
	for c := range 3 {
		out[c] = apply(adapt, [3]float64{m[0][c] * scale[c], m[1][c] * scale[c], m[2][c] * scale[c]})
	}
	return out
}

// xyY returns XYZ of a chromaticity at Y = 1.
func xyY(x, y float64) [3]float64 { return [3]float64{x / y, 1, (1 - x - y) / y} }

// bradford returns the linearised Bradford adaptation from one white to
// another (ICC.1:2010, annex E).
func bradford(from, to [3]float64) [3][3]float64 {
	b := [3][3]float64{{.8951, .2664, -.1614}, {-.7502, 1.7135, .0367}, {.0389, -.0685, 1.0296}}
	f, t := apply(b, from), apply(b, to)
	inv := inverse(b)
	var out [3][3]float64
	for r := range 3 {
		for c := range 3 {
			for k := range 3 {
				out[r][c] += inv[r][k] * t[k] / f[k] * b[k][c]
			}
		}
	}
	return out
}

// apply multiplies a matrix with a vector.
func apply(m [3][3]float64, v [3]float64) (out [3]float64) {
	for r := range 3 {
		for c := range 3 {
			out[r] += m[r][c] * v[c]
		}
	}
	return out
}

// inverse inverts a matrix by its cofactors.
func inverse(m [3][3]float64) (out [3][3]float64) {
	cof := func(r, c int) float64 {
		a, b, d, e := (r+1)%3, (r+2)%3, (c+1)%3, (c+2)%3
		return m[a][d]*m[b][e] - m[a][e]*m[b][d]
	}
	det := m[0][0]*cof(0, 0) + m[0][1]*cof(0, 1) + m[0][2]*cof(0, 2)
	for r := range 3 {
		for c := range 3 {
			out[c][r] = cof(r, c) / det
		}
	}
	return out
}

// fixed writes numbers as s15Fixed16.
func fixed(v ...float64) []byte {
	var out []byte
	for _, x := range v {
		out = binary.BigEndian.AppendUint32(out, uint32(int32(math.Round(x*65536))))
	}
	return out
}

func xyzTag(v [3]float64) []byte {
	return append([]byte("XYZ \x00\x00\x00\x00"), fixed(v[0], v[1], v[2])...)
}

func textTag(s string) []byte { return append([]byte("text\x00\x00\x00\x00"), s+"\x00"...) }

// descTag writes a textDescriptionType with its ASCII part only.
func descTag(s string) []byte {
	b := []byte("desc\x00\x00\x00\x00")
	b = binary.BigEndian.AppendUint32(b, uint32(len(s)+1))
	b = append(b, s+"\x00"...)
	return append(b, make([]byte, 4+4+2+1+67)...)
}

// curveTag writes the transfer function of IEC 61966-2-1 at 1024 points.
func curveTag() []byte {
	const n = 1024
	b := []byte("curv\x00\x00\x00\x00")
	b = binary.BigEndian.AppendUint32(b, n)
	for i := range n {
		v := float64(i) / (n - 1)
		lin := v / 12.92
		if v > .04045 {
			lin = math.Pow((v+.055)/1.055, 2.4)
		}
		b = binary.BigEndian.AppendUint16(b, uint16(math.Round(lin*65535)))
	}
	return b
}
