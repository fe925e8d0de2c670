package tables

import (
	_ "embed"
	"errors"
	"io"
	"strings"
	"sync"

	"pullbook/catalog/exchange/cells"
)

// dictionaryText says of every column what it means; the kind of its cell is
// added from the type. It is kept as a table so that it can be read and
// corrected as one.
//
//go:embed dictionary.csv
var dictionaryText string

// Entry is one line of the data dictionary.
type Entry struct {
	Table    string // name of the file, without ".csv"
	Column   string
	Meaning  string
	Unit     string // unit, format, or the table an identifier points to
	Kind     string // what a cell holds: "text", "number", …
	Standard string // element of a published descriptive standard, "" where none answers
}

// Dictionary returns the data dictionary: every column of every table, in the
// order they are written.
var Dictionary = sync.OnceValue(func() []Entry {
	said := map[string]Entry{}
	r := cells.NewReader(strings.NewReader(dictionaryText), ',')
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			panic("tables: the data dictionary: " + err.Error())
		}
		said[row[0]+" "+row[1]] = Entry{Meaning: row[2], Unit: row[3], Standard: row[4]}
	}
	var out []Entry
	for _, t := range tables {
		kinds := map[string]string{"of": "identifier", "order": "whole number"}
		for _, c := range t.columns {
			kinds[c.name] = c.kind
		}
		for _, h := range t.heading() {
			e := said[t.name+" "+h]
			e.Table, e.Column, e.Kind = t.name, h, kinds[h]
			out = append(out, e)
		}
	}
	return out
})
