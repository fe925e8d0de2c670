package store

import (
	"database/sql/driver"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"time"

	"pullbook/catalog"
)

// stampLayout is how times are written: UTC, milliseconds, fixed width, so
// that text order is time order.
const stampLayout = "2006-01-02T15:04:05.000Z"

// A field ties one column to one place in a record. Nouns list their fields
// once; reading, writing and comparing all go by that list.
type field struct {
	column string
	ptr    any // pointer into the record
}

// dateFields are the two columns of a date of the world.
func dateFields(column string, d *catalog.Date) []field {
	return []field{{column + "_text", &d.Text}, {column + "_edtf", &d.EDTF}}
}

// sizeFields are the two columns of a size.
func sizeFields(column string, s *catalog.Size) []field {
	return []field{{column + "_height_mm", &s.HeightMM}, {column + "_width_mm", &s.WidthMM}}
}

// valueFields are the two columns of a measured quantity, both NULL when it
// was not measured.
func valueFields(column string, v **catalog.Value) []field {
	return []field{{column, measured{v, false}}, {column + "_u", measured{v, true}}}
}

// join puts field lists together.
func join(lists ...[]field) []field {
	var all []field
	for _, l := range lists {
		all = append(all, l...)
	}
	return all
}

// measured is one half of a quantity that may be absent.
type measured struct {
	v           **catalog.Value
	uncertainty bool
}

// Scan implements sql.Scanner.
func (m measured) Scan(src any) error {
	if src == nil {
		return nil
	}
	x, ok := src.(float64)
	if !ok {
		return fmt.Errorf("a measured quantity is stored as %T", src)
	}
	if *m.v == nil {
		*m.v = &catalog.Value{}
	}
	if m.uncertainty {
		(*m.v).U = x
	} else {
		(*m.v).V = x
	}
	return nil
}

// Value implements driver.Valuer.
func (m measured) Value() (driver.Value, error) {
	switch {
	case *m.v == nil:
		return nil, nil
	case m.uncertainty:
		return finite((*m.v).U)
	default:
		return finite((*m.v).V)
	}
}

// reference is an ID stored as NULL when empty.
type reference struct{ id *catalog.ID }

// Scan implements sql.Scanner.
func (r reference) Scan(src any) error {
	switch s := src.(type) {
	case nil:
		*r.id = ""
	case string:
		*r.id = catalog.ID(s)
	case []byte:
		*r.id = catalog.ID(s)
	default:
		return fmt.Errorf("a reference is stored as %T", src)
	}
	return nil
}

// stamp is a time stored as text.
type stamp struct{ t *time.Time }

// Scan implements sql.Scanner.
func (s stamp) Scan(src any) error {
	text, err := textOf(src)
	if err != nil || text == "" {
		*s.t = time.Time{}
		return err
	}
	*s.t, err = time.Parse(stampLayout, text)
	return err
}

// writeStamp gives the stored form of a time, "" for the zero time.
func writeStamp(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.UTC().Format(stampLayout)
}

// inJSON is anything stored as a JSON text, "" when it is the zero value.
type inJSON struct{ ptr any }

// Scan implements sql.Scanner.
func (j inJSON) Scan(src any) error {
	text, err := textOf(src)
	if err != nil || text == "" {
		return err
	}
	return json.Unmarshal([]byte(text), j.ptr)
}

// Value implements driver.Valuer.
func (j inJSON) Value() (driver.Value, error) {
	v := reflect.ValueOf(j.ptr).Elem()
	if v.IsZero() || v.Kind() == reflect.Slice && v.Len() == 0 {
		return "", nil
	}
	b, err := json.Marshal(j.ptr)
	return string(b), err
}

func textOf(src any) (string, error) {
	switch s := src.(type) {
	case nil:
		return "", nil
	case string:
		return s, nil
	case []byte:
		return string(s), nil
	}
	return "", fmt.Errorf("a text is stored as %T", src)
}

func finite(x float64) (driver.Value, error) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil, fmt.Errorf("a quantity is not a finite number")
	}
	return x, nil
}

// target gives what a column is scanned into.
func (f field) target() any {
	switch p := f.ptr.(type) {
	case *catalog.ID:
		return reference{p}
	case *time.Time:
		return stamp{p}
	}
	return f.ptr
}

// value gives what is stored in the column.
func (f field) value() (any, error) {
	switch p := f.ptr.(type) {
	case *catalog.ID:
		if *p == "" {
			return nil, nil
		}
		return string(*p), nil
	case *time.Time:
		return writeStamp(*p), nil
	case *float64:
		return finite(*p)
	case *bool:
		if *p {
			return int64(1), nil
		}
		return int64(0), nil
	case *string:
		return *p, nil
	case *int:
		return int64(*p), nil
	case *int64:
		return *p, nil
	case driver.Valuer:
		return p.Value()
	}
	v := reflect.ValueOf(f.ptr).Elem()
	if v.Kind() != reflect.String {
		return nil, fmt.Errorf("column %s: no way to store a %s", f.column, v.Type())
	}
	return v.String(), nil
}
