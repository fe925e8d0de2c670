package studio

import (
	"context"
	"slices"
	"time"

	"pullbook/catalog"
	"pullbook/catalog/store"
)

// SetUp is what a shooting session is set up with, once, for all photographs
// of it: those taken from its beginning on, for a long day, until another
// session begins.
type SetUp struct {
	// Session is as it is to be; without an ID it is a new one. Without a
	// beginning it begins with the earliest of its own photographs, or now.
	Session catalog.ShootingSession
	// Densities are those of the grey wedge's steps, from one end to the other.
	Densities []float64
}

// Standing is what a session was found to be good for.
type Standing struct {
	Session catalog.ID
	With    int // photographs that belong to it, its blank sheet and wedge apart
	// Wedge says in a sentence what the wedge told of the camera, or why it is
	// not used; "" when there is none.
	Wedge  string
	Used   bool         // the wedge is used
	Scored []catalog.ID // impressions measured before, by photographs of it
}

// SetUpSession records a session, reads its wedge, and takes the photographs of
// its time into it, as one step. A wedge that cannot be read is kept, says why,
// and is not used.
func (s *Studio) SetUpSession(ctx context.Context, u SetUp) (*Standing, error) {
	x := u.Session
	if x.BlankPhotoID != "" && x.BlankPhotoID == x.WedgePhotoID {
		return nil, sentence("The blank sheet and the grey wedge cannot be one photograph; take one of each.")
	}
	if err := s.fromOwn(ctx, &x); err != nil {
		return nil, err
	}
	before := catalog.ShootingSession{}
	if x.ID == "" {
		x.ID = catalog.NewID()
	} else {
		b, err := s.store.Session(ctx, x.ID)
		if err != nil {
			return nil, err
		}
		before = *b
	}
	out := &Standing{Session: x.ID}
	var reading *wedgeReading
	if x.WedgePhotoID != "" {
		var err error
		if reading, err = s.readWedge(ctx, &x, u.Densities); err != nil {
			return nil, err
		}
		out.Wedge, out.Used = reading.words()
	}
	all, err := s.store.Snapshot(ctx)
	if err != nil {
		return nil, err
	}
	err = s.store.Do(ctx, "Set the shooting session up", func(tx *store.Tx) error {
		if err := tx.PutSession(&x); err != nil {
			return err
		}
		for _, id := range []catalog.ID{before.BlankPhotoID, before.WedgePhotoID} {
			if id != "" && id != x.BlankPhotoID && id != x.WedgePhotoID {
				if err := changeIn(ctx, tx, id, noAid); err != nil {
					return err
				}
			}
		}
		if err := makeAids(ctx, tx, &x, reading); err != nil {
			return err
		}
		out.With, err = gather(ctx, tx, all, &x)
		return err
	})
	if err != nil {
		return nil, err
	}
	out.Scored, err = s.scoredIn(ctx, x.ID)
	return out, err
}

// fromOwn takes from a session's blank sheet and wedge what was not said of its
// beginning and its camera.
func (s *Studio) fromOwn(ctx context.Context, x *catalog.ShootingSession) error {
	asked := !x.Began.IsZero()
	for _, id := range []catalog.ID{x.BlankPhotoID, x.WedgePhotoID} {
		if id == "" {
			continue
		}
		p, err := s.store.Photograph(ctx, id)
		if err != nil {
			return err
		}
		if !asked && !p.TakenAt.IsZero() && (x.Began.IsZero() || p.TakenAt.Before(x.Began)) {
			x.Began = p.TakenAt
		}
		if x.Camera == "" {
			x.Camera = p.Camera
		}
	}
	if x.Began.IsZero() {
		x.Began = WallClock(s.now())
	}
	return nil
}

// WallClock is a time as cameras tell theirs: the hour on the wall, kept as UTC.
func WallClock(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), t.Hour(), t.Minute(), t.Second(), 0, time.UTC)
}

// changeIn changes a photograph within a step.
func changeIn(ctx context.Context, tx *store.Tx, id catalog.ID, change func(*catalog.Photograph)) error {
	p, err := tx.Photograph(ctx, id)
	if err != nil {
		return err
	}
	change(p)
	return tx.PutPhotograph(p)
}

// IsAid reports whether a photograph is one of the light or the camera, a blank
// sheet or a grey wedge, and of no impression.
func IsAid(p *catalog.Photograph) bool {
	return p.View == catalog.ViewBlank || p.View == catalog.ViewWedge
}

// noAid makes a blank sheet or a wedge a photograph like others.
func noAid(p *catalog.Photograph) { p.View, p.Quality = catalog.ViewWhole, "" }

// makeAids makes a session's blank sheet and wedge photographs of the light, and
// of no sheet.
func makeAids(ctx context.Context, tx *store.Tx, x *catalog.ShootingSession, reading *wedgeReading) error {
	aid := func(id catalog.ID, view catalog.View, quality string) error {
		if id == "" {
			return nil
		}
		return changeIn(ctx, tx, id, func(p *catalog.Photograph) {
			p.View, p.Quality, p.ImpressionID, p.FiledBy, p.FiledSure, p.SessionID = view, quality, "", "", 0, x.ID
		})
	}
	if err := aid(x.BlankPhotoID, catalog.ViewBlank, ""); err != nil {
		return err
	}
	return aid(x.WedgePhotoID, catalog.ViewWedge, reading.kept())
}

// gather has every photograph of a session's time belong to the last session
// begun before it was taken, and counts those that belong to x.
func gather(ctx context.Context, tx *store.Tx, all *catalog.Snapshot, x *catalog.ShootingSession) (with int, err error) {
	sessions := slices.DeleteFunc(slices.Clone(all.Sessions), func(o catalog.ShootingSession) bool { return o.ID == x.ID })
	sessions = append(sessions, *x)
	aids := map[catalog.ID]bool{}
	for _, o := range sessions {
		aids[o.BlankPhotoID], aids[o.WedgePhotoID] = true, true
	}
	for i := range all.Photographs {
		p := &all.Photographs[i]
		if aids[p.ID] {
			continue
		}
		belongs := p.SessionID
		if best := sessionOf(sessions, p.TakenAt); best != "" && (best == x.ID || p.SessionID == x.ID) {
			belongs = best
		} else if p.SessionID == x.ID && !p.TakenAt.IsZero() {
			belongs = best // its time is no more that of the session
		}
		if belongs == x.ID {
			with++
		}
		if belongs != p.SessionID {
			if err := changeIn(ctx, tx, p.ID, func(q *catalog.Photograph) { q.SessionID = belongs }); err != nil {
				return 0, err
			}
		}
	}
	return with, nil
}

// scoredIn lists the impressions whose last score rests on a photograph of a
// session, be it the sheet's or its reference pull's.
func (s *Studio) scoredIn(ctx context.Context, session catalog.ID) ([]catalog.ID, error) {
	snap, err := s.store.Snapshot(ctx)
	if err != nil {
		return nil, err
	}
	in := map[catalog.ID]bool{}
	for i := range snap.Photographs {
		in[snap.Photographs[i].ID] = snap.Photographs[i].SessionID == session
	}
	last := map[catalog.ID]*catalog.Score{}
	for i := range snap.Scores { // in order of time
		last[snap.Scores[i].ImpressionID] = &snap.Scores[i]
	}
	var list []catalog.ID
	for i := range snap.Impressions {
		if sc := last[snap.Impressions[i].ID]; sc != nil && (in[sc.PhotoID] || in[sc.ReferencePhotoID]) {
			list = append(list, sc.ImpressionID)
		}
	}
	return list, nil
}
