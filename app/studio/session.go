package studio

import (
	"context"
	"fmt"
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
	return sessionOf(sessions, taken), nil
}

// sessionOf is the last of the sessions begun before a photograph was taken, ""
// when the last lies too long back.
func sessionOf(sessions []catalog.ShootingSession, taken time.Time) catalog.ID {
	if taken.IsZero() {
		return ""
	}
	var best *catalog.ShootingSession
	for i := range sessions {
		x := &sessions[i]
		if since := taken.Sub(x.Began); since >= 0 && since < sessionLasts && (best == nil || x.Began.After(best.Began)) {
			best = x
		}
	}
	if best == nil {
		return ""
	}
	return best.ID
}

// inLight is a photograph opened for measuring, with what its session tells: the
// camera's curve is undone by the grey wedge.
type inLight struct {
	photo *imaging.Photo
	blank *imaging.Photo // of the blank sheet under the same light; nil for none
}

// openLit opens a photograph under the light of its session.
func (s *Studio) openLit(ctx context.Context, p *catalog.Photograph) (*inLight, error) {
	photo, err := openPhoto(ctx, s.archive.Path(p.SHA256, p.Ext))
	if err != nil {
		return nil, err
	}
	u, err := s.under(ctx, p)
	if err != nil {
		return nil, err
	}
	out := &inLight{photo: u.straightened(photo)}
	if u.blank == nil {
		return out, nil
	}
	out.blank, err = s.blanks.get(ctx, u.key(), func() (*imaging.Photo, error) {
		blank, err := openPhoto(ctx, s.archive.Path(u.blank.SHA256, u.blank.Ext))
		if _, refused := refusedBecause(err); refused {
			// As good as none: the light is followed from the margins.
			return nil, nil
		}
		return u.straightened(blank), err
	})
	if out.blank != nil && (out.blank.Width != photo.Width || out.blank.Height != photo.Height) {
		out.blank = nil // the camera was turned: its light falls otherwise
	}
	return out, err
}

// flat is the photograph with the light of its session taken out, for what is
// not told of the blank sheet.
func (l *inLight) flat() (*imaging.Photo, error) {
	if l.blank == nil {
		return l.photo, nil
	}
	return l.photo.Flattened(l.blank)
}

// under is what the session of a photograph tells of its light.
type under struct {
	blank *catalog.Photograph // nil for none
	wedge string              // what was read of the wedge, "" for none
	curve *imaging.Curve      // nil for none
}

func (s *Studio) under(ctx context.Context, p *catalog.Photograph) (*under, error) {
	u := &under{}
	if p.SessionID == "" {
		return u, nil
	}
	session, err := s.store.Session(ctx, p.SessionID)
	if err != nil {
		return nil, err
	}
	for _, id := range []catalog.ID{session.BlankPhotoID, session.WedgePhotoID} {
		if id == "" || id == p.ID {
			continue
		}
		aid, err := s.store.Photograph(ctx, id)
		if err != nil {
			return nil, err
		}
		switch {
		case aid.Camera != p.Camera && aid.Camera != "" && p.Camera != "":
			// Another camera sees light and tones in its own way.
		case id == session.BlankPhotoID:
			u.blank = aid
		default:
			u.wedge, u.curve = aid.Quality, readingOf(aid).curve()
		}
	}
	return u, nil
}

// key names what the session tells: blank sheet and wedge.
func (u *under) key() string {
	sha := ""
	if u.blank != nil {
		sha = u.blank.SHA256
	}
	return fmt.Sprint(sha, " ", u.wedge)
}

func (u *under) straightened(p *imaging.Photo) *imaging.Photo {
	if u.curve == nil || p == nil {
		return p
	}
	return u.curve.Straightened(p)
}

// blanks keeps the photograph of the blank sheet of one session ready: the
// sheets of a session are measured one after another.
type blanks struct {
	mu      sync.Mutex
	key     string
	picture *imaging.Photo
}

func (b *blanks) get(_ context.Context, key string, open func() (*imaging.Photo, error)) (*imaging.Photo, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.key == key {
		return b.picture, nil
	}
	picture, err := open()
	if err != nil {
		return nil, err
	}
	b.key, b.picture = key, picture
	return picture, nil
}
