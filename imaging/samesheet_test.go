package imaging

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"pullbook/imaging/platesim"
)

// simulated photographs a pull and opens the file.
func simulated(t testing.TB, plate *platesim.Plate, pull int, c platesim.Conditions, seed uint64) *Photo {
	t.Helper()
	img, _ := plate.Photograph(1, pull, c, seed)
	var b bytes.Buffer
	if err := platesim.Encode(&b, img, c); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), fmt.Sprintf("%d-%d.jpg", pull, seed))
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	p, err := Open(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// rephotographed keeps what belongs to the sheet and changes what belongs to
// the camera.
func rephotographed(sheet, camera platesim.Conditions) platesim.Conditions {
	c := camera
	c.Tone, c.ToneCloud, c.Streak, c.StreakDeg, c.OverWipe = sheet.Tone, sheet.ToneCloud, sheet.Streak, sheet.StreakDeg, sheet.OverWipe
	c.Texture, c.Laid, c.Stretch, c.Paper, c.Ink, c.Margins, c.Deckle = sheet.Texture, sheet.Laid, sheet.Stretch, sheet.Paper, sheet.Ink, sheet.Margins, sheet.Deckle
	return c
}

// The same sheet photographed twice is recognised, also by a rough photograph;
// another pull with the same amount of plate tone is not. Many more pairs are
// asked by the accuracy package.
func TestSameSheet(t *testing.T) {
	const seed = 9100
	ctx := context.Background()
	plate := platesim.New(seed, platesim.Mixed, platesim.Estuary, platesim.Options{States: 1, Size: platesim.Size{W: 110, H: 80}})
	small := func(k platesim.Light, s uint64) platesim.Conditions {
		c := platesim.NewConditions(k, s)
		c.Width, c.Height, c.Tone = 1300, 980, 0.05
		return c
	}
	sheet := small(platesim.Even, 1)
	ref := simulated(t, plate, 3, small(platesim.Even, 2), 20)
	mark, err := FindPlate(ctx, ref, Size{80, 110})
	if err != nil {
		t.Fatal(err)
	}
	r, err := Prepare(ctx, ref, mark, Size{80, 110})
	if err != nil {
		t.Fatal(err)
	}
	first := simulated(t, plate, 6, sheet, 21)
	again := simulated(t, plate, 6, rephotographed(sheet, small(platesim.Rough, 3)), 21)
	other := simulated(t, plate, 7, small(platesim.Even, 1), 22)
	got, err := r.Same(ctx, first, again)
	if err != nil {
		t.Fatal(err)
	}
	if got.Verdict != "the same" || got.Probability < 0.95 {
		t.Errorf("the same sheet again: %s, %.2f: %s", got.Verdict, got.Probability, got.Reason)
	}
	got, err = r.Same(ctx, first, other)
	if err != nil {
		t.Fatal(err)
	}
	if got.Verdict != "different" {
		t.Errorf("another pull of the day: %s, %.2f: %s", got.Verdict, got.Probability, got.Reason)
	}
	t.Logf("another pull with as much tone: %s, %.3f, agreement %.2f", got.Verdict, got.Probability, got.Agreement)
}
