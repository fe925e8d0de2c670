package accuracy

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"

	"pullbook/imaging"
)

// sureOf is the confidence from which an answer counts as sure.
const sureOf = 0.95

// places asks of every photograph which state it shows, the first of each
// state being known, and how worn the impressions of the first state are.
func (f *Figures) places(ctx context.Context, p Plate, log io.Writer) error {
	var refs []*imaging.Reference
	for state := 1; len(p.ofState(state)) > 0; state++ {
		ref, _, err := openReference(ctx, p.ofState(state)[0], p.Size)
		var refused *imaging.RefusedError
		if errors.As(err, &refused) {
			f.Reasons = append(f.Reasons, fmt.Sprintf("%s state %d as reference: %s", p.Name, state, refused.Reason))
			return nil
		}
		if err != nil {
			return err
		}
		refs = append(refs, ref)
	}
	var order, pulls []float64
	for state := range refs {
		for _, ph := range p.ofState(state + 1)[1:] {
			photo, err := imaging.Open(ctx, ph.Path)
			if err != nil {
				return err
			}
			got, err := imaging.Place(ctx, refs, photo)
			if err != nil {
				return err
			}
			f.StateAsked++
			switch {
			case got.State == ph.State:
				f.StateRight++
			case got.State != 0 && got.Confidence >= sureOf:
				f.StateWrongSure++
			}
			line := fmt.Sprintf("%-18s %-5s state %d said %d, sure %.2f %s", filepath.Base(ph.Path), p.Kind, ph.State, got.State, got.Confidence, got.Reason)
			if got.Order != nil && ph.State == 1 {
				order, pulls = append(order, got.Order.V), append(pulls, float64(ph.Pull))
				line += fmt.Sprintf(" order %.2f of pull %d", got.Order.V, ph.Pull)
			}
			fmt.Fprintln(log, line)
		}
	}
	if r := rankCorrelation(order, pulls); !math.IsNaN(r) {
		f.Rank = append(f.Rank, r)
	}
	return nil
}
