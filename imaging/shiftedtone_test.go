package imaging

import (
	"math"
	"testing"
)

// TestShiftedTone: tone that lies 0.05 mm towards the first side is told, that
// on a wider plate and that of clean sheets is not taken for a shift.
func TestShiftedTone(t *testing.T) {
	shape := edgeShape{in: 0.9, out: 0.9}
	profile := func(tone, at, ridge float64) []float64 {
		out := make([]float64, int(2*profileReach/sideStep)+1)
		for k := range out {
			d := float64(k)*sideStep - profileReach
			s := shape
			s.tone = at
			step, r := s.at(d)
			out[k] = ridge*r - tone*step + 0.0007*math.Sin(7*d)
		}
		return out
	}
	for _, c := range []struct{ tone, left, right, least, most float64 }{
		{0.15, 0.06, -0.06, 0.02, 0.07},
		{0.15, 0.06, 0.06, -0.01, 0.01},
		{0.15, 0, 0, -0.01, 0.01},
		{0.005, 0.06, -0.06, 0, 0},
	} {
		got := shiftedTone(profile(c.tone, c.left, -0.05), profile(c.tone, c.right, 0.04), shape, 0.8)
		if got < c.least || got > c.most {
			t.Errorf("tone %.3f ending %+.2f and %+.2f mm outside: shift %+.3f, want %+.2f to %+.2f", c.tone, c.left, c.right, got, c.least, c.most)
		}
	}
}
