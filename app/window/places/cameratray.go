package places

import (
	"context"
	"slices"
	"sync/atomic"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// list makes the tray and says what is to be done with it.
func (c *cameraPlace) list(b *book) {
	c.waiting = slices.DeleteFunc(c.waiting, func(t Taken) bool {
		p := b.photos[t.PhotoID]
		return p != nil && (p.ImpressionID != "" || isAid(p))
	})
	c.items = c.trayOf(b, c.plate)
	ready, waiting := 0, 0
	for _, it := range c.items {
		if it.waiting {
			waiting++
			if it.taken.isSure() {
				ready++
			}
		}
	}
	c.again.Hidden = waiting == ready
	c.all.SetEnabled(ready > 0 && !c.f.house.ReadOnly())
	switch {
	case ready > 0:
		c.all.SetText(words.T("Confirm all that are sure (%d)", ready))
		c.say.SetText(words.T("Look through them, then confirm."))
	case waiting > 0:
		c.all.SetText(words.T("Confirm all"))
		c.say.SetText(words.T("Say what each one shows."))
	default:
		c.all.SetText(words.T("Confirm all"))
		c.say.SetText(words.T("Nothing waits to be confirmed."))
	}
	for i, it := range c.items {
		h := float32(60)
		if it.head != "" {
			h = 30
		}
		c.tray.SetItemHeight(i, h)
	}
	c.tray.Refresh()
}

// trayOf is what lies in the tray with a plate in hand: what waits to be
// confirmed, what was never filed, and what is filed with the plate.
func (c *cameraPlace) trayOf(b *book, plate *catalog.Plate) (items []trayItem) {
	group := func(head string, l []trayItem) {
		if len(l) > 0 {
			items = append(append(items, trayItem{head: head}), l...)
		}
	}
	var wait, filed, blank []trayItem
	in := map[catalog.ID]bool{}
	for _, t := range c.waiting {
		in[t.PhotoID] = true
		wait = append(wait, trayItem{taken: t, waiting: true})
	}
	for i := range b.Photographs {
		p := &b.Photographs[i]
		if isAid(p) {
			blank = append(blank, trayItem{taken: Taken{PhotoID: p.ID, Name: p.Name, View: p.View}})
			continue
		}
		if p.ImpressionID == "" && !in[p.ID] {
			wait = append(wait, trayItem{waiting: true, taken: Taken{PhotoID: p.ID, Name: p.Name, View: p.View, Why: words.T("not told")}})
		}
	}
	if plate != nil {
		for _, i := range b.impressionsOf[plate.ID] {
			for _, p := range b.photosOf[i.ID] {
				filed = append(filed, trayItem{taken: Taken{PhotoID: p.ID, Name: p.Name, View: p.View, PlateID: i.PlateID, StateID: i.StateID, ImpressionID: i.ID, Sure: p.FiledSure, Why: p.FiledBy}})
			}
		}
	}
	group(words.T("To confirm"), wait)
	group(words.T("Filed with this plate"), filed)
	group(words.T("Blank sheets and wedges"), blank)
	return items
}

// isAid reports whether a photograph is one of the light or the camera, and of no
// sheet.
func isAid(p *catalog.Photograph) bool {
	return p.View == catalog.ViewBlank || p.View == catalog.ViewWedge
}

// trayRow is a row of the tray: a heading or a photograph.
type trayRow struct {
	widget.BaseWidget
	pic         *pic
	name, under *look.Text
	mark        *look.Mark
	head        *look.Text
	body        *fyne.Container
	box         *fyne.Container
}

func (c *cameraPlace) newRow() fyne.CanvasObject {
	r := &trayRow{pic: newPic(c.f.pics, c.f.devicePixels(50), fyne.NewSize(56, 48)), name: look.Line("").Giving(), under: look.Small("").Giving(), mark: look.NewMark(look.NoVerdict), head: look.Label("")}
	r.body = look.Border(nil, nil, look.InsetEach(r.pic, 0, 0, 8, 0), r.mark, container.New(&midLayout{}, look.Column(1, r.name, r.under)))
	r.box = container.NewStack(look.Inset(r.body, 8, 4), look.InsetEach(r.head, 10, 8, 4, 0))
	r.ExtendBaseWidget(r)
	r.fold(false)
	return r
}

// fold makes the row a heading, or a photograph.
func (r *trayRow) fold(heading bool) {
	r.body.Hidden, r.head.Hidden = heading, !heading
}

// CreateRenderer is the toolkit's hook.
func (r *trayRow) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(r.box) }

func (c *cameraPlace) fillRow(i int, o fyne.CanvasObject) {
	r := o.(*trayRow)
	if i >= len(c.items) {
		return
	}
	it := c.items[i]
	r.head.SetText(it.head)
	if it.head != "" {
		r.fold(true)
		return
	}
	r.fold(false)
	r.pic.set(it.taken.PhotoID)
	r.name.SetText(it.taken.Name)
	b := c.f.book
	say, v := "", look.NoVerdict
	switch {
	case it.taken.View == catalog.ViewBlank || it.taken.View == catalog.ViewWedge:
		say = words.T(string(it.taken.View))
	case it.taken.Refused != "":
		say, v = it.taken.Refused, look.IsRefused
	case it.waiting && it.taken.PlateID == "":
		say, v = words.T("what does it show?"), look.CannotTell
	case b != nil:
		if p := b.plates[it.taken.PlateID]; p != nil {
			say = p.Title()
		}
		if s := b.states[it.taken.StateID]; s != nil {
			say += ", " + b.stateShort(s)
		}
		if x := b.impressions[it.taken.ImpressionID]; x != nil {
			say = b.stateShort(b.states[x.StateID]) + " · " + sheetName(x)
			v = verdictOf(b.scoreOf[x.ID])
		}
	}
	r.under.SetText(say)
	r.mark.Set(v)
}

// watcher has a folder watched whose new pictures come in by themselves.
type watcher struct {
	f    *Frame
	stop context.CancelFunc
}

func newWatcher(f *Frame) *watcher {
	w := &watcher{f: f}
	if dir := f.prefs.watched(); dir != "" {
		w.start(dir)
	}
	return w
}

// start watches a folder from now on; what lies there already stays.
func (w *watcher) start(dir string) {
	w.end()
	ctx, stop := context.WithCancel(w.f.ctx)
	w.stop = stop
	f := w.f
	var hand atomic.Value // the plate in hand, for the goroutine that watches
	hand.Store(f.plate)
	f.inHand = append(f.inHand, func(id catalog.ID) { hand.Store(id) })
	f.busy.Add(1)
	go func() {
		defer f.busy.Done()
		err := f.house.Watch(ctx, dir, func() Hint { return Hint{Plate: hand.Load().(catalog.ID)} }, func(t Taken) {
			f.post.do(func() { f.places[AtCamera].(*cameraPlace).came([]Taken{t}) })
		})
		if err != nil {
			f.post.do(func() { f.fail(err) })
		}
	}()
}

func (w *watcher) end() {
	if w.stop != nil {
		w.stop()
		w.stop = nil
	}
}
