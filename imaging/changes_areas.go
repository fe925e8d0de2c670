package imaging

import (
	"math"
	"slices"
)

// fineEnough is the photograph's own pixels to the millimetre from which
// single strokes can be told from their neighbours; below it only whole areas
// of work are compared.
const fineEnough = 5

// changedAreas compares two sheets area by area.
func changedAreas(before, after *Sheet) []Change {
	out := append(areasNotIn(after, before, Added), areasNotIn(before, after, Removed)...)
	out = append(out, crowded(before, after)...)
	slices.SortStableFunc(out, func(a, b Change) int { return sign(b.AreaMM2 - a.AreaMM2) })
	return out
}

const areaScale = 2.5 // samples to the millimetre when areas are compared

// areaInk is the darkness near every place on a coarse grid, 0 for the sheet's
// paper and 1 for its darkest parts; beside it, how much of that is drawn with
// lines rather than lying as tone; and the grid's samples to the millimetre.
// It does not ask for ground between the lines, which dense work hides. Places
// outside the photograph are NaN.
func (s *Sheet) areaInk() (ink, drawn *plane, f float64) {
	k := max(1, int(math.Round(s.PxPerMM/areaScale)))
	f = s.PxPerMM / float64(k)
	r := &plane{w: s.Cols, h: s.Rows, v: slices.Clone(s.Reflectance)}
	out := make([]bool, len(r.v))
	for i, v := range r.v {
		if v != v {
			r.v[i], out[i] = 1, true
		}
	}
	near := r.blur(0.35 * s.PxPerMM)
	for i, v := range r.v {
		near.v[i] = (v - near.v[i]) * (v - near.v[i])
	}
	drawn = near.shrink(k).blur(0.5 * f)
	ink = r.shrink(k).blur(0.35 * f)
	v := make([]float64, 0, len(ink.v))
	for _, x := range ink.v {
		v = append(v, float64(x))
	}
	paper, dark := float32(quantile(v, 0.95)), float32(quantile(v, 0.02))
	for i := range ink.v {
		ink.v[i] = (paper - ink.v[i]) / max(paper-dark, 0.05)
		drawn.v[i] = float32(math.Sqrt(float64(drawn.v[i]))) / max(paper-dark, 0.05)
	}
	beyond := grow(out, s.Cols, s.Rows, k)
	for y := range ink.h {
		for x := range ink.w {
			if beyond[min(y*k+k/2, s.Rows-1)*s.Cols+min(x*k+k/2, s.Cols-1)] {
				ink.v[y*ink.w+x] = float32(math.NaN())
			}
		}
	}
	return ink, drawn, f
}

// areasNotIn finds areas that carry work in one sheet and hardly any in the
// other, and areas where both carry work but of quite different density.
func areasNotIn(from, in *Sheet, kind string) []Change {
	a, drawn, f := from.areaInk()
	b, _, _ := in.areaInk()
	unseen := make([]bool, len(a.v))
	for i := range b.v {
		if b.v[i] != b.v[i] || a.v[i] != a.v[i] {
			unseen[i], a.v[i], b.v[i] = true, 0, 0
		}
	}
	unseen = grow(unseen, a.w, a.h, int(f))
	gain := areaGain(a, b)
	reach := int(math.Round(0.6 * f))
	most := maxWithin(b, reach)
	gone, thin := make([]bool, len(a.v)), make([]bool, len(a.v))
	edge := int(math.Ceil((rim + 0.5) * f))
	for y := edge; y < a.h-edge; y++ {
		for x := edge; x < a.w-edge; x++ {
			i := y*a.w + x
			v, w := float64(a.v[i]), float64(most.v[i])/gain
			switch {
			case unseen[i] || drawn.v[i] < 0.05:
			case v > 0.10 && w < 0.36*v:
				gone[i] = true
			case v > 0.18 && w < 0.65*v:
				thin[i] = true
			}
		}
	}
	return append(areasOf(a, gone, f, 1.2, 2.0, kind), areasOf(a, thin, f, 1.0, 15, ChangedTexture)...)
}

// crowded lists the areas so dense with line in both sheets that nothing can be
// said of new or removed strokes there.
func crowded(before, after *Sheet) []Change {
	a, _, f := before.areaInk()
	b, _, _ := after.areaInk()
	a, b = a.blur(0.8*f), b.blur(0.8*f)
	full := make([]bool, len(a.v))
	for i := range full {
		full[i] = a.v[i] > 0.5 && b.v[i] > 0.5
	}
	return areasOf(a, full, f, 0.8, 25, CannotSee)
}

// areaGain is the inking of b against a where both carry much work.
func areaGain(a, b *plane) float64 {
	var q []float64
	for i, v := range a.v {
		if v > 0.25 && b.v[i] > 0.1 {
			q = append(q, float64(b.v[i]/v))
		}
	}
	if len(q) < 50 {
		return 1
	}
	return min(max(median(q), 0.5), 2)
}

// areasOf boxes the connected areas of a mask whose gaps are up to close mm,
// leaving out those of less than least mm2.
func areasOf(a *plane, mask []bool, f, close, least float64, kind string) []Change {
	joined := grow(mask, a.w, a.h, int(math.Round(close*f/2)))
	label := make([]int32, len(mask))
	var out []Change
	var stack []int
	for start := range mask {
		if !joined[start] || label[start] != 0 {
			continue
		}
		label[start] = 1
		stack = append(stack[:0], start)
		box := [4]int{a.w, a.h, -1, -1}
		n := 0
		for len(stack) > 0 {
			i := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			x, y := i%a.w, i/a.w
			if mask[i] {
				n++
				box = [4]int{min(box[0], x), min(box[1], y), max(box[2], x), max(box[3], y)}
			}
			for _, d := range [4][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				u, v := x+d[0], y+d[1]
				if u >= 0 && v >= 0 && u < a.w && v < a.h && joined[v*a.w+u] && label[v*a.w+u] == 0 {
					label[v*a.w+u] = 1
					stack = append(stack, v*a.w+u)
				}
			}
		}
		if float64(n)/(f*f) < least {
			continue
		}
		fill := 0.6
		if kind == CannotSee {
			fill = 0.85 // a hint, not a patch: follow its shape more closely
		}
		for _, q := range split(mask, joined, a.w, box, fill) {
			area := float64(q.n) / (f * f)
			if area < least {
				continue
			}
			out = append(out, Change{Kind: kind, AreaMM2: area, Sure: min(0.9, 0.5+0.1*math.Log(1+area)),
				Box: [4]float64{float64(q.box[0]) / f, float64(q.box[1]) / f, float64(q.box[2]+1) / f, float64(q.box[3]+1) / f}})
		}
	}
	return out
}

// part is a piece of a changed area.
type part struct {
	box [4]int // samples, both ends within
	n   int    // changed samples
}

// split cuts a box that its area fills badly in two, and those again, where
// the cut saves most: boxes of clouds would else cover what has not changed.
func split(mask, joined []bool, w int, box [4]int, fill float64) []part {
	whole := shrinkTo(mask, w, box)
	size := func(p part) int { return (p.box[2] - p.box[0] + 1) * (p.box[3] - p.box[1] + 1) }
	filled := 0
	for y := box[1]; y <= box[3]; y++ {
		for x := box[0]; x <= box[2]; x++ {
			if joined[y*w+x] {
				filled++
			}
		}
	}
	if whole.n == 0 || size(whole) < 2500 || float64(filled) > fill*float64(size(whole)) {
		return []part{whole}
	}
	best, bestSize := [2]part{}, size(whole)
	for axis := range 2 {
		for c := box[axis] + 5; c < box[axis+2]-5; c += 5 {
			l, r := box, box
			l[axis+2], r[axis] = c, c+1
			a, b := shrinkTo(mask, w, l), shrinkTo(mask, w, r)
			if a.n > 0 && b.n > 0 && size(a)+size(b) < bestSize {
				best, bestSize = [2]part{a, b}, size(a)+size(b)
			}
		}
	}
	if float64(bestSize) > 0.92*float64(size(whole)) {
		return []part{whole}
	}
	return append(split(mask, joined, w, best[0].box, fill), split(mask, joined, w, best[1].box, fill)...)
}

// shrinkTo is the part of a mask within a box, its own box drawn tight.
func shrinkTo(mask []bool, w int, box [4]int) part {
	p := part{box: [4]int{math.MaxInt, math.MaxInt, -1, -1}}
	for y := box[1]; y <= box[3]; y++ {
		for x := box[0]; x <= box[2]; x++ {
			if mask[y*w+x] {
				p.n++
				p.box = [4]int{min(p.box[0], x), min(p.box[1], y), max(p.box[2], x), max(p.box[3], y)}
			}
		}
	}
	return p
}
