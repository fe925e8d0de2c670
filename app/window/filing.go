package window

import (
	"context"
	"errors"

	"pullbook/app/studio"
	"pullbook/app/window/places"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// TakeIn takes photographs in and says where each is thought to belong.
func (h *house) TakeIn(ctx context.Context, paths []string, hint places.Hint, p places.Progress) ([]places.Taken, error) {
	got, err := h.Studio.TakeIn(ctx, paths, stretch(p, 0, takeInShare))
	out := make([]places.Taken, 0, len(got))
	var look []catalog.ID
	for _, g := range got {
		t := h.taken(ctx, g)
		out = append(out, t)
		if t.PhotoID != "" && t.ImpressionID == "" && !studio.IsAid(&g.Photo) {
			look = append(look, t.PhotoID)
		}
	}
	if err != nil || len(look) == 0 {
		return out, err
	}
	told, err := h.Propose(ctx, look, hint, stretch(p, takeInShare, 1))
	for _, t := range told {
		for i := range out {
			if out[i].PhotoID == t.PhotoID {
				out[i] = t
			}
		}
	}
	return out, err
}

// takeInShare is the share of the work of a taking-in that is copying; the
// rest is recognising.
const takeInShare = 0.3

// stretch is p for a part of a longer work.
func stretch(p places.Progress, from, to float64) places.Progress {
	return func(done float64, what string) { p(from+(to-from)*done, what) }
}

// Watch takes in what appears in a folder, and tells each photograph twice: at
// once with its quality report, and when it is known where it belongs.
func (h *house) Watch(ctx context.Context, dir string, hint func() places.Hint, came func(places.Taken)) error {
	return h.Studio.Watch(ctx, dir, func() catalog.ID { return hint().Plate }, func(g studio.TakenIn) {
		t := h.taken(ctx, g)
		came(t)
		if t.PhotoID == "" || t.ImpressionID != "" || studio.IsAid(&g.Photo) {
			return
		}
		if told, err := h.Propose(ctx, []catalog.ID{t.PhotoID}, hint(), func(float64, string) {}); err == nil && len(told) == 1 {
			told[0].Again = true
			came(told[0])
		}
	})
}

// taken shapes what became of a file.
func (h *house) taken(ctx context.Context, g studio.TakenIn) places.Taken {
	if g.Err != nil {
		return places.Taken{Name: g.Path, Refused: words.Error(g.Err)}
	}
	t := places.Taken{PhotoID: g.Photo.ID, Name: g.Photo.Name, View: g.Photo.View, Already: g.Already}
	if q, ok := studio.Quality(&g.Photo); ok {
		for _, f := range q.Findings {
			if f.Stars < 2 && f.Advice != "" {
				t.Poor = append(t.Poor, f.Advice)
			}
		}
	}
	if g.Photo.ImpressionID != "" { // taken in before, and filed
		if i, err := h.Store().Impression(ctx, g.Photo.ImpressionID); err == nil {
			t.PlateID, t.StateID, t.ImpressionID, t.Sure, t.Why = i.PlateID, i.StateID, i.ID, g.Photo.FiledSure, g.Photo.FiledBy
		}
	}
	return t
}

// Propose says where photographs are thought to belong. One that is not
// recognised is offered for the plate in hand, without surety.
func (h *house) Propose(ctx context.Context, photos []catalog.ID, hint places.Hint, p places.Progress) ([]places.Taken, error) {
	list, err := h.Studio.Propose(ctx, photos, hint.Plate, p)
	if err != nil {
		return nil, err
	}
	states, err := h.Store().States(ctx, hint.Plate)
	if err != nil {
		return nil, err
	}
	out := make([]places.Taken, 0, len(list))
	for _, a := range list {
		t := places.Taken{PhotoID: a.Photo.ID, Name: a.Photo.Name, PlateID: a.PlateID, StateID: a.StateID, ImpressionID: a.ImpressionID, View: a.View, Sure: a.Sure, Why: a.How, Words: words.Tongue().Together(a.Rests)}
		if a.How == "" && len(states) > 0 {
			t.PlateID, t.StateID, t.Why = hint.Plate, states[len(states)-1].ID, "the plate in hand"
		}
		out = append(out, t)
	}
	return out, nil
}

// Confirm files photographs where they were said to belong, measures the sheets
// of them that can be, and reports.
func (h *house) Confirm(ctx context.Context, list []places.Taken, p places.Progress) (*places.Filed, error) {
	var agreed []studio.Proposal
	for _, t := range list {
		photo, err := h.Store().Photograph(ctx, t.PhotoID)
		if err != nil {
			return nil, err
		}
		how := t.Why
		if how == "the plate in hand" {
			how = "by hand"
		}
		agreed = append(agreed, studio.Proposal{Photo: *photo, PlateID: t.PlateID, StateID: t.StateID, ImpressionID: t.ImpressionID, View: t.View, How: how, Sure: t.Sure})
	}
	sheets, err := h.Accept(ctx, agreed)
	if err != nil {
		return nil, err
	}
	scored, err := h.Studio.Measure(ctx, sheets, p)
	if err != nil {
		return nil, err
	}
	anew, err := h.PhotographedAnew(ctx, scored)
	if err != nil {
		return nil, err
	}
	out := &places.Filed{Photographs: len(list)}
	for _, a := range anew {
		out.Anew = append(out.Anew, places.Anew{Sheet: a.ImpressionID, From: a.From, Kept: a.Kept})
	}
	for _, x := range scored {
		var refused *studio.Refusal
		switch {
		case x.Score != nil && x.Score.Verdict != studio.RefusedPic:
			out.Measured++
		case x.Score != nil:
			out.Short = append(out.Short, places.Short{Sheet: x.ImpressionID, Why: words.Say(x.Score.Why())})
		case errors.As(x.Err, &refused):
			out.Short = append(out.Short, places.Short{Sheet: x.ImpressionID, Why: words.Error(x.Err)})
		default:
			return out, x.Err
		}
	}
	return out, nil
}
