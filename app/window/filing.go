package window

import (
	"context"

	"pullbook/app/studio"
	"pullbook/app/window/places"
	"pullbook/catalog"
)

// TakeIn takes photographs in and says where each is thought to belong: to the
// plate in hand, in its latest state, until somebody says otherwise.
func (h *house) TakeIn(ctx context.Context, paths []string, hint places.Hint, p places.Progress) ([]places.Taken, error) {
	got, err := h.Studio.TakeIn(ctx, paths, p)
	var out []places.Taken
	for _, g := range got {
		out = append(out, h.taken(ctx, g, hint))
	}
	return out, err
}

// Watch takes in what appears in a folder.
func (h *house) Watch(ctx context.Context, dir string, hint func() places.Hint, came func(places.Taken)) error {
	return h.Studio.Watch(ctx, dir, func(g studio.TakenIn) { came(h.taken(ctx, g, hint())) })
}

// taken says where a photograph is thought to belong.
func (h *house) taken(ctx context.Context, g studio.TakenIn, hint places.Hint) places.Taken {
	if g.Err != nil {
		return places.Taken{Name: g.Path, Refused: g.Err.Error()}
	}
	t := places.Taken{PhotoID: g.Photo.ID, Name: g.Photo.Name, Already: g.Already}
	if g.Photo.ImpressionID != "" { // taken in before, and filed
		if i, err := h.Store().Impression(ctx, g.Photo.ImpressionID); err == nil {
			t.PlateID, t.StateID, t.ImpressionID, t.Sure, t.Why = i.PlateID, i.StateID, i.ID, g.Photo.FiledSure, g.Photo.FiledBy
		}
		return t
	}
	if states, err := h.Store().States(ctx, hint.Plate); err == nil && len(states) > 0 {
		t.PlateID, t.StateID, t.Sure, t.Why = hint.Plate, states[len(states)-1].ID, 0.5, "the plate in hand"
	}
	return t
}

// Confirm files photographs where they were said to belong and measures the
// sheets of them that can be.
func (h *house) Confirm(ctx context.Context, list []places.Taken, p places.Progress) error {
	var sheets []catalog.ID
	for n, t := range list {
		if err := ctx.Err(); err != nil {
			return err
		}
		p(0.2*float64(n)/float64(len(list)), t.Name)
		id := t.ImpressionID
		if id == "" {
			i := &catalog.Impression{ID: catalog.NewID(), PlateID: t.PlateID, StateID: t.StateID}
			if err := h.Save(ctx, "Enter a sheet", i); err != nil {
				return err
			}
			id = i.ID
		}
		if err := h.FilePhotograph(ctx, t.PhotoID, id, "by hand", 1); err != nil {
			return err
		}
		sheets = append(sheets, id)
	}
	_, err := h.Studio.Measure(ctx, sheets, func(done float64, what string) { p(0.2+0.8*done, what) })
	return err
}
