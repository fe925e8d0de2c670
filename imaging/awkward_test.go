package imaging

import (
	"context"
	"math"
	"path/filepath"
	"testing"
)

// prepareTruth prepares the reference of a simulated plate from its photograph
// alone.
func prepareTruth(t testing.TB, truth truthPlate) *Reference {
	t.Helper()
	rp := openShared(t, truth.Photos[0].File)
	mark, err := FindPlate(context.Background(), rp, truth.size())
	if err != nil {
		t.Fatal(err)
	}
	ref, err := Prepare(context.Background(), rp, mark, truth.size())
	if err != nil {
		t.Fatal(err)
	}
	return ref
}

// TestAwkward sees that what cannot be measured is refused with its own
// sentence and never a number, and that a plate turned, greyed or stored
// otherwise measures the same within two standard uncertainties.
func TestAwkward(t *testing.T) {
	truth := loadTruth(t, "quay")
	ref := prepareTruth(t, truth)
	measure := func(file string) *Result {
		p, err := Open(context.Background(), filepath.Join(sharedPhotos, "awkward", file))
		if err != nil {
			t.Logf("%-20s %v", file, err)
			return nil
		}
		res, err := ref.Measure(context.Background(), p, MeasureOptions{})
		if err != nil {
			t.Fatal(err)
		}
		return res
	}
	sentences := map[string]string{}
	for _, f := range []string{"another-plate.jpg", "blank-paper.jpg", "burnt-out.jpg", "half-in-view.jpg", "mirrored.jpg", "out-of-focus.jpg"} {
		res := measure(f)
		if res == nil {
			t.Errorf("%s did not open", f)
			continue
		}
		t.Logf("%-20s %s: %s", f, res.Verdict, res.Reason)
		if res.Verdict != Refused || res.Reason == "" || res.Scores.InkLoss != nil {
			t.Errorf("%s was not refused", f)
			continue
		}
		if other, ok := sentences[res.Reason]; ok {
			t.Errorf("%s and %s are refused in the same words", f, other)
		}
		sentences[res.Reason] = f
	}
	for _, f := range []string{"bomb.png", "cut-short.jpg", "empty.jpg", "text.jpg"} {
		if measure(f) != nil {
			t.Errorf("%s opened", f)
		}
	}
	var first *Result
	for _, f := range []string{"upside-down.jpg", "on-its-side.jpg", "turned-by-exif.jpg", "grey.jpg", "sixteen-bit.png", "scan.tif"} {
		res := measure(f)
		if res == nil || res.Verdict != Measured {
			t.Errorf("%s was not measured: %+v", f, res)
			continue
		}
		s := res.Scores
		t.Logf("%-20s ink loss %.4f u %.4f, tone %.4f u %.4f, registered to %.3f mm, blur %.3f", f, s.InkLoss.V, s.InkLoss.U, s.PlateTone.V, s.PlateTone.U, res.Registration.ResidualMM, res.Quality.BlurMM)
		if first == nil {
			first = res
			continue
		}
		u := math.Hypot(s.InkLoss.U, first.Scores.InkLoss.U)
		if math.Abs(s.InkLoss.V-first.Scores.InkLoss.V) > 2*u {
			t.Errorf("%s: ink loss %.4f, upside-down it was %.4f", f, s.InkLoss.V, first.Scores.InkLoss.V)
		}
		u = math.Hypot(s.PlateTone.U, first.Scores.PlateTone.U)
		if math.Abs(s.PlateTone.V-first.Scores.PlateTone.V) > 2*u {
			t.Errorf("%s: plate tone %.4f, upside-down it was %.4f", f, s.PlateTone.V, first.Scores.PlateTone.V)
		}
	}
}
