package tables

import (
	"reflect"

	"pullbook/catalog"
)

// noun is one kind of record: the singular name of its table and where a
// Snapshot keeps it.
type noun struct {
	name  string
	field string
}

// nouns are all records of a Snapshot, in the order they are written.
var nouns = []noun{
	{"imprint", "Imprint"}, {"person", "People"}, {"holder", "Holders"}, {"paper", "Papers"}, {"ink", "Inks"},
	{"press", "Presses"}, {"literature", "Literature"}, {"exhibition", "Exhibitions"}, {"group", "Groups"},
	{"plate", "Plates"}, {"state", "States"}, {"edition", "Editions"}, {"printing_day", "Days"},
	{"impression", "Impressions"}, {"shooting_session", "Sessions"}, {"photograph", "Photographs"}, {"score", "Scores"},
}

// table is one file: the records of a noun, or one list of a noun.
type table struct {
	name    string
	noun    noun
	columns []column
	// list is the path to the list within the noun; nil for the noun itself.
	list []int
	elem reflect.Type
}

// tables are all files of an export, each list after its noun.
var tables = makeTables()

func makeTables() []table {
	var out []table
	snapshot := reflect.TypeFor[catalog.Snapshot]()
	for _, n := range nouns {
		f, ok := snapshot.FieldByName(n.field)
		if !ok {
			panic("tables: a Snapshot has no " + n.field)
		}
		t := f.Type
		if t.Kind() == reflect.Slice {
			t = t.Elem()
		}
		cols, lists := columnsOf(t)
		out = append(out, table{name: n.name, noun: n, columns: cols, elem: t})
		for _, l := range lists {
			cols, deeper := columnsOf(l.elem)
			if len(deeper) > 0 {
				panic("tables: a list within a list in " + n.name + "." + l.name)
			}
			out = append(out, table{name: n.name + "_" + l.name, noun: n, columns: cols, list: l.path, elem: l.elem})
		}
	}
	return out
}

// heading is the first row of the file.
func (t table) heading() []string {
	var h []string
	if t.list != nil {
		h = append(h, "of", "order")
	}
	for _, c := range t.columns {
		h = append(h, c.name)
	}
	return h
}

// records returns the noun's records within a snapshot, as a slice that can be
// read and, when snap is addressable, changed.
func (n noun) records(snap reflect.Value) []reflect.Value {
	v := snap.FieldByName(n.field)
	if v.Kind() != reflect.Slice {
		return []reflect.Value{v}
	}
	out := make([]reflect.Value, v.Len())
	for i := range out {
		out[i] = v.Index(i)
	}
	return out
}
