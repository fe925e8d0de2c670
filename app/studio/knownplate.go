package studio

import (
	"context"
	"fmt"
	"image"
	"strings"

	"pullbook/catalog"
	"pullbook/imaging"
)

// known is a plate with the states that can be recognised.
type known struct {
	plate  catalog.Plate
	size   imaging.Size
	states []catalog.State // those with a reference photograph
	all    int             // states recorded, with or without
}

const (
	// glimpsesKept and laidKept bound what recognising holds in memory, bytes: a
	// glimpse of each plate, and the references of the plates in hand.
	glimpsesKept = 48 << 20
	laidKept     = 400 << 20
)

// laidPlate is the references of a plate laid on one another, with the states
// they are of: a state whose reference cannot be seen is not among them.
type laidPlate struct {
	states []catalog.State
	places *imaging.KnownStates // nil when no reference can be seen
}

// key names what a plate's references were made from.
func (k *known) key() string {
	var b strings.Builder
	fmt.Fprint(&b, imaging.Method, " ", k.plate.ID, k.size)
	for _, st := range k.states {
		fmt.Fprint(&b, " ", st.ID, " ", st.ReferencePhotoID)
	}
	return b.String()
}

// laid makes the references of a plate from their proxies.
func (s *Studio) laid(ctx context.Context, k *known) (*laidPlate, error) {
	return s.plates.get(ctx, k.key(), func() (*laidPlate, int64, error) {
		out := &laidPlate{}
		var refs []*imaging.Reference
		weight := int64(1)
		for _, st := range k.states {
			img, mark, err := s.referenceProxy(ctx, st.ReferencePhotoID)
			if err != nil {
				return nil, 0, err
			}
			ref, err := PrepareReference(ctx, img, mark, k.size)
			if _, refused := refusedBecause(err); refused {
				continue
			}
			if err != nil {
				return nil, 0, err
			}
			refs, out.states = append(refs, ref), append(out.states, st)
			// Some planes of four bytes a sample, those laid on another among them.
			weight += int64(ref.Sheet.Cols) * int64(ref.Sheet.Rows) * 40
		}
		if len(refs) == 0 {
			return out, weight, nil
		}
		var err error
		out.places, err = abandon(ctx, func() (*imaging.KnownStates, error) { return imaging.NewKnownStates(ctx, refs) })
		return out, weight, err
	})
}

// glimpses are those of the first and the last state of a plate: what lies
// between looks like one of them. There is none where no mark was found.
func (s *Studio) glimpses(ctx context.Context, k *known) ([]*imaging.Glimpse, error) {
	return s.seen.get(ctx, k.key(), func() ([]*imaging.Glimpse, int64, error) {
		var out []*imaging.Glimpse
		states := k.states
		if len(states) > 2 {
			states = []catalog.State{states[0], states[len(states)-1]}
		}
		weight := int64(1)
		for _, st := range states {
			img, mark, err := s.referenceProxy(ctx, st.ReferencePhotoID)
			if err != nil {
				return nil, 0, err
			}
			g, err := abandon(ctx, func() (*imaging.Glimpse, error) { return takeGlimpse(ctx, img, mark, k.size) })
			if _, refused := refusedBecause(err); refused {
				continue
			}
			if err != nil {
				return nil, 0, err
			}
			out = append(out, g)
			weight += int64(k.size.Height * k.size.Width * 4 * 8)
		}
		return out, weight, nil
	})
}

func takeGlimpse(ctx context.Context, img *imaging.Photo, mark *imaging.PlateMark, size imaging.Size) (*imaging.Glimpse, error) {
	if mark == nil {
		found, err := imaging.FindPlate(ctx, img, size)
		if err != nil {
			return nil, err
		}
		mark = &found
	}
	return imaging.NewGlimpse(img, *mark, size)
}

// referenceProxy is the proxy of a reference pull with its recorded mark.
func (s *Studio) referenceProxy(ctx context.Context, photo catalog.ID) (*imaging.Photo, *imaging.PlateMark, error) {
	img, pic, err := s.proxyPicture(ctx, photo)
	if err != nil {
		return nil, nil, err
	}
	mark, err := s.markOnProxy(ctx, photo, img.Bounds().Size())
	return pic, mark, err
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

// sameMark is a mark sought once for all sizes of the same proportions.
type sameMark struct {
	size imaging.Size
	mark *imaging.PlateMark // nil: none was found
	why  string             // then the reason
}

// marks finds the plate marks of one photograph, each once.
type marks struct {
	photo *imaging.Photo
	found []sameMark
}

// of is the mark of a plate of the given size, nil with a reason when there is
// none that fits.
func (m *marks) of(ctx context.Context, size imaging.Size) (*imaging.PlateMark, string, error) {
	for _, f := range m.found {
		if f.mark != nil && f.mark.Sure > surelyAMark && imaging.SameProportions(f.size, size) {
			return f.mark, "", nil
		}
		if f.size == size {
			return f.mark, f.why, nil
		}
	}
	f := sameMark{size: size}
	mark, err := abandon(ctx, func() (imaging.PlateMark, error) { return imaging.FindPlate(ctx, m.photo, size) })
	reason, refused := refusedBecause(err)
	switch {
	case refused:
		f.why = reason
	case err != nil:
		return nil, "", err
	case !mark.Fits(size):
		f.why = otherProportions
	default:
		f.mark = &mark
	}
	m.found = append(m.found, f)
	return f.mark, f.why, nil
}

// surelyAMark is the surety from which a plate mark is believed.
const surelyAMark = 0.6

const otherProportions = "The plate mark is of other proportions than those of this plate."

// best is the surest mark that can be believed, nil when none was found.
func (m *marks) best() (best *imaging.PlateMark) {
	for _, f := range m.found {
		if f.mark != nil && f.mark.Sure > surelyAMark && (best == nil || f.mark.Sure > best.Sure) {
			best = f.mark
		}
	}
	return best
}
