package imaging

import "math"

// wearRate is what wear does on this plate, by strength of line, outside patches
// that are plainly work.
type wearRate struct {
	gone, weak [strengthClasses]float64 // shares of lines gone; gone or weakened
	n          [strengthClasses]float64 // line points these are taken from
}

const strengthClasses = 12

// strengthClass sorts strengths by their logarithm, from 0.03 to 1.
func strengthClass(r float64) int {
	return min(max(int(math.Log(r/0.03)/math.Log(1/0.03)*strengthClasses), 0), strengthClasses-1)
}

// wearOf reads the rate of wear off the lines outside patches that are plainly
// work. A patch that holds much of all lines of its strength is not left out:
// what remained would not speak for them.
func wearOf(pts []linePoint, found []workPatch) *wearRate {
	var all wearRate
	for i := range pts {
		all.n[strengthClass(float64(pts[i].r))]++
	}
	all.n = neighbourly(all.n)
	work := make([]bool, len(pts))
	for i := range found {
		p := &found[i]
		few := float64(len(p.pts)) < 0.18*all.n[strengthClass(p.r)]
		if few && p.length > smallPatch && p.gone() > 0.6 && p.thinned < 0.15 {
			for _, k := range p.pts {
				work[k] = true
			}
		}
	}
	return rateOf(pts, work)
}

// rateOf reads the rate of wear off the points that are not work.
func rateOf(pts []linePoint, work []bool) *wearRate {
	var w wearRate
	for i := range pts {
		if work[i] {
			continue
		}
		c := strengthClass(float64(pts[i].r))
		w.n[c]++
		if pts[i].present < absentBelow {
			w.gone[c]++
		}
		if pts[i].present < weakBelow {
			w.weak[c]++
		}
	}
	w.n, w.gone, w.weak = neighbourly(w.n), neighbourly(w.gone), neighbourly(w.weak)
	for c, n := range w.n {
		w.gone[c] = (w.gone[c] + 0.5) / (n + 100)
		w.weak[c] = (w.weak[c] + 0.5) / (n + 100)
	}
	return &w
}

// neighbourly adds to each class half of those beside it.
func neighbourly(v [strengthClasses]float64) (sum [strengthClasses]float64) {
	for c := range v {
		sum[c] = v[c] + 0.5*(v[max(0, c-1)]+v[min(c+1, len(v)-1)])
	}
	return sum
}

// judge tells each patch whether wear leaves lines like its own alone, and
// weighs it.
func (w *wearRate) judge(found []workPatch) {
	for i := range found {
		p := &found[i]
		p.calm = w.least(&w.weak, p.r) < 0.022
		p.weight = w.against(p)
	}
}

// least is the smallest share among the classes of a strength and just below:
// wear takes weaker lines sooner, so what is more at r than below it is work.
// Classes of less than a few centimetres of line tell nothing.
func (w *wearRate) least(shares *[strengthClasses]float64, r float64) float64 {
	const few = 300 // points
	c := strengthClass(r)
	out := shares[c]
	for d := max(0, c-2); d < c; d++ {
		if w.n[d] >= few {
			out = min(out, shares[d])
		}
	}
	return out
}

// accidents is how many accidents of wear, at most, a patch counts for where
// there is wear: lines cut alike in one passage wear away together, so a long
// passage gone says little more than a short one.
const accidents = 8

// thinnest is the share of weakened lines in a patch from which wear explains
// it, where there is wear.
const thinnest = 0.17

// against weighs a patch against wear: every three millimetres of line gone
// are one more accident that wear would have to account for, and accidents
// of wear come in threes. Lines that are only weaker speak for wear, unless it
// leaves such lines alone.
func (w *wearRate) against(p *workPatch) float64 {
	rate, n, clean := w.least(&w.gone, p.r), p.length/3, 1.0
	if !p.calm {
		rate, n = w.gone[strengthClass(p.r)], min(n, accidents)
		clean = math.Max(0, 1-math.Pow(p.thinned/thinnest, 2.5))
	}
	rate = min(0.5, 3*math.Max(rate, 0.002))
	return n * p.gone() * clean * -math.Log(rate)
}

// sure is the probability that a patch is work and not wear. The scale was
// set on the simulated pairs of two plates and on their nulls.
func (p *workPatch) sure() float64 {
	if p.gone() < 0.45 || p.thinned > thinnest && !p.calm {
		return 0
	}
	return logistic((p.weight - 12) / 2)
}

func logistic(x float64) float64 { return 1 / (1 + math.Exp(-x)) }
