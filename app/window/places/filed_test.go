package places

import (
	"strings"
	"testing"

	"pullbook/app/window/look"
	"pullbook/catalog"
)

// What was filed is reported: of several photographs in a list, with what could
// not be measured and why, which photograph scores come from, and what waits; of
// one in a line, so that nothing stands in the way of the next.
func TestWhatWasFiled(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	s.f.goTo(AtCamera)
	s.settle()
	c := s.camera()
	c.waiting = []Taken{{PhotoID: "left", Name: "left.jpg"}}
	r := &Filed{Photographs: 3, Measured: 2, Short: []Short{{Sheet: "plate1-imp3", Why: "It is out of focus."}}, Anew: []Anew{{Sheet: "plate1-imp4", From: "new.jpg", Kept: []string{"old.jpg"}}}}
	var all []string
	for _, o := range c.filedWords(r) {
		all = append(all, o.(*look.Paragraph).Words())
	}
	text := strings.Join(all, "\n")
	for _, want := range []string{"3 photographs filed, 2 sheets measured", "1 photograph waits for you", "could not be measured: It is out of focus.", "Its scores come from new.jpg now; kept: old.jpg."} {
		if !strings.Contains(text, want) {
			t.Errorf("the report lacks %q:\n%s", want, text)
		}
	}
	c.filed(r)
	if s.win.Canvas().Overlays().Top() == nil {
		t.Error("no report is shown")
	}
	s.win.Canvas().Overlays().Top().Hide()
	c.filed(&Filed{Photographs: 1, Measured: 1, Anew: r.Anew})
	if s.win.Canvas().Overlays().Top() != nil || !strings.Contains(s.f.strip.said, "Its scores come from new.jpg") {
		t.Errorf("of one photograph: %q", s.f.strip.said)
	}
}

// A photograph of a sheet says whether its scores come from it.
func TestScoredFrom(t *testing.T) {
	b := newBook(&catalog.Snapshot{
		Impressions: []catalog.Impression{{ID: "i"}},
		Photographs: []catalog.Photograph{{ID: "old", Name: "old.jpg", ImpressionID: "i", View: catalog.ViewWhole}, {ID: "new", Name: "new.jpg", ImpressionID: "i", View: catalog.ViewWhole}, {ID: "raked", ImpressionID: "i", View: catalog.ViewRaking}},
		Scores:      []catalog.Score{{ID: "s", ImpressionID: "i", PhotoID: "new"}},
	})
	for id, want := range map[catalog.ID]string{"old": "come from new.jpg", "new": "come from this photograph", "raked": ""} {
		if got := scoredFrom(b, b.photos[id]); !strings.Contains(got, want) || want == "" && got != "" {
			t.Errorf("%s: %q", id, got)
		}
	}
}
