package platesim

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/jpeg"
	"io"
	"math"
)

// space is the colour space of a file: a matrix from linear sRGB and a curve.
type space struct {
	name    string
	matrix  [3][3]float64 // linear sRGB to linear space
	d50     [3][3]float64 // linear space to XYZ under D50
	gamma   float64       // 0: the sRGB curve
	encoded []uint8       // by 16384 steps of light
}

// fileSpace builds a space by name; "" is sRGB without a profile. The matrices
// are computed from those of W3C CSS Color 4.
func fileSpace(name string) *space {
	s := &space{name: name, matrix: [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, d50: [3][3]float64{
		{0.4360657, 0.3851515, 0.1430784}, {0.2224932, 0.7168870, 0.0606198}, {0.0139239, 0.0970813, 0.7140994}}}
	switch name {
	case "Adobe RGB":
		s.gamma = 563.0 / 256
		s.matrix = [3][3]float64{{0.7151256, 0.2848744, 0}, {0, 1, 0}, {0, 0.0411619, 0.9588381}}
		s.d50 = [3][3]float64{{0.6097750, 0.2053000, 0.1492206}, {0.3111246, 0.6256532, 0.0632222}, {0.0194706, 0.0608791, 0.7447549}}
	case "Display P3":
		s.matrix = [3][3]float64{{0.8224620, 0.1775380, 0}, {0.0331942, 0.9668058, 0}, {0.0170826, 0.0723974, 0.9105199}}
		s.d50 = [3][3]float64{{0.5151464, 0.2920100, 0.1571392}, {0.2412003, 0.6922225, 0.0665771}, {-0.0010501, 0.0418783, 0.7842765}}
	}
	s.encoded = make([]uint8, 1<<14)
	for i := range s.encoded {
		s.encoded[i] = uint8(255*s.curve(float64(i)/float64(len(s.encoded)-1)) + 0.5)
	}
	return s
}

// curve is the code value 0..1 of a linear light 0..1.
func (s *space) curve(l float64) float64 {
	if s.gamma > 0 {
		return math.Pow(l, 1/s.gamma)
	}
	if l <= 0.0031308 {
		return 12.92 * l
	}
	return 1.055*math.Pow(l, 1/2.4) - 0.055
}

func (s *space) encode(lin [3]float64) (code [3]uint8) {
	top := float64(len(s.encoded) - 1)
	for i, m := range s.matrix {
		v := m[0]*lin[0] + m[1]*lin[1] + m[2]*lin[2]
		code[i] = s.encoded[int(math.Min(math.Max(v, 0), 1)*top+0.5)]
	}
	return code
}

// icc is the profile of the space as ICC.1:2001-04 (version 2) lays it out.
func (s *space) icc() []byte {
	tag := func(b ...[]byte) []byte { return bytes.Join(b, nil) }
	u32 := func(v uint32) []byte { return binary.BigEndian.AppendUint32(nil, v) }
	fix := func(v float64) []byte { return u32(uint32(int32(math.Round(v * 65536)))) }
	xyz := func(a, b, c float64) []byte { return tag([]byte("XYZ \x00\x00\x00\x00"), fix(a), fix(b), fix(c)) }
	curve := tag([]byte("curv\x00\x00\x00\x00"), u32(1024))
	for i := range 1024 {
		v := float64(i) / 1023
		lin := math.Pow((v+0.055)/1.055, 2.4)
		if v <= 0.04045 {
			lin = v / 12.92
		}
		if s.gamma > 0 {
			lin = math.Pow(v, s.gamma)
		}
		curve = binary.BigEndian.AppendUint16(curve, uint16(math.Round(lin*65535)))
	}
	name := "simulated " + s.name
	desc := tag([]byte("desc\x00\x00\x00\x00"), u32(uint32(len(name)+1)), []byte(name), make([]byte, 1+4+4+2+1+67))
	tags := []struct {
		sig  string
		body []byte
	}{
		{"desc", desc}, {"cprt", []byte("text\x00\x00\x00\x00none\x00")}, {"wtpt", xyz(0.9642, 1, 0.8249)},
		{"rXYZ", xyz(s.d50[0][0], s.d50[1][0], s.d50[2][0])}, {"gXYZ", xyz(s.d50[0][1], s.d50[1][1], s.d50[2][1])},
		{"bXYZ", xyz(s.d50[0][2], s.d50[1][2], s.d50[2][2])}, {"rTRC", curve}, {"gTRC", curve}, {"bTRC", curve},
	}
	head := make([]byte, 128)
	copy(head[8:], []byte{2, 0x20, 0, 0})
	copy(head[12:], "mntrRGB XYZ ")
	copy(head[24:], []byte{7, 0xea, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0})
	copy(head[36:], "acsp")
	copy(head[68:], xyz(0.9642, 1, 0.8249)[8:])
	table, data := u32(uint32(len(tags))), []byte{}
	at := 128 + 4 + 12*len(tags)
	for _, t := range tags {
		for len(data)%4 != 0 {
			data = append(data, 0)
		}
		table = append(table, tag([]byte(t.sig), u32(uint32(at+len(data))), u32(uint32(len(t.body))))...)
		data = append(data, t.body...)
	}
	all := tag(head, table, data)
	binary.BigEndian.PutUint32(all, uint32(len(all)))
	return all
}

// exif is an APP1 body with the orientation alone (Exif 2.32).
func exif(orientation int) []byte {
	return append([]byte("Exif\x00\x00MM\x00\x2a\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00"),
		byte(orientation), 0, 0, 0, 0, 0, 0)
}

// Encode writes a photograph as the JPEG file the conditions ask for: quality,
// profile and EXIF turn.
func Encode(w io.Writer, img image.Image, c Conditions) error {
	quality := c.Quality
	if quality == 0 {
		quality = 94
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: quality}); err != nil {
		return fmt.Errorf("encoding a simulated photograph: %w", err)
	}
	segment := func(marker byte, body []byte) []byte {
		n := len(body) + 2
		return append([]byte{0xff, marker, byte(n >> 8), byte(n)}, body...)
	}
	extra := []byte{}
	if c.Orientation > 0 {
		extra = append(extra, segment(0xe1, exif(c.Orientation))...)
	}
	if c.Profile != "" {
		body := append([]byte("ICC_PROFILE\x00\x01\x01"), fileSpace(c.Profile).icc()...)
		extra = append(extra, segment(0xe2, body)...)
	}
	for _, part := range [][]byte{b.Bytes()[:2], extra, b.Bytes()[2:]} {
		if _, err := w.Write(part); err != nil {
			return fmt.Errorf("writing a simulated photograph: %w", err)
		}
	}
	return nil
}
