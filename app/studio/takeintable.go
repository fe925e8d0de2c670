package studio

import (
	"context"
	"os"
	"path/filepath"
	"strings"

	"pullbook/catalog/archive"
	"pullbook/catalog/exchange/cells"
	"pullbook/catalog/exchange/literature"
	"pullbook/catalog/exchange/sheet"
	"pullbook/catalog/exchange/tables"
	"pullbook/catalog/store"
)

// PlanTable says what taking in somebody's spreadsheet would do, row by row,
// beside what the catalogue holds. Nothing is changed.
func (s *Studio) PlanTable(ctx context.Context, table cells.Sheet, m sheet.Matching) (*sheet.Plan, error) {
	known, err := s.store.Snapshot(ctx)
	if err != nil {
		return nil, err
	}
	return sheet.Prepare(table, m, known)
}

// TakeInTable does what a plan says, as one step that can be undone.
func (s *Studio) TakeInTable(ctx context.Context, plan *sheet.Plan) error {
	return s.store.Do(ctx, "Take in a table", func(tx *store.Tx) error { return plan.Put(tx) })
}

// TakeInExport takes the tables of an exported catalogue into this one, which
// must be empty; afterwards the two are the same. originals is the folder of
// the other catalogue's photographs; it may be "" when the tables name none.
func (s *Studio) TakeInExport(ctx context.Context, dir, originals string, p Progress) error {
	snap, err := tables.Read(ctx, dir)
	if err != nil {
		return err
	}
	mine, err := s.store.Snapshot(ctx)
	if err != nil {
		return err
	}
	if len(mine.Plates)+len(mine.Impressions)+len(mine.Photographs)+len(mine.People)+len(mine.Literature) > 0 {
		return sentence("An exported catalogue can be taken only into an empty one, and this one holds records; make a new catalogue.")
	}
	if len(snap.Photographs) > 0 && originals == "" {
		return sentence("The tables name %d photographs; say in which folder the photographs of that catalogue are.", len(snap.Photographs))
	}
	from := archive.New(originals)
	for i, photo := range snap.Photographs {
		kept, err := s.archive.Add(ctx, from.Path(photo.SHA256, photo.Ext))
		if err != nil {
			return err
		}
		if kept.SHA256 != photo.SHA256 {
			return sentence("The photograph %s was altered since the tables were written; take it from a backup.", photo.Name)
		}
		tell(p, float64(i+1)/float64(len(snap.Photographs)+1), "copied %d of %d photographs", i+1, len(snap.Photographs))
	}
	return s.store.Do(ctx, "Take in an exported catalogue", func(tx *store.Tx) error { return tables.Put(tx, snap) })
}

// TakeInLiterature takes in a list of literature, BibTeX (.bib) or CSL-JSON
// (.json), as one step. Works whose short title and title are in the catalogue
// already are passed over. refused says of each entry that could not be read
// why.
func (s *Studio) TakeInLiterature(ctx context.Context, path string) (added int, refused []string, err error) {
	f, err := os.Open(path)
	if err != nil {
		return 0, nil, sentence("The list %s cannot be opened (%v).", filepath.Base(path), err)
	}
	defer f.Close()
	read := literature.ReadBibTeX
	if strings.EqualFold(filepath.Ext(path), ".json") {
		read = literature.ReadCSL
	}
	list, err := read(f)
	if err != nil {
		return 0, nil, sentence("%s: %v.", filepath.Base(path), err)
	}
	known, err := s.store.Literature(ctx)
	if err != nil {
		return 0, nil, err
	}
	have := map[[2]string]bool{}
	for _, l := range known {
		have[[2]string{l.Short, l.Title}] = true
	}
	err = s.store.Do(ctx, "Take in a list of literature", func(tx *store.Tx) error {
		added = 0
		for _, w := range list.Works {
			if have[[2]string{w.Short, w.Title}] {
				continue
			}
			if err := tx.PutLiterature(&w); err != nil {
				return err
			}
			added++
		}
		return nil
	})
	return added, list.Refused, err
}
