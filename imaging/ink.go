package imaging

import (
	"math"
	"slices"
)

// solidInk is the reflectance of solid black intaglio ink relative to paper
// where no stroke is broad enough to show it, and solidInkU its standard
// uncertainty: a density of 1.4, give or take 0.07 (common practice).
const (
	solidInk  = 0.039
	solidInkU = 0.0045
)

// inkOf estimates the reflectance of a sheet's solid ink from places so broad
// that a further blur hardly lightens them: the middle of the broadest strokes,
// and where strokes run together. What little it lightens them is taken off
// once more. Where such places are few, what is usual speaks.
func inkOf(r *plane, s *Sheet) (ink, u float64) {
	sigma := max(1, math.Sqrt(max(s.BlurMM*s.BlurMM-0.07*0.07, 0))*s.PxPerMM)
	soft := r.blur(sigma)
	var v []float64
	for y := 0; y < s.Rows; y++ {
		for x := 0; x < s.Cols; x++ {
			i := y*s.Cols + x
			a, b := float64(r.v[i]), float64(soft.v[i])
			if a < 0.14 && b-a < 0.012 && a-b < 0.012 && s.inside(x, y) {
				v = append(v, a-(b-a))
			}
		}
	}
	if len(v) < 60 {
		return solidInk, solidInkU
	}
	slices.Sort(v)
	m := median(slices.Clone(v[:len(v)/2]))
	um := 0.003 + 0.03/math.Sqrt(float64(len(v)))
	w0, w1 := 1/(solidInkU*solidInkU), 1/(um*um)
	return (solidInk*w0 + m*w1) / (w0 + w1), 1 / math.Sqrt(w0+w1)
}
