package sheet

import (
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pullbook/catalog"
	"pullbook/catalog/exchange/cells"
	"pullbook/catalog/notation"
)

// FuzzPrepare takes in any table with any matching of its columns: every row
// becomes records or is refused with a sentence, no text of an accepted row is
// lost, and records point only to records that are there.
func FuzzPrepare(f *testing.F) {
	f.Add("No,Title,Edition,State,Plate size\n1,Weir,7/30,II/III,15 x 10 cm\n1,Weir,8/30,II/III,15 x 10 cm\n", []byte{})
	f.Add("Nr.;Titel;Künstler;Papier;Zustand\n12a;Ebbe;M. Sommer;Bütten;1/999999999\n;Ebbe;m. sommer;;\n", []byte{})
	f.Add("a,b,c,d\n1,x,y,z\n1,X,y,=1+1\n2,,,\n", []byte{2, 3, 8, 1})
	f.Add("No,Title,State,Edition\n1,Weir,II/III,\n1,Weir,I/IV,\n1,Weir,III,3/9\n", []byte{})
	f.Add("a,b,c\nx,5e300,-1\nx,1,2 in\n", []byte{3, 12, 13})
	f.Fuzz(func(t *testing.T, text string, columns []byte) {
		name := filepath.Join(t.TempDir(), "list.csv")
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		found, err := cells.Open(name)
		if err != nil {
			return
		}
		s := found[0]
		m := Guess(s)
		for i, c := range columns {
			if i < len(m.Columns) {
				m.Columns[i] = Fields()[int(c)%len(Fields())]
			}
		}
		if len(columns) > 0 {
			m.Each = EachOf(m.Columns)
		}
		plan, err := Prepare(s, m, nil)
		if err != nil {
			return
		}
		if len(plan.Rows) != len(s.Rows) || len(plan.Changed) > 0 {
			t.Fatalf("%d lines for %d rows, %d plates changed of none", len(plan.Rows), len(s.Rows), len(plan.Changed))
		}
		nothingLost(t, s, m, plan)
		pointing(t, &plan.New)
	})
}

// nothingLost looks for every text of every accepted row among the records and
// the remarks of its own.
func nothingLost(t *testing.T, s cells.Sheet, m Matching, plan *Plan) {
	t.Helper()
	texts := map[string]bool{}
	gather(reflect.ValueOf(plan.New), texts)
	remarks := remarksOf(&plan.New)
	for i, row := range s.Rows {
		line := plan.Rows[i]
		if line.Refused != "" {
			if !strings.HasSuffix(line.Refused, ".") {
				t.Fatalf("no sentence: %q", line.Refused)
			}
			continue
		}
		if line.PlateID == "" || (m.Each == EachImpression) != (line.ImpressionID != "") {
			t.Fatalf("accepted, but without a record: %+v", line)
		}
		id := line.ImpressionID
		if id == "" {
			id = line.PlateID
		}
		for k, c := range row {
			if strings.TrimSpace(c) == "" || k < len(m.Columns) && m.Columns[k] == LeaveOut {
				continue
			}
			if !texts[c] && !strings.Contains(remarks[id], c) && !said(m.Columns[k], c, line, &plan.New) {
				t.Fatalf("row %d, %s: %q is lost", line.At, m.Columns[k], c)
			}
		}
	}
}

// said reports whether the records say by their values what a cell said in
// words, so that the words can be written again from them.
func said(f Field, text string, line Row, s *catalog.Snapshot) bool {
	var plate catalog.Plate
	var sheet catalog.Impression
	for _, p := range s.Plates {
		if p.ID == line.PlateID {
			plate = p
		}
	}
	for _, im := range s.Impressions {
		if im.ID == line.ImpressionID {
			sheet = im
		}
	}
	switch f {
	case Number:
		return plate.Number.String() == text
	case Pull:
		return strconv.Itoa(sheet.Pull) == text
	case PlateSize, SheetSize, Dimensions:
		return notation.FormatSize(plate.Mark) == text || notation.FormatSize(sheet.Sheet) == text
	case Technique:
		found, all := techniques(text)
		for _, t := range found {
			all = all && slices.Contains(plate.Techniques, t)
		}
		return all
	case State:
		n, total := 0, 0
		for _, st := range s.States {
			if st.PlateID == plate.ID {
				total++
				if st.ID == sheet.StateID {
					n = st.N
				}
			}
		}
		if line.ImpressionID == "" { // the plate's states are counted
			n = notation.ParseState(text).From
		}
		return notation.FormatState(n, total) == text || notation.FormatState(n, 0) == text
	}
	return false
}

// pointing tests that every record that is pointed to is there.
func pointing(t *testing.T, s *catalog.Snapshot) {
	t.Helper()
	have := map[catalog.ID]bool{"": true}
	v := reflect.ValueOf(*s)
	for i := range v.NumField() {
		if v.Field(i).Kind() != reflect.Slice {
			continue
		}
		for k := range v.Field(i).Len() {
			id := v.Field(i).Index(k).FieldByName("ID").Interface().(catalog.ID)
			if id == "" || have[id] {
				t.Fatalf("%s %d has the identifier %q", v.Type().Field(i).Name, k, id)
			}
			have[id] = true
		}
	}
	var visit func(v reflect.Value)
	visit = func(v reflect.Value) {
		switch {
		case v.Type() == reflect.TypeFor[catalog.ID]():
			if !have[v.Interface().(catalog.ID)] {
				t.Fatalf("%q is pointed to and not there", v.Interface())
			}
		case v.Kind() == reflect.Struct:
			for i := range v.NumField() {
				if v.Type().Field(i).IsExported() {
					visit(v.Field(i))
				}
			}
		case v.Kind() == reflect.Slice:
			for i := range v.Len() {
				visit(v.Index(i))
			}
		}
	}
	visit(v)
}
