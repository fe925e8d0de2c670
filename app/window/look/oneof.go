package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
)

// OneOf is a list of choices, one below another, of which exactly one holds.
// Up and Down move the choice when it has the focus.
type OneOf struct {
	choosing
	Texts []string
}

// NewOneOf shows the choices, the first chosen.
func NewOneOf(changed func(int), texts ...string) *OneOf {
	o := &OneOf{Texts: texts}
	o.choosing = choosing{Changed: changed, over: -1, self: o, back: fyne.KeyUp, on: fyne.KeyDown,
		at: func(p fyne.Position) int { return int(p.Y / oneOfRow()) }, count: func() int { return len(o.Texts) }}
	o.ExtendBaseWidget(o)
	return o
}

func oneOfRow() float32 { return round(theme.TextSize()*1.3) + 9 }

// CreateRenderer is the toolkit's hook.
func (o *OneOf) CreateRenderer() fyne.WidgetRenderer {
	r := &oneOfRenderer{o: o, bed: canvas.NewRectangle(color.Transparent)}
	r.bed.CornerRadius = 4
	r.read()
	return r
}

type oneOfRenderer struct {
	o     *OneOf
	bed   *canvas.Rectangle
	rings []*canvas.Circle
	texts []*canvas.Text
}

func (r *oneOfRenderer) read() {
	for len(r.rings) < len(r.o.Texts) {
		r.rings = append(r.rings, canvas.NewCircle(color.Transparent))
		r.texts = append(r.texts, canvas.NewText("", color.Black))
	}
	for i, s := range r.o.Texts {
		c, t := r.rings[i], r.texts[i]
		t.Text, t.TextSize, t.Color = s, theme.TextSize(), Colour(Ink)
		c.StrokeColor, c.StrokeWidth, c.FillColor = Colour(Muted), 1.4, color.Transparent
		if i == r.o.Chosen {
			c.StrokeColor, c.StrokeWidth = Colour(Blue), 4.2
		}
	}
	r.bed.StrokeWidth, r.bed.FillColor = 0, color.Transparent
	if r.o.focused {
		r.bed.StrokeColor, r.bed.StrokeWidth = Colour(Blue), 2
	}
}

func (r *oneOfRenderer) Layout(s fyne.Size) {
	r.bed.Resize(s)
	h := oneOfRow()
	for i := range r.o.Texts {
		y := float32(i) * h
		r.rings[i].Resize(fyne.NewSize(13, 13))
		r.rings[i].Move(fyne.NewPos(6, round(y+(h-13)/2)-1))
		m := r.texts[i].MinSize()
		r.texts[i].Resize(m)
		r.texts[i].Move(fyne.NewPos(27, round(y+(h-m.Height)/2)))
	}
}

func (r *oneOfRenderer) MinSize() fyne.Size {
	w := float32(0)
	for i := range r.o.Texts {
		w = max(w, r.texts[i].MinSize().Width)
	}
	return whole(fyne.NewSize(w+34, oneOfRow()*float32(len(r.o.Texts))))
}

func (r *oneOfRenderer) Refresh() {
	r.read()
	r.Layout(r.o.Size())
	canvas.Refresh(r.o)
}

func (r *oneOfRenderer) Objects() []fyne.CanvasObject {
	l := []fyne.CanvasObject{r.bed}
	for i := range r.o.Texts {
		l = append(l, r.rings[i], r.texts[i])
	}
	return l
}
func (r *oneOfRenderer) Destroy() {}
