package places

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"pullbook/catalog"
)

// plateNow is a plate as the catalogue has it.
func (s *stand) plateNow(id catalog.ID) catalog.Plate {
	s.h.mu.Lock()
	defer s.h.mu.Unlock()
	for _, p := range s.h.snap.Plates {
		if p.ID == id {
			return p
		}
	}
	s.t.Fatalf("there is no plate %s", id)
	return catalog.Plate{}
}

// strike is a key as the toolkit hands it on: to what has the focus.
func (s *stand) strike(k fyne.KeyName) {
	if o := s.win.Canvas().Focused(); o != nil {
		o.TypedKey(key(k))
		return
	}
	s.f.typedKey(key(k))
}

// draw draws a region by the keyboard and gives it a name.
func (s *stand) draw(name string, keys ...fyne.KeyName) {
	s.t.Helper()
	s.f.run("draw region")
	if !s.table().view.Drawing() {
		s.t.Fatal("the command does not begin to draw")
	}
	for _, k := range keys {
		s.strike(k)
	}
	e, ok := s.win.Canvas().Focused().(*field)
	if !ok {
		s.t.Fatalf("no name is asked for; %T has the focus", s.win.Canvas().Focused())
	}
	e.SetText(name)
	e.OnSubmitted(name)
	s.settle()
}

// TestRegionsAtTheTable draws parts of a plate, sees what each scored on the
// sheet, and takes one back.
func TestRegionsAtTheTable(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	s.f.goTo(AtTable)
	s.settle()
	s.win.Canvas().Capture() // so that the viewer knows its size
	tb := s.table()
	shift := false
	tb.view.Shift = func() bool { return shift }
	s.draw("sky", fyne.KeySpace, fyne.KeyDown, fyne.KeyDown, fyne.KeyRight, fyne.KeyRight, fyne.KeySpace, fyne.KeyReturn)
	p := s.plateNow(tb.plate.ID)
	if len(p.Regions) != 1 || p.Regions[0].Name != "sky" || len(strings.Fields(p.Regions[0].Outline)) != 4 || tb.regions.chosen != "sky" {
		t.Fatalf("kept %+v, chosen %q", p.Regions, tb.regions.chosen)
	}
	s.draw("sky", fyne.KeySpace, fyne.KeyUp, fyne.KeyUp, fyne.KeyLeft, fyne.KeyLeft, fyne.KeySpace, fyne.KeyReturn)
	if n := len(s.plateNow(p.ID).Regions); n != 1 || s.win.Canvas().Overlays().Top() == nil {
		t.Errorf("a second region of one name: %d kept", n)
	}
	s.win.Canvas().Overlays().Top().Hide()

	outline := p.Regions[0].Outline
	loss, under := regionWords(p.Regions[0], &catalog.Score{Verdict: "within"})
	if loss != "" || !strings.Contains(under[0], "measure it again") {
		t.Errorf("a score of before: %q %q", loss, under)
	}
	s.h.mu.Lock()
	for i := range s.h.snap.Scores {
		if sc := &s.h.snap.Scores[i]; sc.ImpressionID == tb.s {
			sc.Verdict = "within"
			sc.Regions = []catalog.RegionScore{{Name: "sky", Outline: outline, InkLoss: &catalog.Value{V: 0.123, U: 0.004}, Why: "There is too little bare ground in this region to tell its tone."}}
		}
	}
	s.h.mu.Unlock()
	s.f.read()
	s.settle()
	if len(tb.panel.regionRows) != 1 {
		t.Fatalf("%d rows", len(tb.panel.regionRows))
	}
	loss, under = regionWords(tb.plate.Regions[0], s.f.book.scoreOf[tb.s])
	if loss != "12.3\u202f%  ± 0.4\u202f%" || !slices.Contains(under, "There is too little bare ground in this region to tell its tone.") {
		t.Errorf("the region says %q %q", loss, under)
	}

	tb.changeRegions("rename", "sky", func(r *catalog.Region) { r.Name = "cloud" })
	s.settle()
	if got := s.plateNow(p.ID).Regions; got[0].Name != "cloud" || tb.regions.chosen != "cloud" {
		t.Errorf("renamed to %+v", got)
	}
	tb.drawRegion("cloud")
	s.strike(fyne.KeyEscape)
	if tb.view.Drawing() || s.plateNow(p.ID).Regions[0].Outline != outline {
		t.Error("Escape does not leave the drawing as it was")
	}
	for range 2 {
		s.f.run("undo")
		s.settle()
	}
	if n := len(s.plateNow(p.ID).Regions); n != 0 || len(tb.panel.regionRows) != 0 {
		t.Errorf("after undoing there are %d regions, %d rows", n, len(tb.panel.regionRows))
	}
}
