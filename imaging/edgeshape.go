package imaging

import "math"

// edgeReaches are the reaches of the slopes that are tried, mm.
var edgeReaches = []float64{0.5, 0.7, 0.9, 1.1, 1.3, 1.5}

// shapeOf finds the shape that fits the profiles of a sheet's sides best, all
// together: one press, one plate and one bevel made them, and the light shows
// each side of it otherwise.
func shapeOf(profiles [4][]float64) edgeShape {
	var costs [4][]float64
	strips1(4, func(i int) { costs[i] = shapeCosts(profiles[i]) })
	// Each side counts by its own scatter.
	var unit [4]float64
	for i, c := range costs {
		unit[i] = math.Inf(1)
		for _, v := range c {
			unit[i] = min(unit[i], v)
		}
		unit[i] = max(unit[i]/float64(len(profiles[i])), 0.02)
	}
	best, shape := math.Inf(1), usualEdge
	for k, s := range edgeShapes() {
		sum := 0.0
		for i, c := range costs {
			sum += c[k] / unit[i]
		}
		if sum < best {
			best, shape = sum, s
		}
	}
	return shape
}

func edgeShapes() []edgeShape {
	var out []edgeShape
	for _, in := range edgeReaches {
		for _, o := range edgeReaches {
			out = append(out, edgeShape{in: in, out: o})
		}
	}
	return out
}

// shapeCosts is how badly each shape fits a profile at its best place, to the
// nearest sample.
func shapeCosts(prof []float64) []float64 {
	const far = 5 // samples the edge may lie off its track
	n := len(prof)
	y := make([]float64, n)
	for k, v := range prof {
		y[k] = v / edgeNoise
	}
	basis := make([][4]float64, n)
	table := make([][2]float64, n+2*far)
	var out []float64
	for _, s := range edgeShapes() {
		for k := range table {
			step, ridge := s.at(float64(k-far)*sideStep - profileReach)
			table[k] = [2]float64{step / edgeNoise, ridge / edgeNoise}
		}
		best := math.Inf(1)
		for off := -far; off <= far; off++ {
			for k := range basis {
				t := table[k-off+far]
				basis[k] = [4]float64{1 / edgeNoise, (float64(k)*sideStep/profileReach - 1) / edgeNoise, t[0], t[1]}
			}
			c, _ := ridgeFit(y, basis, [4]float64{}, wholeEdge)
			best = min(best, c)
		}
		out = append(out, best)
	}
	return out
}

const (
	toneLeast  = 0.02 // brightness, in units of e, that must be lost at a side to tell where tone ends
	toneShift  = 0.04 // mm, expected displacement of the tone against the mark
	profileRun = 12   // samples of a profile whose misfit goes together
)

// shiftedTone finds how far tone lies displaced against the mark's relief, for
// two sides that face one another, outwards on the first: a hand that wipes in
// one direction carries ink over the edge it leaves by and off the one it comes
// to. How wide the plate is tone tells better than relief, so it may be
// shifted, not widened.
func shiftedTone(a, b []float64, shape edgeShape, far float64) float64 {
	const steps, step = 5, 0.03
	var costs [2][2*steps + 1]float64
	var unit [2]float64
	for k, prof := range [2][]float64{a, b} {
		if fitEdge(prof, shape, nil, far).step > -toneLeast {
			return 0
		}
		unit[k] = math.Inf(1)
		for i := range costs[k] {
			s := shape
			s.tone = float64(i-steps) * step * float64(1-2*k)
			costs[k][i] = fitEdge(prof, s, nil, far).cost
			unit[k] = min(unit[k], costs[k][i])
		}
		unit[k] = profileRun * max(unit[k]/float64(len(prof)), 0.04)
	}
	var sum [2*steps + 1]float64
	best := steps
	for i := range sum {
		t := float64(i-steps) * step / toneShift
		sum[i] = t*t + costs[0][i]/unit[0] + costs[1][i]/unit[1]
		if sum[i] < sum[best] {
			best = i
		}
	}
	at := float64(best-steps) * step
	if best > 0 && best < 2*steps {
		if curv := sum[best-1] - 2*sum[best] + sum[best+1]; curv > 0 {
			at += 0.5 * step * (sum[best-1] - sum[best+1]) / curv
		}
	}
	return at
}
