package imaging

import (
	"math"
	"slices"
	"testing"
)

// ruled is a plate of vertical lines, and strokes of the second state that
// cross them at an angle where it has them. share is what the lines at the
// right have left.
func ruled(s, angle float64, strokes bool, share float32) *lineField {
	const w, h = 40, 30 // mm
	p := newPlane(int(w*s), int(h*s))
	line := func(d float64) float32 { return float32(0.8 * math.Exp(-d*d/(2*0.07*0.07))) }
	c, n := math.Cos(angle), math.Sin(angle)
	for y := range p.h {
		for x := range p.w {
			mx, my := (float64(x)+0.5)/s, (float64(y)+0.5)/s
			v := line(mx - 0.7*math.Round(mx/0.7))
			if mx > 25 {
				v *= share
			}
			// Across and along a stroke from the middle of the new work.
			a, b := (mx-12)*c+(my-15)*n, (my-15)*c-(mx-12)*n
			if strokes && math.Abs(b) < 4 && math.Abs(a) < 4 {
				v = max(v, line(a-math.Round(a)))
			}
			p.v[y*p.w+x] = v
		}
	}
	return newLineField(p, lineWidth*s)
}

// workNotIn finds the patches of one sheet's lines that the other has not and
// that are more likely work than wear.
func workNotIn(from, in *lineField, s float64, kind string) []workPatch {
	return slices.DeleteFunc(from.patchesNotIn(in, s, kind), func(p workPatch) bool { return p.sure() < 0.5 })
}

// TestWorkAcrossLines: new strokes over hatching that was there before are
// found from the angle of crossing on at which their lines part, and neither
// lines worn beside them nor the old hatching are work.
func TestWorkAcrossLines(t *testing.T) {
	const s = 12.0
	for _, angle := range []float64{0.4, 0.6, 0.8, 1.1, 1.5} {
		before, after := ruled(s, angle, false, 1), ruled(s, angle, true, 0.5)
		got := workNotIn(after, before, s, Added)
		if len(got) != 1 || overlap(got[0].box, [4]float64{7, 10, 17, 20}) < 0.5 {
			t.Errorf("strokes across lines at %.1f rad: %d patches found", angle, len(got))
			for _, p := range got {
				t.Logf("%.1f, sure %.2f", p.box, p.sure())
			}
		}
		if gone := workNotIn(before, after, s, Removed); len(gone) != 0 {
			t.Errorf("strokes across lines at %.1f rad: %d patches said to be removed", angle, len(gone))
		}
	}
}
