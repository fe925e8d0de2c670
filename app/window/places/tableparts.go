package places

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/window/look"
	"pullbook/app/window/sheetview"
	"pullbook/app/window/words"
)

// chip is a name over a picture.
type chip struct {
	widget.BaseWidget
	text string
}

func newChip() *chip {
	c := &chip{}
	c.ExtendBaseWidget(c)
	return c
}

func (c *chip) set(s string) {
	if c.text != s {
		c.text = s
		c.Refresh()
	}
}

func (c *chip) CreateRenderer() fyne.WidgetRenderer {
	r := &chipRenderer{c: c, bed: canvas.NewRectangle(color.Transparent), t: canvas.NewText("", color.White)}
	r.bed.CornerRadius = 3
	r.read()
	return r
}

type chipRenderer struct {
	c   *chip
	bed *canvas.Rectangle
	t   *canvas.Text
}

func (r *chipRenderer) read() {
	r.bed.FillColor, r.t.Color = look.Colour(look.Veil), look.Colour(look.OnPicture)
	r.t.Text, r.t.TextSize = r.c.text, theme.CaptionTextSize()
	r.bed.Hidden, r.t.Hidden = r.c.text == "", r.c.text == ""
}
func (r *chipRenderer) Layout(fyne.Size) {
	m := r.t.MinSize()
	r.bed.Resize(m.AddWidthHeight(14, 6))
	r.t.Move(fyne.NewPos(7, 3))
	r.t.Resize(m)
}
func (r *chipRenderer) MinSize() fyne.Size { return r.t.MinSize().AddWidthHeight(14, 6) }
func (r *chipRenderer) Refresh() {
	r.read()
	r.Layout(r.c.Size())
	canvas.Refresh(r.c)
}
func (r *chipRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.bed, r.t} }
func (r *chipRenderer) Destroy()                     {}

// newLegend explains the two colours of the difference.
func newLegend() *fyne.Container {
	key := func(c color.Color, s string) fyne.CanvasObject {
		sw := canvas.NewRectangle(c)
		sw.SetMinSize(fyne.NewSize(12, 12))
		return look.Row(6, sw, look.NewText(s, look.Plain, theme.SizeNameCaptionText, look.OnPicture))
	}
	row := look.Row(14, key(sheetview.Gain, words.T("more ink on the second")), key(sheetview.Lack, words.T("less ink on the second")))
	return container.NewStack(look.NewFill(look.Veil), look.Inset(row, 8, 4))
}

// chipLayout sets the names of the two sheets into the corners, and the legend
// at the foot. It never covers the viewer, so it takes no gestures.
type chipLayout struct{ t *tablePlace }

func (l *chipLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	a, b, leg := o[0], o[1], o[2]
	a.Resize(a.MinSize())
	b.Resize(b.MinSize())
	a.Move(fyne.NewPos(8, 8))
	x := s.Width - b.MinSize().Width - 8
	if l.t.view.Mode() == sheetview.Beside {
		x = s.Width/2 + 10
	}
	b.Move(fyne.NewPos(x, 8))
	leg.Resize(leg.MinSize())
	leg.Move(fyne.NewPos(8, s.Height-leg.MinSize().Height-8))
	scale := o[3]
	scale.Resize(scale.MinSize())
	scale.Move(fyne.NewPos(s.Width-scale.MinSize().Width-8, s.Height-scale.MinSize().Height-8))
}
func (l *chipLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(10, 10) }

// threeLayout sets two wide objects with a small one between.
type threeLayout struct{}

func (threeLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	m := o[1].MinSize().Width
	w := (s.Width - m - 8) / 2
	o[0].Resize(fyne.NewSize(w, s.Height))
	o[1].Resize(fyne.NewSize(m, s.Height))
	o[1].Move(fyne.NewPos(w+4, 0))
	o[2].Resize(fyne.NewSize(w, s.Height))
	o[2].Move(fyne.NewPos(w+m+8, 0))
}
func (threeLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	h := float32(0)
	for _, x := range o {
		h = max(h, x.MinSize().Height)
	}
	return fyne.NewSize(240, h)
}
