package accuracy

import (
	"math"
	"slices"
)

func meanAbs(v []float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	sum := 0.0
	for _, x := range v {
		sum += math.Abs(x)
	}
	return sum / float64(len(v))
}

func worst(v []float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	w := 0.0
	for _, x := range v {
		w = math.Max(w, math.Abs(x))
	}
	return w
}

// rms of values that are rms of equally many points each.
func rms(v []float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	sum := 0.0
	for _, x := range v {
		sum += x * x
	}
	return math.Sqrt(sum / float64(len(v)))
}

func mean(v []float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum / float64(len(v))
}

// within is the share of errors that are at most k standard uncertainties.
func within(z []float64, k float64) float64 {
	if len(z) == 0 {
		return math.NaN()
	}
	n := 0
	for _, x := range z {
		if math.Abs(x) <= k {
			n++
		}
	}
	return float64(n) / float64(len(z))
}

func ratio(a, b int) float64 {
	if b == 0 {
		return math.NaN()
	}
	return float64(a) / float64(b)
}

// rankCorrelation is Spearman's rho of two lists; ties share their mean rank.
func rankCorrelation(a, b []float64) float64 {
	if len(a) != len(b) || len(a) < 3 {
		return math.NaN()
	}
	x, y := ranks(a), ranks(b)
	mx, my := mean(x), mean(y)
	var sxy, sxx, syy float64
	for i := range x {
		sxy += (x[i] - mx) * (y[i] - my)
		sxx += (x[i] - mx) * (x[i] - mx)
		syy += (y[i] - my) * (y[i] - my)
	}
	return sxy / math.Sqrt(sxx*syy)
}

func ranks(v []float64) []float64 {
	order := make([]int, len(v))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		switch {
		case v[i] < v[j]:
			return -1
		case v[i] > v[j]:
			return 1
		}
		return 0
	})
	out := make([]float64, len(v))
	for i := 0; i < len(order); {
		j := i
		for j < len(order) && v[order[j]] == v[order[i]] {
			j++
		}
		for k := i; k < j; k++ {
			out[order[k]] = float64(i+j-1) / 2
		}
		i = j
	}
	return out
}
