package imaging

import "testing"

// The order rises with ink loss and with burr loss; where wear loss runs
// against them (burr on the strongest lines) it is not asked.
func TestOrderRisesWithWear(t *testing.T) {
	v := func(x float64) *Value { return &Value{x, 0.005} }
	early := &Scores{InkLoss: v(0.03), WearLoss: v(-0.05), BurrLoss: v(0.3)}
	later := &Scores{InkLoss: v(0.07), WearLoss: v(-0.10), BurrLoss: v(0.8)}
	last := &Scores{InkLoss: v(0.14), WearLoss: v(-0.12), BurrLoss: v(1.0)}
	a, b, c := early.order(), later.order(), last.order()
	if !(a.V < b.V && b.V < c.V) {
		t.Errorf("order %.2f, %.2f, %.2f", a.V, b.V, c.V)
	}
	if a.U < 1 {
		t.Errorf("inking alone makes the order uncertain by a point; said %.2f", a.U)
	}
	if (&Scores{}).order() != nil {
		t.Error("an order without any measurement")
	}
}

// decide on made-up evidence: sure, none of these, cannot tell.
func TestDecide(t *testing.T) {
	sheet := &Sheet{}
	for _, c := range []struct {
		what   string
		weight [2]float64
		faint  [2]float64
		state  int
		sure   bool
	}{
		{"no work differs from the first, much from the second", [2]float64{0, 300}, [2]float64{0, 3}, 1, true},
		{"much differs from both", [2]float64{90, 300}, [2]float64{0, 0}, 0, true},
		{"nothing tells them apart", [2]float64{0, 0}, [2]float64{0.5, 0.6}, 0, false},
		{"only faint signs", [2]float64{0, 0}, [2]float64{7, 0}, 2, false},
	} {
		w := &Placing{}
		for i := range c.weight {
			w.States = append(w.States, StateEvidence{State: i + 1, Sheet: sheet, weight: c.weight[i], faint: c.faint[i]})
		}
		w.decide(Wording{})
		if w.State != c.state || (w.Confidence > 0.9) != c.sure || w.Reason == "" {
			t.Errorf("%s: state %d, confidence %.2f, %q", c.what, w.State, w.Confidence, w.Reason)
		}
	}
}
