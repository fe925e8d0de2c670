package imaging

import (
	"math"
	"slices"
)

// solidInk is the reflectance of solid black intaglio ink relative to paper
// and solidInkU its standard uncertainty from one print of a plate to the next:
// a density of 1.4, give or take 0.05 (common practice). All coverages are reckoned with
// it; what a pair of sheets itself shows of its ink is applied to their ratio.
const (
	solidInk  = 0.039
	solidInkU = 0.0045
)

// inkOf measures the reflectance of a sheet's solid ink on places so broad
// that a further blur does not lighten them. Only a plateau counts, many such
// places all alike: the middles of strokes that are merely nearly broad enough
// would pass for paler ink. Where the sheet shows none, known is false and the
// usual value is returned.
func inkOf(r *plane, s *Sheet) (ink, u float64, known bool) {
	sigma := max(1, math.Sqrt(max(s.BlurMM*s.BlurMM-0.07*0.07, 0))*s.PxPerMM)
	soft := r.blur(sigma)
	var v []float64
	edge := s.border()
	for y := edge; y < s.Rows-edge; y++ {
		soft := soft.row(y)
		for x, f := range r.row(y)[:max(0, s.Cols-edge)] {
			if f < 0.14 && x >= edge {
				if a, b := float64(f), float64(soft[x]); math.Abs(b-a) < 0.008 {
					v = append(v, a-(b-a))
				}
			}
		}
	}
	if len(v) < 600 {
		return solidInk, solidInkU, false
	}
	slices.Sort(v)
	at := func(q float64) float64 { return v[int(q*float64(len(v)-1))] }
	if at(0.5)-at(0.05) > 0.012 {
		return solidInk, solidInkU, false
	}
	return at(0.3), 0.002, true
}

// inkRatio is by how much the ratio of two sheets' coverages must be raised
// because their inks are not what was reckoned with, and its relative standard
// uncertainty.
func inkRatio(s, ref *Sheet) (f, u float64) {
	if !s.inkKnown || !ref.inkKnown {
		return 1, 0.9 * math.Hypot(solidInkU, solidInkU)
	}
	part := func(s *Sheet) float64 {
		g := s.meanGround()
		return (g - solidInk) / (g - s.Ink)
	}
	return part(s) / part(ref), math.Hypot(s.InkU, ref.InkU)
}

// meanGround is the mean reflectance of the ground inside the mark.
func (s *Sheet) meanGround() float64 {
	var sum, n float64
	for y := 0; y < s.Rows; y += 7 {
		for x := 0; x < s.Cols; x += 7 {
			if s.inside(x, y) {
				sum += float64(s.Ground[y*s.Cols+x])
				n++
			}
		}
	}
	return sum / max(n, 1)
}
