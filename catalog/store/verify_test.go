package store

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pullbook/catalog"
)

// takeIn puts a file into the archive and a record of it into the catalogue.
func takeIn(t testing.TB, s *Store, name string, data []byte, sheet catalog.ID) *catalog.Photograph {
	t.Helper()
	src := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(src, data, 0o644); err != nil {
		t.Fatal(err)
	}
	kept, err := s.Archive().Add(ctx, src)
	if err != nil {
		t.Fatal(err)
	}
	h := &catalog.Photograph{ImpressionID: sheet, SHA256: kept.SHA256, Ext: kept.Ext, Bytes: kept.Bytes, Name: name, View: catalog.ViewWhole}
	do(t, s, "Take in "+name, func(tx *Tx) error { return tx.PutPhotograph(h) })
	return h
}

// stocked is a catalogue with a plate, ten sheets and three photographs.
func stocked(t testing.TB) (*Store, *catalog.Plate, []*catalog.Photograph) {
	s := newStore(t)
	p := &catalog.Plate{Number: catalog.Number{N: 12}, Titles: []catalog.Title{{Text: "Low water"}}}
	var sheets []*catalog.Impression
	do(t, s, "begin", func(tx *Tx) error {
		if err := tx.PutPlate(p); err != nil {
			return err
		}
		for n := 1; n <= 10; n++ {
			i := &catalog.Impression{PlateID: p.ID, Pull: n, Kind: catalog.KindNumbered, Ordinal: n, OutOf: 10, Written: fmt.Sprintf("%d/10", n)}
			if err := tx.PutImpression(i); err != nil {
				return err
			}
			sheets = append(sheets, i)
		}
		return nil
	})
	var photos []*catalog.Photograph
	for n, name := range []string{"0012.jpg", "0013.jpg", "0014.tif"} {
		photos = append(photos, takeIn(t, s, name, bytes.Repeat([]byte{byte(n + 1)}, 5000+n), sheets[n].ID))
	}
	return s, p, photos
}

func verify(t testing.TB, s *Store) Report {
	t.Helper()
	r, err := s.Verify(ctx, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Damage of each kind is found, and named by the sheet and the plate.
func TestVerifyNamesWhatIsWrong(t *testing.T) {
	s, _, photos := stocked(t)
	if r := verify(t, s); !r.Clean() || len(r.Findings) != 0 || r.Photographs != 3 || r.Bytes != 15003 || r.Records != 15 {
		t.Fatalf("sound catalogue: %+v", r)
	}
	path := func(h *catalog.Photograph) string { return s.Archive().Path(h.SHA256, h.Ext) }
	if err := os.Remove(path(photos[0])); err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(os.Chmod(path(photos[1]), 0o644), os.WriteFile(path(photos[1]), bytes.Repeat([]byte{9}, 5001), 0o644)); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Archive().AddFrom(ctx, strings.NewReader("orphan"), "x.jpg", 6); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(s.Archive().Dir(), "notes.txt"), []byte("x"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, stmt := range []string{"UPDATE impression SET pull = 5 WHERE ordinal = 4", "DELETE FROM search_text WHERE noun = 'plate'",
		"UPDATE impression SET edition_id = NULL"} {
		if _, err := s.write.ExecContext(ctx, stmt); err != nil {
			t.Fatal(err)
		}
	}
	// A broken reference, as another program with references off leaves it.
	raw := openPool(filepath.Join(s.Dir(), DatabaseFile), opening{mode: "rw"})
	if _, err := raw.ExecContext(ctx, "PRAGMA foreign_keys = OFF"); err != nil {
		t.Fatal(err)
	}
	if _, err := raw.ExecContext(ctx, "UPDATE impression SET ink_id = 'gone' WHERE ordinal = 9"); err != nil {
		t.Fatal(err)
	}
	raw.Close()
	r := verify(t, s)
	var said []string
	for _, f := range r.Findings {
		said = append(said, f.Sentence)
	}
	all := strings.Join(said, "\n")
	for _, want := range []string{
		"The photograph 0012.jpg of 1/10 (pull 1) of 12, Low water: its file is missing.",
		"The photograph 0013.jpg of 2/10 (pull 2) of 12, Low water: its file is not as it was taken in.",
		"1 photograph is in the folder that no record speaks of",
		"notes.txt",
		"counted as pull 5",
		"The search would miss or misname 1 record.",
		"The search index is damaged",
		"refers to one that is not there: impression",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("not found: %s\nin:\n%s", want, all)
		}
	}
	if r.Clean() {
		t.Error("called clean")
	}
	if err := s.RebuildSearch(ctx); err != nil {
		t.Fatal(err)
	}
	for _, f := range verify(t, s).Findings {
		if strings.Contains(f.Sentence, "search") {
			t.Errorf("after making the index anew: %s", f.Sentence)
		}
	}
}
