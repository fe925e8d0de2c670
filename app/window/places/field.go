package places

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
)

// The toolkit's widgets as the window uses them: each gives Escape and F1 on
// to the window, which the toolkit's own would swallow.

// field is an entry that tells what was written when it is left or Return is
// pressed, so that one piece of writing is one step of undo.
type field struct {
	widget.Entry
	done func(string)
	was  string
}

// newField is a field with text in it; many lets it have several lines.
func newField(text string, many bool, done func(string)) *field {
	e := &field{done: done, was: text}
	e.MultiLine = many
	e.Wrapping = fyne.TextWrapOff
	if many {
		e.Wrapping = fyne.TextWrapWord
		e.SetMinRowsVisible(min(max(2, strings.Count(text, "\n")+1+len(text)/70), 9))
	}
	e.ExtendBaseWidget(e)
	e.Text = text
	e.OnSubmitted = func(string) { e.commit() }
	return e
}

// blank is an empty field of one line.
func blank() *field { return newField("", false, nil) }

func (e *field) commit() {
	if e.Text == e.was {
		return
	}
	e.was = e.Text
	if e.done != nil {
		e.done(strings.TrimSpace(e.Text))
	}
}

// FocusLost keeps what was written.
func (e *field) FocusLost() {
	e.Entry.FocusLost()
	e.commit()
}

// TypedKey is the toolkit's hook.
func (e *field) TypedKey(k *fyne.KeyEvent) {
	if !look.PassOn(e, k) {
		e.Entry.TypedKey(k)
	}
}

// choice is a drop-down list.
type choice struct{ widget.Select }

// newSelect is a choice with our own word for none.
func newSelect(options []string, changed func(string)) *choice {
	c := &choice{}
	c.Options, c.OnChanged, c.PlaceHolder = options, changed, words.T("choose")
	c.ExtendBaseWidget(c)
	return c
}

// TypedKey is the toolkit's hook.
func (c *choice) TypedKey(k *fyne.KeyEvent) {
	switch {
	case look.PassOn(c, k):
	case len(c.Options) > longChoice && (k.Name == fyne.KeySpace || k.Name == fyne.KeyUp || k.Name == fyne.KeyDown):
		c.openLong()
	default:
		c.Select.TypedKey(k)
	}
}

// Tapped is the toolkit's hook.
func (c *choice) Tapped(e *fyne.PointEvent) {
	if len(c.Options) > longChoice && !c.Disabled() {
		c.openLong()
		return
	}
	c.Select.Tapped(e)
}

// longChoice is the count of choices above which they are searched: a menu of
// all the sheets of a large edition would be of no use, and slow.
const longChoice = 40

// openLong shows many choices as a list that can be searched.
func (c *choice) openLong() {
	d := fyne.CurrentApp().Driver()
	shown := make([]int, len(c.Options))
	for i := range shown {
		shown[i] = i
	}
	var pop *widget.PopUp
	find := blank()
	find.SetPlaceHolder(words.T("Find"))
	list := newRowList(func() int { return len(shown) }, func() fyne.CanvasObject { return look.Inset(look.Line("").Giving(), 6, 4) }, func(i int, o fyne.CanvasObject) {
		if i < len(shown) {
			o.(*fyne.Container).Objects[0].(*look.Text).SetText(c.Options[shown[i]])
		}
	})
	list.HideSeparators = true
	take := func(i int) {
		pop.Hide()
		c.SetSelectedIndex(shown[i])
	}
	list.OnSelected = take
	find.OnChanged = func(s string) {
		shown = shown[:0]
		for i, o := range c.Options {
			if containsAll(strings.ToLower(o), strings.Fields(strings.ToLower(s))) {
				shown = append(shown, i)
			}
		}
		list.Refresh()
	}
	find.OnSubmitted = func(string) {
		if len(shown) > 0 {
			take(0)
		}
	}
	canvas := d.CanvasForObject(c)
	pop = widget.NewPopUp(look.Border(look.InsetEach(find, 0, 0, 0, 4), nil, nil, nil, list), canvas)
	at := d.AbsolutePositionForObject(c).AddXY(0, c.Size().Height)
	pop.ShowAtPosition(at)
	pop.Resize(fyne.NewSize(max(c.Size().Width, 220), min(420, canvas.Size().Height-at.Y-20)))
	if i := c.SelectedIndex(); i >= 0 {
		list.ScrollTo(i)
	}
	canvas.Focus(find)
}

// containsAll reports whether every word stands in a text.
func containsAll(text string, want []string) bool {
	for _, w := range want {
		if !strings.Contains(text, w) {
			return false
		}
	}
	return true
}

// combo is a field that offers what was written before. done is told when it
// is left, when Return is pressed, and when something offered is taken.
type combo struct {
	widget.SelectEntry
	offers []string
	done   func(string)
	was    string
}

func newCombo(offers []string) *combo { return newComboWith("", offers, nil) }

func newComboWith(text string, offers []string, done func(string)) *combo {
	c := &combo{offers: offers, done: done, was: text}
	c.Wrapping = fyne.TextWrap(fyne.TextTruncateClip)
	open := widget.NewButtonWithIcon("", theme.Icon(theme.IconNameArrowDropDown), c.open)
	open.Importance = widget.LowImportance
	c.ActionItem = open
	c.Text = text
	c.OnSubmitted = func(string) { c.commit() }
	c.ExtendBaseWidget(c)
	return c
}

// SetOptions changes what is offered.
func (c *combo) SetOptions(offers []string) { c.offers = offers }

// open shows what is offered under the field.
func (c *combo) open() {
	if c.Disabled() || len(c.offers) == 0 {
		return
	}
	var items []*fyne.MenuItem
	for _, o := range c.offers {
		items = append(items, fyne.NewMenuItem(o, func() {
			c.SetText(o)
			c.commit()
		}))
	}
	d := fyne.CurrentApp().Driver()
	pop := widget.NewPopUpMenu(fyne.NewMenu("", items...), d.CanvasForObject(c))
	pop.ShowAtPosition(d.AbsolutePositionForObject(c).AddXY(0, c.Size().Height))
	pop.Resize(fyne.NewSize(c.Size().Width, pop.MinSize().Height))
}

func (c *combo) commit() {
	if c.Text == c.was {
		return
	}
	c.was = c.Text
	if c.done != nil {
		c.done(strings.TrimSpace(c.Text))
	}
}

// FocusLost keeps what was written.
func (c *combo) FocusLost() {
	c.SelectEntry.FocusLost()
	c.commit()
}

// CreateRenderer is the toolkit's hook.
func (c *combo) CreateRenderer() fyne.WidgetRenderer { return c.Entry.CreateRenderer() }

// TypedKey is the toolkit's hook.
func (c *combo) TypedKey(k *fyne.KeyEvent) {
	switch {
	case look.PassOn(c, k):
	case k.Name == fyne.KeyDown:
		c.open()
	default:
		c.SelectEntry.TypedKey(k)
	}
}

// tick is a box to tick.
type tick struct{ widget.Check }

func newTick(text string, on bool, changed func(bool)) *tick {
	c := &tick{}
	c.Text, c.Checked, c.OnChanged = text, on, changed
	c.ExtendBaseWidget(c)
	return c
}

// TypedKey is the toolkit's hook.
func (c *tick) TypedKey(k *fyne.KeyEvent) { look.PassOn(c, k) }

// rowList is a list that makes only the rows that are seen.
type rowList struct{ widget.List }

func newRowList(length func() int, create func() fyne.CanvasObject, update func(int, fyne.CanvasObject)) *rowList {
	l := &rowList{}
	l.Length, l.CreateItem, l.UpdateItem = length, create, update
	l.ExtendBaseWidget(l)
	return l
}

// TypedKey is the toolkit's hook.
func (l *rowList) TypedKey(k *fyne.KeyEvent) {
	if !look.PassOn(l, k) {
		l.List.TypedKey(k)
	}
}

// cellGrid is a grid that makes only the cells that are seen.
type cellGrid struct{ widget.GridWrap }

func newCellGrid(length func() int, create func() fyne.CanvasObject, update func(int, fyne.CanvasObject)) *cellGrid {
	g := &cellGrid{}
	g.Length, g.CreateItem, g.UpdateItem = length, create, update
	g.ExtendBaseWidget(g)
	return g
}

// TypedKey is the toolkit's hook.
func (g *cellGrid) TypedKey(k *fyne.KeyEvent) {
	if !look.PassOn(g, k) {
		g.GridWrap.TypedKey(k)
	}
}
