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
