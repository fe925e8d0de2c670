package places

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// shares sets objects in columns that take shares of the width.
type shares struct {
	part []float32
	h    float32
}

// narrowLog is the width of the log, before the text scale, below which the ink
// is left out of it.
const narrowLog = 520

// logShares are the columns of the log: sheet, pull, time, paper, ink, wiping,
// dry from. In a narrow one the ink, which seldom changes, gives way to what does.
type logShares struct{}

func (logShares) columns(width float32, o []fyne.CanvasObject) ([]fyne.CanvasObject, shares) {
	if width > narrowLog*theme.TextSize()/13 {
		o[4].Show()
		return o, shares{[]float32{9, 5, 7, 18, 14, 22, 15}, 24}
	}
	o[4].Hide()
	return slices.Delete(slices.Clone(o), 4, 5), shares{[]float32{9, 7, 8, 17, 20, 16}, 24}
}

func (l logShares) Layout(o []fyne.CanvasObject, s fyne.Size) {
	o, by := l.columns(s.Width, o)
	by.Layout(o, s)
}

func (logShares) MinSize(o []fyne.CanvasObject) fyne.Size { return shares{h: 24}.MinSize(o) }

func (l shares) Layout(o []fyne.CanvasObject, s fyne.Size) {
	sum := float32(0)
	for _, p := range l.part {
		sum += p
	}
	x, all := float32(0), s.Width+8
	for i, c := range o {
		w := all * l.part[i] / sum
		h := c.MinSize().Height
		c.Move(fyne.NewPos(whole(x), whole((s.Height-h)/2)))
		c.Resize(fyne.NewSize(w-8, h))
		x += w
	}
}

func (l shares) MinSize(o []fyne.CanvasObject) fyne.Size {
	h := l.h
	for _, c := range o {
		h = max(h, c.MinSize().Height+4)
	}
	return fyne.NewSize(200, h)
}

// logRow is one pull in the log.
type logRow struct {
	widget.BaseWidget
	cells [7]*look.Text
	box   *fyne.Container
}

func newLogRow() fyne.CanvasObject {
	r := &logRow{}
	var o []fyne.CanvasObject
	for i := range r.cells {
		r.cells[i] = look.Line("").Giving()
		o = append(o, r.cells[i])
	}
	r.box = container.New(logShares{}, o...)
	r.ExtendBaseWidget(r)
	return r
}

func (r *logRow) head() {
	for i, s := range []string{words.T("Sheet"), words.T("Pull"), words.T("Time"), words.T("Paper"), words.T("Ink"), words.T("Wiping"), words.T("Dry from")} {
		r.cells[i] = look.Label(s)
		r.box.Objects[i] = r.cells[i]
	}
}

func (r *logRow) set(d dayRow) {
	for i, s := range []string{d.number, d.pull, d.time, d.paper, d.ink, d.wiping, d.dry} {
		r.cells[i].SetText(s)
	}
}

// CreateRenderer is the toolkit's hook.
func (r *logRow) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(r.box) }

// rackRow is one sheet on the drying rack.
type rackRow struct {
	widget.BaseWidget
	what, when *look.Text
}

func newRackRow() fyne.CanvasObject {
	r := &rackRow{what: look.Line("").Giving(), when: look.Small("")}
	r.ExtendBaseWidget(r)
	return r
}

func (r *rackRow) set(b *book, i *catalog.Impression) {
	name := sheetName(i)
	if p := b.plates[i.PlateID]; p != nil {
		name += " · " + p.Title()
	}
	r.what.SetText(name)
	r.when.SetText(words.T("dry from %s", words.DayClock(i.DryFrom)))
}

// CreateRenderer is the toolkit's hook.
func (r *rackRow) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(look.Border(nil, nil, nil, r.when, r.what))
}

// big fills the window with what is read from two metres.
func (p *pressPlace) big() {
	if p.plate == nil || p.f.book == nil || p.work[p.plate.ID] == nil {
		return
	}
	if p.f.overlay != nil {
		p.f.overlay.away()
		return
	}
	b := &bigPress{p: p}
	p.f.overlay = b
	b.open()
}

// bigPress is the log in big type: one number, one count, one warning.
type bigPress struct {
	p      *pressPlace
	title  *look.Text
	next   *look.Text
	counts *look.Text
	warn   *look.Text
	last   *look.Text
}

func (b *bigPress) open() {
	b.title = look.Head("").Giving().Aligned(fyne.TextAlignCenter).Times(1.4)
	b.next = look.NewText("", look.Serif, look.HeadSize, look.Ink).Giving().Aligned(fyne.TextAlignCenter).Times(9)
	b.counts = look.Head("").Giving().Aligned(fyne.TextAlignCenter).Times(1.6)
	b.last = look.NewText("", look.Plain, look.HeadSize, look.Muted).Giving().Aligned(fyne.TextAlignCenter)
	b.warn = look.NewText("", look.Bold, look.HeadSize, look.Unsure).Giving().Aligned(fyne.TextAlignCenter)
	keys := look.NewText(words.T("Space: pulled · Backspace: take back · Escape: leave big type"), look.Plain, theme.SizeNameHeadingText, look.Muted).Giving().Aligned(fyne.TextAlignCenter)
	col := look.Column(10, b.title, b.next, b.counts, b.last, b.warn)
	b.p.f.win.SetContent(container.NewStack(look.NewFill(look.Leaf),
		look.Border(nil, look.Inset(keys, 20, 20), nil, nil, container.New(&midLayout{}, look.Inset(col, 30, 0)))))
	b.show()
}

func (b *bigPress) show() {
	p := b.p
	b.title.SetText(p.plate.Title())
	b.next.SetText(p.next.Words())
	b.counts.SetText(p.edSay.Words() + " · " + p.nextSub.Words())
	b.last.SetText("")
	if len(p.rows) > 0 {
		r := p.rows[0]
		b.last.SetText(words.T("last: %s at %s", r.number, r.time))
	}
	b.warn.SetText("")
	if p.warnBox.Visible() {
		b.warn.SetText(p.warn.Words())
	}
}

func (b *bigPress) away() {
	b.p.f.overlay = nil
	b.p.f.win.SetContent(b.p.f.root)
}

func (b *bigPress) key(e *fyne.KeyEvent) {
	if e.Name == fyne.KeyEscape {
		b.away()
		return
	}
	b.p.key(e)
}

// midLayout centres its object in height and gives it the whole width.
type midLayout struct{}

func (midLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	for _, x := range o {
		h := x.MinSize().Height
		x.Move(fyne.NewPos(0, whole((s.Height-h)/2)))
		x.Resize(fyne.NewSize(s.Width, h))
	}
}
func (midLayout) MinSize(o []fyne.CanvasObject) fyne.Size { return o[0].MinSize() }

// whole rounds a position to whole units, where letters are sharp.
func whole(v float32) float32 { return float32(int(v + 0.5)) }
