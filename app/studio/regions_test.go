package studio

import (
	"context"
	"path/filepath"
	"testing"

	"pullbook/catalog"
	"pullbook/catalog/store"
)

// TestRegionsAreScored draws a plate's two halves and a place beside it: the
// halves lie on either side of what the whole has lost, each with an uncertainty
// of its own, and beside the plate nothing is told.
func TestRegionsAreScored(t *testing.T) {
	ctx := context.Background()
	s, err := WriteSample(ctx, filepath.Join(t.TempDir(), "sample.pullbook"), Options{}, nil)
	check(t, err)
	defer s.Close()
	plates, err := s.store.Plates(ctx, store.PlateFilter{})
	check(t, err)
	p, err := s.store.Plate(ctx, plates[0].ID)
	check(t, err)
	scores, err := s.store.LatestScores(ctx, p.ID)
	check(t, err)
	var sheet catalog.ID
	worst := 0.0
	for id, sc := range scores {
		if sc.InkLoss != nil && sc.InkLoss.V > worst {
			sheet, worst = id, sc.InkLoss.V
		}
	}
	size := p.MeasureSize()
	w, h := size.WidthMM, size.HeightMM
	box := func(x0, y0, x1, y1 float64) string {
		return catalog.OutlineOf([][2]float64{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}})
	}
	p.Regions = []catalog.Region{{Name: "left", Outline: box(0, 0, w/2, h)}, {Name: "right", Outline: box(w/2, 0, w, h)},
		{Name: "beside", Outline: box(w+5, 0, w+20, 10)}}
	check(t, s.Save(ctx, "draw regions", p))
	_, err = s.Measure(ctx, []catalog.ID{sheet}, nil)
	check(t, err)
	sc, err := s.store.LatestScore(ctx, sheet)
	check(t, err)
	if len(sc.Regions) != 3 || sc.Regions[1].Name != "right" || sc.Regions[1].Outline != p.Regions[1].Outline {
		t.Fatalf("kept: %+v", sc.Regions)
	}
	l, r, out := sc.Regions[0], sc.Regions[1], sc.Regions[2]
	if out.InkLoss != nil || out.Why == "" {
		t.Errorf("beside the plate: %+v", out)
	}
	if l.InkLoss == nil || r.InkLoss == nil {
		t.Fatalf("left %+v, right %+v", l, r)
	}
	lo, hi := min(l.InkLoss.V, r.InkLoss.V), max(l.InkLoss.V, r.InkLoss.V)
	if sc.InkLoss.V < lo-0.002 || sc.InkLoss.V > hi+0.002 || l.InkLoss.U <= 0 || r.InkLoss.U <= 0 {
		t.Errorf("left %+v, right %+v, whole %+v", *l.InkLoss, *r.InkLoss, *sc.InkLoss)
	}
	t.Logf("ink loss of the whole %.3f, left %.3f ± %.3f, right %.3f ± %.3f", sc.InkLoss.V, l.InkLoss.V, l.InkLoss.U, r.InkLoss.V, r.InkLoss.U)
}
