package places

import (
	"testing"

	"fyne.io/fyne/v2/test"

	"pullbook/catalog"
	"pullbook/catalog/life"
)

// TestTitlesAreWritten writes in the titles of a plate: words and language are
// fields of their own, one may be added and one emptied, but not the first.
func TestTitlesAreWritten(t *testing.T) {
	test.NewTempApp(t)
	p := &catalog.Plate{Titles: []catalog.Title{{Text: "Hulks on the Hard", Language: "en", Given: "artist"}, {Text: "Wracks", Language: "de", Given: "other"}}}
	// fill writes words and language of a title as they stand in its two fields.
	fill := func(i int, text, tongue string, given int) error {
		f := titleAt(p, i)
		var fields []*field
		for _, in := range inputs(f.field) {
			switch x := in.(type) {
			case *field:
				fields = append(fields, x)
			case *choice:
				x.SetSelectedIndex(given)
			}
		}
		fields[0].SetText(text)
		fields[1].SetText(tongue)
		return f.take()
	}
	for _, x := range []struct {
		i            int
		text, tongue string
		given        int
	}{{0, "Hulks ; at low tide", "en-GB", 1}, {1, "", "de", 2}, {1, "Épaves", "fr", 2}} {
		if err := fill(x.i, x.text, x.tongue, x.given); err != nil {
			t.Fatal(err)
		}
	}
	want := []catalog.Title{{Text: "Hulks ; at low tide", Language: "en-GB", Given: "supplied"}, {Text: "Épaves", Language: "fr", Given: "other"}}
	if len(p.Titles) != 2 || p.Titles[0] != want[0] || p.Titles[1] != want[1] {
		t.Errorf("the titles are %+v", p.Titles)
	}
	if err := fill(0, " ", "en", 0); err == nil {
		t.Error("a plate is left without a title")
	}
	if err := fill(2, "", "fr", 0); err != nil || len(p.Titles) != 2 {
		t.Errorf("a language alone makes a title: %+v, %v", p.Titles, err)
	}
}

// TestLeastLifeFirst sorts the list by life: what is measured in its order, then
// what cannot be told, and last the plates that print no more.
func TestLeastLifeFirst(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	s.settle()
	if l := s.f.list.rows; len(l) < 3 {
		t.Fatalf("only %d plates", len(l))
	}
	rows := append([]plateRow(nil), s.f.list.rows[:3]...)
	share := map[catalog.ID]float64{rows[0].id: 0.8, rows[1].id: 0.1}
	rows[1].ended = true
	got := choose(rows, plateWish{order: byLife}, nil, func(r plateRow) float64 {
		v := lifeView{share: -1}
		if k, ok := share[r.id]; ok {
			v = lifeView{share: k, forecast: &life.Forecast{Readings: 4}}
		}
		return lifeRank(v, r.ended)
	})
	if got[0].id != rows[0].id || got[1].id != rows[2].id || got[2].id != rows[1].id {
		t.Errorf("the order is %s, %s, %s", got[0].title, got[1].title, got[2].title)
	}
}
