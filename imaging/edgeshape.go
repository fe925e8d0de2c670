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
			out = append(out, edgeShape{in, o})
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
