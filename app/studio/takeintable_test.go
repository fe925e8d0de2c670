package studio

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pullbook/catalog/exchange/cells"
	"pullbook/catalog/exchange/sheet"
	"pullbook/catalog/store"
)

// A spreadsheet is planned, taken in as one step, and undone as one.
func TestTakeInTable(t *testing.T) {
	ctx, s := context.Background(), newCatalogue(t)
	path := filepath.Join(t.TempDir(), "list.csv")
	check(t, os.WriteFile(path, []byte("No,Title,Edition\n1,Sandbar,1/10\n1,Sandbar,2/10\n,,\n1,Sandbar,2/10\n"), 0o600))
	found, err := cells.Open(path)
	check(t, err)
	plan, err := s.PlanTable(ctx, found[0], sheet.Guess(found[0]))
	check(t, err)
	if plan.Accepted() != 2 || len(plan.Rows) != 3 {
		t.Fatalf("%s %+v", plan.Summary(), plan.Rows)
	}
	check(t, s.TakeInTable(ctx, plan))
	snap, err := s.store.Snapshot(ctx)
	check(t, err)
	if len(snap.Plates) != 1 || len(snap.Impressions) != 2 || snap.Editions[0].Size != 10 {
		t.Errorf("%d plates, %d impressions", len(snap.Plates), len(snap.Impressions))
	}
	_, err = s.store.Undo(ctx)
	check(t, err)
	if snap, err = s.store.Snapshot(ctx); err != nil || len(snap.Plates)+len(snap.Impressions)+len(snap.Editions) != 0 {
		t.Errorf("undoing left %d plates, %v", len(snap.Plates), err)
	}
}

// Exported with its photographs and taken into an empty catalogue, a catalogue
// is the same, to the last record and the last byte of its pictures.
func TestTakeInExport(t *testing.T) {
	ctx, s := context.Background(), newCatalogue(t)
	files := t.TempDir()
	pictures(t, files, 3)
	taken, err := s.TakeIn(ctx, []string{files}, nil)
	check(t, err)
	if len(taken) != 3 {
		t.Fatal(len(taken))
	}
	tables := t.TempDir()
	check(t, s.Export(ctx, "csv", tables, nil))
	other := newCatalogue(t)
	if err := other.TakeInExport(ctx, tables, "", nil); err == nil || !strings.Contains(err.Error(), "3 photographs") {
		t.Errorf("without the photographs: %v", err)
	}
	check(t, other.TakeInExport(ctx, tables, filepath.Join(s.dir, store.PhotographsDir), nil))
	a, err := s.store.Snapshot(ctx)
	check(t, err)
	b, err := other.store.Snapshot(ctx)
	check(t, err)
	if x, y := fmt.Sprintf("%+v", *a), fmt.Sprintf("%+v", *b); x != y {
		t.Errorf("the catalogue came back as\n%.600s\nnot\n%.600s", y, x)
	}
	r, err := other.Verify(ctx, nil)
	check(t, err)
	if !r.Clean() || r.Photographs != 3 {
		t.Errorf("verify: %s", VerifyWords(r))
	}
	if err := other.TakeInExport(ctx, tables, filepath.Join(s.dir, store.PhotographsDir), nil); err == nil {
		t.Error("a catalogue that is not empty took another in")
	}
}

func TestTakeInLiterature(t *testing.T) {
	ctx, s := context.Background(), newCatalogue(t)
	path := filepath.Join(t.TempDir(), "list.bib")
	check(t, os.WriteFile(path, []byte("@book{a, author={Hollis, R.}, title={Tides}, year={1987}}\n@book{b}\n"), 0o600))
	for i, want := range []int{1, 0} {
		added, refused, err := s.TakeInLiterature(ctx, path)
		check(t, err)
		if added != want || len(refused) != 1 {
			t.Errorf("time %d: %d added, refused %q", i+1, added, refused)
		}
	}
	list, err := s.store.Literature(ctx)
	check(t, err)
	if len(list) != 1 || list[0].Short != "Hollis 1987" || list[0].Year.EDTF != "1987" {
		t.Errorf("%+v", list)
	}
}
