package accuracy

import (
	"context"
	"fmt"
	"io"
	"math"
	"path/filepath"

	"pullbook/imaging"
)

// surely is the confidence from which an answer about the state is counted as
// sure.
const surely = 0.9

// place asks the state of every photograph that is not a reference, and
// compares the order of wear with the pulls.
func (f *Figures) place(ctx context.Context, p Plate, log io.Writer) error {
	last := 0
	for _, ph := range p.Photos {
		last = max(last, ph.State)
	}
	if last < 2 {
		return nil
	}
	var refs []*imaging.Reference
	for s := 1; s <= last; s++ {
		r, _, err := openReference(ctx, p.ofState(s)[0], p.Size)
		if err != nil {
			fmt.Fprintf(log, "%s: state %d has no usable reference: %v\n", p.Name, s, err)
			return nil
		}
		refs = append(refs, r)
	}
	known, err := imaging.NewKnownStates(ctx, refs)
	if err != nil {
		return err
	}
	for s := 1; s <= last; s++ {
		pulls, order := []float64{float64(p.ofState(s)[0].Pull)}, []float64{0}
		for _, ph := range p.ofState(s)[1:] {
			photo, err := imaging.Open(ctx, ph.Path)
			if err != nil {
				return err
			}
			got, err := known.Place(ctx, photo)
			if err != nil {
				return err
			}
			f.StateAsked++
			if got.State == s {
				f.StateRight++
			} else {
				fmt.Fprintf(log, "%s is of state %d, said %d (%.2f): %s\n", filepath.Base(ph.Path), s, got.State, got.Confidence, got.Reason)
				if got.State > 0 && got.Confidence >= surely {
					f.StateWrongSure++
				}
			}
			// A second sheet of the reference's own pull has no order to it.
			if got.State == s && got.Order != nil && float64(ph.Pull) != pulls[0] {
				pulls, order = append(pulls, float64(ph.Pull)), append(order, got.Order.V)
			}
		}
		if rho := rankCorrelation(pulls, order); len(pulls) > 2 && !math.IsNaN(rho) {
			f.Rank = append(f.Rank, rho)
		}
	}
	return nil
}
