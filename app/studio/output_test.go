package studio

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"pullbook/catalog"
	"pullbook/catalog/store"
)

// photographed makes a catalogue with one plate and an impression for each
// photograph.
func photographed(t testing.TB, photographs ...string) *Studio {
	t.Helper()
	ctx := context.Background()
	s, err := Create(filepath.Join(t.TempDir(), "test.pullbook"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	taken, err := s.TakeIn(ctx, photographs, nil)
	if err != nil || len(taken) != len(photographs) {
		t.Fatal(len(taken), err)
	}
	snap, err := s.store.Snapshot(ctx)
	if err != nil {
		t.Fatal(err)
	}
	err = s.store.Do(ctx, "Enter", func(tx *store.Tx) error {
		p := catalog.Plate{Number: catalog.Number{N: 1}, Titles: []catalog.Title{{Text: "The Weir"}}}
		if err := tx.PutPlate(&p); err != nil {
			return err
		}
		for i := range snap.Photographs {
			im := catalog.Impression{PlateID: p.ID, Pull: i + 1}
			if err := tx.PutImpression(&im); err != nil {
				return err
			}
			photo := snap.Photographs[i]
			photo.ImpressionID = im.ID
			if err := tx.PutPhotograph(&photo); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// sharedPhotograph is a photograph of the shared set.
func sharedPhotograph(t testing.TB, name string) string {
	t.Helper()
	path := filepath.Join("..", "..", "..", "shared", "photos", name)
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		t.Skip("the shared photographs are not here; nothing was checked")
	}
	return path
}

// BenchmarkTiles writes the IIIF export of one photograph.
func BenchmarkTiles(b *testing.B) {
	s := photographed(b, sharedPhotograph(b, "grove-reference.jpg"))
	for b.Loop() {
		if err := s.Export(context.Background(), "iiif", b.TempDir(), nil); err != nil {
			b.Fatal(err)
		}
	}
}
