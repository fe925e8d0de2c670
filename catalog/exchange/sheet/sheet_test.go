package sheet

import (
	"context"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"pullbook/catalog"
	"pullbook/catalog/exchange/cells"
	"pullbook/catalog/exchange/tables"
)

func sheetOf(rows ...[]string) cells.Sheet {
	s := cells.Sheet{Heading: rows[0], Rows: rows[1:]}
	for i := range s.Rows {
		s.At = append(s.At, i+2)
	}
	return s
}

func TestGuess(t *testing.T) {
	for heading, want := range map[string]Field{
		"Cat. No.": Number, "Titel": Title, "Künstler": Maker, "date_text": Date, "Año": Date, "Technik": Technique, "medium_text": Technique,
		"Plattengröße": PlateSize, "Blattmaß (cm)": SheetSize, "dimensions_text": Dimensions, "État": State, "Zustand": State, "Auflage": Edition,
		"Tirage": Edition, "Papier": Paper, "Wasserzeichen": Watermark, "Standort": Holder, "accession": Inventory, "Accession number": Inventory,
		"Provenienz": Provenance, "inscription_text": Inscription, "catalogue_raisonne_text": Reference, "Bemerkungen": Remarks,
		"Numéro de catalogue": Number, "Plate height (mm)": PlateHeight, "lunar phase": Keep, "": Keep, "Erhaltung": Condition,
	} {
		m := Guess(sheetOf([]string{heading}))
		if m.Columns[0] != want {
			t.Errorf("%q is matched with %q, want %q", heading, m.Columns[0], want)
		}
	}
	m := Guess(sheetOf([]string{"Titel", "Höhe cm", "Breite cm", "x", "y"},
		[]string{"A", "15,2", "21,0", "7/30", "240 x 338 mm"}, []string{"B", "15,2", "21,0", "8/30", "240 x 338 mm"}, []string{"C", "15,2", "21,0", "9/30", "241 x 338 mm"}))
	if want := []Field{Title, PlateHeight, PlateWidth, Edition, Dimensions}; !reflect.DeepEqual(m.Columns, want) || m.UnitMM != 10 || m.Each != EachImpression {
		t.Errorf("guessed %+v, want %q", m, want)
	}
}

func TestPrepare(t *testing.T) {
	known := &catalog.Snapshot{Plates: []catalog.Plate{{ID: "p1", Number: catalog.Number{N: 1}, Titles: []catalog.Title{{Text: "The Weir"}}}},
		Editions:    []catalog.Edition{{ID: "e1", PlateID: "p1", Size: 30}},
		Impressions: []catalog.Impression{{ID: "i1", PlateID: "p1", EditionID: "e1", Kind: catalog.KindNumbered, Ordinal: 3, OutOf: 30}}}
	s := sheetOf([]string{"No", "Title", "Date", "Technique", "Plate size", "State", "Edition", "Paper", "Moon"},
		[]string{"2", "Ebb", "c. 1911", "drypoint", "152 x 210 mm", "II/III", "7/30", "wove", "full"},
		[]string{"2", "Ebb", "c. 1911", "drypoint", "152 x 210 mm", "II/III", "8/30", "Wove", ""},
		[]string{"2", "Ebb", "", "", "", "", "7/30", "", ""},        // number taken
		[]string{"2", "Flood", "", "", "", "", "9/30", "", ""},      // another title
		[]string{"1", "the weir", "", "", "", "", "3/30", "", ""},   // taken in the catalogue
		[]string{"1", "The Weir", "", "", "", "", "A.P. I/III", ""}, // a proof of the known edition
		[]string{"x/y", "Odd", "", "", "", "", "", "", ""},          // no number
		[]string{"", "", "1911", "", "", "", "", "", ""},            // nothing to know it by
		[]string{"3", "Slack", "some day", "scratched", "big", "2/4", "31/30", "", ""},
	)
	for i := range s.Rows {
		for len(s.Rows[i]) < len(s.Heading) {
			s.Rows[i] = append(s.Rows[i], "")
		}
	}
	m := Guess(s)
	before := *known
	plan, err := Prepare(s, m, known)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(before, *known) {
		t.Error("the catalogue was changed")
	}
	for i, want := range []string{"", "", "in row 2 already", "is called “Ebb”", "in the catalogue already", "", "is no catalogue number", "neither", ""} {
		if got := plan.Rows[i].Refused; (want == "") != (got == "") || !strings.Contains(got, want) {
			t.Errorf("row %d: %q, want %q", plan.Rows[i].At, got, want)
		}
	}
	n := plan.New
	if len(n.Plates) != 2 || len(n.States) != 3 || len(n.Impressions) != 4 || len(n.Editions) != 1 || len(n.Papers) != 1 {
		t.Fatalf("%s papers %d", plan.Summary(), len(n.Papers))
	}
	ebb := n.Plates[0]
	if ebb.Date.EDTF != "1911~" || ebb.Mark != (catalog.Size{HeightMM: 152, WidthMM: 210}) || ebb.Techniques[0] != catalog.Drypoint || n.Editions[0].Size != 30 {
		t.Errorf("plate is %+v", ebb)
	}
	im := n.Impressions[0]
	if im.Ordinal != 7 || im.OutOf != 30 || im.Kind != catalog.KindNumbered || im.Written != "7/30" || im.EditionID != n.Editions[0].ID || !strings.Contains(im.Remarks, "Moon: full") {
		t.Errorf("impression is %+v", im)
	}
	for _, p := range n.Impressions {
		if p.PlateID == "p1" && (p.Kind != catalog.KindArtist || p.EditionID != "e1" || p.Ordinal != 1) {
			t.Errorf("proof is %+v", p)
		}
	}
	odd := n.Impressions[len(n.Impressions)-1]
	for _, want := range []string{"Technique: scratched", "Plate size: big", "State: 2/4", "Edition: 31/30"} {
		if !strings.Contains(odd.Remarks, want) {
			t.Errorf("remarks %q lack %q", odd.Remarks, want)
		}
	}
	if odd.Ordinal != 0 || odd.StateID != "" || len(plan.Rows[8].Notes) < 4 {
		t.Errorf("odd texts were guessed: %+v, notes %q", odd, plan.Rows[8].Notes)
	}
}

// A printmaker's own list, as such lists are kept.
func TestStudioList(t *testing.T) {
	path := filepath.Join(t.TempDir(), "liste.csv")
	const list = "Nr.;Titel;Jahr;Technik;Platte (cm);Blatt (cm);Zustand;Auflage;Papier;Käufer;Preis\r\n" +
		"12;Das Wehr;1998/99;Kaltnadel und Radierung;15,2 x 21;30 × 40;II;7/30;Rohrmühle weiß;M. Sommer;180 €\r\n" +
		"12;Das Wehr;1998/99;Kaltnadel und Radierung;15,2 x 21;30 × 40;II;E.A. II/V;Rohrmühle weiß;;\r\n" +
		"13a;Ebbe;um 2001;Aquatinta;10 x 15;20 x 25;einziger Zustand;3/10;;;\r\n"
	if err := os.WriteFile(path, []byte(list), 0o600); err != nil {
		t.Fatal(err)
	}
	sheets, err := cells.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	m := Guess(sheets[0])
	if want := []Field{Number, Title, Date, Technique, PlateSize, SheetSize, State, Edition, Paper, Holder, Keep}; !reflect.DeepEqual(m.Columns, want) || m.UnitMM != 10 {
		t.Fatalf("guessed %+v", m)
	}
	plan, err := Prepare(sheets[0], m, nil)
	if err != nil {
		t.Fatal(err)
	}
	if plan.Accepted() != 3 || len(plan.New.Plates) != 2 || len(plan.New.States) != 3 || len(plan.New.Editions) != 2 {
		t.Fatalf("%s\n%+v", plan.Summary(), plan.Rows)
	}
	p, a, b := plan.New.Plates[0], plan.New.Impressions[0], plan.New.Impressions[1]
	if p.Mark != (catalog.Size{HeightMM: 152, WidthMM: 210}) || p.Date.EDTF != "1998/1999" || !reflect.DeepEqual(p.Techniques, []catalog.Technique{catalog.Drypoint, catalog.Etching}) {
		t.Errorf("plate %+v", p)
	}
	if a.Sheet != (catalog.Size{HeightMM: 300, WidthMM: 400}) || a.Ordinal != 7 || a.HolderID == "" || !strings.Contains(a.Remarks, "Preis: 180 €") {
		t.Errorf("impression %+v", a)
	}
	if b.Kind != catalog.KindArtist || b.Ordinal != 2 || b.OutOf != 5 || b.EditionID != a.EditionID {
		t.Errorf("proof %+v", b)
	}
	if c := plan.New.Impressions[2]; plan.New.Plates[1].Number.Suffix != "a" || plan.New.Plates[1].Date.EDTF != "2001~" || c.StateID == "" {
		t.Errorf("second plate %+v, %+v", plan.New.Plates[1], c)
	}
}

func TestMatchingRefused(t *testing.T) {
	s := sheetOf([]string{"a", "b"}, []string{"1", "2"})
	for _, m := range []Matching{{Columns: []Field{Title}}, {Columns: []Field{Title, Title}}, {Columns: []Field{Date, Keep}}} {
		if _, err := Prepare(s, m, nil); err == nil {
			t.Errorf("%q is not refused", m.Columns)
		}
	}
}

// museums are the record files of ../shared with the heading their identity
// is in.
var museums = []string{"moma_prints.csv", "wcma_prints.csv", "npg_prints.csv", "tate_prints.csv", "cmoa_prints.csv"}

// gather collects every text of a snapshot.
func gather(v reflect.Value, into map[string]bool) {
	switch v.Kind() {
	case reflect.String:
		into[v.String()] = true
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				gather(v.Field(i), into)
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			gather(v.Index(i), into)
		}
	}
}

// Every text of the museum records survives being taken in, exported as
// tables and read back, letter for letter, line ends and all.
func TestRecordsSurvive(t *testing.T) {
	for _, name := range museums {
		path := filepath.Join("..", "..", "..", "..", "shared", "records", name)
		if _, err := os.Stat(path); os.IsNotExist(err) {
			t.Skip("the museum records are not here; nothing was checked")
		}
		sheets, err := cells.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		m := Guess(sheets[0])
		plan, err := Prepare(sheets[0], m, nil)
		if err != nil {
			t.Fatal(err)
		}
		dir := t.TempDir()
		if err := tables.Write(context.Background(), dir, &plan.New, nil); err != nil {
			t.Fatal(err)
		}
		back, err := tables.Read(context.Background(), dir)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(*back, plan.New) {
			t.Fatalf("%s: the catalogue came back changed", name)
		}
		texts := map[string]bool{}
		gather(reflect.ValueOf(*back), texts)
		remarks := remarksOf(back)
		missing, looked := 0, 0
		for i, row := range sheets[0].Rows {
			if plan.Rows[i].Refused != "" {
				continue
			}
			for _, c := range row {
				if strings.TrimSpace(c) == "" {
					continue
				}
				looked++
				id := plan.Rows[i].ImpressionID
				if id == "" {
					id = plan.Rows[i].PlateID
				}
				if !texts[c] && !strings.Contains(remarks[id], c) {
					if missing++; missing < 5 {
						t.Errorf("%s, row %d: %q is lost", name, plan.Rows[i].At, c)
					}
				}
			}
		}
		t.Logf("%s: %s %d texts looked for, %d lost; columns %q", name, plan.Summary(), looked, missing, m.Columns)
		if plan.Accepted() != len(plan.Rows) {
			for _, r := range plan.Rows {
				if r.Refused != "" {
					t.Logf("%s, row %d: %s", name, r.At, r.Refused)
				}
			}
		}
	}
}

func remarksOf(s *catalog.Snapshot) map[catalog.ID]string {
	out := map[catalog.ID]string{}
	for _, p := range s.Plates {
		out[p.ID] = p.Remarks
	}
	for _, i := range s.Impressions {
		out[i.ID] = i.Remarks
	}
	return out
}
