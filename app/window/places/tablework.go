package places

import (
	"context"
	"time"

	"fyne.io/fyne/v2"

	"pullbook/app/window/look"
	"pullbook/app/window/sheetview"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// turnEvery is how long each sheet is up, in turn.
const turnEvery = 900 * time.Millisecond

func (t *tablePlace) beginTurning() {
	stop := make(chan struct{})
	t.rotate = stop
	t.f.busy.Add(1)
	go func() {
		defer t.f.busy.Done()
		tick := time.NewTicker(turnEvery)
		defer tick.Stop()
		for {
			select {
			case <-stop:
				return
			case <-t.f.ctx.Done():
				return
			case <-tick.C:
				t.f.post.do(func() {
					if t.rotate == stop && t.f.at == AtTable {
						t.view.Turn()
					}
				})
			}
		}
	}()
}

func (t *tablePlace) endTurning() {
	if t.rotate != nil {
		close(t.rotate)
		t.rotate = nil
	}
}

// boxes marks the changes between the states of the two sheets.
func (t *tablePlace) boxes() {
	t.applyMap()
	t.view.SetBoxes(t.marked())
}

// marked is the changes between the states of the two sheets, once both are
// drawn. Sheets of one state do not differ by any, and between states further
// apart they were not looked for.
func (t *tablePlace) marked() []sheetview.Marked {
	st := t.later()
	if st == nil || t.shown[1] == "" || t.laid != t.shown {
		return nil
	}
	own := t.b.impressions[t.s].StateID == st.ID // whose changes the panel lists
	var l []sheetview.Marked
	for k, c := range st.Changes {
		if c.Ruling == "rejected" {
			continue
		}
		l = append(l, sheetview.Marked{Box: boxOf(c), Colour: changeColour(c), Chosen: own && k == t.changes})
	}
	return l
}

// later is the later of the states of the two sheets where the other is the one
// before it, else nil.
func (t *tablePlace) later() *catalog.State {
	a, s := t.b.impressions[t.a], t.b.impressions[t.s]
	if a == nil || s == nil {
		return nil
	}
	before, after := t.b.states[a.StateID], t.b.states[s.StateID]
	if before == nil || after == nil || before.PlateID != after.PlateID {
		return nil
	}
	if before.N > after.N {
		before, after = after, before
	}
	if before.N+1 != after.N {
		return nil
	}
	return after
}

func boxOf(c catalog.Change) sheetview.Box {
	return sheetview.Box{X0: c.BoxMM[0], Y0: c.BoxMM[1], X1: c.BoxMM[2], Y1: c.BoxMM[3]}
}

func changeColour(c catalog.Change) fyne.ThemeColorName {
	switch c.Kind {
	case "removed":
		return look.Copper
	case catalog.CannotSee:
		return look.Muted
	}
	return look.Blue
}

// goToChange brings a change to the middle of the view.
func (t *tablePlace) goToChange(k int) {
	i := t.b.impressions[t.s]
	if i == nil || t.b.states[i.StateID] == nil || k >= len(t.b.states[i.StateID].Changes) {
		return
	}
	t.changes = k
	if t.modes.Chosen == contactMode {
		t.modes.Choose(0)
	}
	t.view.GoTo(boxOf(t.b.states[i.StateID].Changes[k]))
	t.boxes()
}

// tapped chooses the change under the pointer.
func (t *tablePlace) tapped(x, y float64) {
	st := t.later()
	if st == nil || t.b.impressions[t.s].StateID != st.ID {
		return
	}
	for k, c := range st.Changes {
		if x >= c.BoxMM[0] && x <= c.BoxMM[2] && y >= c.BoxMM[1] && y <= c.BoxMM[3] {
			t.changes = k
			t.boxes()
			t.panel.choose(k)
			return
		}
	}
}

// measureShown scores the sheet in question.
func (t *tablePlace) measureShown() { t.measure([]catalog.ID{t.s}) }

// measureAll scores every photographed sheet of the plate.
func (t *tablePlace) measureAll() {
	b := t.f.book
	var ids []catalog.ID
	for _, i := range b.impressionsOf[t.f.plate] {
		if b.photoOf(i.ID) != nil && i.StateID != "" {
			ids = append(ids, i.ID)
		}
	}
	t.measure(ids)
}

func (t *tablePlace) measure(ids []catalog.ID) {
	if len(ids) == 0 || ids[0] == "" {
		return
	}
	f := t.f
	f.start(words.N("Measuring %d sheets", len(ids)), func(ctx context.Context, p Progress) error {
		err := f.house.Measure(ctx, ids, p)
		if err == nil {
			f.post.do(func() { f.tell(words.N("%d sheets measured", len(ids))) })
		}
		return err
	})
}

// makeReference makes the sheet in question the reference pull of its state.
func (t *tablePlace) makeReference() {
	p := t.b.photoOf(t.s)
	i := t.b.impressions[t.s]
	if p == nil || i == nil {
		return
	}
	f, id := t.f, t.s
	f.change(func(ctx context.Context) error {
		if err := f.house.PickReference(ctx, id, p.ID); err != nil {
			return err
		}
		f.post.do(func() { f.tell(words.T("%s is the reference pull now", sheetName(i))) })
		return nil
	})
}

// findChanges looks for the work that made the state of the sheet in question.
func (t *tablePlace) findChanges() {
	i := t.b.impressions[t.s]
	if i == nil || i.StateID == "" {
		return
	}
	state, f := i.StateID, t.f
	f.start(words.T("Comparing states"), func(ctx context.Context, p Progress) error {
		return f.house.Compare(ctx, state, p)
	})
}
