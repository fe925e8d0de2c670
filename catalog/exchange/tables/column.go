package tables

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"time"

	"pullbook/catalog/exchange/cells"
)

// column is one column of a table: a path of field numbers into a record and
// the way its value is written in a cell.
type column struct {
	name string
	path []int
	kind string // what the dictionary says of the cell: "text", "whole number", …
	// optional is the length of the path to the pointer above the value, 0
	// when there is none: such a value may be absent, which differs from 0.
	optional int
}

// list is a field that holds records of its own, written as a table beside.
type list struct {
	name string
	path []int
	elem reflect.Type
}

var timeType = reflect.TypeFor[time.Time]()

// columnsOf walks a record type and returns its columns and lists, named by
// the JSON names of the fields joined by full stops.
func columnsOf(t reflect.Type) (cols []column, lists []list) {
	walk(t, "", nil, 0, &cols, &lists)
	return cols, lists
}

func walk(t reflect.Type, prefix string, path []int, optional int, cols *[]column, lists *[]list) {
	for i := range t.NumField() {
		f := t.Field(i)
		name := f.Tag.Get("json")
		if name == "" {
			name = strings.ToLower(f.Name)
		}
		name = prefix + name
		at := append(append([]int(nil), path...), i)
		ft, opt := f.Type, optional
		if ft.Kind() == reflect.Pointer {
			ft, opt = ft.Elem(), len(at)
		}
		switch {
		case ft.Kind() == reflect.Struct && ft != timeType:
			walk(ft, name+".", at, opt, cols, lists)
		case ft.Kind() == reflect.Slice && ft.Elem().Kind() == reflect.Struct:
			*lists = append(*lists, list{name, at, ft.Elem()})
		default:
			*cols = append(*cols, column{name, at, kindOf(ft), opt})
		}
	}
}

// kindOf names the kind of a cell for the dictionary.
func kindOf(t reflect.Type) string {
	if t == timeType {
		return "time (UTC)"
	}
	switch t.Kind() {
	case reflect.String:
		if t.Name() == "ID" {
			return "identifier"
		}
		return "text"
	case reflect.Int, reflect.Int64:
		return "whole number"
	case reflect.Float64:
		return "number"
	case reflect.Bool:
		return "yes or empty"
	case reflect.Slice:
		return "texts, one a line"
	case reflect.Array:
		return "numbers, parted by spaces"
	}
	panic("tables: no cell for " + t.String())
}

// value follows the path into a record. ok is false when the value is absent.
func (c column) value(record reflect.Value) (v reflect.Value, ok bool) {
	v = record
	for i, n := range c.path {
		v = v.Field(n)
		if c.optional == i+1 {
			if v.IsNil() {
				return v, false
			}
			v = v.Elem()
		}
	}
	return v, true
}

// write returns the cell of a record. Nought and "no" are written as an empty
// cell, since nought means "not recorded"; a measured nought is written out.
func (c column) write(record reflect.Value) string {
	v, ok := c.value(record)
	if !ok || (c.optional == 0 && v.IsZero()) {
		return ""
	}
	if v.Type() == timeType {
		t := v.Interface().(time.Time)
		if t.IsZero() {
			return ""
		}
		return t.UTC().Format(time.RFC3339Nano)
	}
	switch v.Kind() {
	case reflect.String:
		return cells.Guard(v.String())
	case reflect.Int, reflect.Int64:
		return strconv.FormatInt(v.Int(), 10)
	case reflect.Float64:
		return formatFloat(v.Float())
	case reflect.Bool:
		if v.Bool() {
			return "yes"
		}
		return ""
	case reflect.Slice:
		texts := make([]string, v.Len())
		for i := range texts {
			texts[i] = escape(v.Index(i).String())
		}
		return cells.Guard(strings.Join(texts, "\n"))
	}
	var numbers []string
	flatten(v, func(f reflect.Value) { numbers = append(numbers, formatFloat(f.Float())) })
	return strings.Join(numbers, " ")
}

// read puts a cell into a record.
func (c column) read(record reflect.Value, cell string) error {
	if cell == "" {
		return nil
	}
	v := record
	for i, n := range c.path {
		v = v.Field(n)
		if c.optional == i+1 {
			if v.IsNil() {
				v.Set(reflect.New(v.Type().Elem()))
			}
			v = v.Elem()
		}
	}
	if v.Type() == timeType {
		t, err := time.Parse(time.RFC3339Nano, cell)
		if err != nil {
			return fmt.Errorf("%q is no time; write it as 2026-03-01T09:30:00Z", cell)
		}
		v.Set(reflect.ValueOf(t.UTC()))
		return nil
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString(cells.Unguard(cell))
	case reflect.Int, reflect.Int64:
		n, err := strconv.ParseInt(cell, 10, 64)
		if err != nil {
			return fmt.Errorf("%q is no whole number", cell)
		}
		v.SetInt(n)
	case reflect.Float64:
		return readFloat(v, cell)
	case reflect.Bool:
		if cell != "yes" {
			return fmt.Errorf("%q is neither yes nor empty", cell)
		}
		v.SetBool(true)
	case reflect.Slice:
		lines := strings.Split(cells.Unguard(cell), "\n")
		s := reflect.MakeSlice(v.Type(), len(lines), len(lines))
		for i, l := range lines {
			s.Index(i).SetString(unescape(l))
		}
		v.Set(s)
	case reflect.Array:
		return readNumbers(v, cell)
	}
	return nil
}

func formatFloat(f float64) string { return strconv.FormatFloat(f, 'g', -1, 64) }

func readFloat(v reflect.Value, cell string) error {
	f, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		return fmt.Errorf("%q is no number; write decimals with a point", cell)
	}
	v.SetFloat(f)
	return nil
}

// readNumbers fills an array of numbers, nested or not.
func readNumbers(v reflect.Value, cell string) error {
	fields := strings.Fields(cell)
	var places []reflect.Value
	flatten(v, func(f reflect.Value) { places = append(places, f) })
	if len(fields) != len(places) {
		return fmt.Errorf("%q holds %d numbers where %d belong", cell, len(fields), len(places))
	}
	for i, f := range fields {
		if err := readFloat(places[i], f); err != nil {
			return err
		}
	}
	return nil
}

// flatten visits the numbers of an array, row by row.
func flatten(v reflect.Value, visit func(reflect.Value)) {
	if v.Kind() != reflect.Array {
		visit(v)
		return
	}
	for i := range v.Len() {
		flatten(v.Index(i), visit)
	}
}

// In a cell of several texts each stands on its own line: a line end within a
// text is written \n, a backslash \\, and an empty text \e.
var escaper = strings.NewReplacer(`\`, `\\`, "\n", `\n`)

func escape(s string) string {
	if s == "" {
		return `\e`
	}
	return escaper.Replace(s)
}

var unescaper = strings.NewReplacer(`\\`, `\`, `\n`, "\n", `\e`, "")

func unescape(s string) string { return unescaper.Replace(s) }
