package places

import (
	"strings"
	"testing"

	"pullbook/app/window/look"
	"pullbook/catalog"
	"pullbook/catalog/life"
)

// The planner answers for the plate in hand, and anew when the wish changes.
func TestPlanner(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	s.f.goTo(AtDesk)
	d := s.desk()
	d.segs.Choose(2)
	d.section()
	s.settle()
	p := d.planner
	if !strings.HasPrefix(p.said.Words(), "An edition of 18 with 2 artist's proofs") || !strings.Contains(p.keep.Words(), "pulls 30, 40") {
		t.Errorf("%q %q", p.said.Words(), p.keep.Words())
	}
	if len(p.odds.Objects) != 3 || len(p.apart.Objects) != 1 {
		t.Errorf("%d chances, %d proofs", len(p.odds.Objects), len(p.apart.Objects))
	}
	if say := p.apart.Objects[0].(*look.Paragraph).Words(); say != "Pull 22: better kept as a trial proof, its ink loss is past the limit." {
		t.Error(say)
	}
	p.sure.SetSelectedIndex(2)
	s.settle()
	if !strings.HasPrefix(p.said.Words(), "An edition of 15 with") || !strings.Contains(p.said.Words(), "95 chances") {
		t.Errorf("surer: %q", p.said.Words())
	}
}

// Each case of a plan has its own sentence.
func TestPlanWords(t *testing.T) {
	wish := life.Wish{Sure: 0.9}
	for _, c := range []struct {
		o    Outlook
		says string
	}{
		{Outlook{Forecast: &life.Forecast{Past: true, Readings: 5}}, "past its limit"},
		{Outlook{Forecast: &life.Forecast{Readings: 5}}, "No further edition"},
		{Outlook{Forecast: &life.Forecast{}, Plan: life.Plan{Size: 12, Proofs: 1}}, "Nothing has been measured"},
		{Outlook{Forecast: &life.Forecast{Readings: 2}, Plan: life.Plan{Size: 12, Proofs: 1, TooEarly: true}}, "too early"},
		{Outlook{Forecast: &life.Forecast{Readings: 2}, Plan: life.Plan{Size: 800, Proofs: 80, TooEarly: true, Borrowed: true}}, "announce fewer"},
		{Outlook{Forecast: &life.Forecast{Readings: 9}, Plan: life.Plan{Size: 12, Proofs: 1}}, "An edition of 12 with 1 artist's proofs can be pulled"},
	} {
		if got := editionWords(&c.o, wish); !strings.Contains(got, c.says) {
			t.Errorf("%q lacks %q", got, c.says)
		}
	}
	if keepWords(life.Plan{Size: 0, Keep: []life.Keep{{Pull: 3, As: catalog.KindPrinter}}}) != "" {
		t.Error("proofs are kept of no edition")
	}
}

// Sheets without a recorded pull stand among the others by their loss.
func TestPlaceByWear(t *testing.T) {
	h := estuary(t)
	for i := range h.snap.Impressions {
		if x := &h.snap.Impressions[i]; x.ID == "plate1-imp7" {
			x.Pull = 0
		}
	}
	s := newStand(t, h, 1280, 776, false)
	s.f.goTo(AtTable)
	tb := s.table()
	tb.modes.Choose(4)
	s.settle()
	c := tb.contact
	at := -1
	for k, i := range c.sheets {
		if i.ID == "plate1-imp7" {
			at = k
		}
	}
	if at < 4 || at > 8 {
		t.Errorf("the sheet stands at place %d of %d", at, len(c.sheets))
	}
	if got := c.count.Words(); !strings.Contains(got, "1 without a recorded pull") {
		t.Error(got)
	}
}
