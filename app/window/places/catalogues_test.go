package places

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pullbook/app/window/look"
)

// TestCataloguesOpenedLast offers those that are still there, without the one
// that is open.
func TestCataloguesOpenedLast(t *testing.T) {
	h := estuary(t)
	s := newStand(t, h, 1280, 776, false)
	var opened string
	s.f.needs.OpenAt = func(path string) { opened = path }
	dir := t.TempDir()
	a, b := filepath.Join(dir, "reeds.pullbook"), filepath.Join(dir, "harbour.pullbook")
	for _, d := range []string{a, b} {
		if err := os.Mkdir(d, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	for _, d := range []string{a, filepath.Join(dir, "gone.pullbook"), b, a, h.Dir()} {
		Remember(s.f.prefs.p, d)
	}
	if l := s.f.prefs.recent(); !slices.Equal(l, []string{h.Dir(), a, b, filepath.Join(dir, "gone.pullbook")}) {
		t.Errorf("remembered: %v", l)
	}
	s.f.run("recent")
	which, ok := s.win.Canvas().Focused().(*look.OneOf)
	if !ok || len(which.Texts) != 2 {
		t.Fatalf("offered: %+v", which)
	}
	which.TypedKey(key(fyne.KeyDown))
	tapWords(t, s, "Open it")
	if opened != b {
		t.Errorf("opened %q, chosen was %q", opened, b)
	}
}

// tapWords taps the button with these words in what stands over the window.
func tapWords(t *testing.T, s *stand, say string) {
	t.Helper()
	found := false
	walk(s.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
		if b, ok := o.(*look.Button); ok && b.Text == say && !found {
			found = true
			test.Tap(b)
		}
	})
	if !found {
		t.Fatalf("there is no button %q", say)
	}
}

func TestPackingTheCatalogue(t *testing.T) {
	h := estuary(t)
	s := newStand(t, h, 1280, 776, false)
	s.f.run("pack")
	path, ok := s.win.Canvas().Focused().(*field)
	if !ok || filepath.Base(path.Text) != "estuary"+packedEnd {
		t.Fatalf("proposed: %+v", path)
	}
	path.SetText(filepath.Join(t.TempDir(), "estuary.zip"))
	tapWords(t, s, "Pack it")
	if h.packed != "" || s.win.Canvas().Overlays().Top() == nil {
		t.Error("a name is taken that no catalogue is known by")
	}
	to := filepath.Join(t.TempDir(), "estuary"+packedEnd)
	path.SetText(to)
	tapWords(t, s, "Pack it")
	s.settle()
	if h.packed != to {
		t.Errorf("packed into %q, asked for %q", h.packed, to)
	}
}
