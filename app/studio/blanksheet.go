package studio

import (
	"context"

	"pullbook/catalog"
	"pullbook/catalog/store"
)

// BlankSheet says that a photograph shows a blank sheet under the light of its
// session: of the one it belongs to, or else a session begins with it, to which
// the photographs taken after it that day belong. Later ones join by
// themselves as they are taken in. with is how many share its light now. Done
// for a photograph that is the blank sheet already, it is taken back.
func (s *Studio) BlankSheet(ctx context.Context, photo catalog.ID) (with int, err error) {
	p, err := s.store.Photograph(ctx, photo)
	if err != nil {
		return 0, err
	}
	if p.View == catalog.ViewBlank {
		return 0, s.noBlankSheet(ctx, p)
	}
	u := SetUp{Session: catalog.ShootingSession{Camera: p.Camera}}
	if p.SessionID != "" {
		session, err := s.store.Session(ctx, p.SessionID)
		if err != nil {
			return 0, err
		}
		if session.BlankPhotoID == "" && session.WedgePhotoID != photo {
			u.Session = *session
		}
	}
	if u.Session.ID == "" && p.TakenAt.IsZero() {
		return 0, sentence("The photograph %s does not tell when it was taken, so it is not known which others share its light.", p.Name)
	}
	u.Session.BlankPhotoID = photo
	standing, err := s.SetUpSession(ctx, u)
	if err != nil {
		return 0, err
	}
	return standing.With, nil
}

// noBlankSheet takes back that a photograph is the blank sheet; its session
// goes on without one.
func (s *Studio) noBlankSheet(ctx context.Context, p *catalog.Photograph) error {
	return s.store.Do(ctx, "No blank sheet", func(tx *store.Tx) error {
		if err := changeIn(ctx, tx, p.ID, noAid); err != nil || p.SessionID == "" {
			return err
		}
		session, err := tx.Session(ctx, p.SessionID)
		if err != nil || session.BlankPhotoID != p.ID {
			return err
		}
		session.BlankPhotoID = ""
		return tx.PutSession(session)
	})
}
