package places

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"pullbook/catalog"
)

// A change is put into the user's words, taken together with another, and
// written into the description of its state.
func TestChangeInWords(t *testing.T) {
	h := estuary(t)
	for i := range h.snap.States {
		if st := &h.snap.States[i]; st.ID == "plate1-state2" {
			st.Changes = append(st.Changes, catalog.Change{Kind: "added", BoxMM: [4]float64{92, 100, 110, 120}, AreaMM2: 30, Sure: 0.7, Words: "new drypoint lines, lower centre, 20 x 18 mm"})
		}
	}
	s := newStand(t, h, 1280, 776, false)
	s.f.goTo(AtTable)
	s.settle()
	state := func() *catalog.State { return s.f.book.states["plate1-state2"] }
	p := s.table().panel
	p.openChange(state(), 0)
	var boxes []*widget.Check
	var walk func(o fyne.CanvasObject)
	walk = func(o fyne.CanvasObject) {
		if c, ok := o.(*widget.Check); ok {
			boxes = append(boxes, c)
			return
		}
		switch x := o.(type) {
		case fyne.Widget:
			for _, c := range test.WidgetRenderer(x).Objects() {
				walk(c)
			}
		case *fyne.Container:
			for _, c := range x.Objects {
				walk(c)
			}
		}
	}
	walk(s.win.Canvas().Overlays().Top())
	if len(boxes) != 1 {
		t.Fatalf("%d changes to take together with, want 1: removed work is another kind", len(boxes))
	}
	boxes[0].SetChecked(true)
	test.Tap(s.buttonNamed("Keep it so"))
	s.settle()
	got := state().Changes
	if len(got) != 2 || got[0].BoxMM != [4]float64{30, 100, 110, 150} || got[0].AreaMM2 != 442 || got[0].Sure != 0.7 || got[0].Ruling != "accepted" || got[1].Kind != "removed" {
		t.Fatalf("%+v", got)
	}
	before := state().Description
	p.describe(state())
	s.settle()
	want := before + " New " + got[0].Words[len("new "):] + "."
	if state().Description != want {
		t.Errorf("described as %q, want %q", state().Description, want)
	}
	if withChanges(state()) != state().Description {
		t.Error("what is described already is added again")
	}
}
