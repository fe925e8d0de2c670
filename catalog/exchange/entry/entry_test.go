package entry

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"pullbook/catalog"
)

// aat reads testdata/aat.csv: identifiers of the Getty thesaurus, how each was
// confirmed, and terms for which none could be.
func aat(t *testing.T) map[string][]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "..", "testdata", "aat.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]string{}
	for _, r := range rows[1:] {
		if r[2] != "" {
			out[r[2]] = r
		}
	}
	return out
}

// Every identifier used is confirmed in the table, with its label, of the kind
// it stands for, and used for one term only.
func TestTermsAreConfirmed(t *testing.T) {
	table, form := aat(t), regexp.MustCompile(`^300\d{6}$`)
	used := map[string]string{}
	check := func(term Term, kinds ...string) {
		if term.ID == "" {
			return
		}
		row := table[term.ID]
		switch {
		case !form.MatchString(term.ID):
			t.Errorf("%q is no identifier", term.ID)
		case row == nil || !strings.HasPrefix(row[5], "confirmed"):
			t.Errorf("%s (%s) is not confirmed", term.ID, term.Label)
		case row[4] != term.Label:
			t.Errorf("%s is called %q in the table, %q here", term.ID, row[4], term.Label)
		case !has2(kinds, row[1]):
			t.Errorf("%s is of kind %q, used as %q", term.ID, row[1], kinds)
		}
		if other, twice := used[term.ID]; twice && other != term.Label {
			t.Errorf("%s is used for %q and %q", term.ID, other, term.Label)
		}
		used[term.ID] = term.Label
	}
	for _, pair := range techniqueTerms {
		check(pair[0], "process")
		check(pair[1], "print")
	}
	for _, kind := range []string{"laid", "wove", "japan", "handmade", "other"} {
		check(PaperTerm(&catalog.Paper{Kind: kind}), "material")
	}
	for _, term := range []Term{Prints, Impressions, Proofs} {
		check(term, "print")
	}
	for _, term := range []Term{EditionStatement, WatermarkNote, DimensionsNote, InscriptionNote, SignatureNote, ConditionNote} {
		check(term, "statement type")
	}
	for term, kind := range map[Term]string{PrintingPlates: "equipment", Portfolios: "group", Editions: "concept", Height: "dimension", Width: "dimension",
		Millimetres: "unit", Copper: "material", TypeOfWork: "metatype", BriefText: "metatype", PrimaryName: "metatype", IntaglioPrinting: "process"} {
		check(term, kind)
	}
	for _, known := range []catalog.Technique{catalog.Engraving, catalog.Etching, catalog.Drypoint, catalog.Aquatint, catalog.SoftGround, catalog.Mezzotint, catalog.Roulette} {
		if _, ok := techniqueTerms[known]; !ok {
			t.Errorf("%s has neither an identifier nor an explicit blank", known)
		}
	}
	for _, kind := range []catalog.Kind{catalog.KindTrial, catalog.KindState, catalog.KindBAT, catalog.KindArtist, catalog.KindPrinter, catalog.KindHorsCommerce, catalog.KindCancellation} {
		if k := KindTerm(kind); k.ID != "" || k.Label == "" {
			t.Errorf("%s: %+v; none is confirmed, so it must be a local word", kind, k)
		}
	}
}

func has2(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

func TestAddress(t *testing.T) {
	form := regexp.MustCompile(`^urn:uuid:[0-9a-f]{8}-[0-9a-f]{4}-8[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$`) // RFC 9562, version 8
	a, b := Address("", "object", "x"), Address("", "object", "y")
	if !form.MatchString(a) || a == b || a != Address("", "object", "x") {
		t.Errorf("addresses are %s and %s", a, b)
	}
	if got := Address("https://example.org/weir/", "object", "x"); got != "https://example.org/weir/object/x" {
		t.Errorf("got %s", got)
	}
}
