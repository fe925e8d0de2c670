package catalog

import (
	"math"
	"slices"
	"testing"
)

func TestOutlines(t *testing.T) {
	want := [][2]float64{{5, 5}, {135.2, 5}, {-0.3, 40}}
	text := OutlineOf([][2]float64{{5.01, 4.98}, {135.24, 5}, {-0.3, 40}})
	if text != "5,5 135.2,5 -0.3,40" {
		t.Errorf("written as %q", text)
	}
	if got, wrong := ParseOutline(text); wrong != "" || !slices.Equal(got, want) {
		t.Errorf("read as %v, %s", got, wrong)
	}
	for _, s := range []string{"", "1,1 2,2", "1,1 9,9 5", "1,1 9,9 x,5", "1,1 9,9 NaN,5", "1,1 9,9 Inf,5", "0,0 1,0 1,1", "0,0 50,50 90,90"} {
		if got, wrong := ParseOutline(s); wrong == "" {
			t.Errorf("%q is taken for %v", s, got)
		}
	}
	if a := area([][2]float64{{0, 0}, {3, 0}, {0, 4}}); math.Abs(a-6) > 1e-12 {
		t.Errorf("a right triangle of 3 and 4 has the area %g", a)
	}
}

func TestRegionsOfAPlate(t *testing.T) {
	sky := Region{Name: "sky", Outline: "0,0 50,0 50,20"}
	if s := CheckRegions([]Region{sky, {Name: "hull", Outline: "5,30 20,30 10,60"}}); s != "" {
		t.Error(s)
	}
	for name, l := range map[string][]Region{"no name": {{Outline: sky.Outline}}, "one name twice": {sky, sky}, "no outline": {{Name: "sea"}}} {
		if CheckRegions(l) == "" {
			t.Errorf("%s is let through", name)
		}
	}
}
