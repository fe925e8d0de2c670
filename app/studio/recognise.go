package studio

import (
	"context"
	"slices"
	"sync"
	"time"

	"pullbook/catalog"
	"pullbook/catalog/say"
	"pullbook/imaging"
)

// recogniser tells plates and states apart on proxies, which are a tenth of
// the work of the photographs themselves and fine enough for that. A photograph
// is sieved by the proportions of its plate mark, then by a glimpse of its
// lines; only the plate that passes is laid under it whole.
type recogniser struct {
	s      *Studio
	plates []known
	mu     sync.Mutex
	recent []int // plates in the order in which to try them
	// untried is how many plates were printed too long ago to be looked at.
	untried int
}

const (
	// platesTried bounds how many plates a photograph is compared with, the last
	// printed first.
	platesTried = 200
	// triedByLines is how many are laid under a photograph by their lines alone,
	// which takes some seconds each: where no mark was found, and where one was.
	triedByLines, triedBesideMark = 4, 1
	// sameLines and perhapsSame are the likeness from which a plate needs no
	// rival, and from which it is worth laying under the photograph.
	sameLines, perhapsSame = 0.75, 0.5
)

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
		size, err := sizeOf(&k.plate)
		if err != nil {
			continue
		}
		k.size = inMM(size)
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
			r.plates = append(r.plates, k)
		}
	}
	last := lastPulls(snap)
	for i := range r.plates {
		r.recent = append(r.recent, i)
	}
	slices.SortStableFunc(r.recent, func(a, b int) int {
		return last[r.plates[b].plate.ID].Compare(last[r.plates[a].plate.ID])
	})
	r.prefer(hint)
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
func (r *recogniser) prefer(plate catalog.ID) {
	r.mu.Lock()
	defer r.mu.Unlock()
	at := slices.IndexFunc(r.recent, func(i int) bool { return r.plates[i].plate.ID == plate })
	if at > 0 {
		i := r.recent[at]
		r.recent = slices.Insert(slices.Delete(r.recent, at, at+1), 0, i)
	}
}

// order is the plates in the order in which to try them, first before all.
func (r *recogniser) order(first catalog.ID) []*known {
	r.mu.Lock()
	defer r.mu.Unlock()
	var out []*known
	for _, i := range r.recent {
		out = append(out, &r.plates[i])
	}
	if at := slices.IndexFunc(out, func(k *known) bool { return k.plate.ID == first }); at > 0 {
		k := out[at]
		out = slices.Insert(slices.Delete(out, at, at+1), 0, k)
	}
	return out
}

// only is the plate alone, if it can be recognised.
func (r *recogniser) only(plate catalog.ID) []*known {
	for i := range r.plates {
		if r.plates[i].plate.ID == plate {
			return []*known{&r.plates[i]}
		}
	}
	return nil
}

// recognised is which plate and state a photograph shows.
type recognised struct {
	plate  *catalog.Plate
	state  *catalog.State // nil: the plate is sure, the state is not
	sure   float64
	reason say.Sentence       // why nothing, or no state, was told
	mark   *imaging.PlateMark // that can be believed; nil when none was found
	detail *imaging.Detail    // the part of the plate shown, nil for the whole or when it is not known
}

// look tells what a photograph shows.
func (r *recogniser) look(ctx context.Context, photo *imaging.Photo) (recognised, error) {
	return r.lookFor(ctx, photo, "", true)
}

// lookFor is look with a plate to try first. Unless thorough, plates whose mark
// or lines do not fit at a glimpse are not laid under the photograph: enough to
// see whether a slip belongs to the sheet beside it.
func (r *recogniser) lookFor(ctx context.Context, photo *imaging.Photo, first catalog.ID, thorough bool) (recognised, error) {
	found := &marks{photo: photo}
	order := r.order(first)
	best, like, reason, err := r.sieve(ctx, order, found)
	if err != nil {
		return recognised{}, err
	}
	if like >= perhapsSame {
		mark, _, err := found.of(ctx, best.size)
		if err != nil {
			return recognised{}, err
		}
		told, why, err := r.placeOn(ctx, best, photo, mark)
		if err != nil || told != nil {
			return r.told(told, found), err
		}
		reason = why
	}
	if thorough && found.best() == nil {
		if told, err := r.detailOf(ctx, order, photo); err != nil || told != nil {
			return r.told(told, found), err
		}
	}
	tries := triedByLines
	switch {
	case !thorough:
		tries = 0
	case found.best() != nil:
		tries = triedBesideMark
	}
	for _, k := range order[:min(tries, len(order))] {
		if like >= perhapsSame && k == best {
			continue
		}
		told, why, err := r.placeOn(ctx, k, photo, nil)
		if err != nil || told != nil {
			return r.told(told, found), err
		}
		if like < perhapsSame {
			reason = why
		}
	}
	return recognised{reason: r.none(reason), mark: found.best()}, nil
}

// told is what was recognised, with what was seen of the mark.
func (r *recogniser) told(k *recognised, found *marks) recognised {
	if k == nil {
		return recognised{}
	}
	r.prefer(k.plate.ID)
	if k.mark == nil && k.detail == nil {
		k.mark = found.best()
	}
	return *k
}

// sieve finds the plate whose lines are likest, and how like they are.
func (r *recogniser) sieve(ctx context.Context, order []*known, found *marks) (best *known, like float64, reason say.Sentence, err error) {
	like, reason = -1, say.Of("No plate of this catalogue has a reference pull to recognise it by.")
	for _, k := range order {
		if err := rest(ctx); err != nil {
			return nil, 0, reason, err
		}
		mark, why, err := found.of(ctx, k.size)
		if err != nil {
			return nil, 0, reason, err
		}
		if mark == nil {
			reason = say.Of("%s", say.Word(why))
			continue
		}
		glimpses, err := r.s.glimpses(ctx, k)
		if err != nil {
			return nil, 0, reason, err
		}
		for _, g := range glimpses {
			l, err := abandon(ctx, func() (float64, error) { return g.Likeness(found.photo, *mark), nil })
			if err != nil {
				return nil, 0, reason, err
			}
			if l > like {
				best, like = k, l
			}
			if like >= sameLines {
				return best, like, say.Sentence{}, nil
			}
		}
		reason = say.Of("Its lines lie on those of no plate known here.")
	}
	return best, like, reason, nil
}

// detailsTried is how many plates a photograph without a plate mark is sought
// on as a part of one.
const detailsTried = 6

// detailOf looks whether the photograph shows a part of a plate; the state of a
// part cannot be told.
func (r *recogniser) detailOf(ctx context.Context, order []*known, photo *imaging.Photo) (*recognised, error) {
	for _, k := range order[:min(detailsTried, len(order))] {
		if err := rest(ctx); err != nil {
			return nil, err
		}
		l, err := r.s.laid(ctx, k)
		if err != nil {
			return nil, err
		}
		if l.places == nil {
			continue
		}
		d, err := abandon(ctx, func() (*imaging.Detail, error) {
			d, ok, err := l.places.Latest().FindDetail(ctx, photo)
			if !ok {
				return nil, err
			}
			return &d, nil
		})
		if err != nil {
			return nil, err
		}
		if d != nil {
			return &recognised{plate: &k.plate, sure: 0.95, detail: d, reason: say.Of("A detail of %s, %.0f to %.0f mm from the left and %.0f to %.0f mm from the top; of which sheet cannot be told.", k.plate.Said(), d.Box[0], d.Box[2], d.Box[1], d.Box[3])}, nil
		}
	}
	return nil, nil
}

// placeOn lays a plate's references under a photograph; nil with a reason when
// it does not lie on them.
func (r *recogniser) placeOn(ctx context.Context, k *known, photo *imaging.Photo, mark *imaging.PlateMark) (*recognised, say.Sentence, error) {
	if err := rest(ctx); err != nil {
		return nil, say.Sentence{}, err
	}
	l, err := r.s.laid(ctx, k)
	if err != nil {
		return nil, say.Sentence{}, err
	}
	if l.places == nil {
		return nil, say.Of("The reference pulls of %s cannot be seen well enough to recognise it by.", k.plate.Said()), nil
	}
	at, err := abandon(ctx, func() (*imaging.Placing, error) { return l.places.StateOf(ctx, photo, mark) })
	if err != nil {
		return nil, say.Sentence{}, err
	}
	if !liesOn(at) {
		return nil, say.OfKeyed(at.Why.Keyed()), nil
	}
	told := k.tell(l, at)
	if told.mark = mark; mark == nil {
		told.mark = markIn(at)
	}
	return told, say.Sentence{}, nil
}

// none words why nothing was recognised.
func (r *recogniser) none(reason say.Sentence) say.Sentence {
	if r.untried > 0 {
		reason = say.Of("%s %s", reason, say.Of("%d plates not printed lately were not looked at.", r.untried))
	}
	if len(r.plates) > 1 {
		reason = say.Of("It lies on none of the plates known here: a plate not yet entered, a detail, or a photograph that cannot be measured. %s", reason)
	}
	return reason
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

// markIn is the plate mark as the registration has it.
func markIn(at *imaging.Placing) *imaging.PlateMark {
	for _, e := range at.States {
		if r := e.Result; r != nil && r.Verdict == imaging.Measured {
			return &imaging.PlateMark{Corners: r.Mark, How: r.MarkHow, Sure: r.MarkSure}
		}
	}
	return nil
}

// tell says which state a photograph of the plate shows.
func (k *known) tell(l *laidPlate, at *imaging.Placing) *recognised {
	out := &recognised{plate: &k.plate, sure: 0.99}
	switch {
	case len(l.states) < k.all:
		out.reason = say.Of("Not every state of %s has a reference pull, so the state cannot be told.", k.plate.Said())
	case at.State < 1:
		out.reason = say.OfKeyed(at.Why.Keyed())
	default:
		out.state, out.sure = &l.states[at.State-1], at.Confidence
	}
	return out
}
