package tables

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/exchange/cells"
)

// maxProblems is how many problems are listed; more would help nobody.
const maxProblems = 50

// ReadError lists what is wrong in a folder of tables, each a sentence with
// file and row. Nothing is taken from such a folder.
type ReadError struct{ Problems []string }

// Error joins the problems.
func (e *ReadError) Error() string { return strings.Join(e.Problems, " ") }

// Read reads a folder of tables that Write made and returns the catalogue.
// Either everything can be read or nothing is returned: then the error is a
// *ReadError that lists every problem, or the reason the folder cannot be read.
// A missing table counts as empty, but some table must be there.
func Read(ctx context.Context, dir string) (*catalog.Snapshot, error) {
	r := reader{snap: reflect.New(reflect.TypeFor[catalog.Snapshot]()), ids: map[string]map[string]int{}}
	found := 0
	for _, t := range tables {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		f, err := os.Open(filepath.Join(dir, t.name+".csv"))
		if errors.Is(err, os.ErrNotExist) {
			continue
		}
		if err != nil {
			return nil, fmt.Errorf("%s.csv cannot be opened: %w", t.name, err)
		}
		found++
		err = r.read(t, f)
		if err := errors.Join(err, f.Close()); err != nil {
			r.problem("%s.csv cannot be read to its end: %v.", t.name, err)
		}
	}
	if found == 0 {
		return nil, fmt.Errorf("the folder %s holds none of the tables of an exported catalogue, such as plate.csv", dir)
	}
	if len(r.problems) > 0 {
		return nil, &ReadError{r.problems}
	}
	return r.snap.Interface().(*catalog.Snapshot), nil
}

// reader gathers a snapshot and what is wrong with it.
type reader struct {
	snap     reflect.Value
	ids      map[string]map[string]int // noun -> identifier -> place in its slice
	problems []string
}

func (r *reader) problem(format string, args ...any) {
	if len(r.problems) < maxProblems {
		r.problems = append(r.problems, fmt.Sprintf(format, args...))
	}
}

// read reads one table.
func (r *reader) read(t table, f io.Reader) error {
	in := cells.NewReader(f, ',')
	heading, err := in.Read()
	if errors.Is(err, io.EOF) {
		return nil
	}
	if err != nil {
		return err
	}
	places, ok := r.match(t, heading)
	if !ok {
		return nil
	}
	if r.ids[t.noun.name] == nil {
		r.ids[t.noun.name] = map[string]int{}
	}
	for {
		at := in.Line()
		row, err := in.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		if len(row) != len(heading) {
			r.problem("%s.csv, line %d, has %d cells under %d headings.", t.name, at, len(row), len(heading))
			continue
		}
		r.row(t, places, row, at)
	}
}

// match finds the column for every heading: -1 is "of", -2 "order".
func (r *reader) match(t table, heading []string) ([]int, bool) {
	byName := map[string]int{}
	for i, c := range t.columns {
		byName[c.name] = i
	}
	if t.list != nil {
		byName["of"], byName["order"] = -1, -2
	}
	places, ok, of := make([]int, len(heading)), true, false
	for i, h := range heading {
		p, known := byName[strings.TrimSpace(h)]
		if !known {
			r.problem("%s.csv has a column %q that no catalogue has; take it out or correct its heading.", t.name, h)
			ok = false
		}
		places[i] = p
		of = of || p == -1
	}
	if t.list != nil && !of {
		r.problem("%s.csv has no column \"of\", so its rows belong to nothing.", t.name)
		ok = false
	}
	return places, ok
}

// row reads one row into the record or list it belongs to.
func (r *reader) row(t table, places []int, row []string, at int) {
	rec := reflect.New(t.elem).Elem()
	of, before := "", len(r.problems)
	for i, cell := range row {
		switch places[i] {
		case -1:
			of = cells.Unguard(cell)
		case -2: // rows stand in order
		default:
			c := t.columns[places[i]]
			if err := c.read(rec, cell); err != nil {
				r.problem("%s.csv, line %d, column %q: %v.", t.name, at, c.name, err)
			}
		}
	}
	if len(r.problems) > before {
		return
	}
	field := r.snap.Elem().FieldByName(t.noun.field)
	if t.list != nil {
		n, known := r.ids[t.noun.name][of]
		if !known {
			r.problem("%s.csv, line %d, belongs to a %s %q that %s.csv does not have.", t.name, at, t.noun.name, of, t.noun.name)
			return
		}
		owner := field
		if field.Kind() == reflect.Slice {
			owner = field.Index(n)
		}
		items := owner.FieldByIndex(t.list)
		items.Set(reflect.Append(items, rec))
		return
	}
	if field.Kind() != reflect.Slice { // there is one of it
		r.ids[t.noun.name][rec.FieldByName("ID").String()] = 0
		field.Set(rec)
		return
	}
	id := rec.FieldByName("ID").String()
	switch _, twice := r.ids[t.noun.name][id]; {
	case id == "":
		r.problem("%s.csv, line %d, has no identifier in the column \"id\".", t.name, at)
		return
	case twice:
		r.problem("%s.csv, line %d, uses the identifier %q a second time.", t.name, at, id)
		return
	}
	r.ids[t.noun.name][id] = field.Len()
	field.Set(reflect.Append(field, rec))
}
