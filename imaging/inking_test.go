package imaging

import (
	"context"
	"math"
	"testing"

	"pullbook/imaging/platesim"
)

// TestInkingIsNotWear: a sheet wiped too hard, the pull after its reference, has
// lost ink, but the plate has not worn. Wear loss, with the inking of the strong
// lines divided out, says so. The truth is the simulator's.
func TestInkingIsNotWear(t *testing.T) {
	size := Size{Height: 70, Width: 100}
	sim := platesim.New(914, platesim.Engraved, platesim.Estuary, platesim.Options{States: 1, Size: platesim.Size{W: size.Width, H: size.Height}})
	photograph := func(pull int, over float64) (*Photo, platesim.Truth) {
		c := platesim.NewConditions(platesim.Even, 40)
		c.Width, c.Height, c.OverWipe, c.Tone = 1800, 1350, over, 0.03
		img, truth := sim.Photograph(1, pull, c, uint64(pull))
		return FromImage(img), truth
	}
	ctx := context.Background()
	first, _ := photograph(3, 0)
	mark, err := FindPlate(ctx, first, size)
	if err != nil {
		t.Fatal(err)
	}
	ref, err := Prepare(ctx, first, mark, size)
	if err != nil {
		t.Fatal(err)
	}
	score := func(pull int, over float64) (*Scores, float64) {
		p, truth := photograph(pull, over)
		r, err := ref.Measure(ctx, p, MeasureOptions{})
		if err != nil || r.Verdict != Measured || r.Scores.WearLoss == nil {
			t.Fatalf("pull %d: %v, %s %s", pull, err, r.Verdict, r.Reason)
		}
		return &r.Scores, truth.InkLoss
	}
	for _, over := range []float64{0.15, 0.3} {
		s, truth := score(4, over)
		t.Logf("%.0f %% wiped out of the lines: ink loss %.3f (truth %.3f), wear loss %.3f", 100*over, s.InkLoss.V, truth, s.WearLoss.V)
		if truth < 0.6*over {
			t.Fatalf("the simulator wiped only %.3f out", truth)
		}
		if math.Abs(s.InkLoss.V-truth) > 0.025 {
			t.Errorf("ink loss %.3f, truth %.3f", s.InkLoss.V, truth)
		}
		if math.Abs(s.WearLoss.V) > truth/3 {
			t.Errorf("%.0f %% wiped out of the lines pass for wear of %.3f", 100*over, s.WearLoss.V)
		}
	}
}
