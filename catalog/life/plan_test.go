package life

import (
	"context"
	"math"
	"strings"
	"testing"

	"pullbook/catalog"
)

func TestPlanKeepsItsPromise(t *testing.T) {
	f, err := Predict(context.Background(), Run{Prior: PriorFor([]catalog.Technique{catalog.Etching}, false), Limit: 0.25, ReferencePull: 1, Observations: steady(60, 0.0025, 0)})
	if err != nil {
		t.Fatal(err)
	}
	w := Wish{Sure: 0.9, ProofShare: 0.1, Spoiled: 0.2}
	p := f.Plan(w)
	if p.Size < 5 || p.Size > 41 {
		t.Fatalf("an edition of %d from a plate with forty pulls left: %s", p.Size, p.Sentence)
	}
	if c := f.Chance(p.Pulls); c < 0.9 {
		t.Errorf("the plan's %d pulls have a chance of %.2f", p.Pulls, c)
	}
	if c := f.Chance(w.pulls(p.Size + 1)); c >= 0.9 {
		t.Errorf("one more numbered impression was possible with a chance of %.2f", c)
	}
	if want := int(math.Ceil(float64(p.Size+p.Proofs) / 0.8)); p.Pulls != want {
		t.Errorf("%d pulls for %d and %d proofs with a fifth spoiled, want %d", p.Pulls, p.Size, p.Proofs, want)
	}
	var proofs int
	for _, k := range p.Keep {
		if k.Pull <= f.Pulled || k.Pull > f.Pulled+p.Pulls+1 {
			t.Errorf("pull %d is not among those to come", k.Pull)
		}
		if k.As == catalog.KindArtist {
			proofs++
		}
	}
	if proofs != p.Proofs {
		t.Errorf("%d proofs to keep, %d planned", proofs, p.Proofs)
	}
	for i := 1; i < len(p.Chances); i++ {
		if p.Chances[i].Chance > p.Chances[i-1].Chance {
			t.Errorf("a larger edition is likelier: %v", p.Chances)
		}
	}
	if strict := f.Plan(Wish{Sure: 0.99}); strict.Size >= f.Plan(Wish{Sure: 0.6}).Size {
		t.Errorf("surer must be smaller: %d", strict.Size)
	}
}

func TestSortSheets(t *testing.T) {
	v := func(x float64) *catalog.Value { return &catalog.Value{V: x, U: 0.005} }
	sheets := []Sheet{
		{ID: "like", Pull: 3, InkLoss: v(0.03), PlateTone: v(0.08)},
		{ID: "worn", Pull: 40, InkLoss: v(0.33), PlateTone: v(0.08)},
		{ID: "veiled", Pull: 5, InkLoss: v(0.05), PlateTone: v(0.25)},
		{ID: "pale", Pull: 7, InkLoss: v(0.21), PlateTone: v(0.08)},
		{ID: "next", Pull: 8, InkLoss: v(0.06), PlateTone: v(0.08)},
		{ID: "late", Pull: 30, InkLoss: v(0.19), PlateTone: v(0.08)},
		{ID: "later", Pull: 32, InkLoss: v(0.20), PlateTone: v(0.08)},
		{ID: "loose", InkLoss: v(0.20)},
		{ID: "unmeasured"},
	}
	want := map[catalog.ID]catalog.Kind{"like": catalog.KindNumbered, "worn": catalog.KindTrial, "veiled": catalog.KindArtist, "pale": catalog.KindArtist,
		"next": catalog.KindNumbered, "late": catalog.KindNumbered, "later": catalog.KindNumbered, "loose": catalog.KindNumbered}
	got := Sort(sheets, 0.25, 0.1, 0.08)
	if len(got) != len(want) {
		t.Fatalf("%v", got)
	}
	for _, s := range got {
		if s.As != want[s.ID] || s.Reason == "" {
			t.Errorf("%s: %s, %s", s.ID, s.As, s.Reason)
		}
	}
}

func TestOrderIsCalledByItsName(t *testing.T) {
	v := func(x float64) *catalog.Value { return &catalog.Value{V: x, U: 0.005} }
	o := InOrder([]Placed{{ID: "c", Wear: v(0.20)}, {ID: "a", Wear: v(0.01)}, {ID: "b", Wear: v(0.10)}, {ID: "x"}})
	if o.Name != WearOrder || strings.HasPrefix(o.Sentence, "Printing order") {
		t.Errorf("order by wear alone is called %q: %s", o.Name, o.Sentence)
	}
	if len(o.IDs) != 3 || o.IDs[0] != "a" || o.IDs[1] != "b" || o.IDs[2] != "c" || len(o.Unplaced) != 1 {
		t.Errorf("order %v, unplaced %v", o.IDs, o.Unplaced)
	}
	if len(o.Before) != 3 {
		t.Errorf("three pairs are sure, got %v", o.Before)
	}
	o = InOrder([]Placed{{ID: "late", Pull: 30, Wear: v(0.01)}, {ID: "early", Pull: 2, Wear: v(0.2)}})
	if o.Name != PrintingOrder || o.IDs[0] != "early" {
		t.Errorf("recorded pulls decide: %q %v", o.Name, o.IDs)
	}
	// Equal wear tells nothing; a scratch that only one shows does.
	o = InOrder([]Placed{{ID: "p", Wear: v(0.10)}, {ID: "q", Wear: v(0.101)}})
	if len(o.Before) != 0 {
		t.Errorf("nothing can be said of equal wear: %v", o.Before)
	}
	o = InOrder([]Placed{{ID: "p", Wear: v(0.10), Marks: []string{"scratch"}}, {ID: "q", Wear: v(0.101), Absent: []string{"scratch"}}})
	if len(o.Before) != 1 || o.Before[0].First != "q" || o.Before[0].Why != "scratch" {
		t.Errorf("the scratch decides: %v", o.Before)
	}
}
