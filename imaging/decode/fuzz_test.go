package decode

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// FuzzRead feeds bytes as a file: a picture within its own bounds, or an
// *Error with a sentence. A panic, in our goroutine or another, fails it.
func FuzzRead(f *testing.F) {
	for _, pattern := range []string{"decoder/made_here/*", "decoder/png_suite/*", "decoder/other_formats/*", "decoder/tiff/*", "decoder/progressive_odd/*"} {
		names, _ := filepath.Glob(filepath.Join(shared, pattern))
		for _, n := range names {
			if b, err := os.ReadFile(n); err == nil && len(b) < 12_000 {
				f.Add(b)
			}
		}
	}
	f.Add([]byte("II*\x00\x00\x00\x00\x10"))
	f.Add([]byte("\xff\xd8\xff\xe2\x00\x10ICC_PROFILE\x00\x01\x01"))
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, b []byte) {
		path := filepath.Join(dir, "fuzz.jpg")
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
		if info, err := Config(path); err == nil && info.Width*info.Height > 1_000_000 {
			return // decoding so much would only slow the search down
		}
		p, err := Read(context.Background(), path)
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.Sentence == "" {
				t.Fatalf("error without a sentence: %v", err)
			}
			return
		}
		pix, w, h, err := p.Luminance(context.Background())
		if err != nil || len(pix) != w*h || len(pix) == 0 {
			t.Fatalf("luminance of %dx%d: %d, %v", w, h, len(pix), err)
		}
		p.TopCode(w-1, h-1)
		p.LinearRGB(0, h-1)
		if p.RGBA(50).Bounds().Empty() {
			t.Fatal("empty proxy")
		}
	})
}
