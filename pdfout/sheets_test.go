package pdfout

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"pullbook/catalog"
)

// recordSample gives one sheet all that a record can show.
func recordSample(t testing.TB) (*catalog.Snapshot, func(catalog.ID) (string, error)) {
	snap, pic := theSample(t)
	s := *snap
	s.Impressions = append([]catalog.Impression(nil), snap.Impressions...)
	s.Photographs = append([]catalog.Photograph(nil), snap.Photographs...)
	s.Inks = append([]catalog.Ink{{ID: "ink1", Name: "Wharf black", Maker: "Saltings Press", Colour: "warm black"}}, snap.Inks...)
	for i := range s.Impressions {
		if im := &s.Impressions[i]; im.ID == "sheet02-3" {
			im.EditionID, im.Signature, im.Condition = "ed02-1", "in pencil, lower right", "fresh, full margins"
			im.Inventory = "2024.17"
			im.InkID, im.Wiping = "ink1", "by hand, with a film of tone"
			im.Provenance = []catalog.Owner{{Name: "the printmaker", To: date("2019")}, {HolderID: "h1", How: "gift", From: date("2019")}}
			im.PulledAt = time.Date(2012, 4, 5, 9, 0, 0, 0, time.UTC)
		}
	}
	s.Photographs = append(s.Photographs, s.Photographs[2])
	ph := &s.Photographs[len(s.Photographs)-1]
	ph.ImpressionID, ph.TakenAt = "sheet02-3", time.Date(2026, 3, 1, 14, 30, 0, 0, time.UTC)
	return &s, pic
}

func TestRecordLabelsDaySheet(t *testing.T) {
	snap, pic := recordSample(t)
	dir := t.TempDir()
	path := filepath.Join(dir, "record.pdf")
	rep, err := WriteRecord(context.Background(), path, snap, "sheet02-3", RecordOptions{Picture: pic})
	if err != nil {
		t.Fatal(err)
	}
	keep(t, path, "record.pdf")
	if rep.Pages < 1 || rep.Pages > 2 {
		t.Errorf("the record has %d pages; one or two are wanted", rep.Pages)
	}
	var ids []catalog.ID
	for _, im := range snap.Impressions[:26] {
		ids = append(ids, im.ID)
	}
	for i, sheet := range LabelSheets() {
		path = filepath.Join(dir, "labels.pdf")
		if _, err := WriteLabels(context.Background(), path, snap, ids, LabelOptions{Sheet: sheet}); err != nil {
			t.Fatal(err)
		}
		keep(t, path, "labels"+string(rune('0'+i))+".pdf")
	}
	path = filepath.Join(dir, "day.pdf")
	if _, err = WriteDaySheet(context.Background(), path, snap, DaySheet{PlateID: "plate03-0", StateID: "state03-2", Day: time.Date(2026, 5, 4, 0, 0, 0, 0, time.UTC)}, Format{}); err != nil {
		t.Fatal(err)
	}
	keep(t, path, "day.pdf")
	if _, err := os.Stat(path); err != nil {
		t.Error(err)
	}
}
