package places

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
)

// The guide opens at the page of every place, and finds words on all pages.
func TestGuidePages(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	pages := words.Guide()
	for at, name := range guidePages {
		g := &guide{pages: pages, find: blank(), text: look.Column(8)}
		g.which = look.NewOneOf(nil)
		g.scroll = container.NewVScroll(g.text)
		for i, p := range pages {
			if p.Name == name {
				g.which.Chosen = i
			}
		}
		if pages[g.which.Chosen].Name != name {
			t.Fatalf("place %d has no page %q", at, name)
		}
		g.page()
		all := len(g.text.Objects)
		g.find.SetText("mordant")
		g.page()
		if n := len(g.text.Objects); n == 0 || n == all {
			t.Errorf("searching shows %d of %d parts", n, all)
		}
		g.find.SetText("xyzzy")
		g.page()
		if n := len(g.text.Objects); n != 1 {
			t.Errorf("what is not there shows %d parts", n)
		}
	}
	s.f.typedKey(key(fyne.KeyF1))
	if s.win.Canvas().Overlays().Top() == nil {
		t.Error("F1 opens nothing")
	}
}
