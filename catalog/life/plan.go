package life

import (
	"fmt"
	"math"

	"pullbook/catalog"
)

// Wish is what a printer wants of an edition.
type Wish struct {
	// Sure is the chance wanted that the whole edition stays within the
	// limit, 0..1; 0 means 0.9.
	Sure float64
	// ProofShare is the number of artist's proofs for each numbered
	// impression; 0 means 0.1 (common practice: about one in ten). A
	// negative share means none.
	ProofShare float64
	// Spoiled is the share of pulls torn up, 0..1; 0 means none.
	Spoiled float64
	// Already is how many good impressions of the edition are pulled.
	Already int
}

// Plan answers how large an edition may be announced.
type Plan struct {
	Size   int // numbered impressions, those already pulled included
	Proofs int // artist's proofs beside them
	Pulls  int // pulls still to be made for both, spoiled ones included
	// Chances are the chances of a ladder of customary edition sizes.
	Chances  []SizeChance
	Keep     []Keep
	TooEarly bool
	Borrowed bool // rests on the trade's expectation, see Forecast.Borrowed
	Sentence string
}

// SizeChance is the chance, 0..1, that an edition of Size numbered
// impressions with its proofs can be pulled within the limit.
type SizeChance struct {
	Size   int
	Chance float64
}

// Keep advises which pull to lay aside and as what.
type Keep struct {
	Pull   int // from the plate's first
	As     catalog.Kind
	Reason string
}

// ladder is the customary sizes of hand-printed editions (common practice).
var ladder = []int{5, 10, 12, 15, 20, 25, 30, 40, 50, 60, 75, 90, 100, 120, 150, 200, 250, 300, 400, 500, 750, 1000}

// ChanceOf is the chance, 0..1, that an edition of n numbered impressions with
// its proofs can be pulled within the limit.
func (f *Forecast) ChanceOf(n int, w Wish) float64 {
	w = w.settled()
	return f.Chance(w.pulls(n))
}

// settled fills in what a wish leaves open.
func (w Wish) settled() Wish {
	if w.Sure <= 0 || w.Sure >= 1 {
		w.Sure = 0.9
	}
	if w.ProofShare == 0 {
		w.ProofShare = 0.1
	}
	w.ProofShare = math.Max(0, w.ProofShare)
	w.Spoiled = math.Min(math.Max(0, w.Spoiled), 0.9)
	return w
}

// Plan works out the largest edition that meets the wish, and which pulls to
// keep as proofs.
func (f *Forecast) Plan(w Wish) Plan {
	w = w.settled()
	var p Plan
	p.TooEarly = f.TooEarly || f.Readings == 0
	for n := w.Already; f.Chance(w.pulls(n)) >= w.Sure && n < 100000; n++ {
		p.Size = n
	}
	if p.TooEarly {
		p.Size = max(w.Already, twoFigures(float64(p.Size)))
	}
	p.Borrowed = f.Borrowed()
	p.Proofs = w.proofs(p.Size)
	p.Pulls = w.pulls(p.Size)
	for _, n := range ladder {
		if n < w.Already {
			continue
		}
		c := SizeChance{n, f.Chance(w.pulls(n))}
		p.Chances = append(p.Chances, c)
		if c.Chance < 0.02 {
			break
		}
	}
	p.Keep = f.keep(&p)
	p.Sentence = f.planWords(&p, w)
	return p
}

// proofs is the number of artist's proofs beside n numbered impressions.
func (w Wish) proofs(n int) int { return int(math.Round(float64(n) * w.ProofShare)) }

// pulls is the number of pulls still needed for an edition of n.
func (w Wish) pulls(n int) int {
	good := float64(n - w.Already + w.proofs(n))
	return int(math.Ceil(math.Max(0, good) / (1 - w.Spoiled)))
}

// keep spreads the artist's proofs evenly over the pulls to come, so that
// they wear as the edition does and nobody is given only the late ones; one
// sheet at the end is laid aside as the record of the plate's last strength.
func (f *Forecast) keep(p *Plan) []Keep {
	var out []Keep
	for i := range p.Proofs {
		at := f.Pulled + 1 + int(float64(p.Pulls)*(float64(i)+0.5)/float64(p.Proofs))
		out = append(out, Keep{at, catalog.KindArtist, "spread through the run, so that the proofs wear as the edition does"})
	}
	if p.Pulls > 0 {
		out = append(out, Keep{f.Pulled + p.Pulls + 1, catalog.KindPrinter, "the first after the edition: the record of what the plate still gave"})
	}
	return out
}

func (f *Forecast) planWords(p *Plan, w Wish) string {
	sure := fmt.Sprintf("%.0f chances in 100", 100*w.Sure)
	switch {
	case p.Size <= w.Already:
		return fmt.Sprintf("No further edition can be promised with %s of staying within the limit.", sure)
	case f.Readings == 0:
		return fmt.Sprintf("An edition of %d with %d artist's proofs would be modest for the trade's expectation (%s); nothing has been measured yet, so measure a few pulls before announcing a number.", p.Size, p.Proofs, f.prior.Source)
	case p.Borrowed:
		return fmt.Sprintf("By the trade's expectation (%s) an edition of %d with %d artist's proofs is safe with %s; the sheets measured so far cannot bear that out, so announce fewer.", f.prior.said(), p.Size, p.Proofs, sure)
	case p.TooEarly:
		return fmt.Sprintf("An edition of %d with %d artist's proofs is safe with %s; it is too early to promise more.", p.Size, p.Proofs, sure)
	}
	return fmt.Sprintf("An edition of %d with %d artist's proofs can be pulled within the limit with %s.", p.Size, p.Proofs, sure)
}
