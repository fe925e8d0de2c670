package imaging

import (
	"context"
	"image"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"testing"
)

// TestCroppedMargin cuts a shared photograph down to about 12 mm of paper
// around the plate mark, so that the paper fills the picture: toned work on it
// must not be taken for the sheet, and the scores must stay what they were.
func TestCroppedMargin(t *testing.T) {
	ref := prepareTruth(t, loadTruth(t, "grove"))
	measure := func(path string) *Result {
		p, err := Open(context.Background(), path)
		if err != nil {
			t.Fatal(err)
		}
		res, err := ref.Measure(context.Background(), p, MeasureOptions{})
		if err != nil || res.Verdict != Measured {
			t.Fatalf("%s: %v %v", path, res, err)
		}
		return res
	}
	whole := filepath.Join(sharedPhotos, "grove-pull-018.jpg")
	a := measure(whole)
	b := measure(cropped(t, whole, a.Mark, int(12*a.Quality.PxPerMM)))
	if b.Scores.PlateTone == nil {
		t.Fatal("plate tone: ", b.Scores.Why["plate_tone"])
	}
	if d := math.Abs(b.Scores.PlateTone.V - a.Scores.PlateTone.V); d > 2*a.Scores.PlateTone.U {
		t.Errorf("plate tone %.4f, cropped %.4f", a.Scores.PlateTone.V, b.Scores.PlateTone.V)
	}
	if d := math.Abs(b.Scores.InkLoss.V - a.Scores.InkLoss.V); d > 2*a.Scores.InkLoss.U {
		t.Errorf("ink loss %.4f, cropped %.4f", a.Scores.InkLoss.V, b.Scores.InkLoss.V)
	}
}

// cropped writes a photograph anew with so many pixels left around a mark.
func cropped(t *testing.T, path string, mark Quad, margin int) string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := jpeg.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	var box image.Rectangle
	for _, c := range mark {
		box = box.Union(image.Rect(int(c.X), int(c.Y), int(c.X)+1, int(c.Y)+1))
	}
	box = box.Inset(-margin).Intersect(img.Bounds())
	// Kept in luminance and colour difference: a turn to RGB and back rounds
	// upwards by half a step.
	cut := img.(*image.YCbCr).SubImage(box)
	name := filepath.Join(t.TempDir(), "cropped.jpg")
	out, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	if err := jpeg.Encode(out, cut, &jpeg.Options{Quality: 96}); err != nil {
		t.Fatal(err)
	}
	if err := out.Close(); err != nil {
		t.Fatal(err)
	}
	return name
}
