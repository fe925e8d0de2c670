package linkedart

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pullbook/catalog/exchange/entry"
	"pullbook/catalog/exchange/internal/specimen"
)

// example is the published shape of an impression in Linked Art 1.0, valid
// against the published schema (testdata/SOURCES.md).
func example(t *testing.T) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "..", "testdata", "exchange-shapes", "linked_art_impression.json"))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestCheckAcceptsExamples(t *testing.T) {
	minimal, err := os.ReadFile(filepath.Join("..", "..", "..", "testdata", "exchange-shapes", "linked_art_minimal.json"))
	if err != nil {
		t.Fatal(err)
	}
	for _, doc := range [][]byte{example(t), minimal} {
		if found := Check(doc); len(found) > 0 {
			t.Errorf("a valid document is refused: %q", found)
		}
	}
}

// The negative cases of STANDARDS.md 6.2, each one error against the published
// schema of the Linked Art API 1.0, and the date rule that the schema misses.
func TestCheckRefuses(t *testing.T) {
	for name, change := range map[string]func(map[string]any){
		"no _label":                  func(v map[string]any) { delete(v, "_label") },
		"no @context":                func(v map[string]any) { delete(v, "@context") },
		"type Painting":              func(v map[string]any) { v["type"] = "Painting" },
		"identified_by as object":    func(v map[string]any) { v["identified_by"] = v["identified_by"].([]any)[0] },
		"value as text":              func(v map[string]any) { v["dimension"].([]any)[0].(map[string]any)["value"] = "280" },
		"extra property":             func(v map[string]any) { v["edition"] = "7/30" },
		"Identifier without content": func(v map[string]any) { delete(v["identified_by"].([]any)[1].(map[string]any), "content") },
		"Dimension without unit":     func(v map[string]any) { delete(v["dimension"].([]any)[0].(map[string]any), "unit") },
		"technique of type Material": func(v map[string]any) {
			v["produced_by"].(map[string]any)["technique"].([]any)[0].(map[string]any)["type"] = "Material"
		},
		"date without time": func(v map[string]any) {
			v["produced_by"].(map[string]any)["timespan"].(map[string]any)["begin_of_the_begin"] = "2025-03-01"
		},
		"reference with more than a label": func(v map[string]any) {
			v["shows"].([]any)[0].(map[string]any)["content"] = "x"
		},
		"statement without content": func(v map[string]any) { delete(v["referred_to_by"].([]any)[0].(map[string]any), "content") },
		"day that is none": func(v map[string]any) {
			v["produced_by"].(map[string]any)["timespan"].(map[string]any)["begin_of_the_begin"] = "2025-02-30T00:00:00Z"
		},
		"object among the names": func(v map[string]any) {
			v["identified_by"] = []any{map[string]any{"type": "Dimension", "value": 1.0, "unit": map[string]any{"type": "MeasurementUnit", "id": "x:y"}}}
		},
		"member of a group": func(v map[string]any) {
			v["member_of"] = []any{map[string]any{"type": "Group", "id": "https://example.org/g"}}
		},
		"technique as word":  func(v map[string]any) { v["produced_by"].(map[string]any)["technique"] = []any{"etching"} },
		"Type without id":    func(v map[string]any) { delete(v["classified_as"].([]any)[0].(map[string]any), "id") },
		"id that is no URI":  func(v map[string]any) { v["id"] = "plate 12" },
		"made of two things": func(v map[string]any) { v["made_of"] = map[string]any{"type": "Material", "id": "x:y"} },
		"limit as text":      func(v map[string]any) { v["dimension"].([]any)[0].(map[string]any)["lower_value_limit"] = "279" },
		"unit of type Type": func(v map[string]any) {
			v["dimension"].([]any)[0].(map[string]any)["unit"].(map[string]any)["type"] = "Type"
		},
		"owner without id":     func(v map[string]any) { v["current_owner"] = []any{map[string]any{"type": "Person", "_label": "x"}} },
		"location as list":     func(v map[string]any) { v["current_location"] = []any{map[string]any{"type": "Place", "id": "x:y"}} },
		"equal to a person":    func(v map[string]any) { v["equivalent"] = []any{map[string]any{"type": "Person", "id": "x:y"}} },
		"property of an event": func(v map[string]any) { v["produced_by"].(map[string]any)["edition"] = "7/30" },
		"no thesaurus identifier": func(v map[string]any) {
			v["classified_as"].([]any)[0].(map[string]any)["id"] = "http://vocab.getty.edu/aat/42"
		},
	} {
		var v map[string]any
		if err := json.Unmarshal(example(t), &v); err != nil {
			t.Fatal(err)
		}
		change(v)
		doc, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		if found := Check(doc); len(found) != 1 {
			t.Errorf("%s: %d findings %q, want 1", name, len(found), found)
		}
	}
	if found := Check([]byte("[]")); len(found) != 1 {
		t.Errorf("a list is accepted: %q", found)
	}
}

// readAll reads every document of an export.
func readAll(t *testing.T, dir string) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	names, err := filepath.Glob(filepath.Join(dir, "*", "*.json"))
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range names {
		b, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		rel, err := filepath.Rel(dir, n)
		if err != nil {
			t.Fatal(err)
		}
		out[filepath.ToSlash(rel)] = b
	}
	return out
}

func TestWrite(t *testing.T) {
	for _, base := range []string{"", "https://example.org/saltgate/"} {
		dir := t.TempDir()
		if err := Write(context.Background(), dir, entry.New(specimen.Snapshot()), Options{Base: base}); err != nil {
			t.Fatal(err)
		}
		docs := readAll(t, dir)
		if len(docs) != 2+1+1+3+3+1+5 { // people, public holder, group, plates, states, edition, impressions
			t.Errorf("%d documents", len(docs))
		}
		var index []node
		b, err := os.ReadFile(filepath.Join(dir, "index.json"))
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(b, &index); err != nil || len(index) != len(docs) {
			t.Errorf("the index lists %d of %d documents, %v", len(index), len(docs), err)
		}
		known := map[string]bool{}
		for _, n := range index {
			known[n.ID] = true
		}
		for name, doc := range docs {
			for _, f := range Check(doc) {
				t.Errorf("%s: %s", name, f)
			}
			if strings.Contains(string(doc), "Nobody") || strings.Contains(string(doc), "Hidden Street") || strings.Contains(string(doc), "drawer 4") {
				t.Errorf("%s gives a private holder away", name)
			}
		}
		im := string(docs["object/imp0weir4.json"])
		for _, want := range []string{`"content": "II/II"`, `"7/30 (edition of 30, plus 3 artist's proofs)"`, `"Plate 150 x 100 mm; sheet 280 x 190 mm"`,
			`aat/300041365`, `aat/300041349`, `aat/300053241`, `aat/300014187`, `"begin_of_the_begin": "2025-03-01T00:00:00Z"`, `"end_of_the_end": "2025-03-31T23:59:59Z"`,
			`"value": 280`, `private collection, 2025 (purchased)`, `"1989.4"`} {
			if !strings.Contains(im, want) {
				t.Errorf("the impression lacks %s", want)
			}
		}
		// Every resource referred to is a document of the export.
		var v map[string]any
		if err := json.Unmarshal([]byte(im), &v); err != nil {
			t.Fatal(err)
		}
		for _, k := range []string{"member_of", "shows", "current_owner"} {
			for _, r := range v[k].([]any) {
				if id := r.(map[string]any)["id"].(string); !known[id] {
					t.Errorf("%s points to %s, which is not exported", k, id)
				}
			}
		}
	}
}

func TestWriteStopsWhenAsked(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if err := Write(ctx, t.TempDir(), entry.New(specimen.Snapshot()), Options{}); err == nil {
		t.Error("a cancelled export is called done")
	}
}
