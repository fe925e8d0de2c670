package life

import (
	"fmt"
	"math"
	"slices"

	"pullbook/catalog"
)

// Sheet is a pulled impression that may enter the edition.
type Sheet struct {
	ID        catalog.ID
	Pull      int // 0 not recorded
	InkLoss   *catalog.Value
	PlateTone *catalog.Value
}

// Sorting says what to do with a sheet already pulled.
type Sorting struct {
	ID     catalog.ID
	As     catalog.Kind // numbered, artist's proof, or trial proof
	Why    Why
	Reason string // the same as a sentence
}

// Why is the reason of a [Sorting].
type Why string

// The reasons there are.
const (
	LikeReference Why = "like the reference"
	PastLimit     Why = "past the limit"
	OtherWiping   Why = "wiping stands apart"
	LighterInking Why = "lighter inking"
	HeavierInking Why = "heavier inking"
)

// Sort proposes which of the pulled sheets go into the edition and which are
// kept as proofs, in the order given: sheets past the limit are trial proofs;
// sheets whose wiping stands apart from the reference pull's, or whose inking
// from that of the pulls next to them, are artist's proofs; the others are
// numbered. Sheets that were not measured are left out. limit is of loss, a
// fraction; toneLimit of plate tone, in D, 0 for none; tone is that of the
// reference pull.
func Sort(sheets []Sheet, limit, toneLimit, tone float64) []Sorting {
	inking := stranger(sheets, limit/2)
	var out []Sorting
	for i, s := range sheets {
		if s.InkLoss != nil {
			out = append(out, sortOne(s, inking[i], limit, toneLimit, tone))
		}
	}
	return out
}

func sortOne(s Sheet, apart Why, limit, toneLimit, tone float64) Sorting {
	loss := *s.InkLoss
	if loss.V-1.645*loss.U > limit {
		return Sorting{s.ID, catalog.KindTrial, PastLimit, fmt.Sprintf("ink loss %.0f per cent, past the limit", 100*loss.V)}
	}
	if s.PlateTone != nil && toneLimit > 0 {
		if d := math.Abs(s.PlateTone.V - tone); d-1.645*s.PlateTone.U > toneLimit {
			return Sorting{s.ID, catalog.KindArtist, OtherWiping, fmt.Sprintf("full strength, but its wiping stands apart (plate tone %.2f against %.2f)", s.PlateTone.V, tone)}
		}
	}
	switch apart {
	case LighterInking:
		return Sorting{s.ID, catalog.KindArtist, apart, "full strength, but its inking is lighter than that of the pulls beside it"}
	case HeavierInking:
		return Sorting{s.ID, catalog.KindArtist, apart, "full strength, but its inking is heavier than that of the pulls beside it"}
	}
	return Sorting{s.ID, catalog.KindNumbered, LikeReference, "like the reference pull"}
}

// stranger says of each sheet whether its inking is lighter or heavier than
// that of the pulls beside it, by more than least. Wear only rises: a sheet is
// called pale only where a later one is not, and heavy only where an earlier
// one is not. Nothing is said of sheets without a recorded pull.
func stranger(sheets []Sheet, least float64) []Why {
	out := make([]Why, len(sheets))
	var run []Sheet
	var at []int
	for i, s := range sheets {
		if s.Pull > 0 && s.InkLoss != nil {
			run, at = append(run, s), append(at, i)
		}
	}
	for k, s := range run {
		usual, ok := beside(run, k)
		margin := least + 1.645*s.InkLoss.U
		switch d := s.InkLoss.V - usual; {
		case !ok:
		case d > margin && slices.ContainsFunc(run, func(o Sheet) bool { return o.Pull > s.Pull && s.InkLoss.V-o.InkLoss.V > margin }):
			out[at[k]] = LighterInking
		case d < -margin && slices.ContainsFunc(run, func(o Sheet) bool { return o.Pull < s.Pull && o.InkLoss.V-s.InkLoss.V > margin }):
			out[at[k]] = HeavierInking
		}
	}
	return out
}

// beside is the middle loss of the three pulls nearest to sheet k.
func beside(run []Sheet, k int) (float64, bool) {
	others := slices.Delete(slices.Clone(run), k, k+1)
	if len(others) < 3 {
		return 0, false
	}
	away := func(s Sheet) int { return max(s.Pull-run[k].Pull, run[k].Pull-s.Pull) }
	slices.SortStableFunc(others, func(a, b Sheet) int { return away(a) - away(b) })
	three := []float64{others[0].InkLoss.V, others[1].InkLoss.V, others[2].InkLoss.V}
	slices.Sort(three)
	return three[1], true
}
