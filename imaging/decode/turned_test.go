package decode

import (
	"bytes"
	"context"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"testing"
)

// exifTurn is an EXIF block (TIFF structure, big-endian) with the orientation
// alone (Exif 2.32).
func exifTurn(o byte) []byte {
	return []byte{'M', 'M', 0, 42, 0, 0, 0, 8, 0, 1, 0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, o, 0, 0, 0, 0, 0, 0}
}

// turnedPNG puts the orientation in an eXIf chunk after the header (PNG, third
// edition, 11.3.4.5).
func turnedPNG(t *testing.T, o byte) []byte {
	img := image.NewGray(image.Rect(0, 0, 30, 20))
	img.SetGray(0, 0, color.Gray{Y: 255})
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	const afterIHDR = 8 + 12 + 13
	body := append([]byte("eXIf"), exifTurn(o)...)
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(body)-4))
	chunk = binary.BigEndian.AppendUint32(append(chunk, body...), crc32.ChecksumIEEE(body))
	return append(append(append([]byte{}, b.Bytes()[:afterIHDR]...), chunk...), b.Bytes()[afterIHDR:]...)
}

// turnedTIFF is an uncompressed grey TIFF with tag 274 (TIFF 6.0).
func turnedTIFF(o uint16) []byte {
	le := binary.LittleEndian
	b := []byte("II*\x00\x08\x00\x00\x00")
	tags := [][3]uint32{{256, 4, 30}, {257, 4, 20}, {258, 3, 8}, {259, 3, 1}, {262, 3, 1}, {273, 4, 0}, {274, 3, uint32(o)}, {277, 3, 1}, {278, 4, 20}, {279, 4, 600}}
	pixels := uint32(8 + 2 + 12*len(tags) + 4)
	b = le.AppendUint16(b, uint16(len(tags)))
	for _, t := range tags {
		if t[0] == 273 {
			t[2] = pixels
		}
		b = le.AppendUint32(le.AppendUint32(le.AppendUint16(le.AppendUint16(b, uint16(t[0])), uint16(t[1])), 1), t[2])
	}
	b = append(b, 0, 0, 0, 0)
	row := make([]byte, 600)
	row[0] = 255
	return append(b, row...)
}

// turnedWebP wraps the pixels of a plain lossy WebP in an extended file with an
// EXIF chunk (RFC 9649, 2.7); nil when the decoder set is missing.
func turnedWebP(o byte) []byte {
	src, err := os.ReadFile(filepath.Join(shared, "decoder", "other_formats", "Photo (2).webp"))
	if err != nil || len(src) < 30 || string(src[12:16]) != "VP8 " {
		return nil
	}
	n := binary.LittleEndian.Uint32(src[16:])
	vp8 := src[12 : 20+n+n&1]
	const w, h = 1024, 752
	ext := []byte{'V', 'P', '8', 'X', 10, 0, 0, 0, 8, 0, 0, 0, byte((w - 1) & 255), (w - 1) >> 8, 0, byte((h - 1) & 255), (h - 1) >> 8, 0}
	exif := exifTurn(o)
	chunk := append(binary.LittleEndian.AppendUint32([]byte("EXIF"), uint32(len(exif))), exif...)
	body := append(append(append([]byte("WEBP"), ext...), vp8...), chunk...)
	return append(binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body))), body...)
}

// TestTurnedInEveryFormat: the turn is read from PNG, TIFF and WebP as it is
// from JPEG, and a stored first pixel stands at the top right when the picture
// lies on its left side (6).
func TestTurnedInEveryFormat(t *testing.T) {
	for name, b := range map[string][]byte{"t.png": turnedPNG(t, 6), "t.tif": turnedTIFF(6), "t.webp": turnedWebP(6)} {
		if b == nil {
			t.Logf("%s: the decoder set is not beside the project, left out", name)
			continue
		}
		path := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
		p, err := Read(context.Background(), path)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		w, h := p.Turned()
		if p.Orientation != 6 || w != p.Height || h != p.Width {
			t.Errorf("%s: orientation %d, turned %dx%d of %dx%d", name, p.Orientation, w, h, p.Width, p.Height)
		}
		if name == "t.webp" {
			continue
		}
		if up := p.RGBA(0); up.RGBAAt(w-1, 0).R < 250 || up.RGBAAt(0, 0).R > 5 {
			t.Errorf("%s: the first pixel does not stand at the top right", name)
		}
	}
}
