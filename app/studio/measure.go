package studio

import (
	"context"
	"fmt"
	"sync"

	"pullbook/catalog"
	"pullbook/catalog/store"
	"pullbook/imaging"
)

// Scored is what measuring one impression came to. When nothing could be
// recorded, Err says why in a sentence and Score is nil.
type Scored struct {
	ImpressionID catalog.ID
	PhotoID      catalog.ID
	Score        *catalog.Score
	Err          error
}

// Measure scores impressions against the reference pulls of their states and
// records each score as it is made, with the plate mark and the quality report
// of the photograph. A photograph that cannot be measured is recorded as
// refused, with its reason. The error is the context's or the catalogue's.
func (s *Studio) Measure(ctx context.Context, impressions []catalog.ID, p Progress) ([]Scored, error) {
	results := make([]Scored, len(impressions))
	var mu sync.Mutex
	done := 0
	tell(p, 0, "measuring %d impressions", len(impressions))
	err := each(ctx, bothCores(), len(impressions), func(ctx context.Context, i int) error {
		r, err := s.measure(ctx, impressions[i])
		if err != nil {
			return err
		}
		mu.Lock()
		defer mu.Unlock()
		results[i] = r
		done++
		tell(p, float64(done)/float64(len(impressions)), "measured %d of %d impressions", done, len(impressions))
		return nil
	})
	return results, err
}

// subject is one impression with what is needed to measure it.
type subject struct {
	impression *catalog.Impression
	plate      *catalog.Plate
	state      *catalog.State
	photo      *catalog.Photograph
	size       catalog.Size
}

func (s *Studio) subject(ctx context.Context, id catalog.ID) (*subject, error) {
	i, err := s.store.Impression(ctx, id)
	if err != nil {
		return nil, err
	}
	u := &subject{impression: i}
	if i.StateID == "" {
		return nil, sentence("Say first which state this impression shows; it is measured against the reference pull of that state.")
	}
	if u.plate, err = s.store.Plate(ctx, i.PlateID); err != nil {
		return nil, err
	}
	if u.state, err = s.store.State(ctx, i.StateID); err != nil {
		return nil, err
	}
	if u.size, err = sizeOf(u.plate); err != nil {
		return nil, err
	}
	u.photo, err = s.photographToMeasure(ctx, id)
	if u.state.ReferenceID == id && u.state.ReferencePhotoID != "" {
		u.photo, err = s.store.Photograph(ctx, u.state.ReferencePhotoID)
	}
	return u, err
}

func (s *Studio) measure(ctx context.Context, id catalog.ID) (Scored, error) {
	out := Scored{ImpressionID: id}
	u, err := s.subject(ctx, id)
	if err != nil {
		return s.orRefused(ctx, out, err)
	}
	out.PhotoID = u.photo.ID
	ref, err := s.reference(ctx, u.state, u.size)
	if err != nil {
		return s.orRefused(ctx, out, err)
	}
	res, err := s.see(ctx, ref, u.photo, imaging.MeasureOptions{Regions: regionsOf(u.plate)})
	if err != nil {
		return out, err
	}
	if out.Score, err = s.record(ctx, u, res); err == nil {
		s.leaveToneMap(u, res)
	}
	return out, err
}

// orRefused keeps a refusal with its impression and passes other errors on.
func (s *Studio) orRefused(ctx context.Context, out Scored, err error) (Scored, error) {
	if ctx.Err() != nil {
		return out, ctx.Err()
	}
	if _, ok := refusedBecause(err); ok {
		out.Err = err
		return out, nil
	}
	return out, err
}

// see measures a photograph of the archive; what cannot be opened or measured
// is a refused result.
func (s *Studio) see(ctx context.Context, ref *imaging.Reference, p *catalog.Photograph, o imaging.MeasureOptions) (*imaging.Result, error) {
	l, err := s.openLit(ctx, p)
	if err == nil {
		if o.Mark == nil {
			o.Mark = handMark(l.photo, p)
		}
		o.Blank = l.blank
		var res *imaging.Result
		res, err = abandon(ctx, func() (*imaging.Result, error) { return ref.Measure(ctx, l.photo, o) })
		if err == nil {
			return res, nil
		}
	}
	return refusedResult(ctx, err)
}

// openPhoto opens a photograph for measuring.
func openPhoto(ctx context.Context, path string) (*imaging.Photo, error) {
	return abandon(ctx, func() (*imaging.Photo, error) { return imaging.Open(ctx, path) })
}

// record judges a result and keeps it, with what was found on the photograph.
func (s *Studio) record(ctx context.Context, u *subject, res *imaging.Result) (*catalog.Score, error) {
	imprint, err := s.store.Imprint(ctx)
	if err != nil {
		return nil, err
	}
	sc := scoreOf(res)
	sc.ImpressionID, sc.PhotoID, sc.StateID, sc.ReferencePhotoID = u.impression.ID, u.photo.ID, u.state.ID, u.state.ReferencePhotoID
	sc.At, sc.Regions = s.now().UTC(), regionScores(u.plate, res)
	judge(&sc, lossLimit(u.plate, imprint), imprint.ToneLimit, res.Budget)
	err = s.store.Do(ctx, "Score "+u.impression.Name(), func(tx *store.Tx) error {
		p, err := tx.Photograph(ctx, u.photo.ID)
		if err != nil {
			return err
		}
		setMark(p, res.Mark, res.MarkHow, res.MarkSure)
		if res.Quality.PxPerMM > 0 {
			p.Quality = qualityJSON(res.Quality)
		}
		if err := tx.PutPhotograph(p); err != nil {
			return err
		}
		return tx.PutScore(&sc)
	})
	if err != nil {
		return nil, err
	}
	return &sc, nil
}

// Mark sets the plate mark of a photograph by hand: corners top-left,
// top-right, bottom-right, bottom-left as the reference stands upright, as
// fractions 0..1 of the upright picture's width and height.
func (s *Studio) Mark(ctx context.Context, photo catalog.ID, corners [4][2]float64) error {
	p, err := s.store.Photograph(ctx, photo)
	if err != nil {
		return err
	}
	info := infoOf(p)
	w, h := info.Turned()
	var mark [4][2]float64
	for i, c := range corners {
		mark[i][0], mark[i][1] = info.Lay(c[0]*float64(w)-0.5, c[1]*float64(h)-0.5)
	}
	if _, ok := squareTo(mark); !ok {
		return sentence("The four corners do not make a plate mark; set them apart from one another.")
	}
	return s.updatePhotograph(ctx, photo, "Set the plate mark", func(q *catalog.Photograph) {
		q.Mark, q.MarkBy, q.MarkSure = mark, byHand, 1
	})
}

// MarkOf is the plate mark of a photograph in the fractions of [Studio.Mark];
// false when it is not known.
func (s *Studio) MarkOf(ctx context.Context, photo catalog.ID) (corners [4][2]float64, ok bool, err error) {
	p, err := s.store.Photograph(ctx, photo)
	if err != nil || p.MarkBy == "" {
		return corners, false, err
	}
	info := infoOf(p)
	w, h := info.Turned()
	for i, c := range p.Mark {
		x, y := info.Stand(c[0], c[1])
		corners[i] = [2]float64{(x + 0.5) / float64(w), (y + 0.5) / float64(h)}
	}
	return corners, true, nil
}

// Unscored lists the impressions of a plate (of all when empty) that have a
// photograph and a reference pull, but no score of their newest photograph
// against it by this method.
func (s *Studio) Unscored(ctx context.Context, plate catalog.ID) ([]catalog.ID, error) {
	sheets, err := s.store.Impressions(ctx, store.ImpressionFilter{PlateID: plate, WithPhotos: true})
	if err != nil {
		return nil, err
	}
	references := map[catalog.ID]catalog.ID{}
	var list []catalog.ID
	for _, i := range sheets {
		if i.StateID == "" {
			continue
		}
		if _, known := references[i.StateID]; !known {
			st, err := s.store.State(ctx, i.StateID)
			if err != nil {
				return nil, err
			}
			references[i.StateID] = st.ReferencePhotoID
		}
		if references[i.StateID] == "" {
			continue
		}
		last, err := s.store.LatestScore(ctx, i.ID)
		if err != nil {
			return nil, fmt.Errorf("reading scores: %w", err)
		}
		stale := last == nil || last.ReferencePhotoID != references[i.StateID] || last.Method != imaging.Method
		if !stale && last.PhotoID != references[i.StateID] {
			newest, err := s.photographToMeasure(ctx, i.ID)
			if _, refused := refusedBecause(err); err != nil && !refused {
				return nil, err
			}
			stale = err == nil && newest.ID != last.PhotoID // photographed anew
		}
		if stale {
			list = append(list, i.ID)
		}
	}
	return list, nil
}
