package studio

import (
	"context"
	"slices"

	"pullbook/catalog"
	"pullbook/imaging"
	"pullbook/imaging/decode"
)

// sizesTried is how many plates' sizes a photograph of an unknown sheet is
// looked through by before it is said that there is no plate mark in it.
const sizesTried = 4

// Check judges a photograph as a photograph, without measuring: how fine, how
// sharp, how evenly lit it is. The report is kept with it. hint is the plate in
// hand, tried first where it is not known what the photograph shows. Where no
// plate mark is found there is no report, and reason says so.
func (s *Studio) Check(ctx context.Context, photo, hint catalog.ID) (q imaging.Quality, reason string, err error) {
	ctx = s.quiet(ctx) // nobody asked for it: what the user does comes first
	p, err := s.store.Photograph(ctx, photo)
	if err != nil {
		return q, "", err
	}
	if q, ok := Quality(p); ok {
		return q, "", nil
	}
	if p.ImpressionID != "" {
		i, err := s.store.Impression(ctx, p.ImpressionID)
		if err != nil {
			return q, "", err
		}
		hint = i.PlateID
	}
	sizes, err := s.sizesToTry(ctx, hint)
	if err != nil {
		return q, "", err
	}
	path := s.archive.Path(p.SHA256, p.Ext)
	pic, err := abandon(ctx, func() (*decode.Picture, error) { return s.read(ctx, p) })
	if err == nil {
		q, err = abandon(ctx, func() (imaging.Quality, error) { return checked(ctx, path, pic, sizes) })
	}
	if ctx.Err() != nil {
		return q, "", ctx.Err()
	}
	if reason, refused := refusedBecause(err); refused {
		return q, reason, nil
	}
	if err != nil || s.ReadOnly() {
		return q, "", err
	}
	return q, "", s.updatePhotograph(ctx, photo, "Check the photograph", func(p *catalog.Photograph) {
		if p.Quality == "" {
			p.Quality = qualityJSON(q)
		}
	})
}

// sizesToTry are the sizes of plates a photograph may show, that of hint first,
// then those printed last; of several alike in proportions the first.
func (s *Studio) sizesToTry(ctx context.Context, hint catalog.ID) ([]imaging.Size, error) {
	snap, err := s.store.Snapshot(ctx)
	if err != nil {
		return nil, err
	}
	last := lastPulls(snap)
	plates := slices.Clone(snap.Plates)
	slices.SortStableFunc(plates, func(a, b catalog.Plate) int {
		if (a.ID == hint) != (b.ID == hint) {
			if a.ID == hint {
				return -1
			}
			return 1
		}
		return last[b.ID].Compare(last[a.ID])
	})
	var sizes []imaging.Size
	for i := range plates {
		size, err := sizeOf(&plates[i])
		if err != nil {
			continue
		}
		mm := inMM(size)
		alike := slices.ContainsFunc(sizes, func(o imaging.Size) bool { return imaging.SameProportions(o, mm) })
		if !alike && len(sizes) < sizesTried {
			sizes = append(sizes, mm)
		}
	}
	return sizes, nil
}

// checked is the report of a photograph by the first size whose plate mark is
// found in it.
func checked(ctx context.Context, path string, pic *decode.Picture, sizes []imaging.Size) (imaging.Quality, error) {
	photo, err := imaging.OfPicture(ctx, path, pic)
	if err != nil {
		return imaging.Quality{}, err
	}
	for _, size := range sizes {
		q, mark, err := imaging.Report(ctx, photo, size)
		if _, refused := refusedBecause(err); refused {
			continue
		}
		if err != nil || mark.Fits(size) {
			return q, err
		}
	}
	return imaging.Quality{}, sentence("No plate mark of the plates known here was found, so the photograph cannot be judged before it is measured.")
}
