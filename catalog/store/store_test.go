package store

import (
	"context"
	"errors"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"pullbook/catalog"
)

var ctx = context.Background()

// newStore makes an empty catalogue in a folder with a difficult name.
func newStore(t testing.TB) *Store {
	t.Helper()
	s, err := CreateWith(filepath.Join(t.TempDir(), "Éstuary ? 100% #1.pullbook"), Options{Who: "tester"})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func do(t testing.TB, s *Store, label string, f func(*Tx) error) {
	t.Helper()
	if err := s.Do(ctx, label, f); err != nil {
		t.Fatalf("%s: %v", label, err)
	}
}

// fill sets every field of a struct to something that is not zero, with
// references left alone, so that a column forgotten in a table shows.
func fill(v reflect.Value, seed *int) {
	*seed++
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(v.Elem(), seed)
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[time.Time]() {
			v.Set(reflect.ValueOf(time.Date(2021, 3, 4, 5, 6, *seed, 7e6, time.UTC)))
			return
		}
		for i := range v.NumField() {
			fill(v.Field(i), seed)
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		fill(v.Index(0), seed)
		fill(v.Index(1), seed)
	case reflect.Array:
		for i := range v.Len() {
			fill(v.Index(i), seed)
		}
	case reflect.String:
		if v.Type() != reflect.TypeFor[catalog.ID]() {
			v.SetString("été " + strings.Repeat("x", *seed%7) + " 'q' <b>&\n")
		}
	case reflect.Int, reflect.Int64:
		v.SetInt(int64(*seed))
	case reflect.Float64:
		v.SetFloat(float64(*seed) + 0.1)
	case reflect.Bool:
		v.SetBool(true)
	default:
		panic("fill: " + v.Type().String())
	}
}

func filled[P any]() *P {
	p := new(P)
	seed := 0
	fill(reflect.ValueOf(p).Elem(), &seed)
	return p
}

// everything is one record of each noun with every field set and every
// reference pointing somewhere.
type everything struct {
	person     *catalog.Person
	holder     *catalog.Holder
	paper      *catalog.Paper
	ink        *catalog.Ink
	press      *catalog.Press
	source     *catalog.Literature
	exhibition *catalog.Exhibition
	group      *catalog.Group
	imprint    *catalog.Imprint
	plate      *catalog.Plate
	state      *catalog.State
	edition    *catalog.Edition
	day        *catalog.PrintingDay
	impression *catalog.Impression
	photograph *catalog.Photograph
	session    *catalog.ShootingSession
	score      *catalog.Score
}

func makeEverything() *everything {
	e := &everything{
		person: filled[catalog.Person](), holder: filled[catalog.Holder](), paper: filled[catalog.Paper](),
		ink: filled[catalog.Ink](), press: filled[catalog.Press](), source: filled[catalog.Literature](),
		exhibition: filled[catalog.Exhibition](), group: filled[catalog.Group](), imprint: filled[catalog.Imprint](),
		plate: filled[catalog.Plate](), state: filled[catalog.State](), edition: filled[catalog.Edition](),
		day: filled[catalog.PrintingDay](), impression: filled[catalog.Impression](),
		photograph: filled[catalog.Photograph](), session: filled[catalog.ShootingSession](), score: filled[catalog.Score](),
	}
	e.plate.Standing, e.impression.Kind, e.photograph.View = catalog.Doubtful, catalog.KindBAT, catalog.ViewRaking
	e.plate.LossLimit = 0.2
	e.photograph.SHA256, e.photograph.Ext = strings.Repeat("ab", 32), ".jpg"
	e.state.N, e.edition.Kind, e.impression.Pull = 1, "edition", 3
	for i := range e.state.Changes {
		e.state.Changes[i].Kind, e.state.Changes[i].Ruling = "added", "accepted"
	}
	return e
}

func (e *everything) put(tx *Tx) error {
	if err := errors.Join(tx.PutPerson(e.person), tx.PutHolder(e.holder), tx.PutInk(e.ink), tx.PutPress(e.press),
		tx.PutLiterature(e.source), tx.PutExhibition(e.exhibition), tx.PutGroup(e.group)); err != nil {
		return err
	}
	e.imprint.MakerID = e.person.ID
	e.plate.MakerID, e.plate.GroupIDs = e.person.ID, []catalog.ID{e.group.ID}
	cite(e.plate.Literature, e.source.ID)
	cite(e.state.Literature, e.source.ID)
	cite(e.impression.Literature, e.source.ID)
	show(e.plate.Exhibitions, e.exhibition.ID)
	show(e.impression.Exhibitions, e.exhibition.ID)
	if err := errors.Join(tx.PutImprint(e.imprint), tx.PutPlate(e.plate), tx.PutPaper(e.paper), tx.PutSession(e.session)); err != nil {
		return err
	}
	for _, id := range []*catalog.ID{&e.state.PlateID, &e.edition.PlateID, &e.day.PlateID, &e.impression.PlateID} {
		*id = e.plate.ID
	}
	if err := tx.PutState(e.state); err != nil {
		return err
	}
	e.edition.StateID, e.day.StateID, e.impression.StateID, e.score.StateID = e.state.ID, e.state.ID, e.state.ID, e.state.ID
	e.edition.PaperID, e.edition.Publisher, e.edition.PrinterID = e.paper.ID, e.person.ID, e.person.ID
	if err := errors.Join(tx.PutEdition(e.edition), tx.PutDay(e.day)); err != nil {
		return err
	}
	i := e.impression
	i.EditionID, i.PaperID, i.InkID, i.PrinterID, i.PressID = e.edition.ID, e.paper.ID, e.ink.ID, e.person.ID, e.press.ID
	i.DayID, i.HolderID = e.day.ID, e.holder.ID
	for k := range i.Provenance {
		i.Provenance[k].HolderID = e.holder.ID
	}
	if err := tx.PutImpression(i); err != nil {
		return err
	}
	e.photograph.ImpressionID, e.photograph.SessionID = i.ID, e.session.ID
	if err := tx.PutPhotograph(e.photograph); err != nil {
		return err
	}
	e.paper.WatermarkPhotoID, e.session.BlankPhotoID, e.session.WedgePhotoID = e.photograph.ID, e.photograph.ID, e.photograph.ID
	e.state.ReferenceID, e.state.ReferencePhotoID = i.ID, e.photograph.ID
	e.score.ImpressionID, e.score.PhotoID, e.score.ReferencePhotoID = i.ID, e.photograph.ID, e.photograph.ID
	return errors.Join(tx.PutPaper(e.paper), tx.PutSession(e.session), tx.PutState(e.state), tx.PutScore(e.score))
}

func cite(c []catalog.Citation, id catalog.ID) {
	for i := range c {
		c[i].WorkID = id
	}
}

func show(s []catalog.Showing, id catalog.ID) {
	for i := range s {
		s[i].ExhibitionID = id
	}
}

// Every field of every noun comes back as it was put in, after closing and
// opening again.
func TestEveryFieldComesBack(t *testing.T) {
	s := newStore(t)
	e := makeEverything()
	do(t, s, "everything", e.put)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s, err := Open(s.Dir(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	snap, err := s.Snapshot(ctx)
	if err != nil {
		t.Fatal(err)
	}
	want := &catalog.Snapshot{
		Imprint: *e.imprint, Plates: []catalog.Plate{*e.plate}, States: []catalog.State{*e.state},
		Impressions: []catalog.Impression{*e.impression}, Editions: []catalog.Edition{*e.edition},
		Photographs: []catalog.Photograph{*e.photograph}, Scores: []catalog.Score{*e.score},
		Days: []catalog.PrintingDay{*e.day}, Sessions: []catalog.ShootingSession{*e.session},
		Groups: []catalog.Group{*e.group}, People: []catalog.Person{*e.person}, Holders: []catalog.Holder{*e.holder},
		Papers: []catalog.Paper{*e.paper}, Inks: []catalog.Ink{*e.ink}, Presses: []catalog.Press{*e.press},
		Literature: []catalog.Literature{*e.source}, Exhibitions: []catalog.Exhibition{*e.exhibition},
	}
	got, wanted := reflect.ValueOf(*snap), reflect.ValueOf(*want)
	for i := range got.NumField() {
		if !reflect.DeepEqual(got.Field(i).Interface(), wanted.Field(i).Interface()) {
			t.Errorf("%s:\n got %+v\nwant %+v", got.Type().Field(i).Name, got.Field(i), wanted.Field(i))
		}
	}
}

func TestListRow(t *testing.T) {
	s := newStore(t)
	e := makeEverything()
	do(t, s, "everything", e.put)
	rows, err := s.Plates(ctx, PlateFilter{Text: "ETE", GroupID: e.group.ID, HolderID: e.holder.ID})
	if err != nil || len(rows) != 1 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	r := rows[0]
	if r.States != 1 || r.Impressions != 1 || r.Photographs != 1 || r.LastPull != 3 || r.ThumbPhotoID != e.photograph.ID ||
		r.Title != e.plate.Title() || !r.LastPulledAt.Equal(e.impression.PulledAt) {
		t.Errorf("row %+v", r)
	}
}

func TestUndoRedoOnce(t *testing.T) {
	s := newStore(t)
	calls := 0
	s.OnChange(func() { calls++ })
	p := &catalog.Plate{Titles: []catalog.Title{{Text: "Low water"}}}
	do(t, s, "Add plate", func(tx *Tx) error { return tx.PutPlate(p) })
	do(t, s, "No change", func(tx *Tx) error { return tx.PutPlate(p) })
	if s.NextUndo() != "Add plate" || s.NextRedo() != "" {
		t.Fatalf("next undo %q, redo %q", s.NextUndo(), s.NextRedo())
	}
	if label, err := s.Undo(ctx); err != nil || label != "Add plate" {
		t.Fatalf("undo %q %v", label, err)
	}
	var missing *NotFoundError
	if _, err := s.Plate(ctx, p.ID); !errors.As(err, &missing) {
		t.Fatalf("the plate is still there: %v", err)
	}
	if _, err := s.Undo(ctx); !errors.Is(err, ErrNothing) {
		t.Fatalf("second undo: %v", err)
	}
	if label, err := s.Redo(ctx); err != nil || label != "Add plate" {
		t.Fatalf("redo %q %v", label, err)
	}
	got, err := s.Plate(ctx, p.ID)
	if err != nil || !reflect.DeepEqual(got, p) {
		t.Fatalf("after redo %+v, %v", got, err)
	}
	if calls != 3 {
		t.Errorf("%d calls of OnChange, want 3", calls)
	}
	h, err := s.History(ctx, p.ID)
	if err != nil || len(h) != 1 || h[0].Who != "tester" || h[0].Kind != "created" || h[0].Standing != "done" {
		t.Errorf("history %+v, %v", h, err)
	}
}
