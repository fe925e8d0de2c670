package studio

import (
	"context"

	"pullbook/catalog"
	"pullbook/catalog/store"
	"pullbook/imaging"
)

// CompareFiles finds new and removed work between two photograph files; reason
// is a sentence when they cannot be compared. The error is the context's.
func CompareFiles(ctx context.Context, before, after string, size imaging.Size) (found []imaging.Change, reason string, err error) {
	return compareTwo(ctx, size, func(ctx context.Context, i int) (*imaging.Photo, error) {
		return imaging.Open(ctx, []string{before, after}[i])
	})
}

// compareTwo compares two photographs, 0 before and 1 after.
func compareTwo(ctx context.Context, size imaging.Size, open func(context.Context, int) (*imaging.Photo, error)) (found []imaging.Change, reason string, err error) {
	photos := make([]*imaging.Photo, 2)
	err = each(ctx, 2, 2, func(ctx context.Context, i int) (err error) {
		photos[i], err = open(ctx, i)
		return err
	})
	var res *imaging.Result
	if err == nil {
		found, res, err = imaging.Compare(ctx, photos[0], photos[1], size)
	}
	if err != nil {
		if res, err = refusedResult(ctx, err); err != nil {
			return nil, "", err
		}
	}
	if res != nil && res.Verdict == imaging.Refused {
		return nil, res.Reason, nil
	}
	return found, "", nil
}

// Compare finds what a state gained and lost against the one before it, on the
// photographs of their reference pulls, and records it. Patches the user has
// ruled on stay as they are; the others are replaced by what is found now.
func (s *Studio) Compare(ctx context.Context, state catalog.ID, p Progress) ([]catalog.Change, error) {
	after, err := s.store.State(ctx, state)
	if err != nil {
		return nil, err
	}
	before, err := s.stateBefore(ctx, after)
	if err != nil {
		return nil, err
	}
	plate, err := s.store.Plate(ctx, after.PlateID)
	if err != nil {
		return nil, err
	}
	size, err := sizeOf(plate)
	if err != nil {
		return nil, err
	}
	tell(p, 0.1, "laying %s on %s", after.Name(), before.Name())
	found, reason, err := compareTwo(ctx, inMM(size), func(ctx context.Context, i int) (*imaging.Photo, error) {
		return s.referencePhoto(ctx, []*catalog.State{before, after}[i])
	})
	if err != nil {
		return nil, err
	}
	if reason != "" {
		return nil, refusal(reason)
	}
	tell(p, 0.95, "recording what was found")
	changes := changesOf(found, catalog.SoleTechnique(after, plate), size)
	err = s.store.Do(ctx, "Compare "+before.Name()+" and "+after.Name(), func(tx *store.Tx) error {
		st, err := tx.State(ctx, state)
		if err != nil {
			return err
		}
		st.Changes = keepRulings(st.Changes, changes)
		changes = st.Changes
		return tx.PutState(st)
	})
	return changes, err
}

// stateBefore is the state of the plate numbered next below.
func (s *Studio) stateBefore(ctx context.Context, st *catalog.State) (*catalog.State, error) {
	states, err := s.store.States(ctx, st.PlateID)
	if err != nil {
		return nil, err
	}
	var before *catalog.State
	for i := range states {
		if n := states[i].N; n < st.N && (before == nil || n > before.N) {
			before = &states[i]
		}
	}
	if before == nil {
		return nil, sentence("The first state has none before it to be compared with.")
	}
	return before, nil
}

// referencePhoto opens the photograph of a state's reference pull.
func (s *Studio) referencePhoto(ctx context.Context, st *catalog.State) (*imaging.Photo, error) {
	if st.ReferencePhotoID == "" {
		return nil, sentence("No reference pull is picked for %s yet; states are compared on the photographs of their reference pulls.", st.Name())
	}
	p, err := s.store.Photograph(ctx, st.ReferencePhotoID)
	if err != nil {
		return nil, err
	}
	l, err := s.openLit(ctx, p)
	if err != nil {
		return nil, err
	}
	return l.flat()
}

func changesOf(found []imaging.Change, t catalog.Technique, size catalog.Size) []catalog.Change {
	var list []catalog.Change
	for _, f := range found {
		c := catalog.Change{Kind: f.Kind, BoxMM: f.Box, AreaMM2: f.AreaMM2, Sure: f.Sure}
		c.Words = catalog.ChangeWords(c, t, size)
		list = append(list, c)
	}
	return list
}

// keepRulings puts the changes found now after those already ruled on, leaving
// out what a ruled one covers.
func keepRulings(old, found []catalog.Change) []catalog.Change {
	var list []catalog.Change
	for _, c := range old {
		if c.Ruling != "" {
			list = append(list, c)
		}
	}
	ruled := len(list)
	for _, f := range found {
		covered := false
		for _, c := range list[:ruled] {
			covered = covered || c.Kind == f.Kind && overlap(c.BoxMM, f.BoxMM) > 0.5
		}
		if !covered {
			list = append(list, f)
		}
	}
	return list
}

// overlap is the share of the smaller box that both cover.
func overlap(a, b [4]float64) float64 {
	w := min(a[2], b[2]) - max(a[0], b[0])
	h := min(a[3], b[3]) - max(a[1], b[1])
	if w <= 0 || h <= 0 {
		return 0
	}
	return w * h / max(1e-9, min((a[2]-a[0])*(a[3]-a[1]), (b[2]-b[0])*(b[3]-b[1])))
}
