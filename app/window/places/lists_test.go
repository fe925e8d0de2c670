package places

import (
	"testing"

	"fyne.io/fyne/v2/test"

	"pullbook/catalog"
)

// Every kind of list has rows, facts that can be written and a name it needs;
// what is written comes into the record.
func TestFactsOfEveryList(t *testing.T) {
	newStand(t, estuary(t), 1280, 776, false)
	for _, k := range listKinds() {
		r := k.fresh()
		facts, needs := factsOf(r)
		if len(facts) < 2 || needs == nil {
			t.Fatalf("%s: %d facts", k.name, len(facts))
		}
		facts[0].field.(*field).SetText("  Reedmace é  ")
		if err := takeAll(facts); err != nil || *needs != "Reedmace é" {
			t.Errorf("%s: took %q, %v", k.name, *needs, err)
		}
		if name, _ := recordWords(r); name != "Reedmace é" {
			t.Errorf("%s is called %q", k.name, name)
		}
		if c := copyOf(r); c == r || recordID(c) != recordID(r) {
			t.Errorf("%s: the copy is no copy", k.name)
		}
	}
	p := &catalog.Paper{Name: "x", WeightGSM: 250}
	facts, _ := factsOf(p)
	facts[3].field.(*field).SetText("heavy")
	if err := takeAll(facts); err == nil || p.WeightGSM != 250 {
		t.Errorf("a weight in words was taken as %v, %v", p.WeightGSM, err)
	}
	facts[3].field.(*field).SetText("45,5")
	if err := takeAll(facts); err != nil || p.WeightGSM != 45.5 {
		t.Errorf("45,5 was taken as %v, %v", p.WeightGSM, err)
	}
}

func TestUsesAreCounted(t *testing.T) {
	s := &catalog.Snapshot{
		Imprint:     catalog.Imprint{MakerID: "a"},
		Plates:      []catalog.Plate{{MakerID: "a", GroupIDs: []catalog.ID{"g"}, Literature: []catalog.Citation{{WorkID: "w"}, {WorkID: "w"}}}},
		Impressions: []catalog.Impression{{PaperID: "p", PrinterID: "a", Provenance: []catalog.Owner{{HolderID: "h"}}}, {PaperID: "p", HolderID: "h"}},
		Editions:    []catalog.Edition{{PaperID: "p", Publisher: "a", PrinterID: "a"}},
	}
	n := usesIn(s)
	for id, want := range map[catalog.ID]int{"a": 4, "g": 1, "w": 1, "p": 3, "h": 2, "": 0} {
		if n[id] != want {
			t.Errorf("%q is named %d times, want %d", id, n[id], want)
		}
	}
}

// A paper is entered, changed, removed, and each can be undone.
func TestListsAreKept(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	s.f.showLists(2)
	s.settle()
	l := s.desk().lists
	if len(l.shown) != 2 {
		t.Fatalf("%d papers are listed", len(l.shown))
	}
	test.Tap(l.enter)
	e := s.win.Canvas().Focused().(*field)
	e.SetText("Curlew japan")
	e.OnSubmitted("")
	s.settle()
	if len(s.h.snap.Papers) != 3 || len(l.shown) != 3 {
		t.Fatalf("%d papers kept, %d listed", len(s.h.snap.Papers), len(l.shown))
	}
	l.find.SetText("curl")
	if len(l.shown) != 1 {
		t.Fatalf("%d papers are called curl", len(l.shown))
	}
	l.open(copyOf(l.shown[0].record))
	test.Tap(s.buttonNamed("Remove"))
	s.settle()
	if len(s.h.snap.Papers) != 2 {
		t.Errorf("removing left %d papers", len(s.h.snap.Papers))
	}
	s.f.run("undo")
	s.settle()
	if len(s.h.snap.Papers) != 3 {
		t.Errorf("undoing the removal left %d papers", len(s.h.snap.Papers))
	}
	l.find.SetText("tern")
	l.open(copyOf(l.shown[0].record))
	if !s.buttonNamed("Remove").Disabled() {
		t.Error("a paper that sheets are printed on can be removed")
	}
	s.f.typedKey(key("Escape"))
	l.which.Choose(len(l.kinds))
	s.settle()
	m := s.h.snap.Imprint
	facts := imprintFacts(l.b, &m)
	if len(facts) != 14 {
		t.Errorf("the imprint has %d facts", len(facts))
	}
}

// The printmaker, the portfolios and the edition's publisher are written by
// name; a new name enters a record in the same step.
func TestNamesEnterRecords(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	s.f.goTo(AtDesk)
	s.settle()
	d := s.desk()
	undo := s.h.steps()
	maker := d.editedPlate("printmaker", func(p *catalog.Plate, made *[]any) fact {
		return byName("", &p.MakerID, d.b.peopleNames(), made, newPerson("printmaker"))
	}).(*combo)
	maker.SetText("Ada Marrin")
	maker.commit()
	s.settle()
	d.editWith("portfolios", func(p *catalog.Plate) ([]any, error) { return d.setGroups(p, "Low Tide; High Tide ;"), nil })
	s.settle()
	p := s.f.book.plates[d.plate.ID]
	if len(s.h.snap.People) != 1 || p.MakerID != s.h.snap.People[0].ID || len(p.GroupIDs) != 2 || s.h.steps() != undo+2 {
		t.Errorf("%d people, maker %q, %d portfolios, %d steps", len(s.h.snap.People), p.MakerID, len(p.GroupIDs), s.h.steps()-undo)
	}
	if got := d.groupsOf(p); got != "Low Tide; High Tide" {
		t.Errorf("the portfolios are %q", got)
	}
	var id catalog.ID
	var made []any
	f := byName("", &id, d.b.peopleNames(), &made, newPerson("printmaker"))
	f.field.(*combo).SetText("Ada Marrin")
	if err := f.take(); err != nil || id != p.MakerID || made != nil {
		t.Errorf("a known name was entered anew: %v", err)
	}
}

// A choice among many sheets is a list that can be searched.
func TestLongChoice(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	var names []string
	for i := range 3000 {
		names = append(names, "sheet "+sheetName(&catalog.Impression{Pull: i + 1}))
	}
	c := newSelect(names, nil)
	s.win.SetContent(c)
	c.SetSelectedIndex(5)
	c.TypedKey(key("Space"))
	find, ok := s.win.Canvas().Focused().(*field)
	if !ok {
		t.Fatal("a long choice opens no field to search by")
	}
	find.SetText("pull 2917")
	find.OnSubmitted("")
	if c.SelectedIndex() != 2916 || s.win.Canvas().Overlays().Top() != nil {
		t.Errorf("chose %d", c.SelectedIndex())
	}
	c.Tapped(nil)
	s.win.Canvas().Focused().(*field).TypedKey(key("Escape"))
	if c.SelectedIndex() != 2916 || s.win.Canvas().Overlays().Top() != nil {
		t.Error("Escape chooses, or does not put the list away")
	}
}

// A forecast is made anew when what it rests on has changed, not otherwise.
func TestWhatAForecastRestsOn(t *testing.T) {
	h := estuary(t)
	b := newBook(&h.snap)
	was := restsOn(b, "plate1")
	if was != restsOn(newBook(&h.snap), "plate1") {
		t.Error("the same catalogue rests on something else")
	}
	h.snap.Plates[0].Remarks = "a remark"
	if was != restsOn(newBook(&h.snap), "plate1") {
		t.Error("a remark changes the forecast")
	}
	h.snap.Plates[0].LossLimit = 0.11
	if was == restsOn(newBook(&h.snap), "plate1") {
		t.Error("the limit of ink loss does not change the forecast")
	}
}
