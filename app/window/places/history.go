package places

import (
	"context"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// Altered is one record altered by one action, as the history keeps it.
type Altered struct {
	At       time.Time
	Who      string
	Label    string // of the action
	Noun     string // what kind of record, by the name of its table
	Record   catalog.ID
	Kind     string // "created", "changed" or "removed"
	Standing string // "done", "undone" or "dropped"
	Fields   []FieldAltered
}

// FieldAltered is a field's old and new value, as JSON; "" where there was or is
// none.
type FieldAltered struct{ Name, Old, New string }

// historyShown is how many alterations are shown at first, and how many more
// whenever earlier ones are asked for.
const historyShown = 80

// history shows who changed what, when, and from what to what.
type history struct {
	f     *Frame
	which *look.OneOf
	of    [][]catalog.ID // the records of each choice, none the whole catalogue
	list  *fyne.Container
	turn  int
	shown int    // how many alterations
	day   string // of the last one shown
}

// showHistory opens the history of what one has in hand.
func (f *Frame) showHistory() {
	if f.book == nil {
		return
	}
	h := &history{f: f, list: look.Column(10)}
	var names []string
	add := func(name string, ids ...catalog.ID) { names, h.of = append(names, name), append(h.of, ids) }
	if i := f.sheetInHand(); i != nil {
		ids := []catalog.ID{i.ID}
		for _, p := range f.book.photosOf[i.ID] {
			ids = append(ids, p.ID)
		}
		add(words.T("This sheet"), ids...)
	}
	if p := f.book.plates[f.plate]; p != nil {
		ids := []catalog.ID{p.ID}
		for _, s := range f.book.statesOf[p.ID] {
			ids = append(ids, s.ID)
		}
		for _, e := range f.book.editionsOf[p.ID] {
			ids = append(ids, e.ID)
		}
		add(words.T("This plate"), ids...)
	}
	add(words.T("Everything"))
	h.which = look.NewOneOf(func(int) { h.begin() }, names...)
	scroll := container.NewVScroll(look.InsetEach(h.list, 18, 0, 16, 10))
	content := look.Border(nil, nil, container.NewVBox(look.Wide(170, h.which)), nil, scroll)
	f.ask(words.T("What was changed"), content, fyne.NewSize(860, 600), "", nil)
	f.win.Canvas().Focus(h.which)
	h.begin()
}

// sheetInHand is the sheet that is looked at, nil when it is a plate.
func (f *Frame) sheetInHand() *catalog.Impression {
	switch p := f.places[f.at].(type) {
	case *tablePlace:
		return f.book.impressions[p.s]
	case *cameraPlace:
		if photo := f.book.photos[p.chosen]; photo != nil {
			return f.book.impressions[photo.ImpressionID]
		}
	}
	return nil
}

// begin shows the latest of the choice.
func (h *history) begin() {
	h.list.RemoveAll()
	h.shown, h.day = 0, ""
	h.read()
}

// read fetches, on a worker, what comes before the alterations shown.
func (h *history) read() {
	h.turn++
	turn, from, ids, f := h.turn, h.shown, h.of[h.which.Chosen], h.f
	f.work(func(ctx context.Context) func() {
		l, err := f.house.History(ctx, from+historyShown+1, ids...)
		return func() {
			if turn == h.turn {
				f.fail(err)
				h.show(l[min(from, len(l)):])
			}
		}
	})
}

func (h *history) show(l []Altered) {
	more := len(l) > historyShown
	if more {
		l = l[:historyShown]
	}
	if len(l) == 0 && h.shown == 0 {
		h.list.Add(look.Para(words.T("Nothing was changed since it was entered."), true))
	}
	h.shown += len(l)
	for _, a := range l {
		if d := words.Day(a.At); d != h.day {
			h.day = d
			h.list.Add(look.Label(d))
		}
		h.list.Add(h.f.alteredRow(a))
	}
	if more {
		h.list.Add(h.earlier())
	}
	h.list.Refresh()
}

// earlier is the button at the end, for what was changed before.
func (h *history) earlier() fyne.CanvasObject {
	var row *fyne.Container
	row = look.Row(0, look.NewButton(words.T("Show earlier"), look.IconUndo, func() {
		h.list.Remove(row)
		h.f.win.Canvas().Focus(h.which) // the button is gone
		h.read()
	}))
	return row
}

// alteredRow is one alteration: what was done, by whom, and the fields.
func (f *Frame) alteredRow(a Altered) fyne.CanvasObject {
	under := words.Clock(a.At)
	if a.Who != "" {
		under += " · " + a.Who
	}
	name := nounWords(a.Noun)
	if n := f.book.nameOf(a.Record); n != "" {
		name += " " + n
	}
	under += " · " + name
	switch {
	case a.Standing != "done":
		under += " · " + words.T("taken back")
	case a.Kind == "created":
		under += " · " + words.T("entered")
	case a.Kind == "removed":
		under += " · " + words.T("taken away")
	}
	col := look.Column(2, look.Line(a.Label).Giving(), look.Small(under).Giving())
	if a.Kind == "changed" {
		facts := look.Facts(150)
		for _, x := range a.Fields {
			facts.Add(look.Small(fieldWords(x.Name)).Giving())
			say := f.book.valueWords(x.Old) + "  →  " + f.book.valueWords(x.New)
			if x.Name == "quality" { // a page of figures, which the photograph shows with their advice
				say = words.T("judged anew")
			}
			facts.Add(look.Para(say, true))
		}
		col.Add(look.InsetEach(facts, 12, 0, 0, 0))
	}
	return col
}
