package window

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A HEIC photograph dropped on the window is refused, and the window says how to
// set the phone to JPEG.
func TestHEICInTheWindow(t *testing.T) {
	w := openDay(t, nil)
	path := filepath.Join(t.TempDir(), "IMG_0001.HEIC")
	if err := os.WriteFile(path, []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic and more"), 0o644); err != nil {
		t.Fatal(err)
	}
	w.f.TakeIn([]string{path})
	w.rest()
	if got := w.text(`HEIC`); !strings.Contains(got, "IMG_0001.HEIC") || !strings.Contains(got, "choose JPEG") {
		t.Errorf("the window says %q", got)
	}
}
