package decode

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"testing"
)

// stored writes a JPEG file of a gradient, with an EXIF turn where o is not 0,
// and reads it.
func stored(t *testing.T, o byte) *Picture {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 61, 43))
	for y := range 43 {
		for x := range 61 {
			img.SetRGBA(x, y, color.RGBA{uint8(4 * x), uint8(5 * y), uint8(2*x + 2*y), 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	file := b.Bytes()
	if o != 0 {
		exif := append([]byte("Exif\x00\x00"), exifTurn(o)...)
		head := append([]byte{0xff, 0xd8, 0xff, 0xe1, byte((len(exif) + 2) >> 8), byte(len(exif) + 2)}, exif...)
		file = append(head, file[2:]...)
	}
	name := filepath.Join(t.TempDir(), "gradient.jpg")
	if err := os.WriteFile(name, file, 0o600); err != nil {
		t.Fatal(err)
	}
	p, err := Read(context.Background(), name)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// What is given as it stands is what is shown, and what has to be turned or
// brought to sRGB is not given.
func TestStored(t *testing.T) {
	p := stored(t, 0)
	img, shown := p.Stored(), p.RGBA(0)
	if img == nil {
		t.Fatal("a plain photograph is not given as it stands")
	}
	if img.Rect != shown.Rect {
		t.Fatalf("%v, shown %v", img.Rect, shown.Rect)
	}
	worst := 0.0
	for y := range 43 {
		for x := range 61 {
			r, g, b, _ := img.At(x, y).RGBA()
			s := shown.RGBAAt(x, y)
			for _, d := range []float64{float64(r>>8) - float64(s.R), float64(g>>8) - float64(s.G), float64(b>>8) - float64(s.B)} {
				worst = math.Max(worst, math.Abs(d))
			}
		}
	}
	if worst > 1 {
		t.Errorf("they differ by %v codes", worst)
	}
	for o := byte(2); o <= 8; o++ {
		if stored(t, o).Stored() != nil {
			t.Errorf("turned by %d it is given as it stands", o)
		}
	}
	for _, name := range []string{"made_here/icc_adobe_rgb_compatible.jpg", "made_here/icc_srgb.png"} {
		p, err := Read(context.Background(), filepath.Join(material(t, "decoder"), name))
		if err != nil {
			t.Fatal(err)
		}
		if p.Stored() != nil {
			t.Errorf("%s is given as it stands", name)
		}
	}
}
