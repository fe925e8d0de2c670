package studio

import (
	"context"
	"sync"
	"time"

	"pullbook/catalog"
	"pullbook/imaging"
)

// sessionLasts is how long after its beginning a photograph still belongs to a
// shooting session: a long day.
const sessionLasts = 14 * time.Hour

// sessionAt is the shooting session under way when a photograph was taken, ""
// when there was none or the photograph does not tell its time.
func (s *Studio) sessionAt(ctx context.Context, taken time.Time) (catalog.ID, error) {
	if taken.IsZero() {
		return "", nil
	}
	sessions, err := s.store.Sessions(ctx)
	if err != nil {
		return "", err
	}
	var best *catalog.ShootingSession
	for i := range sessions {
		x := &sessions[i]
		if since := taken.Sub(x.Began); since >= 0 && since < sessionLasts && (best == nil || x.Began.After(best.Began)) {
			best = x
		}
	}
	if best == nil {
		return "", nil
	}
	return best.ID, nil
}

// blanks keeps the photograph of the blank sheet of one session ready: the
// sheets of a session are measured one after another.
type blanks struct {
	mu      sync.Mutex
	photo   catalog.ID
	picture *imaging.Photo
}

// blankFor is the blank sheet photographed under the same light as p, nil when
// there is none. One that cannot be read is as good as none: the light is then
// followed from the margins.
func (s *Studio) blankFor(ctx context.Context, p *catalog.Photograph) (*imaging.Photo, error) {
	if p.SessionID == "" {
		return nil, nil
	}
	session, err := s.store.Session(ctx, p.SessionID)
	if err != nil {
		return nil, err
	}
	id := session.BlankPhotoID
	if id == "" || id == p.ID {
		return nil, nil
	}
	s.blanks.mu.Lock()
	defer s.blanks.mu.Unlock()
	if s.blanks.photo == id {
		return s.blanks.picture, nil
	}
	blank, err := s.store.Photograph(ctx, id)
	if err != nil {
		return nil, err
	}
	picture, err := openPhoto(ctx, s.archive.Path(blank.SHA256, blank.Ext))
	if _, refused := refusedBecause(err); refused {
		picture, err = nil, nil
	}
	if err != nil {
		return nil, err
	}
	s.blanks.photo, s.blanks.picture = id, picture
	return picture, nil
}
