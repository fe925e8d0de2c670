package batch

import (
	"path/filepath"
	"strings"
	"testing"
)

// TestLife asks the sample, an invented catalogue: a drypoint past its limit
// promises nothing more, an engraving does, and the answers agree with each
// other.
func TestLife(t *testing.T) {
	cat := filepath.Join(t.TempDir(), "s.pullbook")
	if _, stderr, code := run("sample", cat); code != 0 {
		t.Fatal(stderr)
	}
	out, stderr, code := run("life", "--catalogue", cat, "--edition", "20", "--json")
	if code != 0 {
		t.Fatalf("%d %s", code, stderr)
	}
	var doc struct {
		Plates []struct {
			Number  string
			Limit   float64
			Left    *[3]float64 `json:"pulls_left"`
			AtLeast float64     `json:"pulls_left_at_least"`
			Edition struct {
				Size   int
				Chance float64
			}
			Sheets []struct {
				Pull       int
				As, Reason string
			}
		}
	}
	oneJSON(t, out, &doc)
	if len(doc.Plates) != 7 {
		t.Fatalf("%d plates", len(doc.Plates))
	}
	for _, p := range doc.Plates {
		if p.Edition.Chance < 0 || p.Edition.Chance > 1 || p.Left != nil && !(p.Left[0] <= p.Left[1] && p.Left[1] <= p.Left[2]) {
			t.Errorf("plate %s: %+v", p.Number, p)
		}
		if (p.Edition.Size >= 20) != (p.Edition.Chance >= 0.9) {
			t.Errorf("plate %s: an edition of %d is safe, yet one of 20 has a chance of %.2f", p.Number, p.Edition.Size, p.Edition.Chance)
		}
	}
	drypoint, engraving := doc.Plates[3], doc.Plates[5]
	if drypoint.Edition.Size != 0 || drypoint.Left == nil || drypoint.Left[1] > 1 {
		t.Errorf("the worn drypoint still promises: %+v", drypoint)
	}
	worn := 0
	for _, s := range drypoint.Sheets {
		if s.As == "trial proof" && strings.Contains(s.Reason, "past the limit") {
			worn++
		}
	}
	if worn == 0 {
		t.Errorf("no sheet of the worn drypoint is past the limit: %+v", drypoint.Sheets)
	}
	if engraving.AtLeast < 10 {
		t.Errorf("the engraving promises only %.0f more", engraving.AtLeast)
	}
	out, _, code = run("life", "--catalogue", cat, "--plate", "4")
	if code != 0 || strings.Count(out, "No. ") != 1 || !strings.Contains(out, "past the limit") {
		t.Errorf("%d %s", code, out)
	}
	for _, c := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"--catalogue", cat, "--plate", "99"}, 1, "no plate with the number 99"},
		{[]string{"--catalogue", cat, "--sure", "2"}, 2, "chance between 0 and 1"},
		{[]string{"--catalogue", cat, "--edition", "-1"}, 2, "cannot be pulled"},
		{[]string{}, 2, "catalogue is missing"},
	} {
		if _, stderr, code := run(append([]string{"life"}, c.args...)...); code != c.code || !strings.Contains(stderr, c.says) {
			t.Errorf("%v: %d %s", c.args, code, stderr)
		}
	}
}
