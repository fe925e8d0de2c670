package linkedart

import (
	"context"
	"encoding/json"
	"testing"

	"pullbook/catalog"
	"pullbook/catalog/exchange/entry"
)

// FuzzTexts puts any texts into a catalogue: every document of it keeps to the
// rules, and the texts that JSON can hold come back from it.
func FuzzTexts(f *testing.F) {
	f.Add("The Weir", "bitten twice", "Hollis", "1998~")
	f.Add("=1+1", "\x00", "\"", "..1999")
	f.Add("", "\xff", "\u2028</script>", "Y17E7")
	f.Fuzz(func(t *testing.T, title, remark, name, date string) {
		snap := &catalog.Snapshot{People: []catalog.Person{{ID: "m", Name: name, Born: catalog.Date{Text: date, EDTF: date}}},
			Holders: []catalog.Holder{{ID: "h", Name: name}}, Papers: []catalog.Paper{{ID: "w", Name: remark, Kind: name}},
			Plates: []catalog.Plate{{ID: "p", MakerID: "m", Titles: []catalog.Title{{Text: title}, {Text: name}}, Remarks: remark, Metal: name, Date: catalog.Date{Text: date},
				Techniques: []catalog.Technique{catalog.Technique(name)}, Mark: catalog.Size{HeightMM: 150, WidthMM: 100}}},
			States:   []catalog.State{{ID: "s", PlateID: "p", N: 1, Description: remark}},
			Editions: []catalog.Edition{{ID: "e", PlateID: "p", Kind: name, Size: 30, Name: title, Date: catalog.Date{EDTF: date}}},
			Impressions: []catalog.Impression{{ID: "i", PlateID: "p", StateID: "s", EditionID: "e", PaperID: "w", HolderID: "h", Inventory: name, Condition: remark, Signature: title,
				Kind: catalog.Kind(name), Printed: catalog.Date{EDTF: date}}}}
		dir := t.TempDir()
		if err := Write(context.Background(), dir, entry.New(snap), Options{}); err != nil {
			t.Fatal(err)
		}
		docs := readAll(t, dir)
		if len(docs) != 6 {
			t.Fatalf("%d documents", len(docs))
		}
		for at, doc := range docs {
			if found := Check(doc); len(found) > 0 {
				t.Fatalf("%s: %q", at, found)
			}
		}
	})
}

// FuzzCheck tries the rules on any document: what is accepted has all that must
// be there, is accepted again when written anew, and refused without its label.
func FuzzCheck(f *testing.F) {
	f.Add([]byte(`{"@context":"https://linked.art/ns/v1/linked-art.json","id":"https://x.example/1","type":"HumanMadeObject","_label":"x","identified_by":[{"type":"Name","content":"x"}]}`))
	f.Add([]byte(`{"type":"Person","born":{"type":"Birth","timespan":{"type":"TimeSpan"}}}`))
	f.Add([]byte(`{"dimension":[{"value":1e999,"unit":[]}]}`))
	f.Fuzz(func(t *testing.T, doc []byte) {
		if len(Check(doc)) > 0 {
			return
		}
		var v map[string]any
		if err := json.Unmarshal(doc, &v); err != nil {
			t.Fatal(err)
		}
		for _, k := range []string{"@context", "id", "type", "_label"} {
			if s, ok := v[k].(string); !ok || s == "" {
				t.Fatalf("accepted without %s", k)
			}
		}
		anew, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		if found := Check(anew); len(found) > 0 {
			t.Fatalf("written anew it is refused: %q", found)
		}
		delete(v, "_label")
		if anew, err = json.Marshal(v); err != nil || len(Check(anew)) == 0 {
			t.Fatalf("accepted without its label, %v", err)
		}
	})
}
