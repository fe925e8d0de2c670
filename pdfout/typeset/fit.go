package typeset

import "math"

// item is a step of a paragraph: a box that is printed, glue that stretches
// and shrinks, or a penalty at which a line may end at a price (D. E. Knuth and
// M. F. Plass, "Breaking Paragraphs into Lines", Software: Practice and
// Experience 11, 1981, 1119-1184; the names are the paper's).
type item struct {
	kind            itemKind
	width           float64
	stretch, shrink float64
	penalty         float64
	flagged         bool    // a hyphen: two lines running are avoided
	hang            float64 // how far a line ending here may stand in the margin
	bits            []bit   // boxes: what is printed
	hyphen          Style   // penalties: the hyphen's style
	hyphenated      bool    // penalties: a hyphen is printed when the line ends here
}

type itemKind uint8

const (
	box itemKind = iota
	glue
	penalty
)

// Prices, as in the paper and in TeX's plain format but for hyphenPrice,
// which is a little higher than TeX's 50.
const (
	forced         = -10_000.0
	never          = 10_000.0
	hyphenPrice    = 60.0
	dashPrice      = 40.0
	chopPrice      = 3_000.0 // inside a word too long for any line
	twoHyphens     = 10_000.0
	unlikeFitness  = 3_000.0
	lastLineHyphen = 20_000.0
	shortLastLine  = 5_000.0 // a last line of one short word
)

// fitRules say how lines are measured.
type fitRules struct {
	width     func(line int) float64 // line counts from 0
	tolerance float64                // largest stretch ratio of a line
	emergency float64                // extra stretch given to every line
	ragged    float64                // above 0: lines end freely, within this length
}

// node is a feasible break: the best way to end a line at item pos.
type node struct {
	pos, line, fitness     int
	width, stretch, shrink float64 // totals up to the start of the next line
	demerits, ratio        float64
	prev                   *node
}

// chosen is one break of the paragraph as set.
type chosen struct {
	pos   int
	ratio float64
}

// fit chooses the breaks of a paragraph together. It reports false where no
// set of breaks keeps all lines within the rules.
func fit(items []item, rules fitRules) ([]chosen, bool) {
	var width, stretch, shrink float64
	active := []*node{{pos: -1, line: -1, fitness: 1}}
	for i := range items {
		it := &items[i]
		legal := it.kind == penalty && it.penalty < never ||
			it.kind == glue && i > 0 && items[i-1].kind == box
		if legal {
			active = tryBreak(items, i, active, rules, width, stretch, shrink)
			if len(active) == 0 {
				return nil, false
			}
		}
		switch it.kind {
		case box:
			width += it.width
		case glue:
			width += it.width
			stretch += it.stretch
			shrink += it.shrink
		}
	}
	var best *node
	for _, a := range active {
		if a.pos == len(items)-1 && (best == nil || a.demerits < best.demerits) {
			best = a
		}
	}
	if best == nil {
		return nil, false
	}
	out := make([]chosen, best.line+1)
	for n := best; n.prev != nil; n = n.prev {
		out[n.line] = chosen{n.pos, n.ratio}
	}
	return out, true
}

// tryBreak considers ending a line at item i after every active break, and
// returns the breaks that remain active.
func tryBreak(items []item, i int, active []*node, rules fitRules, width, stretch, shrink float64) []*node {
	var best [4]*node
	keep := make([]*node, 0, len(active)+4)
	it := &items[i]
	price := 0.0
	if it.kind == penalty {
		price = it.penalty
	}
	for _, a := range active {
		ratio := lineRatio(it, a, rules, width, stretch, shrink)
		if ratio >= -1 && price > forced {
			keep = append(keep, a)
		}
		if ratio < -1 || ratio > rules.tolerance {
			continue
		}
		fitness := fitnessOf(ratio)
		d := a.demerits + demerits(ratio, price)
		if it.flagged && a.pos >= 0 && items[a.pos].flagged {
			d += twoHyphens
		}
		if i == len(items)-1 && a.pos >= 0 && items[a.pos].flagged {
			d += lastLineHyphen
		}
		if i == len(items)-1 && rules.ragged == 0 && a.line >= 0 && width-a.width < .14*rules.width(a.line+1) {
			d += shortLastLine
		}
		if a.prev != nil && (fitness-a.fitness > 1 || a.fitness-fitness > 1) {
			d += unlikeFitness
		}
		if best[fitness] == nil || d < best[fitness].demerits {
			best[fitness] = &node{pos: i, line: a.line + 1, fitness: fitness, demerits: d, ratio: ratio, prev: a}
		}
	}
	w, st, sh := skipGlue(items, i, width, stretch, shrink)
	for _, b := range best {
		if b != nil {
			b.width, b.stretch, b.shrink = w, st, sh
			keep = append(keep, b)
		}
	}
	return keep
}

// lineRatio is how far the line from break a to item it must stretch (above 0)
// or shrink (to -1), in units of what it has.
func lineRatio(it *item, a *node, rules fitRules, width, stretch, shrink float64) float64 {
	w := width - a.width - it.hang
	if it.kind == penalty {
		w += it.width
	}
	short := rules.width(a.line+1) - w
	st, sh := stretch-a.stretch+rules.emergency, shrink-a.shrink
	if rules.ragged > 0 {
		st, sh = rules.ragged, 0
		if it.kind == penalty && it.penalty <= forced {
			st = math.Inf(1)
		}
	}
	switch {
	case short > 1e-6 && st > 0:
		return short / st
	case short > 1e-6:
		return math.Inf(1)
	case short < -1e-6 && sh > 0:
		return short / sh
	case short < -1e-6:
		return math.Inf(-1)
	}
	return 0
}

// demerits is the price of a line of a given ratio ending at a penalty.
func demerits(ratio, price float64) float64 {
	bad := 1 + 100*math.Pow(math.Abs(ratio), 3)
	switch {
	case price >= 0:
		return (bad + price) * (bad + price)
	case price > forced:
		return bad*bad - price*price
	}
	return bad * bad
}

// fitnessOf sorts lines into tight, normal, loose and very loose.
func fitnessOf(ratio float64) int {
	switch {
	case ratio < -.5:
		return 0
	case ratio <= .5:
		return 1
	case ratio <= 1:
		return 2
	}
	return 3
}

// skipGlue returns the totals at the start of the line after a break at i:
// glue and penalties there are dropped up to the next box.
func skipGlue(items []item, i int, width, stretch, shrink float64) (w, st, sh float64) {
	for j := i; j < len(items) && items[j].kind != box; j++ {
		if items[j].kind == glue {
			width += items[j].width
			stretch += items[j].stretch
			shrink += items[j].shrink
		}
		if j > i && items[j].kind == penalty && items[j].penalty <= forced {
			break
		}
	}
	return width, stretch, shrink
}
