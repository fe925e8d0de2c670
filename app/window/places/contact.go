package places

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// contactView lays all sheets of a state out in pull order, with their scores
// and the wear curve of the plate.
type contactView struct {
	t      *tablePlace
	state  catalog.ID // empty: all states
	sheets []*catalog.Impression
	states []catalog.ID
	pick   *choice
	count  *look.Text
	grid   *cellGrid
	curve  *curve
	box    fyne.CanvasObject
	quiet  bool
	cell   float32 // width of a cell
	said   string  // how many sheets there are
	turn   int     // of the last ordering asked for
}

func newContactView(t *tablePlace) *contactView {
	c := &contactView{t: t, count: look.Small("").Giving(), curve: newCurve(), cell: 168}
	c.pick = newSelect(nil, func(string) {
		if i := c.pick.SelectedIndex(); !c.quiet && i >= 0 {
			c.state = c.states[i]
			c.fill()
		}
	})
	c.grid = newCellGrid(func() int { return len(c.sheets) }, c.newCell, func(i int, o fyne.CanvasObject) {
		if i < len(c.sheets) {
			o.(*contactCell).set(c, c.sheets[i])
		}
	})
	c.curve.picked = func(id catalog.ID) { t.put(id); c.grid.Refresh() }
	top := look.Border(nil, nil, look.Wide(180, c.pick), nil, look.Inset(c.count, 8, 0))
	plot := look.Border(look.HRule(), nil, nil, nil, c.curve)
	c.box = look.Inset(look.Border(look.InsetEach(top, 0, 0, 0, 6), nil, nil, nil, container.New(overPlot{}, container.New(&cellsLayout{c}, c.grid), plot)), 10, 0)
	return c
}

func (c *contactView) show(b *book, plate *catalog.Plate) {
	if b == nil || plate == nil {
		return
	}
	c.quiet = true
	names := []string{words.T("every state")}
	c.states = []catalog.ID{""}
	for _, s := range b.statesOf[plate.ID] {
		names = append(names, b.stateWords(s))
		c.states = append(c.states, s.ID)
	}
	c.pick.Options = names
	at := 0
	for i, id := range c.states {
		if id == c.state {
			at = i
		}
	}
	c.state = c.states[at]
	c.pick.SetSelectedIndex(at)
	c.quiet = false
	c.fill()
}

func (c *contactView) fill() {
	t := c.t
	if t.b == nil || t.plate == nil {
		return
	}
	c.sheets = nil
	scored := 0
	for _, i := range t.b.inState(t.plate.ID, c.state) {
		if t.b.photoOf(i.ID) != nil {
			c.sheets = append(c.sheets, i)
			if t.b.scoreOf[i.ID] != nil {
				scored++
			}
		}
	}
	c.said = words.T("%s in pull order, %d measured", words.N("%d sheets", len(c.sheets)), scored)
	c.count.SetText(c.said)
	c.grid.Refresh()
	c.placeByWear()
	c.curveCame()
}

// curveCame draws the wear curve with what is known now.
func (c *contactView) curveCame() {
	t := c.t
	if t.b == nil || t.plate == nil {
		return
	}
	var pts []curvePoint
	limit := 0.0
	for _, i := range t.b.inState(t.plate.ID, c.state) {
		sc := t.b.scoreOf[i.ID]
		if sc == nil || i.Pull == 0 {
			continue
		}
		v := sc.InkLoss
		if v == nil {
			continue
		}
		limit = sc.Limit
		pts = append(pts, curvePoint{id: i.ID, pull: float64(i.Pull), v: *v, verdict: verdictOf(sc), chosen: i.ID == t.s})
	}
	c.curve.set(pts, t.f.lifeOf(t.plate.ID).forecast, limit)
}

// overPlot sets the sheets over the plot, which takes the lower third where the
// window is high, and never less than it can be read in.
type overPlot struct{}

const leastPlot = 210

func (overPlot) Layout(o []fyne.CanvasObject, s fyne.Size) {
	high := max(leastPlot, float32(int(s.Height*0.34)))
	o[0].Resize(fyne.NewSize(s.Width, max(s.Height-high, 0)))
	o[1].Move(fyne.NewPos(0, s.Height-high))
	o[1].Resize(fyne.NewSize(s.Width, high))
}

func (overPlot) MinSize(o []fyne.CanvasObject) fyne.Size {
	a, b := o[0].MinSize(), o[1].MinSize()
	return fyne.NewSize(max(a.Width, b.Width), a.Height+leastPlot)
}

// cellsLayout chooses the width of cells so that a whole number of them fills
// the row.
type cellsLayout struct{ c *contactView }

func (l *cellsLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	pad := theme.Padding()
	n := max(1, float32(int((s.Width-14+pad)/(156+pad))))
	if w := (s.Width - 14 - pad*(n-1)) / n; w > 40 && (w > l.c.cell+0.5 || w < l.c.cell-0.5) {
		l.c.cell = w
		l.c.grid.Refresh()
	}
	o[0].Resize(s)
}
func (l *cellsLayout) MinSize(o []fyne.CanvasObject) fyne.Size { return o[0].MinSize() }

// contactCell is one sheet of the contact view.
type contactCell struct {
	widget.BaseWidget
	c           *contactView
	id          catalog.ID
	pic         *pic
	name, under *look.Text
	mark        *look.Mark
	chosen      bool
}

// largeContact is the count of sheets above which cells show whole thumbnails.
const largeContact = 300

func (c *contactView) newCell() fyne.CanvasObject {
	make := platePic
	if len(c.sheets) > largeContact { // cutting each plate from the larger picture costs too much to leaf through thousands
		make = newPic
	}
	x := &contactCell{c: c, pic: make(c.t.f.pics, c.t.f.devicePixels(c.cell-20), fyne.NewSize(c.cell-10, (c.cell-10)*0.78)), name: look.Line("").Giving(), under: look.Small("").Giving(), mark: look.NewMark(look.NoVerdict)}
	x.ExtendBaseWidget(x)
	return x
}

// CreateRenderer is the toolkit's hook. The cell lays its parts out by itself:
// containers within containers cost too much where a wheel runs over thousands.
func (x *contactCell) CreateRenderer() fyne.WidgetRenderer {
	return &contactCellRenderer{x, canvas.NewRectangle(color.Transparent)}
}

type contactCellRenderer struct {
	x   *contactCell
	bed *canvas.Rectangle
}

// cellEdge is the room round a cell's parts, cellGap that between its rows.
const cellEdge, cellGap = 5, 2

func (r *contactCellRenderer) Layout(s fyne.Size) {
	x, wide := r.x, s.Width-2*cellEdge
	r.bed.Resize(s)
	at := float32(cellEdge)
	put := func(o fyne.CanvasObject, left, w, h float32) {
		o.Move(fyne.NewPos(cellEdge+left, at))
		o.Resize(fyne.NewSize(w, h))
	}
	mark, name := x.mark.MinSize().Width, x.name.MinSize().Height
	put(x.pic, 0, wide, x.pic.MinSize().Height)
	at += x.pic.MinSize().Height + cellGap
	put(x.name, 0, wide-mark, name)
	put(x.mark, wide-mark, mark, name)
	at += name + cellGap
	put(x.under, 0, wide, x.under.MinSize().Height)
}

func (r *contactCellRenderer) MinSize() fyne.Size {
	x, pic := r.x, r.x.pic.MinSize()
	return fyne.NewSize(pic.Width+2*cellEdge, pic.Height+x.name.MinSize().Height+x.under.MinSize().Height+2*cellGap+2*cellEdge)
}

func (r *contactCellRenderer) Refresh() {
	r.bed.FillColor = color.Transparent
	if r.x.chosen {
		r.bed.FillColor = look.Colour(look.Chosen)
	}
	r.Layout(r.x.Size())
	r.bed.Refresh()
}

func (r *contactCellRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.bed, r.x.pic, r.x.name, r.x.mark, r.x.under}
}
func (r *contactCellRenderer) Destroy() {}

func (x *contactCell) set(c *contactView, i *catalog.Impression) {
	x.c, x.id = c, i.ID
	photo := catalog.ID("")
	if p := c.t.b.photoOf(i.ID); p != nil {
		photo = p.ID
	}
	again := x.pic.shape(c.t.f.devicePixels(c.cell-20), fyne.NewSize(c.cell-10, (c.cell-10)*0.78))
	x.pic.set(photo)
	name := c.t.b.stateShort(c.t.b.states[i.StateID]) + " · " + sheetName(i)
	x.name.SetText(name)
	sc := c.t.b.scoreOf[i.ID]
	x.mark.Set(verdictOf(sc))
	switch {
	case sc == nil:
		x.under.SetText(verdictWords(nil))
	case sc.InkLoss != nil:
		x.under.SetText(words.T("loss %s ± %s", words.Percent(sc.InkLoss.V, 1), words.Percent(sc.InkLoss.U, 1)))
	default:
		x.under.SetText(verdictWords(sc))
	}
	if is := c.t.s == i.ID; is != x.chosen || again {
		x.chosen = is
		x.Refresh()
	}
}

// Tapped shows the sheet's scores; a second tap lays it beside the reference.
func (x *contactCell) Tapped(*fyne.PointEvent) {
	t := x.c.t
	if t.s == x.id {
		t.modes.Choose(0)
		return
	}
	t.put(x.id)
	x.c.grid.Refresh()
	x.c.curveCame()
}

// Cursor is the toolkit's hook.
func (x *contactCell) Cursor() desktop.Cursor { return desktop.PointerCursor }
