package lido

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"pullbook/catalog"
	"pullbook/catalog/exchange/entry"
	"pullbook/catalog/exchange/internal/specimen"
)

// example is a published shape, valid against lido-v1.1.xsd (testdata/SOURCES.md).
func example(t testing.TB) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "..", "testdata", "exchange-shapes", "lido_print.xml"))
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestCheckAcceptsExample(t *testing.T) {
	if found, n := Check(strings.NewReader(example(t))); len(found) > 0 || n != 1 {
		t.Errorf("%d records, findings %q", n, found)
	}
}

// Where an element of the grammar stands in another, there is a rule for it,
// and every rule is reached from the root.
func TestGrammarIsWhole(t *testing.T) {
	reached := map[string]bool{}
	var visit func(name string)
	visit = func(name string) {
		r, known := grammar[name]
		if !known && name != "skos" && name != "owl" && name != "gml" {
			t.Errorf("nothing is said of %s", name)
		}
		if reached[name] {
			return
		}
		reached[name] = true
		for _, c := range r.children {
			visit(c.name)
		}
	}
	visit("lidoWrap")
	n := 0
	for name := range grammar {
		if strings.ToLower(name[:1]) == name[:1] {
			n++
			if !reached[name] {
				t.Errorf("%s stands nowhere", name)
			}
		}
	}
	t.Logf("%d elements", n)
}

// The negative cases of STANDARDS.md 6.3, each of which fails against
// lido-v1.1.xsd, and some more of that schema's rules.
func TestCheckRefuses(t *testing.T) {
	without := func(pattern string) func(string) string {
		re := regexp.MustCompile(`(?s)` + pattern)
		return func(s string) string { return re.ReplaceAllString(s, "") }
	}
	for name, change := range map[string]func(string) string{
		"no titleWrap":      without(`<lido:titleWrap>.*</lido:titleWrap>`),
		"no objectWorkType": without(`<lido:objectWorkType>.*</lido:objectWorkType>`),
		"no recordID":       without(`<lido:recordID.*</lido:recordID>`),
		"no recordType":     without(`<lido:recordType>.*</lido:recordType>`),
		"no recordSource":   without(`<lido:recordSource>.*</lido:recordSource>`),
		"no lidoRecID":      without(`<lido:lidoRecID.*</lido:lidoRecID>`),
		"no xml:lang": func(s string) string {
			return strings.Replace(s, `<lido:administrativeMetadata xml:lang="en">`, `<lido:administrativeMetadata>`, 1)
		},
		"no measurementValue": func(s string) string {
			return strings.Replace(s, `<lido:measurementValue>150</lido:measurementValue>`, "", 1)
		},
		"state after measurements": func(s string) string {
			re := regexp.MustCompile(`(?s)<lido:displayStateEditionWrap>.*</lido:displayStateEditionWrap>`)
			state := re.FindString(s)
			return strings.Replace(re.ReplaceAllString(s, ""), "</lido:objectMeasurementsWrap>", "</lido:objectMeasurementsWrap>"+state, 1)
		},
		"two measurements in a set": func(s string) string {
			re := regexp.MustCompile(`(?s)<lido:objectMeasurements>.*</lido:objectMeasurements>`)
			return re.ReplaceAllString(s, "$0$0")
		},
		"identifier without type": func(s string) string {
			return strings.Replace(s, `<lido:recordID lido:type="http://terminology.lido-schema.org/lido00100">`, `<lido:recordID>`, 1)
		},
		"unknown element": func(s string) string {
			return strings.Replace(s, `<lido:displayState>`, `<lido:state>iv</lido:state><lido:displayState>`, 1)
		},
		"element of no namespace": func(s string) string {
			return strings.Replace(strings.Replace(s, "<lido:displayState>", "<displayState>", 1), "</lido:displayState>", "</displayState>", 1)
		},
		"state within titles": func(s string) string {
			return strings.Replace(s, "<lido:titleWrap>", "<lido:titleWrap><lido:displayState>I</lido:displayState>", 1)
		},
		"attribute out of place": func(s string) string {
			return strings.Replace(s, "<lido:titleWrap>", `<lido:titleWrap lido:type="x">`, 1)
		},
		"attribute of no namespace": func(s string) string { return strings.Replace(s, "<lido:titleSet>", `<lido:titleSet type="x">`, 1) },
		"order that is no number": func(s string) string {
			return strings.Replace(s, "<lido:titleSet>", `<lido:titleSet lido:sortorder="first">`, 1)
		},
		"text between elements": func(s string) string { return strings.Replace(s, "<lido:titleSet>", "The Weir<lido:titleSet>", 1) },
		"text and term": func(s string) string {
			return strings.Replace(s, "<lido:measurementsSet>", `<lido:measurementsSet><lido:measurementType>height<lido:term>height</lido:term></lido:measurementType>`, 1)
		},
		"not well-formed": func(s string) string { return strings.Replace(s, "</lido:titleSet>", "", 1) },
		"empty":           func(string) string { return "" },
	} {
		changed := change(example(t))
		if changed == example(t) {
			t.Errorf("%s: the example was not changed", name)
		}
		if found, _ := Check(strings.NewReader(changed)); len(found) != 1 {
			t.Errorf("%s: findings %q, want one", name, found)
		}
	}
}

func TestWrite(t *testing.T) {
	dir := t.TempDir()
	snap := specimen.Snapshot()
	snap.Plates[0].Remarks += "\x00\x1b &<>\"" // what XML cannot hold is dropped, the rest escaped
	if err := Write(context.Background(), dir, entry.New(snap), Options{}); err != nil {
		t.Fatal(err)
	}
	b, err := os.ReadFile(filepath.Join(dir, FileName))
	if err != nil {
		t.Fatal(err)
	}
	found, n := Check(bytes.NewReader(b))
	for _, f := range found {
		t.Error(f)
	}
	if n != 3+5 {
		t.Errorf("%d records", n)
	}
	s := string(b)
	for _, want := range []string{"<lido:displayState>II/II</lido:displayState>", "<lido:displayEdition>7/30 (edition of 30, plus 3 artist&#39;s proofs)</lido:displayEdition>",
		"<lido:displayObjectMeasurements>Plate 150 x 100 mm; sheet 280 x 190 mm</lido:displayObjectMeasurements>",
		"<lido:earliestDate>2025-03-01</lido:earliestDate><lido:latestDate>2025-03-31</lido:latestDate>", "aat/300041365", "aat/300053228", "<lido:term>plate mark</lido:term>",
		"<lido:displayDate>some time after the flood</lido:displayDate>", "private collection"} {
		if !strings.Contains(s, want) {
			t.Errorf("the export lacks %s", want)
		}
	}
	for _, secret := range []string{"Nobody", "Hidden Street", "drawer 4"} {
		if strings.Contains(s, secret) {
			t.Errorf("a private holder is given away: %q", secret)
		}
	}
	if lint, err := exec.LookPath("xmllint"); err == nil {
		if out, err := exec.Command(lint, "--noout", filepath.Join(dir, FileName)).CombinedOutput(); err != nil {
			t.Errorf("xmllint: %v\n%s", err, out)
		}
	}
}

func FuzzTexts(f *testing.F) {
	f.Add("a & b", "\x00", "<lido:x>")
	f.Fuzz(func(t *testing.T, title, remark, state string) {
		snap := &catalog.Snapshot{Plates: []catalog.Plate{{ID: "p", Titles: []catalog.Title{{Text: title}}, Remarks: remark, Subjects: []string{state}}},
			States:      []catalog.State{{ID: "s", PlateID: "p", N: 1, Description: state}},
			Impressions: []catalog.Impression{{ID: "i", PlateID: "p", StateID: "s", Condition: remark, Signature: title}}}
		dir := t.TempDir()
		if err := Write(context.Background(), dir, entry.New(snap), Options{}); err != nil {
			t.Fatal(err)
		}
		b, err := os.ReadFile(filepath.Join(dir, FileName))
		if err != nil {
			t.Fatal(err)
		}
		if found, n := Check(bytes.NewReader(b)); n != 2 || (len(found) > 0 && legal(title) == title && strings.TrimSpace(title) != "") {
			t.Fatalf("%d records, %q", n, found)
		}
	})
}
