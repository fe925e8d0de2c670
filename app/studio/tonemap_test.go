package studio

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"pullbook/catalog"
	"pullbook/catalog/store"
)

// The map of plate tone agrees with the score of plate tone, is the same when
// read again and when made again, and measuring leaves it behind.
func TestToneMap(t *testing.T) {
	ctx := context.Background()
	s, err := WriteSample(ctx, filepath.Join(t.TempDir(), "sample.pullbook"), Options{}, nil)
	check(t, err)
	defer s.Close()
	plates, err := s.store.Plates(ctx, store.PlateFilter{})
	check(t, err)
	var id catalog.ID
	var tone float64
	for _, p := range plates {
		scores, err := s.store.LatestScores(ctx, p.ID)
		check(t, err)
		for i, sc := range scores {
			if sc.PlateTone != nil && sc.PlateTone.V > tone {
				id, tone = i, sc.PlateTone.V
			}
		}
	}
	m, err := s.ToneMap(ctx, id)
	check(t, err)
	sum, n, least, most := 0.0, 0, math.Inf(1), math.Inf(-1)
	for _, v := range m.V {
		if !math.IsNaN(v) {
			sum, n = sum+v, n+1
			least, most = min(least, v), max(most, v)
		}
	}
	if n < len(m.V)/4 || math.Abs(sum/float64(n)-tone) > 0.02 {
		t.Errorf("the mean of %d of %d tiles is %.3f D, the score says %.3f", n, len(m.V), sum/float64(n), tone)
	}
	t.Logf("plate tone %.3f D, tiles %.3f to %.3f", tone, least, most)

	u, err := s.subject(ctx, id)
	check(t, err)
	path := s.toneMapPath(u)
	again, err := s.ToneMap(ctx, id)
	check(t, err)
	if fmt.Sprint(again) != fmt.Sprint(m) {
		t.Error("the map read again is another")
	}
	check(t, os.WriteFile(path, []byte("{damaged"), 0o600))
	if again, err = s.ToneMap(ctx, id); err != nil || fmt.Sprint(again) != fmt.Sprint(m) {
		t.Errorf("a damaged map was not made again (%v)", err)
	}
	check(t, os.Remove(path))
	_, err = s.Measure(ctx, []catalog.ID{id}, nil)
	check(t, err)
	if left := readToneMap(path); left == nil || fmt.Sprint(left) != fmt.Sprint(m) {
		t.Error("measuring left no map, or another")
	}
	if _, err := s.ToneMap(ctx, "none"); err == nil {
		t.Error("there is a map of an impression that is not there")
	}
}
