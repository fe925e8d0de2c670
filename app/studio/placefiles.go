package studio

import (
	"context"

	"pullbook/imaging"
)

// PlacedFile is which state a photograph file shows.
type PlacedFile struct {
	Path      string
	Placement imaging.Placement
}

// PlaceFiles tells which of the states, one photograph of each in order,
// photograph files show. A photograph that cannot be opened or measured is
// placed nowhere, with the reason; so is every one when a state's own
// photograph cannot be used. The error is the context's.
func PlaceFiles(ctx context.Context, states, paths []string, size imaging.Size) ([]PlacedFile, error) {
	placed := make([]PlacedFile, len(paths))
	refs := make([]*imaging.Reference, len(states))
	err := each(ctx, bothCores(), len(states), func(ctx context.Context, i int) (err error) {
		refs[i], err = ReferenceFile(ctx, states[i], nil, size)
		if reason, ok := refusedBecause(err); ok {
			return sentence("The photograph %s of state %d cannot be used: %s", states[i], i+1, reason)
		}
		return err
	})
	var known *imaging.KnownStates
	if err == nil {
		known, err = imaging.NewKnownStates(ctx, refs)
	}
	if err != nil {
		reason, ok := refusedBecause(err)
		if !ok || ctx.Err() != nil {
			return nil, err
		}
		for i, path := range paths {
			placed[i] = PlacedFile{path, imaging.Placement{Reason: reason}}
		}
		return placed, nil
	}
	err = each(ctx, bothCores(), len(paths), func(ctx context.Context, i int) error {
		at, err := placeFile(ctx, known, paths[i])
		placed[i] = PlacedFile{paths[i], at}
		return err
	})
	return placed, err
}

func placeFile(ctx context.Context, known *imaging.KnownStates, path string) (imaging.Placement, error) {
	photo, err := imaging.Open(ctx, path)
	if err == nil {
		var placed *imaging.Placing
		if placed, err = known.Place(ctx, photo); err == nil {
			return placed.Placement, nil
		}
	}
	if ctx.Err() != nil {
		return imaging.Placement{}, ctx.Err()
	}
	if reason, ok := refusedBecause(err); ok {
		return imaging.Placement{Reason: reason}, nil
	}
	return imaging.Placement{}, err
}
