package window

import (
	"cmp"
	"context"
	"slices"

	"pullbook/app/window/places"
	"pullbook/catalog"
	"pullbook/catalog/store"
)

// History gives the last alterations of some records, of all where none is
// named, newest first.
func (h *house) History(ctx context.Context, most int, records ...catalog.ID) ([]places.Altered, error) {
	var all []store.Change
	if len(records) == 0 {
		l, err := h.Store().Recent(ctx, most)
		if err != nil {
			return nil, err
		}
		all = l
	}
	for _, id := range records {
		l, err := h.Store().History(ctx, id)
		if err != nil {
			return nil, err
		}
		all = append(all, l...)
	}
	slices.SortStableFunc(all, func(a, b store.Change) int { return cmp.Compare(b.Action, a.Action) })
	out := make([]places.Altered, 0, min(len(all), most))
	for _, c := range all[:min(len(all), most)] {
		a := places.Altered{At: c.At, Who: c.Who, Label: c.Label, Noun: c.Noun, Record: c.RecordID, Kind: c.Kind, Standing: c.Standing}
		for _, f := range c.Fields {
			a.Fields = append(a.Fields, places.FieldAltered(f))
		}
		out = append(out, a)
	}
	return out, nil
}

// Pack writes the whole catalogue into one file.
func (h *house) Pack(ctx context.Context, path string, p places.Progress) error {
	return h.Studio.Pack(ctx, path, p)
}
