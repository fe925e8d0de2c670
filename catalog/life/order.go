package life

import (
	"fmt"
	"math"
	"sort"

	"pullbook/catalog"
)

// Placed is one impression of a state to be put in order.
type Placed struct {
	ID   catalog.ID
	Pull int // 0 not recorded
	// Wear is a quantity that rises with wear; nil when it was not measured.
	Wear *catalog.Value
	// Marks are accidents of the metal this sheet shows (scratches, cracks):
	// they never go away again within a state. Absent are those looked for
	// and not there.
	Marks, Absent []string
}

// Names of an order. Wear follows use, but also polishing and time, so an
// order read from wear alone is never called the order of printing.
const (
	PrintingOrder = "printing order"
	WearOrder     = "wear order"
)

// Order is impressions put in order.
type Order struct {
	Name     string // PrintingOrder only when every pull is recorded
	IDs      []catalog.ID
	Rank     map[catalog.ID]catalog.Value // place from 1, with its uncertainty
	Before   []Pair                       // what can be said for sure
	Unplaced []catalog.ID                 // nothing measured or recorded
	Sentence string
}

// Pair says that First was pulled before Then, and why.
type Pair struct {
	First, Then catalog.ID
	Sure        float64
	Why         string // "recorded", "wear", or the accident of the metal
}

// inkingScatter is the expected scatter of loss from pull to pull.
const inkingScatter = typicalSD

// InOrder puts impressions of one state in order. Recorded pulls decide where
// both are recorded; then accidents of the metal; then wear.
func InOrder(ps []Placed) Order {
	o := Order{Name: PrintingOrder, Rank: map[catalog.ID]catalog.Value{}}
	var in []Placed
	for _, p := range ps {
		if p.Pull == 0 {
			o.Name = WearOrder
		}
		if p.Pull == 0 && p.Wear == nil && len(p.Marks) == 0 && len(p.Absent) == 0 {
			o.Unplaced = append(o.Unplaced, p.ID)
			continue
		}
		in = append(in, p)
	}
	n := len(in)
	rank := make([]float64, n)
	vari := make([]float64, n)
	for i := range in {
		rank[i] = 1
	}
	for i := range in {
		for j := i + 1; j < n; j++ {
			p, why := before(&in[i], &in[j])
			rank[j] += p
			rank[i] += 1 - p
			vari[i] += p * (1 - p)
			vari[j] += p * (1 - p)
			switch {
			case p > 0.9:
				o.Before = append(o.Before, Pair{in[i].ID, in[j].ID, p, why})
			case p < 0.1:
				o.Before = append(o.Before, Pair{in[j].ID, in[i].ID, 1 - p, why})
			}
		}
	}
	idx := make([]int, n)
	for i := range idx {
		idx[i] = i
	}
	sort.SliceStable(idx, func(a, b int) bool { return rank[idx[a]] < rank[idx[b]] })
	for _, i := range idx {
		o.IDs = append(o.IDs, in[i].ID)
		o.Rank[in[i].ID] = catalog.Value{V: rank[i], U: math.Sqrt(vari[i])}
	}
	o.Sentence = o.words(n)
	return o
}

// before is the probability that a was pulled before b, and what says so.
func before(a, b *Placed) (float64, string) {
	if a.Pull > 0 && b.Pull > 0 {
		switch {
		case a.Pull < b.Pull:
			return 1, "recorded"
		case a.Pull > b.Pull:
			return 0, "recorded"
		}
		return 0.5, ""
	}
	ab, ba := common(a.Absent, b.Marks), common(b.Absent, a.Marks)
	// A mark on b that a does not yet have; if both ways, one was misread.
	if ab != "" && ba == "" {
		return 0.99, ab
	}
	if ba != "" && ab == "" {
		return 0.01, ba
	}
	if a.Wear == nil || b.Wear == nil {
		return 0.5, ""
	}
	u := math.Sqrt(a.Wear.U*a.Wear.U + b.Wear.U*b.Wear.U + 2*inkingScatter*inkingScatter)
	return 0.5 * math.Erfc((a.Wear.V-b.Wear.V)/u/math.Sqrt2), "wear"
}

// common returns the first word that stands in both lists, or "".
func common(a, b []string) string {
	for _, x := range a {
		for _, y := range b {
			if x == y {
				return x
			}
		}
	}
	return ""
}

func (o *Order) words(n int) string {
	if n < 2 {
		return "There is nothing to put in order."
	}
	if o.Name == PrintingOrder {
		return "Printing order, by the recorded pulls."
	}
	all := n * (n - 1) / 2
	if len(o.Before) == all {
		return "Wear order, sure for every pair. It is not the printing order unless pulls are recorded: plates also wear by cleaning and time."
	}
	return fmt.Sprintf("Wear order, sure for %d of %d pairs. It is not the printing order unless pulls are recorded: plates also wear by cleaning and time.", len(o.Before), all)
}
