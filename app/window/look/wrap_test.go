package look

import (
	"testing"

	"fyne.io/fyne/v2"
)

// TestWrapAndBesideNeedMoreHeightWhereNarrow sees that what does not fit into a
// row goes below, and that the height for it is asked for.
func TestWrapAndBesideNeedMoreHeightWhereNarrow(t *testing.T) {
	box := func() fyne.CanvasObject { return Space(100, 20) }
	w := Wrap(10, box(), box(), box())
	for _, c := range []struct{ width, height, x, y float32 }{{320, 20, 220, 0}, {319, 50, 0, 30}, {120, 80, 0, 60}} {
		w.Resize(fyne.NewSize(c.width, 200))
		last := w.Objects[2].Position()
		if m := w.MinSize(); m.Height != c.height || m.Width != 100 || last.X != c.x || last.Y != c.y {
			t.Errorf("width %g: least %v, the third at %v", c.width, m, last)
		}
	}
	b := Beside(box(), box())
	b.Resize(fyne.NewSize(208, 20))
	if m, p := b.MinSize(), b.Objects[1].Position(); m.Height != 20 || p.X != 108 || p.Y != 0 {
		t.Errorf("with room for both: least %v, the second at %v", m, p)
	}
	b.Resize(fyne.NewSize(207, 20))
	if m, p := b.MinSize(), b.Objects[1].Position(); m.Height != 46 || p.X != 107 || p.Y != 26 {
		t.Errorf("without: least %v, the second at %v", m, p)
	}
}
