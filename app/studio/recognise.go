package studio

import (
	"context"
	"fmt"
	"image"
	"slices"
	"sync"
	"time"

	"pullbook/catalog"
	"pullbook/imaging"
)

// recogniser tells plates and states apart on proxies, which are a tenth of
// the work of the photographs themselves and fine enough for that.
type recogniser struct {
	s      *Studio
	plates []known
	mu     sync.Mutex
	recent []int // plates in the order in which to try them
	// untried is how many plates were printed too long ago to be looked at.
	untried int
}

// platesTried bounds how many plates a photograph is compared with, the last
// printed first: their references are all held in memory.
const platesTried = 24

// known is a plate with the states that can be recognised.
type known struct {
	plate  catalog.Plate
	states []catalog.State // those with a reference photograph
	all    int             // states recorded, with or without
	refs   []*imaging.Reference
	places *imaging.KnownStates
	once   sync.Once
	err    error
}

// newRecogniser gathers the plates that have reference pulls; those of hint are
// tried first.
func (s *Studio) newRecogniser(ctx context.Context, hint catalog.ID) (*recogniser, error) {
	snap, err := s.store.Snapshot(ctx)
	if err != nil {
		return nil, err
	}
	r := &recogniser{s: s}
	for i := range snap.Plates {
		k := known{plate: snap.Plates[i]}
		if _, err := sizeOf(&k.plate); err != nil {
			continue
		}
		for _, st := range snap.States {
			if st.PlateID != k.plate.ID {
				continue
			}
			k.all++
			if st.ReferencePhotoID != "" {
				k.states = append(k.states, st)
			}
		}
		if len(k.states) > 0 {
			r.plates = append(r.plates, known{plate: k.plate, states: k.states, all: k.all})
		}
	}
	last := lastPulls(snap)
	for i := range r.plates {
		r.recent = append(r.recent, i)
	}
	slices.SortStableFunc(r.recent, func(a, b int) int {
		return last[r.plates[b].plate.ID].Compare(last[r.plates[a].plate.ID])
	})
	for i := range r.plates {
		if r.plates[i].plate.ID == hint {
			r.prefer(i)
		}
	}
	if len(r.recent) > platesTried {
		r.recent, r.untried = r.recent[:platesTried], len(r.recent)-platesTried
	}
	return r, nil
}

// lastPulls is when each plate was last printed.
func lastPulls(snap *catalog.Snapshot) map[catalog.ID]time.Time {
	last := map[catalog.ID]time.Time{}
	for i := range snap.Impressions {
		x := &snap.Impressions[i]
		if x.PulledAt.After(last[x.PlateID]) {
			last[x.PlateID] = x.PulledAt
		}
	}
	return last
}

// prefer puts a plate first: sheets of one plate are photographed together.
func (r *recogniser) prefer(i int) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if k := slices.Index(r.recent, i); k > 0 {
		r.recent = slices.Insert(slices.Delete(r.recent, k, k+1), 0, i)
	}
}

func (r *recogniser) order() []int {
	r.mu.Lock()
	defer r.mu.Unlock()
	return slices.Clone(r.recent)
}

// prepare makes the references of a plate from their proxies, once.
func (k *known) prepare(ctx context.Context, s *Studio) error {
	k.once.Do(func() { k.err = k.load(ctx, s) })
	return k.err
}

func (k *known) load(ctx context.Context, s *Studio) error {
	size, err := sizeOf(&k.plate)
	if err != nil {
		return err
	}
	var seen []catalog.State
	for _, st := range k.states {
		img, err := s.proxyPicture(ctx, st.ReferencePhotoID)
		if err != nil {
			return err
		}
		mark, err := s.markOnProxy(ctx, st.ReferencePhotoID, img.Rect.Size())
		if err != nil {
			return err
		}
		ref, err := PrepareReference(ctx, imaging.FromImage(img), mark, inMM(size))
		if _, refused := refusedBecause(err); refused {
			continue // a state whose reference cannot be seen is not told
		}
		if err != nil {
			return err
		}
		k.refs, seen = append(k.refs, ref), append(seen, st)
	}
	k.states = seen
	if len(k.refs) > 0 {
		k.places, err = imaging.NewKnownStates(ctx, k.refs)
	}
	return err
}

// markOnProxy is the recorded plate mark of a photograph in the pixels of its
// proxy, nil when none is recorded.
func (s *Studio) markOnProxy(ctx context.Context, photo catalog.ID, size image.Point) (*imaging.PlateMark, error) {
	corners, ok, err := s.MarkOf(ctx, photo)
	if err != nil || !ok {
		return nil, err
	}
	p, err := s.store.Photograph(ctx, photo)
	if err != nil {
		return nil, err
	}
	m := imaging.PlateMark{How: p.MarkBy, Sure: p.MarkSure}
	for i, c := range corners {
		m.Corners[i] = imaging.Point{X: c[0]*float64(size.X) - 0.5, Y: c[1]*float64(size.Y) - 0.5}
	}
	return &m, nil
}

// recognised is which plate and state a photograph shows.
type recognised struct {
	plate  *catalog.Plate
	state  *catalog.State // nil: the plate is sure, the state is not
	sure   float64
	reason string // why nothing, or no state, was told
}

// look compares a photograph with every plate until one lies on it.
func (r *recogniser) look(ctx context.Context, photo catalog.ID) (recognised, error) {
	img, err := r.s.proxyPicture(ctx, photo)
	if err != nil {
		return recognised{}, err
	}
	seen := imaging.FromImage(img)
	reason := "No plate of this catalogue has a reference pull to recognise it by."
	for _, i := range r.order() {
		k := &r.plates[i]
		if err := rest(ctx); err != nil {
			return recognised{}, err
		}
		if err := k.prepare(ctx, r.s); err != nil {
			return recognised{}, err
		}
		if len(k.refs) == 0 {
			continue
		}
		at, err := k.places.Place(ctx, seen)
		if err != nil {
			return recognised{}, err
		}
		if liesOn(at) {
			r.prefer(i)
			return k.tell(at), nil
		}
		reason = at.Reason
	}
	if r.untried > 0 {
		reason += fmt.Sprintf(" %d plates not printed lately were not looked at.", r.untried)
	}
	if len(r.plates) > 1 {
		reason = "It lies on none of the plates known here: a plate not yet entered, a detail, or a photograph that cannot be measured. " + reason
	}
	return recognised{reason: reason}, nil
}

// liesOn reports whether the photograph was laid on the plate by its lines.
func liesOn(at *imaging.Placing) bool {
	for _, e := range at.States {
		if r := e.Result; r != nil && r.Verdict == imaging.Measured && r.Registration.State == "registered" {
			return true
		}
	}
	return false
}

// tell says which state a photograph of the plate shows.
func (k *known) tell(at *imaging.Placing) recognised {
	out := recognised{plate: &k.plate, sure: 0.99}
	switch {
	case len(k.refs) < k.all:
		out.reason = fmt.Sprintf("Not every state of %s has a reference pull, so the state cannot be told.", k.plate.Name())
	case at.State < 1:
		out.reason = at.Reason
	default:
		out.state, out.sure = &k.states[at.State-1], at.Confidence
	}
	return out
}
