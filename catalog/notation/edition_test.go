package notation

import (
	"fmt"
	"strings"
	"testing"

	"pullbook/catalog"
)

// The rows of kind "edition" and "proof" of state_edition_notation.csv.
func TestEditionTable(t *testing.T) {
	short := map[catalog.Kind]string{catalog.KindArtist: "AP", catalog.KindPrinter: "PP", catalog.KindBAT: "BAT",
		catalog.KindHorsCommerce: "HC", catalog.KindTrial: "trial proof", catalog.KindCancellation: "cancellation proof"}
	n := 0
	for _, row := range table(t, checks, "state_edition_notation.csv") {
		s := row["string"]
		if row["kind"] != "edition" && row["kind"] != "proof" {
			continue
		}
		n++
		r := ParseEdition(s)
		if r.Raw != s || r.Certain() != (row["valid"] == "yes") {
			t.Errorf("%q: certain %v, the table says %s; %+v", s, r.Certain(), row["valid"], r)
			continue
		}
		if row["valid"] != "yes" {
			continue
		}
		got := short[r.Kind]
		if r.N > 0 {
			got = strings.TrimSpace(got + fmt.Sprintf(" %d/%d", r.N, r.Of))
		}
		if got != row["value"] {
			t.Errorf("%q is %q, want %q", s, got, row["value"])
		}
	}
	if n < 15 {
		t.Errorf("only %d rows were checked", n)
	}
}

// gold_editions.csv: inscriptions and edition fields labelled by hand. A row
// is right when number, size and script agree, a named proof is named, and no
// figure is taken that is not a number within an edition.
func TestGoldEditions(t *testing.T) {
	right, all := 0, 0
	for _, row := range table(t, records, "gold_editions.csv") {
		all++
		r := ParseEdition(row["text"])
		kindOK := true
		switch row["kind"] {
		case "artist proof":
			kindOK = r.Kind == catalog.KindArtist
		case "hors commerce":
			kindOK = r.Kind == catalog.KindHorsCommerce
		case "first proof":
			kindOK = r.Kind == catalog.KindTrial
		case "artist proofs besides":
			kindOK = r.Kind == catalog.KindNumbered && r.Proofs > 0
		case "":
			kindOK = row["numbered"] == "" || (row["script"] == "roman") == (r.Kind == "")
		}
		script := row["script"]
		if row["edition_size"] == "" || (script == "" && row["kind"] == "size statement") {
			script = string(r.Script)
		}
		if r.N == atoi(row["numbered"]) && r.Of == atoi(row["edition_size"]) && string(r.Script) == script && kindOK {
			right++
		} else {
			t.Logf("%q\n\tread %d/%d %s %q, want %s/%s %s %q", row["text"], r.N, r.Of, r.Script, r.Kind, row["numbered"], row["edition_size"], row["script"], row["kind"])
		}
	}
	t.Logf("%d of %d right (%.2f %%)", right, all, 100*float64(right)/float64(all))
	if float64(right) < 0.98*float64(all) {
		t.Errorf("%d of %d right", right, all)
	}
}

func TestFormatEdition(t *testing.T) {
	for _, c := range []struct {
		kind  catalog.Kind
		n, of int
		want  string
	}{
		{catalog.KindNumbered, 7, 30, "7/30"}, {catalog.KindArtist, 1, 3, "A.P. I/III"}, {catalog.KindBAT, 0, 0, "B.A.T."},
		{catalog.KindPrinter, 2, 0, "P.P. II"}, {catalog.KindHorsCommerce, 2, 5, "H.C. II/V"},
	} {
		if got := FormatEdition(c.kind, c.n, c.of); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
		if c.of == 0 && c.n > 0 {
			continue
		}
		if r := ParseEdition(c.want); r.Kind != c.kind || r.N != c.n || r.Of != c.of || !r.Certain() {
			t.Errorf("%q comes back as %+v", c.want, r)
		}
	}
}

func FuzzParseEdition(f *testing.F) {
	for _, s := range []string{"7/30", "A.P. I/III", "vii/xxx", "31/30", "Edition 2 of 9, + 1AP", "l.r. in pencil: 8/20 75",
		"10/Jan", "#249/ 244", "1/17/1874", "99999999999999999999/1", "0/0", "1/"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		r := ParseEdition(s)
		if r.Raw != s {
			t.Fatalf("%q is not kept as written", s)
		}
		if r.N < 0 || r.Of < 0 || (r.N > 0 && r.Of > 0 && r.N > r.Of) {
			t.Fatalf("%q is %d/%d", s, r.N, r.Of)
		}
		if !r.Found() && len(r.Flags) == 0 {
			t.Fatalf("%q has no reading and no flag", s)
		}
		if r.Script == RomanS && r.Kind == catalog.KindNumbered {
			t.Fatalf("%q: roman figures decided the kind", s)
		}
	})
}
