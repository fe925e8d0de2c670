package accuracy

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"pullbook/imaging"
	"pullbook/imaging/platesim"
)

// seen is one photograph of a sheet, measured.
type seen struct {
	sheet  int
	tone   float64
	laid   *imaging.Sheet
	result *imaging.Result
}

// TestSameSheets asks of pairs of photographs whether they show one sheet:
// none may be wrong when it is sure, and toned sheets must be recognised. Full,
// four plates give 112 pairs, 16 of them of one sheet (at least 40 are owed);
// small, one plate with three sheets:
//
//	go test ./imaging/accuracy -run TestSameSheets -v -accuracy=full
func TestSameSheets(t *testing.T) {
	plates, sheets := 1, 3
	if *amount == "full" {
		plates, sheets = 4, 4
	}
	var pairs, same, told, recognised, toned int
	for i := range plates {
		photos := photographedTwice(t, *seed*100+uint64(i), platesim.Scenes()[i], sheets)
		for x := range photos {
			for y := x + 1; y < len(photos); y++ {
				a, b := photos[x], photos[y]
				got := imaging.SameImpression(a.laid, b.laid, a.result, b.result)
				pairs++
				isSame := a.sheet == b.sheet
				if isSame {
					same++
					if a.tone > 0.015 {
						toned++
						if got.Verdict == "the same" {
							recognised++
						}
					}
				}
				if got.Verdict != "cannot tell" {
					told++
				}
				if (got.Verdict == "the same" && !isSame) || (got.Verdict == "different" && isSame) {
					t.Errorf("sheets %d and %d of plate %d: said %s (%.3f): %s", a.sheet, b.sheet, i, got.Verdict, got.Probability, got.Reason)
				}
			}
		}
	}
	t.Logf("%d pairs, %d of one sheet; %d told, %d of %d toned ones recognised", pairs, same, told, recognised, toned)
	if recognised < toned {
		t.Errorf("%d of %d toned sheets recognised", recognised, toned)
	}
}

// photographedTwice pulls sheets of a plate and photographs each by two
// cameras, the second rough for every other sheet.
func photographedTwice(t *testing.T, plateSeed uint64, scene platesim.Scene, sheets int) []seen {
	t.Helper()
	ctx := context.Background()
	plate := platesim.New(plateSeed, platesim.Mixed, scene, platesim.Options{States: 1, Size: platesim.Size{W: 120, H: 90}})
	size := imaging.Size{Height: 90, Width: 120}
	small := func(k platesim.Light, s uint64) platesim.Conditions {
		c := platesim.NewConditions(k, s)
		c.Width, c.Height = 1400, 1050
		return c
	}
	ref := sheetPhoto(t, plate, 3, small(platesim.Even, plateSeed), plateSeed)
	mark, err := imaging.FindPlate(ctx, ref, size)
	if err != nil {
		t.Fatal(err)
	}
	r, err := imaging.Prepare(ctx, ref, mark, size)
	if err != nil {
		t.Fatal(err)
	}
	var out []seen
	for j := range sheets {
		s := plateSeed*100 + uint64(j)
		sheet := small(platesim.Even, s)
		for v, c := range []platesim.Conditions{sheet, otherCamera(sheet, small([]platesim.Light{platesim.Even, platesim.Rough}[j%2], s+5000))} {
			laid, res, err := r.Register(ctx, sheetPhoto(t, plate, 6+j, c, s), imaging.MeasureOptions{})
			if err != nil {
				t.Fatal(err)
			}
			if laid == nil {
				t.Logf("sheet %d, camera %d: %s", j, v, res.Reason)
				continue
			}
			out = append(out, seen{j, c.Tone, laid, res})
		}
	}
	return out
}

// otherCamera keeps what belongs to the sheet and changes what belongs to the
// camera.
func otherCamera(sheet, camera platesim.Conditions) platesim.Conditions {
	c := camera
	c.Tone, c.ToneCloud, c.Streak, c.StreakDeg, c.OverWipe = sheet.Tone, sheet.ToneCloud, sheet.Streak, sheet.StreakDeg, sheet.OverWipe
	c.Texture, c.Laid, c.Stretch, c.Paper, c.Ink, c.Margins, c.Deckle = sheet.Texture, sheet.Laid, sheet.Stretch, sheet.Paper, sheet.Ink, sheet.Margins, sheet.Deckle
	return c
}

func sheetPhoto(t *testing.T, plate *platesim.Plate, pull int, c platesim.Conditions, seed uint64) *imaging.Photo {
	t.Helper()
	img, _ := plate.Photograph(1, pull, c, seed)
	path := filepath.Join(t.TempDir(), fmt.Sprintf("%d-%d.jpg", pull, seed))
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := platesim.Encode(f, img, c); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	p, err := imaging.Open(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	return p
}
