package decode

import (
	"context"
	"image"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"testing"
)

// benchPicture writes a 24-megapixel JPEG of lines on toned paper, about as
// busy as an etching.
func benchPicture(b *testing.B) string {
	b.Helper()
	img := image.NewYCbCr(image.Rect(0, 0, 6000, 4000), image.YCbCrSubsampleRatio420)
	seed := uint32(1)
	for y := range 4000 {
		for x := range 6000 {
			seed = seed*1664525 + 1013904223
			v := 215 + float64(seed>>29)
			if x > 900 && x < 5100 && y > 600 && y < 3400 {
				v -= 150 * math.Max(0, math.Sin(float64(x)*0.21+float64(y)*0.33)-0.5)
			}
			img.Y[y*img.YStride+x] = uint8(v)
		}
	}
	for i := range img.Cb {
		img.Cb[i], img.Cr[i] = 122, 132
	}
	path := filepath.Join(b.TempDir(), "bench.jpg")
	f, err := os.Create(path)
	if err != nil {
		b.Fatal(err)
	}
	defer f.Close()
	if err := jpeg.Encode(f, img, &jpeg.Options{Quality: 92}); err != nil {
		b.Fatal(err)
	}
	return path
}

// BenchmarkRead24 is the floor of everything: a 24-megapixel JPEG decoded.
func BenchmarkRead24(b *testing.B) {
	path := benchPicture(b)
	for b.Loop() {
		if _, err := Read(context.Background(), path); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkLuminance24 turns the decoded picture into linear light.
func BenchmarkLuminance24(b *testing.B) {
	p, err := Read(context.Background(), benchPicture(b))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, _, _, err := p.Luminance(context.Background()); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkProxy24 makes the 2400-pixel picture of the table.
func BenchmarkProxy24(b *testing.B) {
	p, err := Read(context.Background(), benchPicture(b))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if p.RGBA(2400).Bounds().Empty() {
			b.Fatal("empty")
		}
	}
}
