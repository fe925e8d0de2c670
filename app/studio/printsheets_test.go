package studio

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"pullbook/catalog"
	"pullbook/catalog/store"
	"pullbook/pdfout"
)

func isPDF(t *testing.T, path string) {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil || !bytes.HasPrefix(b, []byte("%PDF-")) {
		t.Errorf("%s is no PDF file (%v)", filepath.Base(path), err)
	}
}

// Labels, the sheet of a printing day and records are made of the sample's
// sheets; two sheets of one name get two files.
func TestPrintSheets(t *testing.T) {
	ctx, dir := context.Background(), t.TempDir()
	s, err := WriteSample(ctx, filepath.Join(dir, "sample.pullbook"), Options{}, nil)
	check(t, err)
	defer s.Close()
	plates, err := s.store.Plates(ctx, store.PlateFilter{})
	check(t, err)
	sheets, err := s.store.Impressions(ctx, store.ImpressionFilter{PlateID: plates[0].ID})
	check(t, err)
	ids := []catalog.ID{sheets[0].ID, sheets[1].ID, sheets[0].ID}

	for i, l := range pdfout.LabelSheets() {
		to := filepath.Join(dir, "labels.pdf")
		_, err := s.LayOutLabelsOn(ctx, to, ids, l.Name, i)
		check(t, err)
		isPDF(t, to)
	}
	if _, err := s.LayOutLabelsOn(ctx, filepath.Join(dir, "x.pdf"), ids, "no such", 0); err == nil {
		t.Error("labels were laid on a sheet that is not there")
	}
	to := filepath.Join(dir, "day.pdf")
	_, err = s.LayOutDaySheet(ctx, to, pdfout.DaySheet{PlateID: plates[0].ID, StateID: sheets[0].StateID, Day: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC), Pulls: 8})
	check(t, err)
	isPDF(t, to)

	made, _, err := s.LayOutRecords(ctx, filepath.Join(dir, "record.pdf"), ids, nil)
	check(t, err)
	if len(made) != 3 || made[0] == made[2] {
		t.Fatalf("made %q", made)
	}
	for _, path := range made {
		isPDF(t, path)
	}
	one, _, err := s.LayOutRecords(ctx, filepath.Join(dir, "one.pdf"), ids[:1], nil)
	check(t, err)
	if len(one) != 1 || one[0] != filepath.Join(dir, "one.pdf") {
		t.Errorf("one record is at %q", one)
	}
	if _, _, err := s.LayOutRecords(ctx, to, nil, nil); err == nil {
		t.Error("records of no sheet were made")
	}
}
