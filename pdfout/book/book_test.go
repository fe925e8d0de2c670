package book

import (
	"context"
	"encoding/csv"
	"os"
	"strings"
	"testing"

	"pullbook/catalog"
	"pullbook/catalog/say"
	"pullbook/pdfout/display"
	"pullbook/pdfout/makeup"
)

// TestDisclosureAsksEveryFact reads the list of facts that laws on the sale of
// prints ask (testdata/disclosure_fields.csv, source named there): each has its
// line in the record, and of an impression of which nothing is known each is
// said to be not known or not recorded, none left out.
func TestDisclosureAsksEveryFact(t *testing.T) {
	f, err := os.Open("../testdata/disclosure_fields.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	words := map[string]string{"artist_name": "name of the artist", "signature": "signature", "artist_approval": "artist’s approval",
		"medium_process": "medium or process", "photomechanical": "photomechanical", "master_author": "who made the image", "posthumous": "death",
		"restrike": "restrike", "year_printed": "year printed", "limited_edition": "limited edition", "n_signed_numbered": "number signed",
		"n_unsigned_unnumbered": "number unsigned", "n_proofs": "proofs outside", "n_hc": "hors commerce", "total_edition": "total size",
		"master_fate": "what became of the plate", "other_plates": "other plates", "other_editions": "other editions", "workshop": "workshop"}
	snap := &catalog.Snapshot{Plates: []catalog.Plate{{ID: "p"}}, Impressions: []catalog.Impression{{ID: "i", PlateID: "p"}}}
	b, err := newBook(context.Background(), snap, Options{Format: makeup.A4})
	if err != nil {
		t.Fatal(err)
	}
	list := b.disclosure(&snap.Plates[0], &snap.Impressions[0])
	if len(rows)-1 != len(words)+1 || len(list) != len(words) {
		t.Errorf("the table has %d facts, the record asks %d", len(rows)-1, len(list))
	}
	for _, row := range rows[1:] {
		if row[0] == "disclaim_unknown" {
			continue // the rule that unknown facts are said one by one: checked below
		}
		found := false
		for _, d := range list {
			if w, ok := words[row[0]]; ok && strings.Contains(d.asked, w) {
				found = true
			}
		}
		if !found {
			t.Errorf("%s (%s) is not asked", row[0], row[1])
		}
	}
	for _, d := range list {
		if d.answer != notKnown {
			t.Errorf("of nothing known, %q is answered %q", d.asked, d.answer)
		}
	}
	text := ""
	doc, _, err := LayRecord(context.Background(), snap, "i", Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range doc.Pages {
		for _, w := range texts(p) {
			text += w + " "
		}
	}
	if !strings.Contains(text, "Local law decides") || strings.Contains(strings.ToLower(text), "compl") {
		t.Error("the record does not say that local law decides, or says that it complies")
	}
}

func TestFiling(t *testing.T) {
	for in, want := range map[string]string{"The Harbour": "harbour", "L’Été": "lete", "Ärger, alt": "arger alt", "A": "a", "Die Flut": "flut"} {
		if got := filingKey(in); got != want {
			t.Errorf("%q is filed under %q, want %q", in, got, want)
		}
	}
	if filingLetter("harbour") != "H" || filingLetter("7 tides") != "0–9" || filingLetter("") != "0–9" {
		t.Error("index letters are wrong")
	}
	if !naturalLess("fol. 9", "fol. 12") || naturalLess("31a", "31") || !naturalLess("II, 2", "II, 10") {
		t.Error("numbers in texts are not ordered by value")
	}
}

func TestNumberRuns(t *testing.T) {
	var refs []reference
	for _, n := range []catalog.Number{{N: 1}, {N: 2}, {N: 3}, {N: 4}, {N: 6}, {N: 7}, {N: 7, Suffix: "a"}, {Prefix: "R", N: 8}} {
		refs = append(refs, reference{plate: &catalog.Plate{Number: n}})
	}
	var got []string
	for _, r := range numberRuns(refs) {
		got = append(got, r.text)
	}
	if s := strings.Join(got, ", "); s != "1–4, 6, 7, 7a, R 8" {
		t.Errorf("numbers are drawn together as %s", s)
	}
}

// TestPercentWords: the digits follow the uncertainty (GUM, JCGM 100:2008,
// 7.2.6, from memory: at most two significant digits of it).
func TestPercentWords(t *testing.T) {
	for want, v := range map[string]catalog.Value{
		"17.0 ± 0.4\u00a0%": {V: .17, U: .004}, "60 ± 3\u00a0%": {V: .6, U: .03}, "0.0 ± 1.0\u00a0%": {V: -.0002, U: .01}, "−1.2 ± 1.0\u00a0%": {V: -.012, U: .01},
	} {
		if got := (&book{lang: say.English}).percentWords(v); got != want {
			t.Errorf("%+v is written %q, want %q", v, got, want)
		}
	}
}

// TestDetailBox: the same part of the plate for all states, where the largest
// accepted change lies, inside the plate.
func TestDetailBox(t *testing.T) {
	pl := &catalog.Plate{Mark: catalog.Size{HeightMM: 100, WidthMM: 140}}
	states := []*catalog.State{{N: 1}, {N: 2, Changes: []catalog.Change{
		{BoxMM: [4]float64{100, 2, 138, 20}, AreaMM2: 500, Ruling: "accepted"}, {BoxMM: [4]float64{0, 80, 60, 100}, AreaMM2: 900, Ruling: "rejected"}}}}
	b := detailBox(pl, states)
	if b[0] > 100 || b[2] < 138 || b[1] > 2 || b[3] < 20 || b[0] < 0 || b[1] < 0 || b[2] > 140 || b[3] > 100 {
		t.Errorf("the detail is %v", b)
	}
	if b := detailBox(&catalog.Plate{}, states); b != [4]float64{} {
		t.Errorf("a plate without a size has the detail %v", b)
	}
}

// TestPartsCanBeMoved: parts come in the order given, with the user's heading
// and text; those switched off do not come.
func TestPartsCanBeMoved(t *testing.T) {
	s := &catalog.Snapshot{Imprint: catalog.Imprint{Title: "Tides"}, Plates: []catalog.Plate{{ID: "a", Number: catalog.Number{N: 1}, Titles: []catalog.Title{{Text: "Ebb"}}}}}
	doc, _, err := Lay(context.Background(), s, Options{Parts: []Part{
		{Kind: TitleIndex, Heading: "What is in it"}, {Kind: OwnText, Heading: "A word before", Text: "Some *own* words."}, {Kind: Notes, Off: true}, {Kind: Plates, Heading: "Sheets"}}})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, o := range doc.Outline {
		got = append(got, o.Title)
	}
	if s := strings.Join(got, "|"); s != "What is in it|A word before|Sheets|1  Ebb" {
		t.Errorf("the outline is %s", s)
	}
	if _, _, err := Lay(context.Background(), s, Options{Parts: []Part{{Kind: Plates, Off: true}}}); err == nil {
		t.Error("a book without pages is no error")
	}
}

// texts lists the words of a page.
func texts(p *display.Page) []string {
	var out []string
	for _, it := range p.Items {
		if t, ok := it.(*display.Text); ok {
			for _, w := range t.Words {
				out = append(out, w.Run.Text)
			}
		}
	}
	return out
}

// TestPaperInkWiping: the record of a sheet and the entry of its plate tell
// paper, ink and wiping, in both languages by the printer's words.
func TestPaperInkWiping(t *testing.T) {
	s := &catalog.Snapshot{Plates: []catalog.Plate{{ID: "p", Number: catalog.Number{N: 1}, Titles: []catalog.Title{{Text: "Ebb"}}}},
		Papers: []catalog.Paper{{ID: "a", Name: "Reedbed laid"}}, Inks: []catalog.Ink{{ID: "k", Name: "Lampblack", Maker: "Quayworks", Colour: "cool"}, {ID: "u", Name: "Umber"}},
		Impressions: []catalog.Impression{{ID: "i", PlateID: "p", PaperID: "a", InkID: "u", Wiping: "clean"},
			{ID: "j", PlateID: "p", PaperID: "a", InkID: "k", Wiping: "with tone"}, {ID: "l", PlateID: "p", InkID: "k", Wiping: "with tone"}, {ID: "m", PlateID: "p"}}}
	for _, lang := range []*say.Language{say.English, german} {
		b := &book{lang: lang, lookup: newLookup(s)}
		got := map[string]string{}
		for _, f := range b.recordFacts(&s.Plates[0], &s.Impressions[1]) {
			got[f.label] = f.text
		}
		for _, f := range b.facts(&s.Plates[0]) {
			got[f.label] = got[f.label] + "|" + f.text
		}
		want := map[string]string{"paper": "Reedbed laid", "papers": "|Reedbed laid", "printing ink": "Lampblack, Quayworks, cool",
			"printing inks": "|Lampblack, Quayworks, cool; Umber", "wiping": "with tone|with tone; clean"}
		if lang != say.English {
			want = map[string]string{"Papier": "Reedbed laid", "Papiere": "|Reedbed laid", "Druckfarbe": "Lampblack, Quayworks, cool",
				"Druckfarben": "|Lampblack, Quayworks, cool; Umber", "Auswischen": "with tone|with tone; clean"}
		}
		for label, text := range want {
			if got[label] != text {
				t.Errorf("%s is told as %q, want %q", label, got[label], text)
			}
		}
	}
}
