package accuracy

import (
	"testing"

	"pullbook/imaging"
	"pullbook/imaging/platesim"
)

// TestJudge counts patches as they should be counted: a hit, a hit of the wrong
// kind, two boxes on one patch, a false one, and one that could not be seen.
func TestJudge(t *testing.T) {
	truth := platesim.Change{Added: []platesim.Box{{10, 10, 20, 20}, {50, 10, 60, 20}}, Removed: []platesim.Box{{30, 30, 40, 40}}}
	var f Figures
	f.judge(truth, []imaging.Change{
		{Kind: "added", Box: [4]float64{11, 10, 21, 20}},
		{Kind: "added", Box: [4]float64{10, 11, 20, 20}},
		{Kind: "removed", Box: [4]float64{50, 10, 60, 20}},
		{Kind: "removed", Box: [4]float64{70, 70, 75, 75}},
		{Kind: "cannot see", Box: [4]float64{30, 30, 40, 40}},
	})
	if f.WorkThere != 3 || f.WorkFound != 1 || f.WorkSaid != 4 || f.WorkTrue != 1 {
		t.Errorf("there %d found %d said %d true %d, want 3 1 4 1", f.WorkThere, f.WorkFound, f.WorkSaid, f.WorkTrue)
	}
}
