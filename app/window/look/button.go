package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Weight is how loudly a button speaks.
type Weight int

// Weights: a quiet button is bare until the pointer is over it.
const (
	Quiet  Weight = iota
	Framed        // a hairline round it
	Strong        // filled: the one thing to do next
)

// Button is a word, an icon or both, that does something. It takes the
// keyboard focus and answers Space and Return.
type Button struct {
	widget.DisableableWidget
	Text   string
	Icon   Icon
	Weight Weight
	On     bool // shown as held down, for switches
	Do     func()

	size    fyne.ThemeSizeName
	over    bool
	focused bool
}

// NewButton is a framed button.
func NewButton(text string, icon Icon, do func()) *Button {
	return newButton(text, icon, Framed, do)
}

// StrongButton is the filled button of a screen.
func StrongButton(text string, icon Icon, do func()) *Button {
	return newButton(text, icon, Strong, do)
}

// QuietButton is bare until the pointer is over it.
func QuietButton(text string, icon Icon, do func()) *Button { return newButton(text, icon, Quiet, do) }

func newButton(text string, icon Icon, w Weight, do func()) *Button {
	b := &Button{Text: text, Icon: icon, Weight: w, Do: do, size: theme.SizeNameText}
	b.ExtendBaseWidget(b)
	return b
}

// Large gives the button heading-sized words.
func (b *Button) Large() *Button { b.size = theme.SizeNameHeadingText; return b }

// SetText changes the words.
func (b *Button) SetText(s string) {
	if b.Text != s {
		b.Text = s
		b.Refresh()
	}
}

// SetOn shows the button as held down or not.
func (b *Button) SetOn(on bool) {
	if b.On != on {
		b.On = on
		b.Refresh()
	}
}

// SetEnabled enables or disables.
func (b *Button) SetEnabled(on bool) {
	if on {
		b.Enable()
	} else {
		b.Disable()
	}
}

// Tapped does the button's work unless it is disabled.
func (b *Button) Tapped(*fyne.PointEvent) {
	if b.Do != nil && !b.Disabled() {
		b.Do()
	}
}

// MouseIn shows that the pointer is over the button.
func (b *Button) MouseIn(*desktop.MouseEvent) { b.over = true; b.Refresh() }

// MouseMoved is the toolkit's hook.
func (b *Button) MouseMoved(*desktop.MouseEvent) {}

// MouseOut is the toolkit's hook.
func (b *Button) MouseOut() { b.over = false; b.Refresh() }

// FocusGained shows the focus ring.
func (b *Button) FocusGained() { b.focused = true; b.Refresh() }

// FocusLost hides the focus ring.
func (b *Button) FocusLost() { b.focused = false; b.Refresh() }

// TypedRune is the toolkit's hook.
func (b *Button) TypedRune(rune) {}

// TypedKey answers Space and Return.
func (b *Button) TypedKey(e *fyne.KeyEvent) {
	if e.Name == fyne.KeySpace || e.Name == fyne.KeyReturn || e.Name == fyne.KeyEnter {
		b.Tapped(nil)
		return
	}
	PassOn(b, e)
}

// CreateRenderer is the toolkit's hook.
func (b *Button) CreateRenderer() fyne.WidgetRenderer {
	r := &buttonRenderer{b: b,
		ground: canvas.NewRectangle(color.Transparent),
		text:   canvas.NewText("", color.Black),
		icon:   canvas.NewImageFromResource(nil)}
	r.icon.FillMode = canvas.ImageFillContain
	r.ground.CornerRadius = 4
	r.read()
	return r
}

type buttonRenderer struct {
	b      *Button
	ground *canvas.Rectangle
	text   *canvas.Text
	icon   *canvas.Image
}

func (r *buttonRenderer) read() {
	b := r.b
	ink := Ink
	r.ground.StrokeWidth = 0
	r.ground.FillColor = color.Transparent
	switch {
	case b.Weight == Strong && !b.Disabled():
		ink = OnBlue
		r.ground.FillColor = Colour(Blue)
	case b.On:
		r.ground.FillColor = Colour(Chosen)
	case b.over && !b.Disabled():
		r.ground.FillColor = Colour(Over)
	case b.Weight != Quiet:
		r.ground.FillColor = Colour(Leaf)
	}
	if b.Weight == Framed || b.Weight == Strong && b.Disabled() {
		r.ground.StrokeColor, r.ground.StrokeWidth = Colour(Rule), 1
	}
	if b.Weight == Strong && b.over && !b.Disabled() {
		r.ground.StrokeColor, r.ground.StrokeWidth = Colour(Ink), 1
	}
	if b.focused {
		r.ground.StrokeColor, r.ground.StrokeWidth = Colour(Blue), 2
		if b.Weight == Strong {
			r.ground.StrokeColor = Colour(Copper)
		}
	}
	if b.Disabled() {
		ink = Faint
	}
	r.text.Text = b.Text
	r.text.TextSize = theme.Size(b.size)
	r.text.Color = Colour(ink)
	if b.Icon != "" {
		r.icon.Resource = b.Icon.In(ink)
		r.icon.Show()
	} else {
		r.icon.Hide()
	}
}

func (r *buttonRenderer) iconSize() float32 {
	if r.b.Icon == "" {
		return 0
	}
	return theme.Size(theme.SizeNameInlineIcon) * theme.Size(r.b.size) / theme.Size(theme.SizeNameText)
}

func (r *buttonRenderer) sides() float32 {
	if r.b.Text == "" {
		return 6
	}
	return 10 * theme.Size(r.b.size) / theme.Size(theme.SizeNameText)
}

func (r *buttonRenderer) content() (icon, gap, text float32) {
	icon = r.iconSize()
	if r.b.Text != "" {
		text = r.text.MinSize().Width
		if icon > 0 {
			gap = 6
		}
	}
	return icon, gap, text
}

func (r *buttonRenderer) Layout(s fyne.Size) {
	r.ground.Resize(s)
	icon, gap, text := r.content()
	x := (s.Width - icon - gap - text) / 2
	r.icon.Resize(fyne.NewSize(icon, icon))
	r.icon.Move(fyne.NewPos(round(x), round((s.Height-icon)/2)))
	h := r.text.MinSize().Height
	r.text.Resize(fyne.NewSize(text, h))
	r.text.Move(fyne.NewPos(round(x+icon+gap), round((s.Height-h)/2)))
}

func (r *buttonRenderer) MinSize() fyne.Size {
	icon, gap, text := r.content()
	h := max(r.text.MinSize().Height, icon) + 10
	return whole(fyne.NewSize(icon+gap+text+2*r.sides(), h))
}

func (r *buttonRenderer) Refresh() {
	r.read()
	r.Layout(r.b.Size())
	r.icon.Refresh()
	canvas.Refresh(r.b)
}

func (r *buttonRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ground, r.icon, r.text}
}
func (r *buttonRenderer) Destroy() {}
