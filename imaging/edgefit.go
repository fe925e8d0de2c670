package imaging

import (
	"math"
	"slices"
)

const profileReach = 2.6 // mm either side of the traced edge

// medianProfile is the middling brightness across the edge over some places
// along it, each moved to the traced track; crossing strokes drop out.
func medianProfile(strip *plane, lo, hi int, s *markSide, reach float64) []float64 {
	n := int(2*profileReach/sideStep) + 1
	out := make([]float64, n)
	v := make([]float64, 0, hi-lo)
	for k := range out {
		v = v[:0]
		for y := lo; y < hi; y++ {
			t := 0.02 + 0.96*(float64(y)+0.5)/float64(strip.h)
			x := (s.offset(t) + float64(k)*sideStep - profileReach + reach) / sideStep
			v = append(v, float64(strip.bilinear(x, float64(y))))
		}
		out[k] = middle(v)
	}
	return withoutLines(out)
}

// middle is the mean of the middle half of v: as deaf to crossing strokes as
// the median, and finer than the steps of eight bits. It reorders v.
func middle(v []float64) float64 {
	slices.Sort(v)
	lo, hi := len(v)/4, len(v)-len(v)/4
	var s float64
	for _, x := range v[lo:hi] {
		s += x
	}
	return s / float64(hi-lo)
}

// withoutLines fills dark features narrower than a millimetre, as printed
// border lines are, in a profile across the edge: the mark's own shadow is
// broader.
func withoutLines(prof []float64) []float64 {
	const r = 5 // samples, half a millimetre
	n := len(prof)
	high := make([]float64, n)
	for i := range high {
		high[i] = slices.Max(prof[max(0, i-r):min(n, i+r+1)])
	}
	out := slices.Clone(prof)
	for i := range out {
		if c := slices.Min(high[max(0, i-r):min(n, i+r+1)]); c-prof[i] > 0.15 {
			out[i] = c
		}
	}
	return out
}

// edgeShape is the form of a plate mark's edge, alike on all sides of a sheet:
// the reach of the relief's slopes, mm: outside it the paper comes down to the
// plate, inside it lies on the bevel; and how far outside the edge tone ends on
// one side, mm.
type edgeShape struct {
	in, out float64
	tone    float64
}

// at gives the step that tone leaves and the ridge of the relief's shading, d
// mm outside the edge.
func (s edgeShape) at(d float64) (step, ridge float64) {
	reach := s.in
	if d > 0 {
		reach = s.out
	}
	return edgeStep.at(d - s.tone), max(0, 1-edgeRise.at(d)/reach)
}

// edgeTable is a function of a place across an edge, tabled: exact fits ask
// for it some hundred thousand times a photograph.
type edgeTable [2*tableReach*tableFine + 2]float64

const (
	tableReach = 6   // mm either side
	tableFine  = 200 // values to the millimetre, good to 4e-5 of the step
)

var (
	// edgeStep goes from 1 to 0 over the breadth of the photograph's blur.
	edgeStep = tabled(func(d float64) float64 { return 0.5 * math.Erfc(d/(0.1*math.Sqrt2)) })
	// edgeRise is the distance from the edge, rounded at the edge itself.
	edgeRise = tabled(func(d float64) float64 { return math.Sqrt(d*d+0.12*0.12) - 0.12 })
)

func tabled(f func(float64) float64) *edgeTable {
	var t edgeTable
	for i := range t {
		t[i] = f(float64(i)/tableFine - tableReach)
	}
	return &t
}

func (t *edgeTable) at(d float64) float64 {
	u := (min(max(d, -tableReach), tableReach) + tableReach) * tableFine
	i := int(u)
	f := u - float64(i)
	return t[i] + f*(t[i+1]-t[i])
}

// usualEdge is the shape before anything is known of it.
var usualEdge = edgeShape{in: 0.9, out: 0.9}

// edgeFit is what an edge looks like: where it lies (mm outside the track),
// the step tone leaves there, and the ridge of the bevel's shadow.
type edgeFit struct {
	edgeShape
	at           float64
	weight       float64 // how well the place is fixed, in units of the noise
	level, slope float64
	step, ridge  float64
	noise        float64
	cost         float64 // of the whole fit, squares of edgeNoise
}

// Priors of an edge seen as a whole: inverse standard deviations of level,
// slope (per reach), step and ridge, in log units, and what a profile's samples
// scatter by.
var wholeEdge = [4]float64{0, 250, 4, 10}

const edgeNoise = 0.004

// fitEdge fits level + slope + step + ridge to a profile running outwards.
// The ridge sits on the plate's outer edge, the step nearly so. A shifted ridge looks
// much like a ridge with a step, so pieces of a side are held to what the
// whole side showed.
func fitEdge(prof []float64, shape edgeShape, whole *edgeFit, far float64) edgeFit {
	n := len(prof)
	best := edgeFit{}
	bestSS := math.Inf(1)
	prior, mean := wholeEdge, [4]float64{}
	noise := edgeNoise
	if whole != nil {
		noise = max(whole.noise*3, 0.002)
		mean = [4]float64{0, whole.slope, whole.step, whole.ridge}
		prior = [4]float64{0, 1 / 0.006, 1 / (0.01 + 0.3*math.Abs(whole.step)), 1 / (0.004 + 0.2*math.Abs(whole.ridge))}
	}
	basis := make([][4]float64, n)
	y := make([]float64, n)
	flat := 0.0
	for k, v := range prof {
		y[k] = v / noise
	}
	cost := func(x0 float64) (float64, [4]float64) {
		for k := range basis {
			u := float64(k)*sideStep - profileReach
			step, ridge := shape.at(u - x0)
			basis[k] = [4]float64{1 / noise, u / profileReach / noise, step / noise, ridge / noise}
		}
		return ridgeFit(y, basis, mean, prior)
	}
	h := far / 24
	var costs []float64
	for i := -24; i <= 24; i++ {
		x0 := float64(i) * h
		ss, c := cost(x0)
		costs = append(costs, ss)
		if ss < bestSS {
			bestSS = ss
			best = edgeFit{edgeShape: shape, at: x0, level: c[0], slope: c[1], step: c[2], ridge: c[3]}
		}
	}
	// Refine by a parabola through the neighbouring places.
	a, _ := cost(best.at - h)
	b, _ := cost(best.at + h)
	curv := a - 2*bestSS + b
	best.cost = bestSS
	if curv > 0 {
		best.at += min(max(0.5*h*(a-b)/curv, -h), h)
		best.cost -= (a - b) * (a - b) / (8 * curv)
	}
	best.noise = noise * math.Sqrt(bestSS/float64(n))
	if whole == nil {
		return best
	}
	for _, c := range costs {
		flat = max(flat, c-bestSS)
	}
	// The curvature of the cost is the inverse variance of the place.
	scale := max(bestSS/float64(n), 1)
	best.weight = max(curv, 0) / (h * h) / scale
	if math.Abs(best.at) > far-0.06 || flat < 6*scale {
		best.weight *= 0.02
	}
	return best
}

// ridgeFit solves least squares with priors on the coefficients and returns
// the cost at its minimum and the coefficients.
func ridgeFit(y []float64, b [][4]float64, mean, prior [4]float64) (float64, [4]float64) {
	var a [4][5]float64
	for k, v := range y {
		for i := 0; i < 4; i++ {
			for j := i; j < 4; j++ {
				a[i][j] += b[k][i] * b[k][j]
			}
			a[i][4] += b[k][i] * v
		}
	}
	for i := 0; i < 4; i++ {
		a[i][i] += prior[i] * prior[i]
		a[i][4] += prior[i] * prior[i] * mean[i]
		for j := 0; j < i; j++ {
			a[i][j] = a[j][i]
		}
	}
	for i := 0; i < 4; i++ {
		for r := i + 1; r < 4; r++ {
			f := a[r][i] / a[i][i]
			for c := i; c < 5; c++ {
				a[r][c] -= f * a[i][c]
			}
		}
	}
	var x [4]float64
	for i := 3; i >= 0; i-- {
		x[i] = a[i][4]
		for j := i + 1; j < 4; j++ {
			x[i] -= a[i][j] * x[j]
		}
		x[i] /= a[i][i]
	}
	var ss float64
	for k, v := range y {
		r := v
		for i := range x {
			r -= x[i] * b[k][i]
		}
		ss += r * r
	}
	for i := range x {
		d := (x[i] - mean[i]) * prior[i]
		ss += d * d
	}
	return ss, x
}
