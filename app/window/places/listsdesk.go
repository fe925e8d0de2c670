package places

import (
	"context"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// listsDesk is where the lists of the catalogue and its imprint are kept.
type listsDesk struct {
	f     *Frame
	b     *book
	kinds []listKind
	all   []listed // of the kind shown
	shown []listed
	turn  int

	which  *look.OneOf
	find   *field
	rows   *rowList
	say    *look.Text
	enter  *look.Button
	empty  *look.Paragraph
	list   fyne.CanvasObject
	form   *container.Scroll // the imprint
	middle *fyne.Container
	box    fyne.CanvasObject
}

func newListsDesk(f *Frame) *listsDesk {
	l := &listsDesk{f: f, kinds: listKinds()}
	var names []string
	for _, k := range l.kinds {
		names = append(names, k.name)
	}
	l.which = look.NewOneOf(func(int) { l.find.SetText(""); l.fill() }, append(names, words.T("Imprint"))...)
	l.find = blank()
	l.find.SetPlaceHolder(words.T("Find in this list"))
	l.find.OnChanged = func(string) { l.narrow() }
	l.rows = newRowList(func() int { return len(l.shown) }, func() fyne.CanvasObject { return newListRow(l) }, func(i int, o fyne.CanvasObject) {
		if i < len(l.shown) {
			o.(*listRow).set(l.shown[i])
		}
	})
	l.rows.HideSeparators = true
	l.say = look.Small("").Giving()
	l.enter = look.NewButton("", look.IconPlus, func() { l.open(l.kinds[l.which.Chosen].fresh()) })
	l.empty = look.Para("", true)
	head := look.Column(6, look.Border(nil, nil, nil, look.InsetEach(l.enter, 8, 0, 0, 0), l.find), l.say)
	l.list = look.Border(look.InsetEach(head, 0, 0, 0, 6), nil, nil, nil, container.NewStack(l.rows, container.NewVBox(l.empty)))
	l.form = container.NewVScroll(look.Space(1, 1))
	l.middle = container.NewStack(l.list)
	l.box = look.InsetEach(look.Border(nil, nil, look.InsetEach(container.NewVBox(l.which), 0, 0, 18, 0), nil, l.middle), 14, 4, 14, 10)
	return l
}

// showLists goes to one of the lists, or to the imprint after them.
func (f *Frame) showLists(which int) {
	d := f.places[AtDesk].(*deskPlace)
	f.goTo(AtDesk)
	d.segs.Choose(atLists)
	d.lists.which.Choose(which)
}

// show fills the lists from a catalogue.
func (l *listsDesk) show(b *book) {
	l.b = b
	l.fill()
}

func (l *listsDesk) fill() {
	if l.b == nil {
		return
	}
	if l.which.Chosen == len(l.kinds) {
		l.showImprint()
		return
	}
	l.middle.Objects = []fyne.CanvasObject{l.list}
	k, b := l.kinds[l.which.Chosen], l.b
	l.enter.SetText(k.enter)
	l.enter.SetEnabled(!l.f.house.ReadOnly())
	l.turn++
	turn := l.turn
	l.f.work(func(context.Context) func() {
		all := k.rows(b)
		return func() {
			if turn == l.turn {
				l.all = all
				l.narrow()
				l.middle.Refresh()
			}
		}
	})
}

// narrow shows the lines in which every word looked for stands.
func (l *listsDesk) narrow() {
	want := strings.Fields(strings.ToLower(l.find.Text))
	l.shown = nil
	for _, x := range l.all {
		if containsAll(strings.ToLower(x.name+" "+x.detail), want) {
			l.shown = append(l.shown, x)
		}
	}
	l.say.SetText(words.T("%d of %d", len(l.shown), len(l.all)))
	switch {
	case len(l.all) == 0:
		l.empty.SetText(words.T("Nothing stands in this list yet. It grows by itself as you write at the press and at the desk, and here by hand."))
	case len(l.shown) == 0:
		l.empty.SetText(words.T("Nothing in this list is called that."))
	}
	l.empty.Hidden = len(l.shown) > 0
	l.rows.UnselectAll()
	l.rows.Refresh()
}

// open edits a record of the lists.
func (l *listsDesk) open(record any) {
	f := l.f
	facts, needs := factsOf(record)
	if paper, ok := record.(*catalog.Paper); ok {
		facts = append(facts, l.watermark(paper))
	}
	name, _ := recordWords(record)
	isNew := recordID(record) == ""
	title, verb := name, words.T("Keep")
	if isNew {
		title, verb = strings.TrimSuffix(l.kinds[l.which.Chosen].enter, "…"), words.T("Enter it")
	}
	content := look.Column(10, factForm(150, facts))
	var others []fyne.CanvasObject
	var a *ask
	if !isNew {
		drop := look.QuietButton(words.T("Remove"), look.IconCross, func() {
			a.away()
			f.change(func(ctx context.Context) error {
				return f.house.Delete(ctx, words.T("remove %s", name), record)
			})
		})
		if uses := l.usesOf(record); uses > 0 {
			drop.Disable()
			content.Add(look.Para(words.N("Named by %d records; it can be removed when none names it any more.", uses), true))
		}
		others = append(others, drop)
	}
	var do func() error
	if !f.house.ReadOnly() {
		do = func() error {
			if err := takeAll(facts); err != nil {
				return err
			}
			if strings.TrimSpace(*needs) == "" {
				return sentence("Without a name it could not be found again; write one in the first line.")
			}
			now, _ := recordWords(record)
			if isNew {
				f.save(words.T("enter %s", now), record)
			} else {
				f.save(words.T("edit %s", now), record)
			}
			return nil
		}
	}
	a = f.ask(title, container.NewVScroll(look.InsetEach(content, 2, 0, 10, 4)), fyne.NewSize(560, 470), verb, do, others...)
	f.win.Canvas().Focus(facts[0].field.(fyne.Focusable))
}

func (l *listsDesk) usesOf(record any) int {
	for _, x := range l.all {
		if recordID(x.record) == recordID(record) {
			return x.uses
		}
	}
	return 0
}

// showImprint shows what the catalogue says of itself; each field is kept when
// it is left.
func (l *listsDesk) showImprint() {
	f := l.f
	m := l.b.Imprint
	facts := imprintFacts(l.b, &m)
	for _, x := range facts {
		x.left(func() {
			if err := x.take(); err != nil {
				f.fail(err)
				return
			}
			kept := m
			f.save(words.T("edit the imprint"), &kept)
		})
	}
	say := look.Para(words.T("What stands on the title page, in the imprint and in the colophon of the printed catalogue, and what holds for every plate that says nothing else."), true)
	l.form.Content = look.InsetEach(look.Column(10, say, factForm(150, facts)), 0, 0, 10, 10)
	l.form.Refresh()
	l.middle.Objects = []fyne.CanvasObject{l.form}
	l.middle.Refresh()
}

// listRow is one line of a list; a tap opens it.
type listRow struct {
	widget.BaseWidget
	l      *listsDesk
	record any
	name   *look.Text
	detail *look.Text
	uses   *look.Text
	box    *fyne.Container
}

func newListRow(l *listsDesk) *listRow {
	r := &listRow{l: l, name: look.Line("").Giving(), detail: look.Small("").Giving(), uses: look.Small("").Giving().Aligned(fyne.TextAlignTrailing)}
	r.box = container.New(shares{[]float32{10, 14, 5}, 27}, r.name, r.detail, r.uses)
	r.ExtendBaseWidget(r)
	return r
}

func (r *listRow) set(x listed) {
	r.record = x.record
	r.name.SetText(x.name)
	r.detail.SetText(x.detail)
	say := words.T("not named")
	if x.uses > 0 {
		say = words.N("named %d times", x.uses)
	}
	r.uses.SetText(say)
}

// Tapped opens the record.
func (r *listRow) Tapped(*fyne.PointEvent) {
	if r.record != nil {
		r.l.open(copyOf(r.record))
	}
}

// copyOf is the record apart from the catalogue as it was read.
func copyOf(record any) any {
	switch r := record.(type) {
	case *catalog.Person:
		c := *r
		return &c
	case *catalog.Holder:
		c := *r
		return &c
	case *catalog.Paper:
		c := *r
		return &c
	case *catalog.Ink:
		c := *r
		return &c
	case *catalog.Press:
		c := *r
		return &c
	case *catalog.Group:
		c := *r
		return &c
	case *catalog.Literature:
		c := *r
		return &c
	case *catalog.Exhibition:
		c := *r
		return &c
	}
	return record
}

// CreateRenderer is the toolkit's hook.
func (r *listRow) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(r.box) }
