package imaging

import (
	"math"
	"testing"
)

// TestSettleFrame: the reference's mark lies 0.2 mm too far right, those of three
// equally flat sheets 0.2 and 0.1 mm too far left and 0.1 too far right;
// together they are right. A mark
// misread by 2 mm must not count, and corners set by hand stay.
func TestSettleFrame(t *testing.T) {
	const px = 10.0 // to the millimetre
	size := Size{Height: 60, Width: 80}
	moved := func(mm float64) homography { return homography{px, 0, px*mm + 100, 0, px, 50, 0, 0, 1} }
	photo := &Photo{Width: 1000, Height: 700}
	sheet := func(off float64) *Result {
		r := &Result{Verdict: Measured}
		// Truth is at moved(0): lines lie on the reference exactly, so its own
		// error of 0.2 mm is in m; the sheet's own mark is off by another.
		r.Registration.plate = &laidPlate{m: &mapping{h: moved(0.2)}, own: &mapping{h: moved(off)}, photo: photo}
		r.Registration.Lattice = [][4]float64{{}}
		return r
	}
	ref := &Reference{Size: size, photo: photo, mark: &foundMark{}, Sheet: &Sheet{m: &mapping{h: moved(0.2)}}}
	ref.Mark.How = "found"
	results := []*Result{sheet(-0.2), sheet(-0.1), sheet(0.1), sheet(2), {Verdict: Refused}}
	lattice, mark := ref.SettleFrame(results, 4, 3)
	if len(lattice) != 20 || len(results[0].Registration.Lattice) != 20 {
		t.Fatalf("%d and %d nodes, want 20", len(lattice), len(results[0].Registration.Lattice))
	}
	for i, n := range results[0].Registration.Lattice {
		if e := (n[2] - px*n[0] - 100) / px; math.Abs(e) > 0.02 || math.Abs(n[3]-px*n[1]-50) > 1e-6 {
			t.Fatalf("node %d is off by %.3f mm, want about 0", i, e)
		}
		if n != lattice[i] {
			t.Fatalf("the reference's lattice differs from that of a sheet that lies exactly on it")
		}
	}
	if e := math.Abs(mark[0].X-100) / px; e > 0.02 || mark[0].X != results[1].Mark[0].X {
		t.Errorf("corner off by %.3f mm", e)
	}
	ref.Mark.How = "by hand"
	lattice, _ = ref.SettleFrame([]*Result{sheet(-0.1)}, 4, 3)
	if e := (lattice[0][2]-100)/px - 0.2; math.Abs(e) > 1e-9 {
		t.Errorf("corners set by hand moved by %.3f mm", e)
	}
}
