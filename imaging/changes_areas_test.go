package imaging

import "testing"

// An L of changed samples is boxed in two pieces that leave its hollow free; a
// full square stays one.
func TestAreasFollowTheirShape(t *testing.T) {
	const w, h, f = 200, 160, 2.5
	a := newPlane(w, h)
	mask := make([]bool, w*h)
	fill := func(x0, y0, x1, y1 int) {
		for y := y0; y < y1; y++ {
			for x := x0; x < x1; x++ {
				mask[y*w+x] = true
			}
		}
	}
	fill(10, 10, 60, 150)
	fill(60, 120, 190, 150)
	got := areasOf(a, mask, f, 1, 2, Added)
	if len(got) != 2 {
		t.Fatalf("an L is boxed as %v", got)
	}
	for _, c := range got {
		if hollow := [4]float64{70 / f, 20 / f, 180 / f, 110 / f}; overlap(c.Box, hollow) > 0 {
			t.Errorf("%v covers the hollow of the L", c.Box)
		}
	}
	mask = make([]bool, w*h)
	fill(20, 30, 120, 130)
	got = areasOf(a, mask, f, 1, 2, Removed)
	if len(got) != 1 || got[0].Box != [4]float64{20 / f, 30 / f, 120 / f, 130 / f} {
		t.Fatalf("a square is boxed as %v", got)
	}
	if want := 100 * 100 / (f * f); got[0].AreaMM2 != want {
		t.Errorf("its area is %.1f mm2, want %.1f", got[0].AreaMM2, want)
	}
	if got := areasOf(a, mask, f, 1, 2000, Removed); len(got) != 0 {
		t.Errorf("smaller than the least, yet %v", got)
	}
}
