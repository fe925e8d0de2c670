package places

import (
	"math"
	"testing"
)

func TestToneTiles(t *testing.T) {
	m := &Map{StepMM: 5, Rows: 1, Cols: 4, V: []float64{0.02, math.NaN(), 0.07, 0.11}}
	got := toneTiles(m)
	if got.Low != 0 || math.Abs(got.High-0.1) > 1e-9 || !got.More || got.Cols != 4 {
		t.Errorf("the scale runs from %v to %v", got.Low, got.High)
	}
	if high := toneTiles(&Map{StepMM: 5, Rows: 1, Cols: 1, V: []float64{math.NaN()}}).High; high != toneStep {
		t.Errorf("where nothing can be told the scale ends at %v", high)
	}
}

// The map of plate tone is asked for once, laid over the sheet, and explained.
func TestToneMapOverTheSheet(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	s.f.goTo(AtTable)
	s.settle()
	tb := s.table()
	s.f.run("tone map")
	s.settle()
	if s.h.mapped != 1 || tb.view.Map() == nil || !tb.scale.box.Visible() {
		t.Fatalf("asked %d times, map %v", s.h.mapped, tb.view.Map())
	}
	if say := tb.scale.text.Words(); say != "plate tone 0 to 0.15 D; hatched: no ground to tell it by" {
		t.Errorf("the scale says %q", say)
	}
	s.f.run("no map")
	if tb.view.Map() != nil || tb.scale.box.Visible() {
		t.Error("the map stays")
	}
	s.f.run("tone map")
	s.settle()
	if s.h.mapped != 1 || tb.view.Map() == nil {
		t.Errorf("asked %d times", s.h.mapped)
	}
}
