package studio

import (
	"cmp"
	"context"
	"slices"
	"time"

	"pullbook/catalog"
	"pullbook/catalog/say"
	"pullbook/catalog/store"
)

const (
	// sureByTimeAlone is below any surety that files without asking.
	sureByTimeAlone = 0.5
	// clockOff is how far a camera's clock may be behind the press's day: another
	// time zone, or summer time forgotten.
	clockOff = 14 * time.Hour
	// driesFor is how long after its day a sheet may be photographed for the order
	// of time to speak of that day.
	driesFor = 21 * 24 * time.Hour
)

// byTimeAlone proposes sheets for photographs that neither a slip names nor the
// lines tell: the sheets of the last printing day that wait for a photograph, in
// the order of their pulls, when there are as many of one as of the other and
// one camera's clock tells the order. Such a proposal always waits for the user.
func (s *Studio) byTimeAlone(ctx context.Context, list []Proposal) error {
	var photos []*Proposal
	for i := range list {
		if a := &list[i]; a.How == "" && !a.isOther() {
			photos = append(photos, a)
		}
	}
	if !oneClock(photos) {
		return nil
	}
	slices.SortStableFunc(photos, func(a, b *Proposal) int { return inTime(a, b) })
	first, last := photos[0].Photo.TakenAt, photos[len(photos)-1].Photo.TakenAt
	if last.Sub(first) > sessionLasts {
		return nil // not one sitting
	}
	sheets, err := s.waitingSheets(ctx, first)
	if err != nil || len(sheets) != len(photos) {
		return err
	}
	for i, a := range photos {
		x := &sheets[i]
		plate, err := s.store.Plate(ctx, x.PlateID)
		if err != nil {
			return err
		}
		a.How, a.PlateID, a.StateID, a.ImpressionID, a.Sure = ByTimeOrder, x.PlateID, x.StateID, x.ID, sureByTimeAlone
		a.rest(say.Of("By the order of time alone it would be %s of %s; look before you agree.", x.Said(), plate.Said()))
	}
	return nil
}

// oneClock reports whether all photographs tell their time by one camera, no two
// the same.
func oneClock(photos []*Proposal) bool {
	seen := map[time.Time]bool{}
	for _, a := range photos {
		p := &a.Photo
		if p.TakenAt.IsZero() || p.Camera != photos[0].Photo.Camera || seen[p.TakenAt] {
			return false
		}
		seen[p.TakenAt] = true
	}
	return len(photos) > 0
}

// inTime orders photographs by when they were taken, then by name.
func inTime(a, b *Proposal) int {
	if c := a.Photo.TakenAt.Compare(b.Photo.TakenAt); c != 0 {
		return c
	}
	return cmp.Compare(a.Photo.Name, b.Photo.Name)
}

// waitingSheets are the sheets without a photograph of the last day on which
// any was pulled before a photograph was taken, in the order of their pulls.
func (s *Studio) waitingSheets(ctx context.Context, taken time.Time) ([]catalog.Impression, error) {
	all, err := s.store.Impressions(ctx, store.ImpressionFilter{NoPhotos: true})
	if err != nil {
		return nil, err
	}
	var day time.Time
	var sheets []catalog.Impression
	for _, x := range all {
		if x.PulledAt.IsZero() || x.PulledAt.After(taken.Add(clockOff)) || taken.Sub(x.PulledAt) > driesFor {
			continue
		}
		if d := dayOf(x.PulledAt); d.After(day) {
			day, sheets = d, nil
		}
		if dayOf(x.PulledAt).Equal(day) {
			sheets = append(sheets, x)
		}
	}
	slices.SortStableFunc(sheets, func(a, b catalog.Impression) int {
		return cmp.Or(a.PulledAt.Compare(b.PulledAt), cmp.Compare(a.Pull, b.Pull))
	})
	return sheets, nil
}

// dayOf is midnight of the day of t.
func dayOf(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, t.Location())
}
