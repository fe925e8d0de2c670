package places

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pullbook/app/window/look"
	"pullbook/app/window/sheetview"
	"pullbook/catalog"
)

func key(n fyne.KeyName) *fyne.KeyEvent { return &fyne.KeyEvent{Name: n} }

func (s *stand) press() *pressPlace   { return s.f.places[AtPress].(*pressPlace) }
func (s *stand) camera() *cameraPlace { return s.f.places[AtCamera].(*cameraPlace) }
func (s *stand) table() *tablePlace   { return s.f.places[AtTable].(*tablePlace) }
func (s *stand) desk() *deskPlace     { return s.f.places[AtDesk].(*deskPlace) }

func (s *stand) imps(plate catalog.ID) []catalog.Impression {
	s.h.mu.Lock()
	defer s.h.mu.Unlock()
	var out []catalog.Impression
	for _, i := range s.h.snap.Impressions {
		if i.PlateID == plate {
			out = append(out, i)
		}
	}
	return out
}

func TestPullsWithOneKey(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	p := s.press()
	before := len(s.imps("plate1"))
	for range 3 { // without waiting for the catalogue in between
		s.f.typedKey(key(fyne.KeySpace))
	}
	s.settle()
	l := s.imps("plate1")
	if len(l) != before+3 {
		t.Fatalf("three keys made %d sheets", len(l)-before)
	}
	seen := map[string]bool{}
	for i, x := range l[before:] {
		seen[x.Written] = true
		if want := fmt.Sprintf("%d/30", 15+i); !seen[want] && i == 2 {
			t.Errorf("the numbers given out are %v", seen)
		}
		if x.PaperID != "paper1" || x.InkID != "ink1" || x.Wiping == "" || x.DayID != "plate1-day" {
			t.Errorf("paper, ink, wiping or day was not carried over: %+v", x)
		}
		if x.DryFrom.Sub(x.PulledAt) != 48*time.Hour {
			t.Errorf("dry after %v, the imprint says 48 hours", x.DryFrom.Sub(x.PulledAt))
		}
	}
	for _, n := range []string{"15/30", "16/30", "17/30"} {
		if !seen[n] {
			t.Errorf("number %s was not given out; %v were", n, seen)
		}
	}
	if p.next.Words() != "18/30" {
		t.Errorf("the next number is %q", p.next.Words())
	}
	s.f.typedKey(key(fyne.KeyBackspace))
	s.settle()
	if n := len(s.imps("plate1")); n != before+2 || p.next.Words() != "17/30" {
		t.Errorf("taking back left %d sheets, next %s", n-before, p.next.Words())
	}
}

func TestNewPaperIsEnteredOnce(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	p := s.press()
	test.Type(&p.paper.Entry, "")
	p.paper.SetText("Café crème vergé é ß")
	s.f.typedKey(key(fyne.KeySpace))
	s.f.typedKey(key(fyne.KeySpace))
	s.settle()
	n := 0
	for _, x := range s.h.snap.Papers {
		if x.Name == "Café crème vergé é ß" {
			n++
		}
	}
	l := s.imps("plate1")
	if n != 1 || l[len(l)-1].PaperID != l[len(l)-2].PaperID || l[len(l)-1].PaperID == "paper1" {
		t.Errorf("the new paper was entered %d times", n)
	}
}

func TestFullEditionWarns(t *testing.T) {
	h := estuary(t)
	h.snap.Editions[0].Size = 14
	h.snap.Editions[0].Artists = 0
	s := newStand(t, h, 1280, 776, false)
	p := s.press()
	if p.warnBox.Visible() && p.f.overlay != nil {
		t.Fatal("no warning was due yet")
	}
	p.forWhat.SetSelectedIndex(2)
	s.settle()
	if !p.warnBox.Visible() || !strings.Contains(p.warn.Words(), "14") {
		t.Errorf("a full edition gives no warning: %q", p.warn.Words())
	}
	s.f.typedKey(key(fyne.KeySpace)) // a warning, not a bar
	s.settle()
	l := s.imps("plate1")
	if x := l[len(l)-1]; x.EditionID != "" || x.Ordinal != 0 || x.Kind != catalog.KindUnnumbered {
		t.Errorf("a sheet beyond the edition is entered as %+v", x)
	}
}

func TestBigTypeByKeyboard(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	s.f.run("big")
	s.settle()
	if s.f.overlay == nil {
		t.Fatal("big type did not open")
	}
	s.f.typedKey(key(fyne.KeySpace))
	s.settle()
	if got := s.f.overlay.next.Words(); got != "16/30" {
		t.Errorf("big type shows %q after one pull", got)
	}
	s.f.typedKey(key(fyne.KeyEscape))
	if s.f.overlay != nil || s.win.Content() != fyne.CanvasObject(s.f.root) {
		t.Error("Escape did not leave big type")
	}
}

func TestSearchAsYouType(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	test.Type(s.f.list.search, "quay dry")
	s.settle()
	if l := s.f.list.shown; len(l) != 1 || l[0].id != "plate2" {
		t.Errorf("found %d plates", len(l))
	}
	s.f.list.search.SetText("nowhere")
	s.settle()
	if len(s.f.list.shown) != 0 || len(s.f.list.empty.Objects) == 0 {
		t.Error("an empty answer says nothing")
	}
	s.f.list.showAll()
	s.settle()
	if len(s.f.list.shown) != 8 {
		t.Errorf("show all shows %d", len(s.f.list.shown))
	}
}

func TestOrderAndFilter(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	l := s.f.list
	l.wish.order = byTitle
	l.find()
	s.settle()
	if l.shown[0].title != "Eel Traps" {
		t.Errorf("by title begins with %q", l.shown[0].title)
	}
	l.wish.technique = catalog.Engraving
	l.find()
	s.settle()
	if len(l.shown) != 2 {
		t.Errorf("%d engravings", len(l.shown))
	}
}

func TestPhotographsAreTakenInAndConfirmed(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	s.f.TakeIn([]string{"one.jpg", "zwölf è.jpg"})
	s.settle()
	c := s.camera()
	if s.f.at != AtCamera || len(c.waiting) != 2 || len(s.h.taken) != 2 {
		t.Fatalf("place %d, %d waiting", s.f.at, len(c.waiting))
	}
	if c.all.Disabled() {
		t.Fatal("what was proposed cannot be confirmed")
	}
	test.Tap(c.all)
	s.settle()
	if len(s.h.confirm) != 2 || s.h.confirm[0].PlateID != "plate1" || len(c.waiting) != 0 {
		t.Errorf("confirmed %d, %d still waiting", len(s.h.confirm), len(c.waiting))
	}
}

func TestReadOnlyRefusesInASentence(t *testing.T) {
	h := estuary(t)
	h.readOnly = true
	s := newStand(t, h, 1280, 776, false)
	s.f.TakeIn([]string{"one.jpg"})
	s.settle()
	if s.f.note.words() == "" || len(h.taken) != 0 {
		t.Errorf("a catalogue for reading took photographs in, or said nothing: %q", s.f.note.words())
	}
	before := len(s.imps("plate1"))
	s.f.goTo(AtPress)
	s.f.typedKey(key(fyne.KeySpace))
	s.settle()
	if len(s.imps("plate1")) != before {
		t.Error("a catalogue for reading was printed into")
	}
}

func TestTwoSheetsUnderOneMotion(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	s.f.goTo(AtTable)
	s.settle()
	s.win.Canvas().Capture()
	s.settle()
	tb := s.table()
	a, b := tb.view.Sheets()
	if a == nil || b == nil || !tb.exact {
		t.Fatal("two registered sheets are not laid down")
	}
	if tb.a != "plate1-imp1" || tb.s != "plate1-imp14" {
		t.Errorf("laid down %s and %s, not the reference pull and the last sheet", tb.a, tb.s)
	}
	m := tb.view.Motion()
	test.Scroll(s.win.Canvas(), fyne.NewPos(500, 400), 0, 60)
	if got := tb.view.Motion().Scale; got <= m.Scale {
		t.Errorf("the wheel did not zoom: %g", got)
	}
	tb.view.FitAll()
	tb.modes.Choose(1)
	s.settle()
	if tb.view.Mode() != sheetview.Edge {
		t.Error("the edge is not shown")
	}
	share := tb.view.Share()
	tb.view.TypedKey(key(fyne.KeyPeriod))
	if tb.view.Share() <= share {
		t.Error("the edge does not move by key")
	}
	tb.goToChange(0)
	if x := tb.view.Motion().CX; x < 55 || x > 65 {
		t.Errorf("going to a change led to %.1f mm, its middle is at 60", x)
	}
	s.f.run("next sheet")
	if tb.s != "plate1-imp14" {
		t.Error("there is no sheet after the last")
	}
	s.f.run("previous sheet")
	if tb.s != "plate1-imp13" {
		t.Errorf("the sheet before is %s", tb.s)
	}
}

func TestDecisionKeepsItsReason(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	s.f.goTo(AtTable)
	s.settle()
	tb := s.table()
	tb.panel.why.SetText("wiped too dry")
	test.Tap(tb.panel.deeds[3])
	s.settle()
	for _, i := range s.imps("plate1") {
		if i.ID == tb.s && (i.Decision.Verdict != "tear up" || i.Decision.Reason != "wiped too dry" || i.Decision.At.IsZero()) {
			t.Errorf("recorded %+v", i.Decision)
		}
	}
	if !tb.panel.deeds[3].On {
		t.Error("the decision is not shown")
	}
}

func TestDeskEditsInPlace(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	s.f.goTo(AtDesk)
	s.settle()
	var title *field
	walk(s.desk().sheet, func(o fyne.CanvasObject) {
		if f, ok := o.(*field); ok && f.Text == "The Ferry Steps" {
			title = f
		}
	})
	if title == nil {
		t.Fatal("the title has no field")
	}
	s.win.Canvas().Focus(title)
	test.Type(title, "À l'Écluse, ")
	s.win.Canvas().Unfocus()
	s.settle()
	if got := s.h.snap.Plates[0].Title(); got != "À l'Écluse, The Ferry Steps" {
		t.Errorf("the title is %q", got)
	}
	if s.f.head.Words() != "À l'Écluse, The Ferry Steps" {
		t.Errorf("the head still says %q", s.f.head.Words())
	}
	s.f.run("undo")
	s.settle()
	if got := s.h.snap.Plates[0].Title(); got != "The Ferry Steps" {
		t.Errorf("after undo the title is %q", got)
	}
}

func walk(o fyne.CanvasObject, f func(fyne.CanvasObject)) {
	f(o)
	switch x := o.(type) {
	case *fyne.Container:
		for _, c := range x.Objects {
			walk(c, f)
		}
	case fyne.Widget:
		for _, c := range test.WidgetRenderer(x).Objects() {
			walk(c, f)
		}
	}
}

// TestFocusOrder goes through a place by Tab alone and wants to meet every
// field and button of it, each once before the first comes again.
func TestFocusOrder(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	seen := map[fyne.Focusable]bool{}
	var first fyne.Focusable
	for range 60 {
		test.FocusNext(s.win.Canvas())
		f := s.win.Canvas().Focused()
		if f == nil {
			t.Fatal("Tab lost the focus")
		}
		if f == first {
			break
		}
		if first == nil {
			first = f
		}
		seen[f] = true
	}
	p := s.press()
	for name, want := range map[string]fyne.Focusable{"search": s.f.list.search, "places": s.f.segs, "state": p.state, "printing": p.forWhat, "wiping": p.wiping} {
		if !seen[want] {
			t.Errorf("%s cannot be reached by Tab", name)
		}
	}
}

// TestNothingIsCut lays every place out small and with large text and wants no
// button, heading or field wider than the place it has.
func TestNothingIsCut(t *testing.T) {
	for _, scale := range []float32{1, 1.5} {
		s := newStand(t, estuary(t), 1280, 776, false)
		s.f.app.Settings().SetTheme(look.Theme{Scale: scale})
		for place := range 4 {
			s.f.goTo(place)
			s.settle()
			size := s.win.Canvas().Size()
			if size.Width > 1281 || size.Height > 777 {
				t.Errorf("text at %g: place %d makes the window %v", scale, place, size)
			}
			walk(s.f.root, func(o fyne.CanvasObject) {
				b, ok := o.(*look.Button)
				if !ok || !b.Visible() || b.Size().Width == 0 {
					return
				}
				if b.Size().Width < b.MinSize().Width-0.5 {
					t.Errorf("text at %g, place %d: the button %q has %.0f of %.0f", scale, place, b.Text, b.Size().Width, b.MinSize().Width)
				}
				at := s.f.app.Driver().AbsolutePositionForObject(b)
				if at.X+b.Size().Width > size.Width+0.5 {
					t.Errorf("text at %g, place %d: the button %q ends at %.0f of %.0f", scale, place, b.Text, at.X+b.Size().Width, size.Width)
				}
			})
		}
	}
}

func TestEmptyCatalogueSaysWhatToDo(t *testing.T) {
	h := &fakeHouse{t: t, dir: t.TempDir()}
	s := newStand(t, h, 1280, 776, false)
	for place := range 4 {
		s.f.goTo(place)
		s.settle()
		buttons := 0
		walk(s.f.stage, func(o fyne.CanvasObject) {
			if b, ok := o.(*look.Button); ok && b.Visible() && b.Weight == look.Strong {
				buttons++
			}
		})
		if buttons == 0 {
			t.Errorf("place %d is empty and offers nothing to do", place)
		}
	}
}

func TestEveryCommandIsInTheMenuOnce(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	keys := map[string]string{}
	for _, c := range s.f.menu {
		if c.label == "" || c.menu == "" {
			t.Errorf("the command %q is not in the menu", c.name)
		}
		k := keyWords(c)
		if k == "" {
			continue
		}
		if other, taken := keys[k]; taken {
			t.Errorf("%s is both %q and %q", k, other, c.label)
		}
		keys[k] = c.label
	}
	if len(keys) < 25 {
		t.Errorf("only %d commands have a key", len(keys))
	}
	if s.win.MainMenu() == nil {
		t.Error("the window has no menu")
	}
}

func TestUndoInAFieldIsTheFields(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	s.f.typedKey(key(fyne.KeySpace))
	s.settle()
	n := len(s.imps("plate1"))
	e := s.f.list.search
	s.win.Canvas().Focus(e)
	test.Type(e, "abc")
	s.f.run("undo")
	s.settle()
	if len(s.imps("plate1")) != n {
		t.Error("undo while typing took a sheet back")
	}
	s.win.Canvas().Unfocus()
	s.f.run("undo")
	s.settle()
	if len(s.imps("plate1")) != n-1 {
		t.Error("undo outside a field did not take the sheet back")
	}
}

func TestOnePostIsPending(t *testing.T) {
	posts := 0
	var run func()
	p := &poster{post: func(f func()) { posts++; run = f }}
	n := 0
	for range 100 {
		p.do(func() { n++ })
	}
	if posts != 1 {
		t.Fatalf("%d posts for a hundred functions", posts)
	}
	run()
	p.do(func() { n++ })
	if n != 100 || posts != 2 {
		t.Errorf("%d run, %d posts", n, posts)
	}
}

func TestLedger(t *testing.T) {
	h := estuary(t)
	h.snap.Impressions[5].Ordinal = 3 // given out twice
	b := newBook(&h.snap)
	l := accountFor(b, b.editionsOf["plate1"][0])
	if l.pulled != 14 || l.gone != 1 || len(l.double) != 1 || l.double[0] != 3 {
		t.Errorf("%+v", l)
	}
	if got := runs(l.missing); got != "6, 15–30" {
		t.Errorf("missing %q", got)
	}
}

func TestWatchedFolder(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	s.f.goTo(AtCamera)
	s.settle()
	s.camera().watch.start("/somewhere")
	s.settle()
	if c := s.camera(); len(c.waiting) != 1 || c.waiting[0].Name != "watched.jpg" || c.waiting[0].PlateID != "plate1" {
		t.Errorf("waiting: %+v", c.waiting)
	}
}

func TestDropAndWindowTitleSurviveResize(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	for _, w := range []float32{1000, 1600, 1280} {
		s.win.Resize(fyne.NewSize(w, 700))
		s.settle()
		for place := range 4 {
			s.f.goTo(place)
			s.settle()
			if got := s.f.stage.Size().Width; got < w-s.f.side.Width-2 || got > w {
				t.Errorf("at %.0f place %d is %.0f wide", w, place, got)
			}
		}
	}
}
