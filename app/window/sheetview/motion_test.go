package sheetview

import (
	"math"
	"testing"
)

func near(a, b float64) bool { return math.Abs(a-b) < 1e-9*math.Max(1, math.Abs(b)) }

func TestFitShowsAll(t *testing.T) {
	for _, b := range []Box{{0, 0, 240, 180}, {-8, -8, 120, 300}} {
		m := Fit(b, 700, 500)
		x0, y0 := m.To(b.X0, b.Y0, 700, 500)
		x1, y1 := m.To(b.X1, b.Y1, 700, 500)
		if x0 < 0 || y0 < 0 || x1 > 700 || y1 > 500 {
			t.Errorf("box %v is cut: %.1f %.1f %.1f %.1f", b, x0, y0, x1, y1)
		}
		if x1-x0 < 0.95*700 && y1-y0 < 0.95*500 {
			t.Errorf("box %v is smaller than need be", b)
		}
	}
}

func TestZoomKeepsThePlaceUnderThePointer(t *testing.T) {
	m := Motion{Scale: 3, CX: 100, CY: 80}
	for _, f := range []float64{1.35, 0.5, 4} {
		mx, my := m.At(123, 77, 640, 480)
		n := m.Zoomed(f, 123, 77, 640, 480)
		nx, ny := n.At(123, 77, 640, 480)
		if !near(nx, mx) || !near(ny, my) || !near(n.Scale, 3*f) {
			t.Errorf("zoom by %g: %g, %g became %g, %g", f, mx, my, nx, ny)
		}
	}
}

func TestHeldStaysOnTheSheet(t *testing.T) {
	b := Box{0, 0, 200, 100}
	m := Motion{Scale: 1e9, CX: -500, CY: 900}.Held(b, 800, 600, 20)
	if m.CX != 0 || m.CY != 100 || m.Scale != 240 {
		t.Errorf("held at %+v", m)
	}
	m = Motion{Scale: 1e-9, CX: 50, CY: 50}.Held(b, 800, 600, 20)
	if m.Scale < Fit(b, 800, 600).Scale/3-1e-12 {
		t.Errorf("the sheet may shrink to %g", m.Scale)
	}
}

func TestLevelNeverShrinksTwofold(t *testing.T) {
	s := &Sheet{PxPerMM: 20}
	for range 8 {
		s.Levels = append(s.Levels, nil)
	}
	for scale := 0.2; scale < 40; scale *= 1.13 {
		k := s.PxPerMM / float64(int(1)<<s.level(scale, false)) / scale
		if k >= 2 || (k < 1 && s.level(scale, false) != 0) {
			t.Errorf("at scale %.2f a device pixel covers %.2f pixels", scale, k)
		}
	}
}
