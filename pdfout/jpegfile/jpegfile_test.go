package jpegfile

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// picture writes a JPEG file with extra segments after its first marker.
func picture(t *testing.T, img image.Image, extra ...byte) string {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	data := append(append(append([]byte(nil), b.Bytes()[:2]...), extra...), b.Bytes()[2:]...)
	path := filepath.Join(t.TempDir(), "p.jpg")
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// exif is an APP1 segment with one orientation tag (CIPA DC-008).
func exif(orientation byte) []byte {
	tiff := []byte{'I', 'I', 42, 0, 8, 0, 0, 0, 1, 0, 0x12, 0x01, 3, 0, 1, 0, 0, 0, orientation, 0, 0, 0, 0, 0, 0, 0}
	seg := append([]byte("Exif\x00\x00"), tiff...)
	return append([]byte{0xFF, 0xE1, 0, byte(len(seg) + 2)}, seg...)
}

func TestRead(t *testing.T) {
	info, err := Read(picture(t, image.NewRGBA(image.Rect(0, 0, 30, 20)), exif(6)...))
	if err != nil {
		t.Fatal(err)
	}
	if info.Width != 30 || info.Height != 20 || info.Components != 3 || info.Orientation != 6 || !info.Turned() {
		t.Errorf("%+v", info)
	}
	grey, err := Read(picture(t, image.NewGray(image.Rect(0, 0, 8, 8))))
	if err != nil || grey.Components != 1 || grey.Orientation != 1 {
		t.Errorf("%+v, %v", grey, err)
	}
}

// TestUpright checks each orientation by where the EXIF standard puts the
// stored top-left corner: 1 top left, 2 top right, 3 bottom right, 4 bottom
// left, 5 left top, 6 right top, 7 right bottom, 8 left bottom.
func TestUpright(t *testing.T) {
	want := map[int][2]float64{1: {0, 0}, 2: {1, 0}, 3: {1, 1}, 4: {0, 1}, 5: {0, 0}, 6: {1, 0}, 7: {1, 1}, 8: {0, 1}}
	for o, w := range want {
		m := Info{Orientation: o}.Upright(0, 0, 1, 1)
		if m[4] != w[0] || m[5] != w[1] {
			t.Errorf("orientation %d: the first pixel lies at %v, %v, want %v", o, m[4], m[5], w)
		}
		// Rows run down in 1 to 4, across in 5 to 8; areas are kept.
		if across := m[2] != 0; across != (o >= 5) {
			t.Errorf("orientation %d: rows run the wrong way", o)
		}
		if math.Abs(math.Abs(m[0]*m[3]-m[1]*m[2])-1) > 1e-9 {
			t.Errorf("orientation %d changes the area", o)
		}
	}
}

func TestRefusalsAreSentences(t *testing.T) {
	dir := t.TempDir()
	for name, data := range map[string]string{
		"empty": "", "text": "hello", "cut": "\xff\xd8\xff\xe0\x00\x10JFIF", "lossless": "\xff\xd8\xff\xc3\x00\x0b\x08\x00\x08\x00\x08\x01\x01\x11\x00",
		"twelve bits": "\xff\xd8\xff\xc1\x00\x0b\x0c\x00\x08\x00\x08\x01\x01\x11\x00", "no size": "\xff\xd8\xff\xc0\x00\x0b\x08\x00\x00\x00\x00\x01\x01\x11\x00",
		"no picture": "\xff\xd8\xff\xd9", "cut after its head": "\xff\xd8\xff\xc0\x00\x0b\x08\x00\x08\x00\x08\x01\x01\x11\x00\xff\xda\x00\x08\x01\x01\x00\x00\x3f\x00abc",
		"too large": "\xff\xd8\xff\xc0\x00\x0b\x08\xff\xff\xff\xff\x01\x01\x11\x00\xff\xd9",
	} {
		path := filepath.Join(dir, "x.jpg")
		if err := os.WriteFile(path, []byte(data), 0o644); err != nil {
			t.Fatal(err)
		}
		_, err := Read(path)
		if err == nil || !strings.Contains(err.Error(), "x.jpg") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestStub: the standard library takes a stub for the picture it stands for.
func TestStub(t *testing.T) {
	in := Info{Width: 4000, Height: 3000, Components: 3}
	b := in.Stub("000042")
	cfg, err := jpeg.DecodeConfig(bytes.NewReader(b))
	if err != nil || cfg.Width != 4000 || cfg.Height != 3000 {
		t.Errorf("%+v, %v", cfg, err)
	}
	if name, ok := StubName(b); !ok || name != "000042" {
		t.Errorf("the stub is named %q", name)
	}
	if _, ok := StubName([]byte("\xff\xd8\xff\xe0\x00\x10JFIF")); ok {
		t.Error("a picture is taken for a stub")
	}
}

// TestAwkwardFiles reads a folder of damaged and unusual pictures, where it is
// at hand: none may panic.
func TestAwkwardFiles(t *testing.T) {
	files, err := filepath.Glob("../../../shared/decoder/*/*")
	if err != nil || len(files) == 0 {
		t.Skip("the folder of awkward pictures is not at hand")
	}
	ok := 0
	for _, f := range files {
		if st, err := os.Stat(f); err != nil || st.IsDir() {
			continue
		}
		if info, err := Read(f); err == nil {
			ok++
			if info.Width <= 0 || info.Height <= 0 {
				t.Errorf("%s: %+v", filepath.Base(f), info)
			}
		}
	}
	if ok == 0 {
		t.Error("not one of the pictures could be read")
	}
}
