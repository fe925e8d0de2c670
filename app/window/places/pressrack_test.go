package places

import (
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"pullbook/catalog"
)

// foot is where an object ends in the window, top where it begins.
func foot(o fyne.CanvasObject) float32 { return top(o) + o.Size().Height }

func top(o fyne.CanvasObject) float32 {
	return fyne.CurrentApp().Driver().AbsolutePositionForObject(o).Y
}

// The first pull of a sitting finds the rack empty and the log of another day;
// its rows stand below their headings, and still do when a warning comes and
// goes.
func TestRowsStandBelowTheirHeadings(t *testing.T) {
	for _, dry := range []bool{true, false} {
		h := estuary(t)
		h.snap.Editions[0].Size = 15
		if dry {
			for i := range h.snap.Impressions {
				h.snap.Impressions[i].DryFrom = time.Time{}
			}
		}
		s := newStand(t, h, 1280, 776, false)
		p := s.press()
		s.settle()
		for pull := range 3 {
			if top(p.hung) < foot(p.hungSay) {
				t.Errorf("after %d pulls the rack begins at %v, its heading ends at %v", pull, top(p.hung), foot(p.hungSay))
			}
			if top(p.log) < foot(p.dayHead) || top(p.dayHead) < foot(p.nextBox) || p.warnBox.Visible() && top(p.dayHead) < foot(p.warnBox) {
				t.Errorf("after %d pulls the log begins at %v under a heading at %v to %v", pull, top(p.log), top(p.dayHead), foot(p.dayHead))
			}
			s.f.typedKey(key(fyne.KeySpace))
			s.settle()
		}
		before := top(p.hung)
		s.f.lives.put("plate1", lifeView{share: -1, words: strings.Repeat("It is too early to say what this plate will bear. ", 6)})
		p.lifeCame() // a forecast of many lines comes
		if top(p.hung) < foot(p.hungSay) || top(p.hung) <= before {
			t.Errorf("under a long forecast the rack begins at %v, its heading ends at %v", top(p.hung), foot(p.hungSay))
		}
	}
}

// Pulls of another day are headed with its date and year.
func TestALastPrintingDayShowsItsYear(t *testing.T) {
	at := time.Date(1996, 8, 23, 10, 0, 0, 0, time.Local)
	rows := []dayRow{{imp: &catalog.Impression{PulledAt: at}}}
	if got := dayWords(rows, at.Add(time.Hour)); got != "This printing day" {
		t.Errorf("today is headed %q", got)
	}
	if got := dayWords(rows, at.AddDate(8, 0, 0)); got != "Last printing day, 23 August 1996" {
		t.Errorf("a day of years ago is headed %q", got)
	}
	if got := dayWords(nil, at); got != "This printing day" {
		t.Errorf("a day without pulls is headed %q", got)
	}
}

// Of a plate that prints no more nothing is forecast: head, list and press say
// what became of it.
func TestAPlateThatPrintsNoMoreSaysSo(t *testing.T) {
	h := estuary(t)
	h.snap.Plates[0].Fate = catalog.FateCancelled
	h.snap.Plates[0].FateDate = catalog.Date{Text: "2004", EDTF: "2004"}
	s := newStand(t, h, 1280, 776, false)
	s.settle()
	for where, got := range map[string]string{"head": s.f.lifeSay.Words(), "press": s.press().lifeSay.Words(), "life": s.f.lifeOf("plate1").words} {
		if got != "cancelled 2004" {
			t.Errorf("%s: %q", where, got)
		}
	}
	item := s.f.list.newRow().(*rowItem)
	for i, r := range s.f.list.shown {
		if r.id == "plate1" {
			s.f.list.fillRow(i, item)
		}
	}
	if got := item.third.Words(); len(got) < 14 || got[:14] != "cancelled 2004" {
		t.Errorf("the list says %q", got)
	}
	for fate, want := range map[catalog.Fate]string{catalog.FateLost: "lost", catalog.FateDestroyed: "destroyed", catalog.FateKept: "", "": ""} {
		if got := fateWords(&catalog.Plate{Fate: fate}); got != want {
			t.Errorf("%q is said %q", fate, got)
		}
	}
}

// A sheet written is named with its pull once.
func TestAPullIsNamedOnce(t *testing.T) {
	for want, i := range map[string]*catalog.Impression{
		"7/30, pull 9":        {Written: "7/30", Kind: catalog.KindNumbered, Pull: 9},
		"unnumbered, pull 39": {Kind: catalog.KindUnnumbered, Pull: 39},
	} {
		if got := pulledName(i); got != want {
			t.Errorf("named %q, not %q", got, want)
		}
	}
}
