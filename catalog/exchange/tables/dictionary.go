package tables

import (
	"reflect"
	"strings"
	"sync"

	"pullbook/catalog"
)

// Entry is one line of the data dictionary that goes with an export.
type Entry struct {
	Table    string // name of the file, without ".csv"
	Column   string
	Meaning  string
	Unit     string // unit, or the form of what is in the cell
	Kind     string // what a cell holds: "text", "number", …
	Standard string // elements of published standards, "" where none answers
}

// Dictionary returns the data dictionary: every column of every table, in the
// order they are written. Meanings, units and standards are those of the
// catalogue's own dictionary.
var Dictionary = sync.OnceValue(func() []Entry {
	terms := map[string]catalog.Term{}
	for _, t := range catalog.Dictionary() {
		terms[t.Noun+" "+t.Field] = t
	}
	var out []Entry
	for _, t := range tables {
		noun := strings.ReplaceAll(t.noun.name, "_", " ")
		if t.list != nil {
			out = append(out, Entry{Table: t.name, Column: "of", Meaning: "the " + noun + " the row belongs to", Unit: "identifier", Kind: "identifier"},
				Entry{Table: t.name, Column: "order", Meaning: "place in the list", Unit: "from 1", Kind: "whole number"})
			noun = t.elem.Name()
		}
		for _, c := range t.columns {
			out = append(out, t.entry(terms, noun, c))
		}
	}
	return out
})

// entry words one column: a part of a field is explained by both.
func (t table) entry(terms map[string]catalog.Term, noun string, c column) Entry {
	e := Entry{Table: t.name, Column: c.name, Kind: c.kind}
	at := t.elem
	for _, n := range c.path {
		if at.Kind() == reflect.Pointer {
			at = at.Elem()
		}
		f := at.Field(n)
		term := terms[noun+" "+f.Tag.Get("json")]
		if e.Meaning != "" && term.Meaning != "" {
			e.Meaning += ": "
		}
		e.Meaning += term.Meaning
		// The dictionary gives the parts of a measured quantity the unit of the
		// quantity: it is named by the field above.
		if u := strings.TrimPrefix(dashless(term.Unit), "Value; "); e.Unit == "" || !strings.Contains(u, "unit") {
			e.Unit = u
		}
		if s := dashless(term.Standard); s != "" {
			e.Standard = s
		}
		at = f.Type
		part := at
		if part.Kind() == reflect.Pointer {
			part = part.Elem()
		}
		noun = part.Name()
	}
	return e
}

// dashless turns the dictionary's dash for "none" into nothing.
func dashless(s string) string {
	if s == "-" {
		return ""
	}
	return s
}
