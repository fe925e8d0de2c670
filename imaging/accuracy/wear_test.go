package accuracy

import (
	"context"
	"testing"

	"pullbook/imaging/platesim"
)

// TestOneStateWornToItsEnd: whole passages of fine lines are gone from a plate
// pulled far beyond its life (the pulls lose 0.25 to 0.85 of the ink), and yet
// nothing was added or removed, whichever of the two sheets comes first.
func TestOneStateWornToItsEnd(t *testing.T) {
	for _, s := range []Spec{
		{Seed: 5101, Kind: Even, Scene: platesim.Marsh, Tech: platesim.Etched, Weight: 1.3},
		{Seed: 5102, Kind: Rough, Scene: platesim.Boatyard, Tech: platesim.Mixed, Weight: 1},
		{Seed: 5103, Kind: Even, Scene: platesim.Heron, Tech: platesim.Drypoint, Weight: 1.3},
	} {
		s.States, s.Pulls, s.Side = 1, []int{120}, 2100
		p, err := Simulate(t.TempDir(), s)
		if err != nil {
			t.Fatal(err)
		}
		fresh, worn := p.Photos[0], p.Photos[1]
		t.Logf("%s, %s: ink loss %.2f", p.Name, s.Scene, *worn.InkLoss)
		for _, pair := range [][2]Photo{{fresh, worn}, {worn, fresh}} {
			said, ok, err := compared(context.Background(), pair[0], pair[1], p.Size, testLog{t})
			if err != nil || !ok {
				t.Fatalf("%s: not compared: %v", p.Name, err)
			}
			for _, c := range work(said) {
				t.Errorf("%s, pull %d against %d: %s at %.1f, sure %.2f, and there is only wear", p.Name, pair[1].Pull, pair[0].Pull, c.Kind, c.Box, c.Sure)
			}
		}
	}
}

// TestWorkOverOldLines: plates whose new strokes cross old hatching, or run
// along it, which the eye finds at once.
func TestWorkOverOldLines(t *testing.T) {
	var f Figures
	for _, s := range []Spec{Specs(31001, 6)[5], Specs(88172, 9)[8], Specs(31002, 5)[4]} {
		s.Pulls, s.Later, s.States = nil, []int{20}, 2
		p, err := Simulate(t.TempDir(), s)
		if err != nil {
			t.Fatal(err)
		}
		if err := f.changes(context.Background(), p, testLog{t}); err != nil {
			t.Fatal(err)
		}
	}
	if f.WorkThere < 8 || f.WorkFound != f.WorkThere || f.WorkTrue != f.WorkSaid {
		t.Errorf("found %d of %d, true %d of %d", f.WorkFound, f.WorkThere, f.WorkTrue, f.WorkSaid)
	}
}
