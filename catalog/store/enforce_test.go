package store

import (
	"errors"
	"strings"
	"testing"

	"pullbook/catalog"
)

// refusal gives the sentence of a refused action; anything else is a failure.
func refusedFor(t *testing.T, err error) string {
	t.Helper()
	var r *RefusedError
	if !errors.As(err, &r) {
		t.Fatalf("not refused: %v", err)
	}
	return r.Error()
}

func TestContradictionsAreRefused(t *testing.T) {
	s := newStore(t)
	plate := &catalog.Plate{Number: catalog.Number{N: 4}, Titles: []catalog.Title{{Text: "Ferry steps"}}}
	edition := &catalog.Edition{Name: "first edition", Size: 30}
	number := func(n int, written string) *catalog.Impression {
		return &catalog.Impression{PlateID: plate.ID, EditionID: edition.ID, Kind: catalog.KindNumbered, Written: written, Ordinal: n, OutOf: 30}
	}
	do(t, s, "begin", func(tx *Tx) error {
		if err := tx.PutPlate(plate); err != nil {
			return err
		}
		edition.PlateID = plate.ID
		return tx.PutEdition(edition)
	})
	do(t, s, "number", func(tx *Tx) error { return tx.PutImpression(number(7, "7/30")) })
	before := dumpOf(t, s)
	said := refusedFor(t, s.Do(ctx, "again", func(tx *Tx) error { return tx.PutImpression(number(7, "7/30")) }))
	for _, w := range []string{"first edition", "Ferry steps", "7/30"} {
		if !strings.Contains(said, w) {
			t.Errorf("%q does not name %s", said, w)
		}
	}
	refusedFor(t, s.Do(ctx, "beyond", func(tx *Tx) error { return tx.PutImpression(number(31, "31/30")) }))
	refusedFor(t, s.Do(ctx, "shrink", func(tx *Tx) error { e := *edition; e.Size = 6; return tx.PutEdition(&e) }))
	refusedFor(t, s.Do(ctx, "number twice", func(tx *Tx) error { return tx.PutPlate(&catalog.Plate{Number: plate.Number}) }))
	refusedFor(t, s.Do(ctx, "in use", func(tx *Tx) error { return tx.DeletePlate(plate.ID) }))
	refusedFor(t, s.Do(ctx, "no plate", func(tx *Tx) error { return tx.PutImpression(&catalog.Impression{}) }))
	refusedFor(t, s.Do(ctx, "no file", func(tx *Tx) error { return tx.PutPhotograph(&catalog.Photograph{SHA256: "../../x"}) }))
	said = refusedFor(t, s.Do(ctx, "odd word", func(tx *Tx) error { return tx.PutImpression(&catalog.Impression{PlateID: plate.ID, Kind: "odd"}) }))
	if !strings.Contains(said, "kind") {
		t.Errorf("%q", said)
	}
	if dumpOf(t, s) != before {
		t.Error("a refused action changed the catalogue")
	}
}

// A contradiction that is there already (from another program, or an older
// version with fewer rules) does not stand in the way of other work, and can
// be mended.
func TestOldContradictionsDoNotBlock(t *testing.T) {
	s := newStore(t)
	plate := &catalog.Plate{}
	a, b := &catalog.Impression{Pull: 1}, &catalog.Impression{Pull: 2}
	do(t, s, "begin", func(tx *Tx) error {
		if err := tx.PutPlate(plate); err != nil {
			return err
		}
		a.PlateID, b.PlateID = plate.ID, plate.ID
		return errors.Join(tx.PutImpression(a), tx.PutImpression(b))
	})
	if _, err := s.write.ExecContext(ctx, "UPDATE impression SET pull = 1"); err != nil {
		t.Fatal(err)
	}
	do(t, s, "other work", func(tx *Tx) error { plate.Remarks = "seen"; return tx.PutPlate(plate) })
	refusedFor(t, s.Do(ctx, "a third", func(tx *Tx) error { return tx.PutImpression(&catalog.Impression{PlateID: plate.ID, Pull: 1}) }))
	do(t, s, "mend", func(tx *Tx) error { return tx.PutImpression(b) })
	breaches, err := s.Breaches(ctx, plate.ID)
	if err != nil || len(breaches) != 0 {
		t.Errorf("after mending: %v, %v", breaches, err)
	}
}

// Removing a record others point to is refused with what points to it.
func TestDeleteNamesTheUsers(t *testing.T) {
	s := newStore(t)
	e := makeEverything()
	do(t, s, "everything", e.put)
	for name, c := range map[string]struct {
		remove func(*Tx) error
		says   string
	}{
		"paper":      {func(tx *Tx) error { return tx.DeletePaper(e.paper.ID) }, "(1 edition, 1 impression)"},
		"holder":     {func(tx *Tx) error { return tx.DeleteHolder(e.holder.ID) }, "(1 impression, 2 lines of provenance)"},
		"source":     {func(tx *Tx) error { return tx.DeleteLiterature(e.source.ID) }, "(6 citations)"},
		"impression": {func(tx *Tx) error { return tx.DeleteImpression(e.impression.ID) }, "(1 reference of state)"},
		"photograph": {func(tx *Tx) error { return tx.DeletePhotograph(e.photograph.ID) }, "1 reference of state"},
		"group":      {func(tx *Tx) error { return tx.DeleteGroup(e.group.ID) }, "(1 plate)"},
		"state":      {func(tx *Tx) error { return tx.DeleteState(e.state.ID) }, "1 edition, 1 impression, 1 printing day, 1 score"},
	} {
		if said := refusedFor(t, s.Do(ctx, name, c.remove)); !strings.Contains(said, c.says) {
			t.Errorf("%s: %q does not say %q", name, said, c.says)
		}
	}
	refused := s.Do(ctx, "imprint", func(tx *Tx) error { return tx.DeletePlate("nosuchplate") })
	var missing *NotFoundError
	if !errors.As(refused, &missing) {
		t.Errorf("removing what is not there: %v", refused)
	}
}

// A reference to a record that is not there is refused at the end of the
// action.
func TestReferenceInTheAirIsRefused(t *testing.T) {
	s := newStore(t)
	err := s.Do(ctx, "x", func(tx *Tx) error { return tx.PutPlate(&catalog.Plate{MakerID: "nobody"}) })
	if said := refusedFor(t, err); !strings.Contains(said, "not in the catalogue") {
		t.Errorf("%q", said)
	}
}
