package imaging

import (
	"math"
	"testing"
)

// TestModes: the coefficients of a projective displacement and of a lens's give
// back the polynomials they stand for, all over the plate.
func TestModes(t *testing.T) {
	size := Size{Height: 90, Width: 130}
	w := newWarp(size)
	w.eye, w.half = Point{72, 38}, 160
	long := 65.0
	for k, m := range w.modes() {
		for i := range w.cx {
			w.cx[i], w.cy[i] = m[2*i], m[2*i+1]
		}
		for _, p := range []Point{{0, 0}, {130, 0}, {61, 44}, {7, 89}, {130, 90}} {
			x, y := (p.X-72)/long, (p.Y-38)/long
			r := math.Hypot(p.X-72, p.Y-38) / 160
			want := [warpModes]Point{
				{3, 0}, {0, 3}, {3 * x, 0}, {0, 3 * x}, {3 * y, 0}, {0, 3 * y},
				{0.3 * x * x, 0.3 * x * y}, {0.3 * x * y, 0.3 * y * y},
				{0.02 * r * r * (p.X - 72), 0.02 * r * r * (p.Y - 38)},
			}[k]
			if d := w.at(p).dist(want); d > 1e-9 {
				t.Errorf("displacement %d at %v: %v, want %v", k, p, w.at(p), want)
			}
		}
	}
}

// TestWarpBeyondSight: where nothing is seen, the displacement goes on as the
// camera's own, and its stated uncertainty grows to that of buckling paper.
func TestWarpBeyondSight(t *testing.T) {
	size := Size{Height: 90, Width: 130}
	field := func(p Point) Point {
		x, y := (p.X-65)/100, (p.Y-45)/100
		r := x*x + y*y
		return Point{0.3 + 0.2*x - 0.1*y + 0.2*x*x + 0.3*r*x, -0.1 + 0.15*y + 0.2*x*y + 0.3*r*y}
	}
	var seen []sighting
	for y := 4.0; y < 90; y += 6 {
		for x := 4.0; x < 130; x += 6 {
			if p := (Point{x, y}); x < 90 {
				seen = append(seen, sighting{at: p, d: field(p), xx: 1e4, yy: 1e4})
			}
		}
	}
	w := newWarp(size)
	chi, mu := w.fit(seen, []float64{3e2, 3e3, 3e4, 3e5, 3e6})
	w.settle(seen, mu, chi)
	far := Point{118, 45}
	if e := w.at(far).dist(field(far)); e > 0.02 {
		t.Errorf("28 mm beyond what was seen the displacement is %.3f mm off", e)
	}
	if near, there := w.u(Point{40, 45}), w.u(far); there < 2*near {
		t.Errorf("stated uncertainty %.4f mm where nothing was seen, %.4f where much was", there, near)
	}
}
