package studio

import (
	"container/list"
	"context"
	"fmt"
	"sync"

	"pullbook/catalog"
	"pullbook/catalog/store"
	"pullbook/imaging"
)

// referencesKept is how many prepared reference pulls are kept in memory; one
// of a 24 megapixel photograph holds about 200 MB.
const referencesKept = 3

// references keeps prepared reference pulls, since preparing costs as much as
// measuring. The least recently used goes first.
type references struct {
	making making
	mu     sync.Mutex
	order  list.List // of *preparedReference, newest first
}

type preparedReference struct {
	key string
	ref *imaging.Reference
	err error // of a photograph that cannot be a reference
}

// get gives the prepared reference of a key, preparing it if need be.
func (r *references) get(ctx context.Context, key string, prepare func() (*imaging.Reference, error)) (*imaging.Reference, error) {
	release, err := r.making.enter(ctx, key)
	if err != nil {
		return nil, err
	}
	defer release()
	if p := r.find(key); p != nil {
		return p.ref, p.err
	}
	ref, err := prepare()
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	r.order.PushFront(&preparedReference{key, ref, err})
	if r.order.Len() > referencesKept {
		r.order.Remove(r.order.Back())
	}
	return ref, err
}

func (r *references) find(key string) *preparedReference {
	r.mu.Lock()
	defer r.mu.Unlock()
	for e := r.order.Front(); e != nil; e = e.Next() {
		if p := e.Value.(*preparedReference); p.key == key {
			r.order.MoveToFront(e)
			return p
		}
	}
	return nil
}

// PickReference makes a photograph of an impression the one the others of its
// state are measured against. An empty photo takes the newest of the whole
// sheet. Scores against another reference stay, and say which it was.
func (s *Studio) PickReference(ctx context.Context, impression, photo catalog.ID) error {
	if photo == "" {
		p, err := s.photographToMeasure(ctx, impression)
		if err != nil {
			return err
		}
		photo = p.ID
	}
	return s.store.Do(ctx, "Pick the reference pull", func(tx *store.Tx) error {
		i, err := tx.Impression(ctx, impression)
		if err != nil {
			return err
		}
		if i.StateID == "" {
			return sentence("Say first which state this impression shows; a reference pull is one of a state.")
		}
		p, err := tx.Photograph(ctx, photo)
		if err != nil {
			return err
		}
		if p.ImpressionID != impression {
			return sentence("The photograph %s does not show this impression; choose one of its own.", p.Name)
		}
		st, err := tx.State(ctx, i.StateID)
		if err != nil {
			return err
		}
		st.ReferenceID, st.ReferencePhotoID = impression, photo
		return tx.PutState(st)
	})
}

// photographToMeasure is the newest photograph of the whole sheet: the one taken
// last, by what their cameras tell, or taken in last where one does not tell.
func (s *Studio) photographToMeasure(ctx context.Context, impression catalog.ID) (*catalog.Photograph, error) {
	photos, err := s.store.Photographs(ctx, impression)
	if err != nil {
		return nil, err
	}
	var newest *catalog.Photograph
	for k := range photos {
		p := &photos[k]
		if p.View != catalog.ViewWhole && p.View != "" {
			continue
		}
		if newest == nil || !earlier(p, newest) {
			newest = p
		}
	}
	if newest != nil {
		return newest, nil
	}
	return nil, sentence("There is no photograph of the whole sheet of this impression; take one in first.")
}

// earlier reports whether a photograph is older than another.
func earlier(a, b *catalog.Photograph) bool {
	if a.TakenAt.IsZero() || b.TakenAt.IsZero() {
		return a.AddedAt.Before(b.AddedAt)
	}
	return a.TakenAt.Before(b.TakenAt)
}

// reference prepares the reference pull of a state.
func (s *Studio) reference(ctx context.Context, st *catalog.State, size catalog.Size) (*imaging.Reference, error) {
	if st.ReferencePhotoID == "" {
		return nil, sentence("No reference pull is picked for %s yet; pick the impression the others are to be measured against.", st.Name())
	}
	p, err := s.store.Photograph(ctx, st.ReferencePhotoID)
	if err != nil {
		return nil, err
	}
	return s.prepared(ctx, p, size)
}

// prepared makes a reference of a photograph, and records the plate mark it
// was found by.
func (s *Studio) prepared(ctx context.Context, p *catalog.Photograph, size catalog.Size) (*imaging.Reference, error) {
	hand := p.Mark
	if p.MarkBy != byHand {
		hand = [4][2]float64{}
	}
	u, err := s.under(ctx, p)
	if err != nil {
		return nil, err
	}
	key := fmt.Sprint(p.SHA256, hand, size, imaging.Method, u.key())
	ref, err := s.refs.get(ctx, key, func() (*imaging.Reference, error) {
		l, err := s.openLit(ctx, p)
		if err != nil {
			return nil, err
		}
		photo, err := l.flat()
		if err != nil {
			return nil, err
		}
		return PrepareReference(ctx, photo, handMark(photo, p), inMM(size))
	})
	if err != nil {
		return nil, wrapName(p, err)
	}
	if p.MarkBy == "" && !s.ReadOnly() {
		err = s.updatePhotograph(ctx, p.ID, "Find the plate mark", func(q *catalog.Photograph) {
			setMark(q, ref.MarkStored(), ref.Mark.How, ref.Mark.Sure)
			q.Quality = qualityJSON(ref.Quality())
		})
	}
	return ref, err
}

// PrepareReference makes a reference of a photograph by its plate mark, which
// is looked for when mark is nil.
func PrepareReference(ctx context.Context, photo *imaging.Photo, mark *imaging.PlateMark, size imaging.Size) (*imaging.Reference, error) {
	return abandon(ctx, func() (*imaging.Reference, error) {
		if mark == nil {
			found, err := imaging.FindPlate(ctx, photo, size)
			if err != nil {
				return nil, err
			}
			mark = &found
		}
		return imaging.Prepare(ctx, photo, *mark, size)
	})
}

// wrapName says which photograph a refusal is about.
func wrapName(p *catalog.Photograph, err error) error {
	if reason, ok := refusedBecause(err); ok {
		return sentence("%s: %s", p.Name, reason)
	}
	return err
}
