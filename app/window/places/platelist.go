package places

import (
	"context"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// plateList is the list that is always at hand.
type plateList struct {
	f      *Frame
	rows   []plateRow // all
	shown  []plateRow
	wish   plateWish
	asked  int // counts searches, so that late answers are dropped
	list   *rowList
	search *field
	count  *look.Text
	clear  *look.Button
	empty  *fyne.Container
	box    fyne.CanvasObject
	quiet  bool // the selection is being set, not made
}

func newPlateList(f *Frame) *plateList {
	l := &plateList{f: f}
	l.search = blank()
	l.search.SetPlaceHolder(words.T("Find a plate"))
	l.search.OnChanged = func(s string) { l.wish.text = s; l.find() }
	l.search.OnSubmitted = func(string) {
		if len(l.shown) > 0 {
			f.choosePlate(l.shown[0].id)
		}
	}
	l.list = newRowList(func() int { return len(l.shown) }, l.newRow, l.fillRow)
	l.list.HideSeparators = true
	l.list.OnSelected = func(i int) {
		if !l.quiet && i < len(l.shown) {
			f.choosePlate(l.shown[i].id)
		}
	}
	l.count = look.Small("").Giving()
	l.clear = look.QuietButton(words.T("Show all"), look.IconCross, l.showAll)
	l.clear.Hide()
	var filter, order *look.Button
	filter = look.QuietButton("", look.IconFilter, func() { l.menu(filter, l.filters()) })
	order = look.QuietButton("", look.IconOrder, func() { l.menu(order, l.orders()) })
	top := look.Column(2,
		look.Border(nil, nil, nil, look.Row(0, filter, order), l.search),
		look.Border(nil, nil, nil, l.clear, l.count))
	l.empty = container.NewStack()
	l.box = look.OnPanel(look.Border(look.InsetEach(top, 10, 8, 8, 4), nil, nil, nil,
		container.NewStack(l.list, l.empty)))
	return l
}

func (l *plateList) menu(at fyne.CanvasObject, items []*fyne.MenuItem) {
	widget.ShowPopUpMenuAtRelativePosition(fyne.NewMenu("", items...), l.f.win.Canvas(), fyne.NewPos(0, at.Size().Height), at)
}

func (l *plateList) filters() []*fyne.MenuItem {
	item := func(label string, on bool, set func()) *fyne.MenuItem {
		m := fyne.NewMenuItem(label, func() { set(); l.find() })
		m.Checked = on
		return m
	}
	items := []*fyne.MenuItem{
		item(words.T("With sheets not decided on"), l.wish.undecided, func() { l.wish.undecided = !l.wish.undecided }),
		item(words.T("With photographs not measured"), l.wish.unread, func() { l.wish.unread = !l.wish.unread }),
		fyne.NewMenuItemSeparator(),
	}
	var techs []catalog.Technique
	for _, r := range l.rows {
		for _, t := range r.techs {
			if !slices.Contains(techs, t) {
				techs = append(techs, t)
			}
		}
	}
	slices.Sort(techs)
	items = append(items, item(words.T("Every technique"), l.wish.technique == "", func() { l.wish.technique = "" }))
	for _, t := range techs {
		items = append(items, item(words.T(string(t)), l.wish.technique == t, func() { l.wish.technique = t }))
	}
	items = append(items, fyne.NewMenuItemSeparator())
	for k := range facets {
		values := l.f.facetValues(l.rows, k)
		if len(values) == 0 {
			continue
		}
		m := fyne.NewMenuItem(facetName(k), nil)
		m.Checked = l.wish.only[k] != ""
		any := item(words.T("any"), l.wish.only[k] == "", func() { l.wish.only[k] = "" })
		m.ChildMenu = fyne.NewMenu("", any)
		for _, v := range values {
			m.ChildMenu.Items = append(m.ChildMenu.Items, item(v.name, l.wish.only[k] == v.id, func() { l.wish.only[k] = v.id }))
		}
		items = append(items, m)
	}
	return items
}

func (l *plateList) orders() []*fyne.MenuItem {
	var items []*fyne.MenuItem
	for i, s := range []string{words.T("By number"), words.T("By title"), words.T("By year"), words.T("Last printed first"), words.T("Least life left first")} {
		m := fyne.NewMenuItem(s, func() { l.wish.order = plateOrder(i); l.find() })
		m.Checked = l.wish.order == plateOrder(i)
		items = append(items, m)
	}
	return items
}

func (l *plateList) showAll() {
	l.wish = plateWish{order: l.wish.order}
	l.search.SetText("")
	l.find()
}

// find filters and sorts on a worker; the store is asked too, so that words of
// impressions and holders find their plate.
func (l *plateList) find() {
	l.asked++
	asked, wish, rows, f := l.asked, l.wish, l.rows, l.f
	lives := f.lives.copy()
	f.work(func(ctx context.Context) func() {
		hits := map[catalog.ID]bool{}
		if len([]rune(wish.text)) > 1 {
			if ids, err := f.house.Search(ctx, wish.text); err == nil {
				for _, id := range ids {
					hits[id] = true
				}
			}
		}
		shown := choose(rows, wish, hits, func(r plateRow) float64 { return lifeRank(lives[r.id], r.ended) })
		return func() {
			if asked == l.asked {
				l.show(shown)
			}
		}
	})
}

func (l *plateList) show(rows []plateRow) {
	l.shown = rows
	w := l.wish
	filtered := w.narrowed()
	if filtered {
		l.count.SetText(words.T("%d of %s", len(rows), words.N("%d plates", len(l.rows))))
		l.clear.Show()
	} else {
		l.count.SetText(words.N("%d plates", len(rows)))
		l.clear.Hide()
	}
	l.empty.RemoveAll()
	if len(rows) == 0 {
		if filtered {
			l.empty.Add(look.Middle(look.Wide(200, look.Para(words.T("No plate answers to this. Show all, or look for fewer words."), true))))
		} else {
			l.empty.Add(look.Middle(look.Column(8, look.Wide(200, look.Para(words.T("No plate is entered yet."), true)),
				look.Middle(look.NewButton(words.T("Enter a plate"), look.IconPlus, l.f.enterPlate)))))
		}
	}
	l.empty.Refresh()
	l.list.Refresh()
	l.mark()
}

// mark shows the plate in hand as the chosen row.
func (l *plateList) mark() {
	l.quiet = true
	defer func() { l.quiet = false }()
	for i, r := range l.shown {
		if r.id == l.f.plate {
			l.list.Select(i)
			return
		}
	}
	l.list.UnselectAll()
}

// rowItem is one row of the list.
type rowItem struct {
	widget.BaseWidget
	pic           *pic
	title         *look.Text
	number        *look.Text
	second, third *look.Text
	life          *look.Life
	lifeBox, foot *fyne.Container
	ended         bool // no life is left to be drawn
}

func (l *plateList) newRow() fyne.CanvasObject {
	r := &rowItem{
		pic:    platePic(l.f.pics, l.f.devicePixels(62), fyne.NewSize(66, 56)),
		title:  look.Title("").Giving(),
		number: look.NewText("", look.Serif, look.TitleSize, look.Copper),
		second: look.Small("").Giving(),
		third:  look.Small("").Giving(),
		life:   look.NewLife(-1),
	}
	r.ExtendBaseWidget(r)
	return r
}

// CreateRenderer is the toolkit's hook.
func (r *rowItem) CreateRenderer() fyne.WidgetRenderer {
	top := look.Border(nil, nil, nil, r.number, r.title)
	r.lifeBox = container.NewStack(look.InsetEach(r.life, 0, 3, 8, 3))
	r.foot = look.Border(nil, nil, r.lifeBox, nil, r.third)
	r.lifeBox.Hidden = r.ended
	return widget.NewSimpleRenderer(look.Inset(look.Border(nil, nil,
		look.InsetEach(r.pic, 0, 0, 8, 0), nil, look.Column(1, top, r.second, r.foot)), 8, 5))
}

func (l *plateList) fillRow(i int, o fyne.CanvasObject) {
	r := o.(*rowItem)
	if i >= len(l.shown) {
		return
	}
	row := l.shown[i]
	r.pic.set(row.photo)
	r.title.SetText(row.title)
	r.number.SetText(numberWords(row.number))
	r.second.SetText(row.second)
	v := l.f.lifeOf(row.id)
	r.life.Set(v.share)
	if r.ended != v.ended {
		if r.ended = v.ended; r.foot != nil {
			r.lifeBox.Hidden = r.ended
			r.foot.Refresh()
		}
	}
	if v.ended {
		r.third.SetText(v.words + " · " + words.N("%d impressions", row.sheets))
	} else {
		r.third.SetText(row.third)
	}
}

// next moves the choice by n rows.
func (l *plateList) next(n int) {
	at := -1
	for i, r := range l.shown {
		if r.id == l.f.plate {
			at = i
		}
	}
	if i := at + n; i >= 0 && i < len(l.shown) {
		l.f.choosePlate(l.shown[i].id)
	}
}
