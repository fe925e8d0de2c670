package places

import (
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"pullbook/catalog"
)

// inputs are the fields, choices and ticks within an object.
func inputs(o fyne.CanvasObject) []fyne.CanvasObject {
	switch x := o.(type) {
	case *field, *combo, *choice, *tick:
		return []fyne.CanvasObject{o}
	case *fyne.Container:
		var l []fyne.CanvasObject
		for _, c := range x.Objects {
			l = append(l, inputs(c)...)
		}
		return l
	}
	return nil
}

// write puts something else into an input, something that any kind of field
// takes, and leaves it.
func write(o fyne.CanvasObject, text string) {
	switch x := o.(type) {
	case *field:
		x.SetText(text)
		x.commit()
	case *combo:
		x.SetText(text)
		x.commit()
	case *choice:
		x.SetSelectedIndex((x.SelectedIndex() + 1) % len(x.Options))
	case *tick:
		x.SetChecked(!x.Checked)
	}
}

// unchanged are the JSON names of the fields that two records have alike.
func unchanged(t *testing.T, was, is any) []string {
	t.Helper()
	a, b := asMap(t, was), asMap(t, is)
	var l []string
	for k := range a {
		if reflect.DeepEqual(a[k], b[k]) {
			l = append(l, k)
		}
	}
	slices.Sort(l)
	return l
}

func asMap(t *testing.T, v any) map[string]any {
	t.Helper()
	raw, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	m := map[string]any{}
	if err := json.Unmarshal(raw, &m); err != nil {
		t.Fatal(err)
	}
	return m
}

// Everything the catalogue keeps of a sheet can be written in its form, except
// what is the form's own business; left alone, the form alters nothing.
func TestEveryFieldOfASheetIsWritten(t *testing.T) {
	h := estuary(t)
	s := newStand(t, h, 1280, 776, false)
	b := s.f.book
	i := *b.impressionsOf[s.f.plate][0]
	i.Inscriptions = []catalog.Inscription{{Text: "two\nlines", Place: "below", Medium: "ink", By: "the printer"}}
	i.Provenance = []catalog.Owner{{Name: "a friend", From: catalog.Date{Text: "1999", EDTF: "1999"}, How: "gift", Note: "framed"}}
	i.NotKnown = []string{"paper_id", "something else"}
	same := newSheetForm(s.f, b, &i)
	if records, err := same.take(); err != nil || !reflect.DeepEqual(same.x, i) || len(records) != 1 {
		t.Fatalf("left alone, the form makes\n%+v of\n%+v, with %d records: %v", same.x, i, len(records), err)
	}
	form := newSheetForm(s.f, b, &i)
	for _, g := range form.groups {
		for _, f := range g.facts {
			text := map[string]string{"Sheet": "313", "Pulled at": "2001-05-04 10:00", "Dry from": "2001-05-09", "Literature": "Reed 1999 ; 12 ; 4 ; III", "Number, read from it": "9", "Of how many": "12", "Count of pull": "77"}[f.name]
			if text == "" {
				text = "a mallard"
			}
			for _, in := range inputs(f.field) {
				write(in, text)
			}
		}
	}
	records, err := form.take()
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(unchanged(t, i, form.x), " "); got != "day_id decision id plate_id" {
		t.Errorf("what cannot be written: %s", got)
	}
	made := map[string]bool{}
	for _, r := range records {
		made[reflect.TypeOf(r).Elem().Name()] = true
	}
	for _, noun := range []string{"Paper", "Ink", "Press", "Person", "Holder", "Literature", "Exhibition", "Impression"} {
		if !made[noun] {
			t.Errorf("no %s was entered by its name", noun)
		}
	}
	if len(form.x.Literature) != 1 || form.x.Literature[0].State != 3 || form.x.Literature[0].Number != "12" {
		t.Errorf("the literature is %+v", form.x.Literature)
	}
}

// The number written on a sheet is read, but roman figures name no kind; the
// time of drying goes with that of pulling.
func TestWhatIsWrittenOnASheetIsRead(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	b := s.f.book
	read := func(written string) catalog.Impression {
		i := &catalog.Impression{ID: "x", PlateID: s.f.plate}
		form := newSheetForm(s.f, b, i)
		for _, f := range form.groups[0].facts {
			if f.name == "As written on it" {
				write(f.field, written)
			}
		}
		for _, f := range form.groups[2].facts {
			if f.name == "Pulled at" {
				write(f.field, "2026-03-14")
			}
		}
		if _, err := form.take(); err != nil {
			t.Fatal(err)
		}
		return form.x
	}
	if x := read("7/30"); x.Ordinal != 7 || x.OutOf != 30 || x.Kind != catalog.KindNumbered || !x.DryFrom.Equal(catalog.DryAt(x.PulledAt, b.Imprint.DryHours)) {
		t.Errorf("7/30 is %+v", x)
	}
	if x := read("II/V"); x.Ordinal != 2 || x.OutOf != 5 || x.Kind != catalog.KindUnrecorded {
		t.Errorf("II/V is %+v", x)
	}
}

// The same for the plate, its states and its editions, whose fields are kept
// one by one.
func TestEveryFieldOfThePlateIsWritten(t *testing.T) {
	h := estuary(t)
	s := newStand(t, h, 1280, 776, false)
	s.f.goTo(AtDesk)
	s.settle()
	d := s.desk()
	kept := func(before int) bool { // and read back
		book := s.f.book
		for range 150 {
			s.q.run()
			if h.steps() > before && s.f.book != book {
				return true
			}
			time.Sleep(2 * time.Millisecond)
		}
		return false
	}
	fill := func(o fyne.CanvasObject) {
		for _, in := range inputs(o) {
			text := "a mallard"
			if f, ok := in.(*field); ok && !f.MultiLine && f.Text != "" && strings.Trim(f.Text, "0123456789.,") == "" {
				text = "41"
			}
			before := h.steps()
			write(in, text)
			if kept(before) {
				continue
			}
			write(in, "41") // it wants a figure
			kept(before)
		}
	}
	plate := *d.plate
	fill(d.entry())
	if got := strings.Join(unchanged(t, plate, s.f.book.plates[plate.ID]), " "); got != "exhibitions id literature not_known regions" {
		t.Errorf("of the plate cannot be written in the entry: %s", got)
	}
	state := *s.f.book.statesOf[plate.ID][0]
	fill(d.stateFacts(&state))
	if got := strings.Join(unchanged(t, state, s.f.book.states[state.ID]), " "); got != "changes id n plate_id reference_id reference_photo_id work" {
		t.Errorf("of the state cannot be written on its card: %s", got)
	}
	edition := *s.f.book.editionsOf[plate.ID][0]
	fill(d.editionCounts(&edition))
	for _, o := range d.editionFacts(&edition) {
		fill(o)
	}
	if got := strings.Join(unchanged(t, edition, s.f.book.editions[edition.ID]), " "); got != "id plate_id" {
		t.Errorf("of the edition cannot be written on its card: %s", got)
	}
}

// The parts of the book are chosen, moved, given texts, and kept in the
// imprint.
func TestBookIsPutTogether(t *testing.T) {
	h := estuary(t)
	s := newStand(t, h, 1280, 776, false)
	s.f.Do("put together")
	s.settle()
	top := s.win.Canvas().Overlays().Top()
	if top == nil {
		t.Fatal("nothing opened")
	}
	d := &bookDesk{f: s.f, im: s.f.book.Imprint}
	d.parts, d.names = h.BookParts(&d.im)
	d.build()
	d.choose(1)
	d.text.SetText("The *estuary*.")
	d.heading.SetText("To the reader")
	d.move(1, 1)
	d.add()
	d.text.SetText("A word of thanks.")
	d.parts[0].Off = true
	s.settle()
	var kinds []string
	for _, p := range d.parts {
		kinds = append(kinds, p.Kind)
	}
	if got := strings.Join(kinds, ", "); got != "title page, the plates, introduction, own text, colophon" {
		t.Errorf("the order is %s", got)
	}
	if p := d.parts[2]; p.Text != "The *estuary*." || p.Heading != "To the reader" {
		t.Errorf("the introduction is %+v", p)
	}
	if d.pages != 2 || !d.img.Visible() {
		t.Errorf("%d pages are shown", d.pages)
	}
	m := s.f.book.Imprint
	m.Book = d.parts
	s.f.save("put together", &m)
	s.settle()
	if got := s.f.book.Imprint.Book; len(got) != 5 || got[3].Text != "A word of thanks." || !got[0].Off {
		t.Errorf("kept: %+v", got)
	}
	d.choose(3)
	d.drop()
	if len(d.parts) != 4 {
		t.Error("the own text stays")
	}
}

// What narrows the list of plates down holds together.
func TestFiltersCombine(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	l := s.f.list
	rows := l.rows
	if len(rows) < 3 {
		t.Fatalf("only %d plates", len(rows))
	}
	values := s.f.facetValues(rows, byPaper)
	if len(values) == 0 {
		t.Fatal("no papers are offered")
	}
	w := plateWish{technique: rows[0].techs[0]}
	w.only[byPaper] = values[0].id
	got := choose(rows, w, nil, nil)
	want := 0
	for _, r := range rows {
		if slices.Contains(r.techs, w.technique) && slices.Contains(r.has[byPaper], values[0].id) {
			want++
		}
	}
	if len(got) != want || want == 0 {
		t.Errorf("%d plates, want %d", len(got), want)
	}
	w.only[byHolder] = "nobody"
	if got := choose(rows, w, nil, nil); len(got) != 0 || !w.narrowed() {
		t.Errorf("%d plates with nobody", len(got))
	}
	if len(l.filters()) < 8 {
		t.Errorf("the menu has %d lines", len(l.filters()))
	}
}
