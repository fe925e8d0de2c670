package catalog

import "testing"

func TestChangeWords(t *testing.T) {
	plate := Size{HeightMM: 100, WidthMM: 140}
	for _, c := range []struct {
		change    Change
		technique Technique
		want      string
	}{
		{Change{Kind: "added", BoxMM: [4]float64{10, 70, 19, 84}, AreaMM2: 40}, Drypoint, "new drypoint shading, lower left, 14 x 9 mm"},
		{Change{Kind: "removed", BoxMM: [4]float64{97, 40, 113, 54}, AreaMM2: 60}, "", "shading removed, right of centre, 14 x 16 mm"},
		{Change{Kind: "added", BoxMM: [4]float64{50, 10, 85, 11}, AreaMM2: 8}, Engraving, "new engraved line, upper centre, 1 x 35 mm"},
		{Change{Kind: "added", BoxMM: [4]float64{60, 40, 80, 60}, AreaMM2: 10}, Etching, "new etched lines, centre, 20 x 20 mm"},
		{Change{Kind: "added", BoxMM: [4]float64{69, 49, 71, 51}, AreaMM2: 2}, "", "new mark, centre, 2 x 2 mm"},
		{Change{Kind: "added", BoxMM: [4]float64{2, 5, 138, 30}, AreaMM2: 900}, Aquatint, "new aquatint tone, across the upper part, 25 x 136 mm"},
		{Change{Kind: "added", BoxMM: [4]float64{50, 10, 58, 11}, AreaMM2: 8}, "", "new line, upper centre, 1 x 8 mm"},
		{Change{Kind: "added", BoxMM: [4]float64{50, 10, 54, 11}, AreaMM2: 4}, "", "new line, upper centre, 1 x 4 mm"},
		{Change{Kind: "added", BoxMM: [4]float64{50, 10, 90, 15}, AreaMM2: 100}, "", "new line, upper centre, 5 x 40 mm"},
		{Change{Kind: "added", BoxMM: [4]float64{50, 10, 70, 15}, AreaMM2: 50}, "", "new shading, upper centre, 5 x 20 mm"},
		{Change{Kind: "changed texture", BoxMM: [4]float64{2, 5, 20, 90}, AreaMM2: 900}, "", "texture changed, down the left side, 85 x 18 mm"},
	} {
		if got := ChangeWords(c.change, c.technique, plate); got != c.want {
			t.Errorf("%v: %q, want %q", c.change, got, c.want)
		}
	}
	if got := ChangeWords(Change{Kind: "added", BoxMM: [4]float64{0, 0, 9, 9}, AreaMM2: 40}, "", Size{}); got != "new shading, 9 x 9 mm" {
		t.Errorf("without the plate's size: %q", got)
	}
}
