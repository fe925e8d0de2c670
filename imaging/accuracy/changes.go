package accuracy

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"

	"pullbook/imaging"
	"pullbook/imaging/platesim"
)

// ofState lists a plate's photographs of a state.
func (p *Plate) ofState(state int) []Photo {
	var out []Photo
	for _, ph := range p.Photos {
		if ph.State == state {
			out = append(out, ph)
		}
	}
	return out
}

// changes compares the first pull of each state with a worn one of the next,
// and the first pull of the plate with the last of its first state.
func (f *Figures) changes(ctx context.Context, p Plate, log io.Writer) error {
	for _, c := range p.Changes {
		before, after := p.ofState(c.IntoState-1), p.ofState(c.IntoState)
		if len(before) == 0 || len(after) == 0 {
			continue
		}
		ph := after[len(after)-1]
		said, ok, err := compared(ctx, before[0], ph, p.Size, log)
		if err != nil {
			return err
		}
		if !ok {
			f.Reasons = append(f.Reasons, filepath.Base(ph.Path)+": could not be compared")
		}
		f.judge(c, said)
		fmt.Fprintf(log, "%-18s %-5s into %s: in all found %d of %d, true %d of %d\n", p.Name, p.Kind, filepath.Base(ph.Path), f.WorkFound, f.WorkThere, f.WorkTrue, f.WorkSaid)
	}
	same := p.ofState(1)
	if len(same) < 2 {
		return nil
	}
	said, _, err := compared(ctx, same[0], same[len(same)-1], p.Size, log)
	if err != nil {
		return err
	}
	f.WorkOnNothing += len(work(said))
	for _, s := range work(said) {
		fmt.Fprintf(log, "%-18s %-5s one state against itself: %s %.1f\n", p.Name, p.Kind, s.Kind, s.Box)
	}
	return nil
}

// compared is imaging.Compare of two files; false when it was refused.
func compared(ctx context.Context, before, after Photo, size imaging.Size, log io.Writer) ([]imaging.Change, bool, error) {
	a, err := imaging.Open(ctx, before.Path)
	if err != nil {
		return nil, false, err
	}
	b, err := imaging.Open(ctx, after.Path)
	if err != nil {
		return nil, false, err
	}
	said, _, err := imaging.Compare(ctx, a, b, size)
	var refused *imaging.RefusedError
	if errors.As(err, &refused) {
		fmt.Fprintf(log, "%s against %s refused: %s\n", filepath.Base(after.Path), filepath.Base(before.Path), refused.Reason)
		return nil, false, nil
	}
	return said, err == nil, err
}

// work is what is said of new and removed work, without what could not be seen.
func work(said []imaging.Change) []imaging.Change {
	var out []imaging.Change
	for _, s := range said {
		if s.Kind == "added" || s.Kind == "removed" {
			out = append(out, s)
		}
	}
	return out
}

// judge counts which patches of truth were found and which patches said are
// true. A patch is found when one of its kind shares a good part of its box:
// intersection at least 0.3 of the union. One patch answers for one.
func (f *Figures) judge(truth platesim.Change, said []imaging.Change) {
	said = work(said)
	used := make([]bool, len(said))
	f.WorkSaid += len(said)
	for _, kind := range []string{"added", "removed"} {
		boxes := truth.Added
		if kind == "removed" {
			boxes = truth.Removed
		}
		for _, b := range boxes {
			f.WorkThere++
			best, at := 0.3, -1
			for i, s := range said {
				if o := overlap(b, platesim.Box(s.Box)); s.Kind == kind && !used[i] && o >= best {
					best, at = o, i
				}
			}
			if at >= 0 {
				used[at] = true
				f.WorkFound++
				f.WorkTrue++
			}
		}
	}
}

// overlap is intersection over union.
func overlap(a, b platesim.Box) float64 {
	w := math.Min(a[2], b[2]) - math.Max(a[0], b[0])
	h := math.Min(a[3], b[3]) - math.Max(a[1], b[1])
	if w <= 0 || h <= 0 {
		return 0
	}
	area := func(x platesim.Box) float64 { return (x[2] - x[0]) * (x[3] - x[1]) }
	return w * h / (area(a) + area(b) - w*h)
}
