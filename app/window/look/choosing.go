package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// choosing is what controls have in common that show some choices of which
// exactly one holds: the pointer, the focus and two keys move it.
type choosing struct {
	widget.BaseWidget
	Chosen  int
	Changed func(int)

	self     fyne.CanvasObject
	count    func() int
	at       func(fyne.Position) int // the choice at a place
	back, on fyne.KeyName            // the keys that go to the one before and after
	over     int                     // the one under the pointer, -1 none
	focused  bool
}

// Choose sets the choice and tells Changed when it is a new one.
func (c *choosing) Choose(i int) {
	if i < 0 || i >= c.count() || i == c.Chosen {
		return
	}
	c.ShowChoice(i)
	if c.Changed != nil {
		c.Changed(i)
	}
}

// ShowChoice shows a choice without telling anybody.
func (c *choosing) ShowChoice(i int) { c.Chosen = i; c.Refresh() }

// Tapped chooses what was tapped.
func (c *choosing) Tapped(e *fyne.PointEvent) { c.Choose(c.at(e.Position)) }

// MouseIn is the toolkit's hook.
func (c *choosing) MouseIn(e *desktop.MouseEvent) { c.MouseMoved(e) }

// MouseMoved shows what is under the pointer.
func (c *choosing) MouseMoved(e *desktop.MouseEvent) {
	if i := c.at(e.Position); i != c.over {
		c.over = i
		c.Refresh()
	}
}

// MouseOut is the toolkit's hook.
func (c *choosing) MouseOut() { c.over = -1; c.Refresh() }

// FocusGained shows the focus ring.
func (c *choosing) FocusGained() { c.focused = true; c.Refresh() }

// FocusLost hides it.
func (c *choosing) FocusLost() { c.focused = false; c.Refresh() }

// TypedRune is the toolkit's hook.
func (c *choosing) TypedRune(rune) {}

// TypedKey moves the choice.
func (c *choosing) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case c.back:
		c.Choose(c.Chosen - 1)
	case c.on:
		c.Choose(c.Chosen + 1)
	default:
		PassOn(c.self, e)
	}
}
