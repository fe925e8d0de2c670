package xmp

import (
	"bytes"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"
)

// The bare picture is the same picture, to the last pixel, with nothing left
// of what was said of it.
func TestBare(t *testing.T) {
	src := picture(t)
	said := bytes.Join([][]byte{{0xff, 0xd8}, segment(0xe1, append(bytes.Clone(exifMark), "made up place"...)), segment(0xe2, []byte("ICC_PROFILE\x00made up")),
		segment(0xe2, []byte("MPF\x00made up")), segment(0xed, []byte("Photoshop 3.0\x00made up")), segment(0xfe, []byte("made up comment")), src[2:], []byte("after the end")}, nil)
	var marked bytes.Buffer
	if err := Copy(&marked, bytes.NewReader(said), Fields{Title: "The Weir"}); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := Bare(&out, &marked); err != nil {
		t.Fatal(err)
	}
	want := bytes.Join([][]byte{{0xff, 0xd8}, segment(0xe2, []byte("ICC_PROFILE\x00made up")), src[2:]}, nil)
	if !bytes.Equal(out.Bytes(), want) {
		t.Errorf("%d bytes, want %d: %.300q", out.Len(), len(want), out.Bytes())
	}
	for name, broken := range map[string][]byte{"empty": nil, "png": []byte("\x89PNG"), "cut off": src[:len(src)-2], "cut in the head": src[:30], "no picture": {0xff, 0xd8, 0xff, 0xd9}} {
		if err := Bare(&bytes.Buffer{}, bytes.NewReader(broken)); err == nil {
			t.Errorf("%s is taken for a picture", name)
		}
	}
}

// Photographs of many cameras and programs: what can be read is the same
// picture afterwards, whether coded at once or by and by.
func TestBareOfManyKinds(t *testing.T) {
	names, err := filepath.Glob(filepath.Join("..", "..", "..", "..", "shared", "decoder", "*", "*.jp*g"))
	if err != nil {
		t.Fatal(err)
	}
	if len(names) == 0 {
		t.Skip("the shared files for decoders are not here; nothing was checked")
	}
	if testing.Short() {
		t.Skip("the decoding of many files is left out of a short run")
	}
	same := 0
	for _, name := range names {
		raw, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		if Bare(&out, bytes.NewReader(raw)) != nil {
			continue
		}
		before, errBefore := jpeg.Decode(bytes.NewReader(raw))
		after, errAfter := jpeg.Decode(&out)
		if (errBefore == nil) != (errAfter == nil) {
			t.Errorf("%s: %v before, %v after", filepath.Base(name), errBefore, errAfter)
		}
		if errBefore == nil && errAfter == nil {
			same++
			if !samePixels(before, after) {
				t.Errorf("%s became another picture", filepath.Base(name))
			}
		}
	}
	t.Logf("%d of %d files are the same pictures", same, len(names))
	if same < 10 {
		t.Errorf("only %d files could be compared", same)
	}
}

func samePixels(a, b image.Image) bool {
	switch a := a.(type) {
	case *image.YCbCr:
		b, ok := b.(*image.YCbCr)
		return ok && bytes.Equal(a.Y, b.Y) && bytes.Equal(a.Cb, b.Cb) && bytes.Equal(a.Cr, b.Cr)
	case *image.Gray:
		b, ok := b.(*image.Gray)
		return ok && bytes.Equal(a.Pix, b.Pix)
	case *image.CMYK:
		b, ok := b.(*image.CMYK)
		return ok && bytes.Equal(a.Pix, b.Pix)
	case *image.RGBA:
		b, ok := b.(*image.RGBA)
		return ok && bytes.Equal(a.Pix, b.Pix)
	}
	return false
}

// FuzzBare strips any bytes: they are refused, or what is left ends with the
// picture, says nothing, and is not changed by stripping it again.
func FuzzBare(f *testing.F) {
	f.Add(picture(f))
	f.Add([]byte("\xff\xd8\xff\xda\x00\x02a\xff\x00b\xff\xd0c\xff\xd9after"))
	f.Fuzz(func(t *testing.T, src []byte) {
		var out, again bytes.Buffer
		if Bare(&out, bytes.NewReader(src)) != nil {
			return
		}
		if out.Len() > len(src) || !bytes.HasSuffix(out.Bytes(), []byte{0xff, 0xd9}) {
			t.Fatalf("%d bytes of %d", out.Len(), len(src))
		}
		if err := Bare(&again, bytes.NewReader(out.Bytes())); err != nil || !bytes.Equal(out.Bytes(), again.Bytes()) {
			t.Fatalf("stripped again it is another file, %v", err)
		}
	})
}
