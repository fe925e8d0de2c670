package studio

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// exifFull is an APP1 segment with camera, lens and time as cameras write them
// (Exif 2.32, 4.6: Make 0x010F, Model 0x0110, DateTimeOriginal 0x9003,
// OffsetTimeOriginal 0x9011, LensModel 0xA434), big-endian.
func exifFull(maker, model, lens, when, offset string) []byte {
	type entry struct {
		tag  uint16
		text string
	}
	var data []byte
	ifd := func(at int, list []entry, pointer uint32) []byte {
		n := len(list)
		if pointer > 0 {
			n++
		}
		b := binary.BigEndian.AppendUint16(nil, uint16(n))
		for _, e := range list {
			text := e.text + "\x00"
			b = binary.BigEndian.AppendUint16(b, e.tag)
			b = binary.BigEndian.AppendUint16(b, 2) // ASCII
			b = binary.BigEndian.AppendUint32(b, uint32(len(text)))
			b = binary.BigEndian.AppendUint32(b, uint32(at+len(data)))
			data = append(data, text...)
		}
		if pointer > 0 {
			b = binary.BigEndian.AppendUint16(b, 0x8769) // the Exif IFD
			b = binary.BigEndian.AppendUint16(b, 4)
			b = binary.BigEndian.AppendUint32(b, 1)
			b = binary.BigEndian.AppendUint32(b, pointer)
		}
		return binary.BigEndian.AppendUint32(b, 0)
	}
	const first, second, texts = 8, 8 + 2 + 3*12 + 4, 8 + 2 + 3*12 + 4 + 2 + 3*12 + 4
	head := []byte("MM\x00\x2a\x00\x00\x00\x08")
	head = append(head, ifd(texts, []entry{{0x010f, maker}, {0x0110, model}}, second)...)
	head = append(head, ifd(texts, []entry{{0x9003, when}, {0x9011, offset}, {0xa434, lens}}, 0)...)
	body := append(append([]byte("Exif\x00\x00"), head...), data...)
	return append(binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(2+len(body))), body...)
}

// An original is kept to the byte under the hash of its bytes, with what its
// file says of time, camera and lens; given twice, under two names, it is one
// photograph; a byte of it that changes afterwards is found by verify.
func TestOriginalsAreKept(t *testing.T) {
	ctx, s, dir := context.Background(), newCatalogue(t), t.TempDir()
	var b bytes.Buffer
	must(t, jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 64, 48)), nil))
	whole := append([]byte{0xff, 0xd8}, exifFull("Estuary Works", "Copy 9", "60 mm macro", "2031:05:04 17:03:09", "+02:00")...)
	whole = append(whole, b.Bytes()[2:]...)
	first, second := filepath.Join(dir, "one.jpg"), filepath.Join(dir, "two.jpg")
	must(t, os.WriteFile(first, whole, 0o644))
	must(t, os.WriteFile(second, whole, 0o644))
	taken, err := s.TakeIn(ctx, []string{first, second}, nil)
	must(t, err)
	if len(taken) != 2 || taken[0].Photo.ID != taken[1].Photo.ID || taken[0].Already == taken[1].Already {
		t.Errorf("the same bytes twice: %+v", taken)
	}
	p := taken[0].Photo
	if want := time.Date(2031, 5, 4, 15, 3, 9, 0, time.UTC); !p.TakenAt.Equal(want) || p.Camera != "Estuary Works Copy 9" || p.Lens != "60 mm macro" {
		t.Errorf("taken %v by %q with %q", p.TakenAt, p.Camera, p.Lens)
	}
	kept, err := s.Original(ctx, p.ID)
	must(t, err)
	sum := sha256.Sum256(whole)
	for _, path := range []string{kept, first} {
		got, err := os.ReadFile(path)
		must(t, err)
		if !bytes.Equal(got, whole) {
			t.Errorf("%s was changed", path)
		}
	}
	if p.SHA256 != hex.EncodeToString(sum[:]) || filepath.Base(kept) != p.SHA256+".jpg" {
		t.Errorf("kept as %s", kept)
	}
	clean := func() bool {
		v, err := s.Verify(ctx, nil)
		must(t, err)
		return v.Clean()
	}
	if !clean() {
		t.Error("verify finds something wrong with what was just taken in")
	}
	must(t, os.Chmod(kept, 0o644))
	damaged := bytes.Clone(whole)
	damaged[len(damaged)-5] ^= 1
	must(t, os.WriteFile(kept, damaged, 0o644))
	if clean() {
		t.Error("verify does not see that a byte of an original has changed")
	}
}
