package imaging

import (
	"context"
	"math"
	"strings"
	"testing"

	"pullbook/imaging/platesim"
)

// A reference measured against itself has lost nothing, however dense its
// hatching: both sides must be judged against the same ground.
func TestReferenceAgainstItself(t *testing.T) {
	plate := platesim.New(96, platesim.Engraved, platesim.StillLife, platesim.Options{States: 1})
	c := platesim.NewConditions(platesim.Even, 4)
	c.Width, c.Height = 1500, 1125
	img, _ := plate.Photograph(1, 2, c, 4)
	p := FromImage(img)
	size := Size{Height: plate.Size.H, Width: plate.Size.W}
	mark, err := FindPlate(context.Background(), p, size)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Prepare(context.Background(), p, mark, size)
	if err != nil {
		t.Fatal(err)
	}
	res, err := r.Measure(context.Background(), p, MeasureOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if res.Verdict != Measured {
		t.Fatalf("refused: %s", res.Reason)
	}
	if v := res.Scores.InkLoss.V; math.Abs(v) > 0.01 {
		t.Errorf("ink loss %.4f of a sheet against itself, want none", v)
	} // An engraved plate has no burr: nothing is told of it, and in words.
	if res.Scores.BurrLoss != nil || !strings.HasPrefix(res.Scores.Why["burr_loss"], "Burr loss cannot be told: ") {
		t.Errorf("burr loss %v of an engraved plate, %q", res.Scores.BurrLoss, res.Scores.Why["burr_loss"])
	}
}
