package tables

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strconv"

	"pullbook/catalog"
	"pullbook/catalog/exchange/cells"
)

// DictionaryFile is the name of the data dictionary within an export.
const DictionaryFile = "dictionary.csv"

// Write writes every table of a catalogue and the data dictionary into the
// folder dir, which is made if need be. Files of the same names are written
// over. Memory does not grow with the catalogue. progress may be nil; it is
// told the share done, 0 to 1.
func Write(ctx context.Context, dir string, snap *catalog.Snapshot, progress func(float64)) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("the folder %s cannot be made: %w", dir, err)
	}
	for i, t := range tables {
		err := writeFile(filepath.Join(dir, t.name+".csv"), func(w *cells.Writer) error {
			return t.write(ctx, w, reflect.ValueOf(snap).Elem())
		})
		if err != nil {
			return err
		}
		if progress != nil {
			progress(float64(i+1) / float64(len(tables)+1))
		}
	}
	err := writeFile(filepath.Join(dir, DictionaryFile), func(w *cells.Writer) error {
		if err := w.Write([]string{"table", "column", "meaning", "unit", "kind", "standard"}); err != nil {
			return err
		}
		for _, e := range Dictionary() {
			if err := w.Write([]string{e.Table, e.Column, e.Meaning, e.Unit, e.Kind, e.Standard}); err != nil {
				return err
			}
		}
		return nil
	})
	if err == nil && progress != nil {
		progress(1)
	}
	return err
}

// writeFile makes one file by way of a temporary name, so that a file under
// its own name is always whole.
func writeFile(path string, fill func(*cells.Writer) error) (err error) {
	f, err := os.CreateTemp(filepath.Dir(path), ".part-*")
	if err != nil {
		return fmt.Errorf("%s cannot be written: %w", filepath.Base(path), err)
	}
	defer func() {
		if err != nil {
			err = errors.Join(fmt.Errorf("%s was not written: %w", filepath.Base(path), err), os.Remove(f.Name()))
		}
	}()
	w := cells.NewWriter(f)
	if err = fill(w); err == nil {
		err = w.Flush()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return err
	}
	if err = os.Chmod(f.Name(), 0o644); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// write writes the heading and every row of one table.
func (t table) write(ctx context.Context, w *cells.Writer, snap reflect.Value) error {
	if err := w.Write(t.heading()); err != nil {
		return err
	}
	row := make([]string, 0, len(t.columns)+2)
	for i, rec := range t.noun.records(snap) {
		if i%256 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if t.list == nil {
			row = row[:0]
			for _, c := range t.columns {
				row = append(row, c.write(rec))
			}
			if err := w.Write(row); err != nil {
				return err
			}
			continue
		}
		of := rec.FieldByName("ID").String()
		items := rec.FieldByIndex(t.list)
		for k := range items.Len() {
			row = append(row[:0], cells.Guard(of), strconv.Itoa(k+1))
			for _, c := range t.columns {
				row = append(row, c.write(items.Index(k)))
			}
			if err := w.Write(row); err != nil {
				return err
			}
		}
	}
	return nil
}
