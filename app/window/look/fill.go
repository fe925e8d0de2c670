package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// Fill is a rectangle in a colour of the theme that follows theme changes.
type Fill struct {
	widget.BaseWidget
	colour, stroke fyne.ThemeColorName
	radius         float32
	min            fyne.Size
}

// NewFill is a plain area.
func NewFill(n fyne.ThemeColorName) *Fill {
	f := &Fill{colour: n}
	f.ExtendBaseWidget(f)
	return f
}

// Card is a raised area with a hairline and rounded corners.
func Card() *Fill {
	f := &Fill{colour: Panel, stroke: Rule, radius: 4}
	f.ExtendBaseWidget(f)
	return f
}

// HRule and VRule are hairlines.
func HRule() *Fill { f := NewFill(Rule); f.min = fyne.NewSize(1, 1); return f }

// VRule is an upright hairline.
func VRule() *Fill { f := NewFill(Rule); f.min = fyne.NewSize(1, 1); return f }

// Space is an empty area of a least size.
func Space(w, h float32) *Fill {
	f := &Fill{min: fyne.NewSize(w, h)}
	f.ExtendBaseWidget(f)
	return f
}

// SetColour changes the colour.
func (f *Fill) SetColour(n fyne.ThemeColorName) {
	if f.colour != n {
		f.colour = n
		f.Refresh()
	}
}

// CreateRenderer is the toolkit's hook.
func (f *Fill) CreateRenderer() fyne.WidgetRenderer {
	r := &fillRenderer{f: f, r: canvas.NewRectangle(color.Transparent)}
	r.read()
	return r
}

type fillRenderer struct {
	f *Fill
	r *canvas.Rectangle
}

func (r *fillRenderer) read() {
	r.r.FillColor = color.Transparent
	if r.f.colour != "" {
		r.r.FillColor = Colour(r.f.colour)
	}
	r.r.CornerRadius = r.f.radius
	r.r.StrokeWidth = 0
	if r.f.stroke != "" {
		r.r.StrokeColor, r.r.StrokeWidth = Colour(r.f.stroke), 1
	}
}

func (r *fillRenderer) Layout(s fyne.Size)           { r.r.Resize(s) }
func (r *fillRenderer) MinSize() fyne.Size           { return r.f.min }
func (r *fillRenderer) Refresh()                     { r.read(); canvas.Refresh(r.r) }
func (r *fillRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.r} }
func (r *fillRenderer) Destroy()                     {}

// Raised puts an object on a card with padding.
func Raised(o fyne.CanvasObject) fyne.CanvasObject {
	return container.NewStack(Card(), Inset(o, 12, 10))
}

// OnPanel puts an object on a side panel's ground.
func OnPanel(o fyne.CanvasObject) fyne.CanvasObject { return container.NewStack(NewFill(Panel), o) }
