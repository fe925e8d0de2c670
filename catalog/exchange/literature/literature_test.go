package literature

import (
	"strings"
	"testing"

	"pullbook/catalog"
)

func TestReadBibTeX(t *testing.T) {
	const file = `% a list of invented works
@comment{not an entry, @ and {all}}
@string{estuary = "Estuary Papers"}
@article{hollis, author = "Hollis, R. and Ana {van der} Meer", title = {Tides {\"u}ber \& under: the \'etat question},
  journal = estuary # { II}, volume = 4, number = {2}, pages = "12--19", year = 1987, month = mar, doi={10.0/x} }
@book{b1, editor = {{The Saltgate Society}}, title = "Stra{\ss}e", publisher={Saltgate Press}, address = {Saltgate}, year={1990/1991}, edition = {2nd}}
@Book(b2, author = {Hollis, R.}, title={Later}, year = {c. 1987})
@book{b3, author = {Hollis, R.}, title={Other}, year = {1987}}
@misc{empty, note = {nothing else}}
@book{broken, title = {never closed
`
	r, err := ReadBibTeX(strings.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Works) != 4 || len(r.Refused) != 2 {
		t.Fatalf("%d works, refused %q", len(r.Works), r.Refused)
	}
	for i, want := range []catalog.Literature{
		{Short: "Hollis and van der Meer 1987", Authors: "R. Hollis and Ana van der Meer", Title: "Tides über & under: the état question",
			Published: "Estuary Papers II 4 (2), 12–19", Year: catalog.Date{Text: "March 1987", EDTF: "1987-03"}, Note: "DOI 10.0/x"},
		{Short: "The Saltgate Society 1990", Authors: "The Saltgate Society (ed.)", Title: "Straße", Published: "2nd ed., Saltgate: Saltgate Press", Year: catalog.Date{Text: "1990/1991", EDTF: "1990/1991"}},
		{Short: "Hollis 1987a", Authors: "R. Hollis", Title: "Later", Year: catalog.Date{Text: "c. 1987", EDTF: "1987~"}},
		{Short: "Hollis 1987b", Authors: "R. Hollis", Title: "Other", Year: catalog.Date{Text: "1987", EDTF: "1987"}},
	} {
		got := r.Works[i]
		if got.ID == "" {
			t.Errorf("work %d has no identifier", i)
		}
		got.ID = ""
		if got != want {
			t.Errorf("work %d is\n%+v, want\n%+v", i, got, want)
		}
	}
	if _, err := ReadBibTeX(strings.NewReader("nothing")); err == nil {
		t.Error("a file without entries is accepted")
	}
}

// The shapes of the CSL 1.0.2 data schema: names in parts, literal names,
// dates in parts, numbers as text or number.
func TestReadCSL(t *testing.T) {
	const file = `[
	 {"id": 1, "type": "article-journal", "title": "Tides", "container-title": "Estuary Papers", "volume": 4, "issue": "2", "page": "12-19",
	  "author": [{"family": "Hollis", "given": "R."}, {"family": "Meer", "given": "Ana", "non-dropping-particle": "van der"}], "issued": {"date-parts": [[1987, 3, 9]]}},
	 {"id": "b", "type": "book", "title": "Weirs", "editor": [{"literal": "The Saltgate Society"}], "publisher": "Saltgate Press", "publisher-place": "Saltgate",
	  "issued": {"date-parts": [["1990"], ["1991"]]}, "ISBN": "0-00"},
	 {"id": "c", "title": "Ebb", "issued": {"date-parts": [[1911]], "circa": true}},
	 {"id": "d", "title": "Flood", "issued": {"literal": "before 1923"}},
	 {"id": "g", "title": " Ebb and Flood ", "publisher": " ", "author": [{"literal": " "}, {"literal": " Hollis "}, {"given": "Ana"}]},
	 {"id": "e"}, {"id": "f", "title": 7}, {"id": "h", "title": " ", "author": [{"literal": "\t"}]}
	]`
	r, err := ReadCSL(strings.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Works) != 5 || len(r.Refused) != 3 {
		t.Fatalf("%d works, refused %q", len(r.Works), r.Refused)
	}
	for i, want := range []catalog.Literature{
		{Short: "Hollis and van der Meer 1987", Authors: "R. Hollis and Ana van der Meer", Title: "Tides", Published: "Estuary Papers 4 (2), 12-19", Year: catalog.Date{Text: "1987-03-09", EDTF: "1987-03-09"}},
		{Short: "The Saltgate Society 1990", Authors: "The Saltgate Society (ed.)", Title: "Weirs", Published: "Saltgate: Saltgate Press", Year: catalog.Date{Text: "1990/1991", EDTF: "1990/1991"}, Note: "ISBN 0-00"},
		{Short: "Ebb 1911", Title: "Ebb", Year: catalog.Date{Text: "1911~", EDTF: "1911~"}},
		{Short: "Flood 1923", Title: "Flood", Year: catalog.Date{Text: "before 1923", EDTF: "[..1922]"}},
		{Short: "Hollis and Ana", Authors: "Hollis and Ana", Title: "Ebb and Flood"},
	} {
		got := r.Works[i]
		got.ID = ""
		if got != want {
			t.Errorf("work %d is\n%+v, want\n%+v", i, got, want)
		}
	}
	for _, bad := range []string{"", "{}", "@book{}"} {
		if _, err := ReadCSL(strings.NewReader(bad)); err == nil {
			t.Errorf("%q is accepted", bad)
		}
	}
}
