package places

import (
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2/test"

	"pullbook/catalog"
)

// sessionDesk is the screen on which a session is set up, not shown.
func (s *stand) sessionDesk() *sessionDesk {
	s.t.Helper()
	c := s.camera()
	d := &sessionDesk{c: c, b: s.f.book}
	d.build()
	return d
}

// A session is set up with what stands in the fields; what the wedge told is
// said, and sheets measured before can be measured anew.
func TestSessionIsSetUp(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	s.f.TakeIn([]string{"blank.jpg", "wedge.jpg"})
	s.settle()
	s.h.kept.wedge = WedgeFacts{Densities: "0.05 + 10 x 0.15", Steps: 11, Departs: 0.1, Misses: 0.004}
	s.h.kept.scoredBy = []catalog.ID{"plate1-imp3"}
	d := s.sessionDesk()
	d.which.SetSelectedIndex(0)
	if d.steps.Text != "0.05 + 10 x 0.15" {
		t.Errorf("the usual densities are %q", d.steps.Text)
	}
	d.lamps.SetText("two at 45 degrees")
	pick := func(c *choice, name string) {
		for i, o := range c.Options {
			if o == name {
				c.SetSelectedIndex(i)
				return
			}
		}
		t.Fatalf("%s cannot be chosen among %v", name, c.Options)
	}
	pick(d.blank, "blank.jpg")
	pick(d.wedge, "wedge.jpg")
	d.began.SetText("yesterday")
	if err := d.keep(); err == nil {
		t.Error("a session begins yesterday")
	}
	d.began.SetText("2031-05-04 09:30")
	d.steps.SetText("nonsense")
	if err := d.keep(); err == nil || len(s.h.kept.setUp) != 0 {
		t.Error("nonsense passes for densities")
	}
	d.steps.SetText("0.05 0.2")
	if err := d.keep(); err != nil {
		t.Fatal(err)
	}
	s.settle()
	if len(s.h.kept.setUp) != 1 {
		t.Fatalf("set up %d times", len(s.h.kept.setUp))
	}
	u := s.h.kept.setUp[0]
	name := func(id catalog.ID) string {
		if p := s.f.book.photos[id]; p != nil {
			return p.Name
		}
		return ""
	}
	if name(u.Session.BlankPhotoID) != "blank.jpg" || name(u.Session.WedgePhotoID) != "wedge.jpg" || u.Session.Lamps != "two at 45 degrees" || len(u.Densities) != 2 || !u.Session.Began.Equal(time.Date(2031, 5, 4, 9, 30, 0, 0, time.UTC)) {
		t.Errorf("set up as %+v", u)
	}
	if said := s.f.strip.said; !strings.Contains(said, "3 photographs belong") {
		t.Errorf("told: %q", said)
	}
	if s.win.Canvas().Overlays().Top() == nil {
		t.Fatal("what the wedge told is not said")
	}
	// The sheets measured before are measured anew when that is agreed.
	s.win.Canvas().Overlays().Top().Hide()
	a := s.f.sessionStands(&Standing{WedgeFacts: s.h.kept.wedge, Scored: s.h.kept.scoredBy})
	test.Tap(a.yes)
	s.settle()
	if len(s.h.measured) != 1 {
		t.Errorf("measured anew: %v", s.h.measured)
	}
}

// What waits in the tray shows neither the blank sheet nor the wedge as a sheet,
// and the panel of a wedge says what it told.
func TestAidsAreNoSheets(t *testing.T) {
	h := estuary(t)
	h.snap.Photographs = append(h.snap.Photographs, catalog.Photograph{ID: "bl", Name: "bl.jpg", View: catalog.ViewBlank, SessionID: "se"}, catalog.Photograph{ID: "we", Name: "we.jpg", View: catalog.ViewWedge, SessionID: "se"})
	h.snap.Sessions = []catalog.ShootingSession{{ID: "se", Began: time.Date(2031, 5, 4, 9, 30, 0, 0, time.UTC), BlankPhotoID: "bl", WedgePhotoID: "we"}}
	s := newStand(t, h, 1280, 776, false)
	s.f.goTo(AtCamera)
	s.settle()
	c := s.camera()
	waiting := 0
	for _, it := range c.items {
		if it.waiting {
			waiting++
		}
		if it.taken.PhotoID == "we" {
			c.choose(it)
		}
	}
	s.settle()
	if waiting != 0 {
		t.Errorf("%d wait to be filed", waiting)
	}
	if c.panel.belong.Visible() {
		t.Error("a wedge is asked where it belongs")
	}
	if got := c.panel.set.Words(); !strings.Contains(got, "2031-05-04 09:30, with blank sheet and grey wedge") {
		t.Errorf("its session: %q", got)
	}
	c.panel.report(&Report{Wedge: &WedgeFacts{Refused: "No row of 11 steps."}}, "")
	if got := c.panel.mark.Words(); !strings.Contains(got, "The wedge is not used: No row of 11 steps.") {
		t.Errorf("the panel says %q", got)
	}
	// Corners set by hand have it read anew.
	if !c.readAgain("we") {
		t.Error("the wedge is not read anew")
	}
	s.settle()
	if n := len(h.kept.setUp); n != 1 || h.kept.setUp[0].Session.ID != "se" {
		t.Errorf("read anew: %+v", h.kept.setUp)
	}
}

// A photograph in the watched folder shows its report before it is known where
// it belongs; a poor one is warned of, and it is counted once.
func TestWatchedPhotographsComeTwice(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	s.f.goTo(AtCamera)
	s.settle()
	c := s.camera()
	first := Taken{PhotoID: "new", Name: "new.jpg", View: catalog.ViewWhole, Poor: []string{"Focus again on the lines, use a stand and a smaller aperture."}}
	c.came([]Taken{first})
	s.settle()
	if said := s.f.note.words(); !strings.Contains(said, "new.jpg: Focus again") {
		t.Errorf("the warning is %q", said)
	}
	second := first
	second.PlateID, second.StateID, second.Sure, second.Why, second.Again, second.Poor = "plate1", "plate1-state1", 0.97, "recognised", true, nil
	c.came([]Taken{second})
	s.settle()
	if len(c.waiting) != 1 || c.waiting[0].PlateID != "plate1" || !c.waiting[0].isSure() {
		t.Errorf("waiting: %+v", c.waiting)
	}
}

// Photographs that were never measured are judged when they are looked at, one
// at a time: not one that is only leafed past, none twice.
func TestPhotographsAreJudged(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	s.f.TakeIn([]string{"a.jpg", "b.jpg"})
	s.settle()
	c := s.camera()
	bare := &Report{}
	c.choose(trayItem{taken: c.waiting[0], waiting: true})
	c.report(bare)
	if !c.checking {
		t.Error("nothing is judged")
	}
	c.choose(trayItem{taken: c.waiting[1], waiting: true})
	c.report(bare)
	s.settle()
	c.report(bare)
	s.settle()
	if got := s.h.kept.checked; len(got) != 1 || got[0] != c.waiting[1].PhotoID {
		t.Errorf("judged %v, want only the one that stays, %s", got, c.waiting[1].PhotoID)
	}
}
