package studio

import (
	"context"

	"pullbook/catalog"
	"pullbook/catalog/store"
)

// BlankSheet says that a photograph shows a blank sheet under the light of its
// session: a session begins with it, and the photographs taken after it that
// day belong there, unless they belong to another already. Later ones join by
// themselves as they are taken in. with is how many share its light now. Done
// for a photograph that is the blank sheet already, it is taken back.
func (s *Studio) BlankSheet(ctx context.Context, photo catalog.ID) (with int, err error) {
	all, err := s.store.Snapshot(ctx)
	if err != nil {
		return 0, err
	}
	p, err := s.store.Photograph(ctx, photo)
	if err != nil {
		return 0, err
	}
	if p.View == catalog.ViewBlank {
		return 0, s.noBlankSheet(ctx, p)
	}
	if p.TakenAt.IsZero() {
		return 0, sentence("The photograph %s does not tell when it was taken, so it is not known which others share its light.", p.Name)
	}
	session := &catalog.ShootingSession{ID: catalog.NewID(), Began: p.TakenAt, Camera: p.Camera, BlankPhotoID: photo}
	err = s.store.Do(ctx, "Photograph of the blank sheet", func(tx *store.Tx) error {
		with = 0
		p.View, p.ImpressionID, p.FiledBy, p.FiledSure = catalog.ViewBlank, "", "", 0
		if err := tx.PutSession(session); err != nil {
			return err
		}
		p.SessionID = session.ID
		if err := tx.PutPhotograph(p); err != nil {
			return err
		}
		for i := range all.Photographs {
			q := all.Photographs[i]
			since := q.TakenAt.Sub(session.Began)
			if q.ID == photo || q.SessionID != "" || q.TakenAt.IsZero() || since < 0 || since >= sessionLasts {
				continue
			}
			q.SessionID = session.ID
			if err := tx.PutPhotograph(&q); err != nil {
				return err
			}
			with++
		}
		return nil
	})
	return with, err
}

// noBlankSheet takes back that a photograph is the blank sheet; its session
// goes on without one.
func (s *Studio) noBlankSheet(ctx context.Context, p *catalog.Photograph) error {
	return s.store.Do(ctx, "No blank sheet", func(tx *store.Tx) error {
		p.View = catalog.ViewWhole
		if err := tx.PutPhotograph(p); err != nil {
			return err
		}
		if p.SessionID == "" {
			return nil
		}
		session, err := tx.Session(ctx, p.SessionID)
		if err != nil || session.BlankPhotoID != p.ID {
			return err
		}
		session.BlankPhotoID = ""
		return tx.PutSession(session)
	})
}
