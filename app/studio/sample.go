package studio

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"sync"

	"pullbook/assets/sample"
	"pullbook/catalog"
	"pullbook/catalog/store"
)

// WriteSample writes the sample catalogue into the folder dir and leaves it
// open.
func WriteSample(ctx context.Context, dir string, o Options, p Progress) (*Studio, error) {
	var snap catalog.Snapshot
	if err := json.Unmarshal(sample.Catalogue, &snap); err != nil {
		return nil, fmt.Errorf("the sample catalogue carried in the program cannot be read: %w", err)
	}
	files := map[string][]byte{}
	for i := range snap.Photographs {
		name := snap.Photographs[i].Name
		b, err := fs.ReadFile(sample.Photographs, "photographs/"+name)
		if err != nil {
			return nil, fmt.Errorf("the sample's photograph %s is missing from the program: %w", name, err)
		}
		files[name] = b
	}
	return WriteSnapshot(ctx, dir, &snap, files, o, p)
}

// WriteSnapshot makes a new catalogue in the folder dir of a snapshot and the
// bytes of its photographs, by their names, draws its thumbnails, and leaves
// it open.
func WriteSnapshot(ctx context.Context, dir string, snap *catalog.Snapshot, files map[string][]byte, o Options, p Progress) (*Studio, error) {
	s, err := Create(dir, o)
	if err != nil {
		return nil, err
	}
	if err := s.fill(ctx, snap, files, p); err != nil {
		s.Close()
		return nil, err
	}
	return s, nil
}

func (s *Studio) fill(ctx context.Context, snap *catalog.Snapshot, files map[string][]byte, p Progress) error {
	for i := range snap.Photographs {
		ph := &snap.Photographs[i]
		data := files[ph.Name]
		kept, err := s.archive.AddFrom(ctx, bytes.NewReader(data), ph.Name, int64(len(data)))
		if err != nil {
			return err
		}
		if kept.SHA256 != ph.SHA256 {
			return fmt.Errorf("the photograph %s is not the one that was recorded", ph.Name)
		}
	}
	tell(p, 0.3, "photographs written")
	err := s.store.Do(ctx, "Write the catalogue", func(tx *store.Tx) error {
		for _, r := range recordsOf(snap) {
			if err := putRecord(tx, r); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	tell(p, 0.5, "records written")
	var mu sync.Mutex
	done := 0
	return each(ctx, bothCores(), len(snap.Photographs), func(ctx context.Context, i int) error {
		_, err := s.Thumb(ctx, snap.Photographs[i].ID)
		mu.Lock()
		defer mu.Unlock()
		done++
		tell(p, 0.5+0.5*float64(done)/float64(len(snap.Photographs)), "drawn %d of %d thumbnails", done, len(snap.Photographs))
		return err
	})
}

// recordsOf lists a snapshot's records, those pointed to before those that
// point.
func recordsOf(snap *catalog.Snapshot) []any {
	list := []any{}
	list = append(list, pointers(snap.People)...)
	list = append(list, pointers(snap.Holders)...)
	list = append(list, pointers(snap.Papers)...)
	list = append(list, pointers(snap.Inks)...)
	list = append(list, pointers(snap.Presses)...)
	list = append(list, pointers(snap.Literature)...)
	list = append(list, pointers(snap.Exhibitions)...)
	list = append(list, pointers(snap.Groups)...)
	list = append(list, &snap.Imprint)
	list = append(list, pointers(snap.Plates)...)
	list = append(list, pointers(snap.States)...)
	list = append(list, pointers(snap.Editions)...)
	list = append(list, pointers(snap.Days)...)
	list = append(list, pointers(snap.Sessions)...)
	list = append(list, pointers(snap.Impressions)...)
	list = append(list, pointers(snap.Photographs)...)
	list = append(list, pointers(snap.Scores)...)
	return list
}

func pointers[T any](list []T) []any {
	out := make([]any, len(list))
	for i := range list {
		out[i] = &list[i]
	}
	return out
}
