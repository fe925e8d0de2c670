package pdfout

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	sampleData "pullbook/assets/sample"
	"pullbook/catalog"
)

// sampleCatalogue opens the sample catalogue that comes with the program, its
// photographs written out into dir.
func sampleCatalogue(t testing.TB, dir string) (*catalog.Snapshot, func(catalog.ID) (string, error)) {
	t.Helper()
	var s catalog.Snapshot
	if err := json.Unmarshal(sampleData.Catalogue, &s); err != nil {
		t.Fatal(err)
	}
	paths := map[catalog.ID]string{}
	for _, p := range s.Photographs {
		data, err := sampleData.Photographs.ReadFile("photographs/" + p.Name)
		if err != nil {
			t.Fatal(err)
		}
		paths[p.ID] = filepath.Join(dir, p.Name)
		if err := os.WriteFile(paths[p.ID], data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return &s, func(id catalog.ID) (string, error) { return paths[id], nil }
}

// TestSampleCatalogue writes the book of the sample catalogue: every plate has
// its entry, nothing is cut, nothing is missing from the type.
func TestSampleCatalogue(t *testing.T) {
	dir := t.TempDir()
	s, pic := sampleCatalogue(t, dir)
	path := filepath.Join(dir, "book.pdf")
	rep, err := WriteBook(context.Background(), path, s, BookOptions{Picture: pic})
	if err != nil {
		t.Fatal(err)
	}
	keep(t, path, "sample.pdf")
	for _, w := range rep.Warnings {
		if !strings.Contains(w, "ppi") {
			t.Errorf("warning: %s", w)
		}
	}
	for i, im := range s.Impressions {
		if i%7 != 3 {
			continue
		}
		one := filepath.Join(dir, "record.pdf")
		rep, err := WriteRecord(context.Background(), one, s, im.ID, RecordOptions{Picture: pic})
		if err != nil || rep.Pages > 2 {
			t.Errorf("the record of %s has %d pages: %v", im.ID, rep.Pages, err)
		}
		keep(t, one, "record-"+string(im.ID)+".pdf")
	}
	doc, _, err := LayBook(context.Background(), s, BookOptions{Picture: pic})
	if err != nil {
		t.Fatal(err)
	}
	nothingCut(t, doc, 5*72/25.4)
	var all strings.Builder
	for _, p := range doc.Pages {
		all.WriteString(pageText(p))
	}
	for _, p := range s.Plates {
		if !strings.Contains(strings.Join(strings.Fields(all.String()), " "), p.Title()) {
			t.Errorf("the book has no %q", p.Title())
		}
	}
}

// TestAwkwardPictures prints a plate with every picture of a folder of unusual
// and damaged JPEG files, where it is at hand: what cannot be printed is left
// out with a sentence, and the file stays sound.
func TestAwkwardPictures(t *testing.T) {
	files, err := filepath.Glob("../../shared/decoder/*/*.jp*g")
	if err != nil || len(files) == 0 {
		t.Skip("the folder of awkward pictures is not at hand")
	}
	s := &catalog.Snapshot{Imprint: catalog.Imprint{Title: "Awkward pictures"}}
	paths := map[catalog.ID]string{}
	for i, f := range files {
		id := catalog.ID(filepath.Base(f))
		paths[id] = f
		s.Plates = append(s.Plates, catalog.Plate{ID: "p" + id, Number: catalog.Number{N: i + 1}, Titles: []catalog.Title{{Text: string(id)}}, Mark: catalog.Size{HeightMM: 100, WidthMM: 100}})
		s.States = append(s.States, catalog.State{ID: "s" + id, PlateID: "p" + id, N: 1, ReferencePhotoID: id})
		s.Photographs = append(s.Photographs, catalog.Photograph{ID: id})
	}
	for _, preset := range []Preset{ScreenAndArchive, ForThePrinter} {
		path := filepath.Join(t.TempDir(), "awkward.pdf")
		rep, err := WriteBook(context.Background(), path, s, BookOptions{Picture: func(id catalog.ID) (string, error) { return paths[id], nil }, PrintOptions: PrintOptions{Preset: preset}})
		if err != nil {
			t.Fatal(err)
		}
		keep(t, path, "awkward.pdf")
		if rep.Pictures == 0 || rep.Pictures+len(rep.Warnings) < len(files) {
			t.Errorf("of %d files %d are printed and %d warned of: %v", len(files), rep.Pictures, len(rep.Warnings), rep.Warnings)
		}
		readPDF(t, path) // panics or fails where an object or the table is not sound
	}
}
