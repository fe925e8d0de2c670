package store

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"testing"

	"pullbook/catalog"
)

// Whatever collections have written about prints is kept as it was written:
// every text of the gold tables (open data of museums, sources in
// ../shared/records/README.md) is put in, taken out, undone and redone
// unchanged.
func TestRawTextsSurvive(t *testing.T) {
	folder := filepath.Join("..", "..", "..", "shared", "records")
	files, err := filepath.Glob(filepath.Join(folder, "gold_*.csv"))
	if err != nil || len(files) == 0 {
		t.Skipf("the folder %s is not there", folder)
	}
	var texts []string
	seen := map[string]bool{}
	for _, name := range files {
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		r := csv.NewReader(f)
		r.FieldsPerRecord = -1
		rows, err := r.ReadAll()
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows {
			for _, x := range row {
				if !seen[x] {
					seen[x] = true
					texts = append(texts, x)
				}
			}
		}
	}
	if len(texts) < 1000 {
		t.Fatalf("only %d texts", len(texts))
	}
	s := newStore(t)
	plate := &catalog.Plate{}
	for _, x := range texts {
		plate.Inscriptions = append(plate.Inscriptions, catalog.Inscription{Text: x})
	}
	do(t, s, "texts", func(tx *Tx) error { return tx.PutPlate(plate) })
	if _, err := s.Undo(ctx); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Redo(ctx); err != nil {
		t.Fatal(err)
	}
	got, err := s.Plate(ctx, plate.ID)
	if err != nil {
		t.Fatal(err)
	}
	changed := 0
	for i, x := range texts {
		if got.Inscriptions[i].Text != x {
			changed++
			t.Errorf("%q came back as %q", x, got.Inscriptions[i].Text)
		}
	}
	t.Logf("%d texts of %d tables unchanged", len(texts)-changed, len(files))
}
