package imaging

import "math"

// Region is a part of the plate that is to be scored by itself ("the sky"): a
// polygon in plate millimetres.
type Region struct {
	Name    string
	Outline []Point
}

// RegionScore is what one region scored. A nil Value was not measurable there;
// Why says so in a sentence.
type RegionScore struct {
	Name      string
	InkLoss   *Value
	PlateTone *Value
	Why       string
}

// contains reports whether a point lies in the outline (even-odd rule).
func (g Region) contains(p Point) bool {
	in := false
	n := len(g.Outline)
	for i := range g.Outline {
		a, b := g.Outline[i], g.Outline[(i+1)%n]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// scoreRegion measures the ink loss and tone of one region; ink is the factor
// that brings the coverage of both photographs to one solid ink.
func (r *Reference) scoreRegion(s *Sheet, t *toneField, g Region, b *budget, ink float64) RegionScore {
	out := RegionScore{Name: g.Name}
	var m, m0, area float64
	for y := 0; y < s.Rows; y++ {
		for x := 0; x < s.Cols; x++ {
			i := y*s.Cols + x
			if !r.lines.support[i] || !s.inside(x, y) || s.Coverage[i] != s.Coverage[i] || !g.contains(s.g.point(x, y)) {
				continue
			}
			m += float64(s.Coverage[i])
			m0 += float64(r.Sheet.Coverage[i])
			area++
		}
	}
	px := s.PxPerMM * s.PxPerMM
	if m0/px < 1 {
		out.Why = "There is too little line work in this region to tell ink loss."
	} else {
		// The ground's share of the uncertainty grows as the lines get fewer.
		share := math.Sqrt(r.lines.mass / (m0 / px))
		u := math.Sqrt(b.curve*b.curve + b.blur*b.blur + b.shift*b.shift + b.ground*b.ground*share*share)
		out.InkLoss = &Value{1 - ink*m/m0, u}
	}
	var d, n float64
	for y := 0; y < t.h; y++ {
		for x := 0; x < t.w; x++ {
			if w := float64(t.seen.v[y*t.w+x]); w > 0 && g.contains(Point{(float64(x) + 0.5) * t.step, (float64(y) + 0.5) * t.step}) {
				d += w * float64(t.d.v[y*t.w+x])
				n += w
			}
		}
	}
	if s.light.trimmed {
		return out
	}
	if n*t.step*t.step < 4 {
		if out.Why == "" {
			out.Why = "There is too little bare ground in this region to tell its tone."
		}
		return out
	}
	out.PlateTone = &Value{d / n, math.Hypot(b.tone(d/n), b.light)}
	return out
}
