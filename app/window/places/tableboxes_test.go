package places

import (
	"testing"

	"pullbook/catalog"
)

// Changes are marked over sheets of two states that follow one another, and
// only once these sheets are drawn.
func TestChangesAreMarkedBetweenTheirStatesOnly(t *testing.T) {
	one, two, three := &catalog.State{ID: "I", N: 1}, &catalog.State{ID: "II", N: 2}, &catalog.State{ID: "III", N: 3}
	two.Changes = []catalog.Change{{Kind: "added", BoxMM: [4]float64{1, 2, 3, 4}}, {Kind: "removed", Ruling: "rejected"}}
	three.Changes = []catalog.Change{{Kind: "added", BoxMM: [4]float64{5, 6, 7, 8}}, {Kind: "added"}}
	b := &book{states: map[catalog.ID]*catalog.State{"I": one, "II": two, "III": three}, impressions: map[catalog.ID]*catalog.Impression{
		"a1": {StateID: "I"}, "a2": {StateID: "II"}, "b2": {StateID: "II"}, "a3": {StateID: "III"}, "none": {}}}
	photos := [2]catalog.ID{"p", "q"}
	for _, x := range []struct {
		a, s        catalog.ID
		shown, laid [2]catalog.ID
		want        int
		chosen      bool
	}{
		{"a1", "a2", photos, photos, 1, true},
		{"a2", "a1", photos, photos, 1, false}, // the panel lists the changes of I
		{"a2", "a3", photos, photos, 2, true},
		{"a2", "b2", photos, photos, 0, false},
		{"a2", "a2", photos, photos, 0, false},
		{"a1", "a3", photos, photos, 0, false}, // not looked for between these
		{"none", "a2", photos, photos, 0, false},
		{"a1", "a2", photos, [2]catalog.ID{"p", "other"}, 0, false},
		{"a1", "a2", [2]catalog.ID{}, [2]catalog.ID{}, 0, false},
	} {
		p := &tablePlace{b: b, a: x.a, s: x.s, shown: x.shown, laid: x.laid}
		l := p.marked()
		if len(l) != x.want || len(l) > 0 && l[0].Chosen != x.chosen {
			t.Errorf("%s beside %s, drawn %v of %v: %d marked, %+v", x.a, x.s, x.laid, x.shown, len(l), l)
		}
	}
	p := &tablePlace{b: b, a: "a1", s: "a2", shown: photos, laid: photos}
	if m := p.marked()[0]; m.Box != boxOf(two.Changes[0]) {
		t.Errorf("marked is %+v", m.Box)
	}
}

// Inking is said in words, and sizes with the sign for times.
func TestInkingAndSizesInWords(t *testing.T) {
	for want, v := range map[string]float64{"11.5\u202f% less  ± 2.0\u202f%": -0.115, "3.0\u202f% more  ± 2.0\u202f%": 0.03, "as the reference pull  ± 2.0\u202f%": 0.0001} {
		if got := inkingWords(catalog.Value{V: v, U: 0.02}); got != want {
			t.Errorf("%v is said %q", v, got)
		}
	}
	if got := changeSay(catalog.Change{Words: "added work, 12.5 x 9 mm, box 3x4"}); got != "added work, 12.5 × 9 mm, box 3 × 4" {
		t.Errorf("the change is said %q", got)
	}
}
