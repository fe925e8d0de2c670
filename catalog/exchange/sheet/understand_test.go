package sheet

import (
	"testing"
)

// What is shown of a cell beforehand is what Prepare reads of it.
func TestUnderstand(t *testing.T) {
	for _, c := range []struct {
		field Field
		unit  float64
		text  string
		value string
		doubt bool
	}{
		{Number, 0, "31a", "31a", false},
		{Number, 0, "a bundle", "", true},
		{Date, 0, "circa 1911", "c. 1911", false},
		{PlateSize, 0, "15.2 x 21 cm", "152 x 210 mm", false},
		{PlateSize, 10, "15.2 x 21", "152 x 210 mm", false},
		{PlateSize, 0, "15.2 x 21", "", true},
		{PlateHeight, 10, "15,2", "152 mm", false},
		{PlateHeight, 0, "15,2", "", true},
		{State, 0, "2nd state of 3", "II/III", false},
		{Edition, 0, "3/30", "3/30", false},
		{Pull, 0, "12", "12", false},
		{Pull, 0, "twelve or so", "", true},
		{Technique, 0, "Radierung und Kaltnadel", "etching, drypoint", false},
		{Paper, 0, "cream wove", "cream wove", false},
		{LeaveOut, 0, "anything", "", false},
		{Remarks, 0, "  ", "", false},
	} {
		m := Matching{Columns: []Field{c.field}, UnitMM: c.unit}
		u := m.Understand(0, c.text)
		if u.Value != c.value || (len(u.Doubts) > 0) != c.doubt {
			t.Errorf("%s %q: read as %q, doubts %q; want %q, doubt %v", c.field, c.text, u.Value, u.Doubts, c.value, c.doubt)
		}
	}
	if u := (Matching{}).Understand(3, "text"); u.Value != "" {
		t.Errorf("a cell beyond the headings is read as %q", u.Value)
	}
}
