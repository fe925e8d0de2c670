package imaging

import "testing"

// TestJudge holds scores to a limit with the guard band of JCGM 106:2012:
// 1.645 standard uncertainties either side.
func TestJudge(t *testing.T) {
	budget := []Component{{"ink_loss", "ground", 0.001}, {"ink_loss", "focus", 0.02}, {"plate_tone", "light", 1}}
	for _, c := range []struct {
		v, u, limit float64
		want        Outcome
	}{
		{0.20, 0.01, 0.25, Within},
		{0.20, 0.01, 0.2164, CannotTell},
		{0.20, 0.01, 0.2165, Within},
		{0.20, 0.01, 0.1835, Outside},
		{0.20, 0.01, 0.1836, CannotTell},
		{0.25, 0.10, 0.25, CannotTell},
	} {
		j := Judge(&Value{c.v, c.u}, c.limit, "ink_loss", budget)
		if j.Outcome != c.want {
			t.Errorf("%v u %v against %v: %s, want %s", c.v, c.u, c.limit, j.Outcome, c.want)
		}
		if told := j.Outcome != CannotTell; told != (j.Cause == "" && j.Cure == "") {
			t.Errorf("%v: cause %q, cure %q", c, j.Cause, j.Cure)
		}
		if j.Outcome == CannotTell && j.Cure != cures["focus"] {
			t.Errorf("the largest component is focus, the cure says %q", j.Cure)
		}
	}
	if j := Judge(nil, 1, "ink_loss", nil); j.Outcome != CannotTell || j.Cause == "" {
		t.Errorf("a missing score: %+v", j)
	}
	in, out, close := &Value{0, 0.01}, &Value{1, 0.01}, &Value{0.5, 0.01}
	limits := []float64{0.5, 0.5}
	names := []string{"ink_loss", "burr_loss"}
	for _, c := range []struct {
		a, b *Value
		name string
		want Outcome
	}{{in, in, "", Within}, {in, close, "burr_loss", CannotTell}, {close, out, "burr_loss", Outside}} {
		if n, j := JudgeAll(names, []*Value{c.a, c.b}, limits, nil); n != c.name || j.Outcome != c.want {
			t.Errorf("%v and %v: %s by %q", *c.a, *c.b, j.Outcome, n)
		}
	}
}
