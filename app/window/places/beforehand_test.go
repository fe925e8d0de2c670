package places

import (
	"testing"

	"fyne.io/fyne/v2"
)

// TestPhotographIsReadBeforehand sees that the photograph the camera will show
// is read before the camera is gone to, and those beside it once it is shown,
// and that no others are kept.
func TestPhotographIsReadBeforehand(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	s.settle()
	c := s.camera()
	if len(c.near.kept) != 1 {
		t.Fatalf("%d photographs were read for the camera", len(c.near.kept))
	}
	s.f.goTo(AtCamera)
	r := c.near.kept[c.chosen]
	if _, shown := c.view.Sheets(); !r.ready() || shown != r.g.sheet {
		t.Error("what was read is not shown at once")
	}
	s.settle()
	if _, twice := c.near.kept[c.chosen]; twice || len(c.near.kept) == 0 || len(c.near.kept) > 2 {
		t.Errorf("%d are kept, not one at each side", len(c.near.kept))
	}
	s.f.typedKey(key(fyne.KeyPageDown))
	if r := c.near.kept[c.chosen]; !r.ready() || c.shown != c.chosen {
		t.Error("the next is not shown at once")
	}
}
