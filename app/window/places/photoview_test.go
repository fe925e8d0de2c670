package places

import (
	"slices"
	"testing"

	"pullbook/catalog"
)

// A photograph of which it could not be told what it shows waits for the user,
// who says it; one filed is put right at once.
func TestWhatAPhotographShows(t *testing.T) {
	if (Taken{PhotoID: "x", PlateID: "p", StateID: "s", Sure: 1}).isSure() {
		t.Error("a photograph is sure of which it is not told what it shows")
	}
	s := newStand(t, estuary(t), 1280, 776, false)
	s.f.goTo(AtCamera)
	s.settle()
	c := s.camera()
	p := c.panel
	item := trayItem{waiting: true, taken: Taken{PhotoID: "plate1-imp3-photo", Name: "a.jpg", PlateID: "plate1", StateID: "plate1-state2", ImpressionID: "plate1-imp3", Sure: 0.95, Why: "slip"}}
	p.show(s.f.book, item)
	if !p.do.Disabled() || p.view.SelectedIndex() != -1 {
		t.Errorf("it can be confirmed, shown as %q", p.view.Selected)
	}
	p.view.SetSelectedIndex(slices.Index(views, catalog.ViewRaking))
	s.settle()
	if p.do.Disabled() || p.item.taken.View != catalog.ViewRaking || p.item.taken.Why != "slip" {
		t.Errorf("after choosing: %+v", p.item.taken)
	}
}
