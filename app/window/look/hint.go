package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// Drawn is an icon as a plain picture that follows the theme.
type Drawn struct {
	widget.BaseWidget
	icon   Icon
	colour fyne.ThemeColorName
	size   float32
}

// NewDrawn shows an icon at a size in a colour.
func NewDrawn(i Icon, n fyne.ThemeColorName, size float32) *Drawn {
	d := &Drawn{icon: i, colour: n, size: size}
	d.ExtendBaseWidget(d)
	return d
}

// Set changes the icon and its colour.
func (d *Drawn) Set(i Icon, n fyne.ThemeColorName) {
	if d.icon != i || d.colour != n {
		d.icon, d.colour = i, n
		d.Refresh()
	}
}

// CreateRenderer is the toolkit's hook.
func (d *Drawn) CreateRenderer() fyne.WidgetRenderer {
	im := canvas.NewImageFromResource(d.icon.In(d.colour))
	im.FillMode = canvas.ImageFillContain
	return &drawnRenderer{d, im}
}

type drawnRenderer struct {
	d  *Drawn
	im *canvas.Image
}

func (r *drawnRenderer) Layout(s fyne.Size) {
	r.im.Move(fyne.NewPos((s.Width-r.d.size)/2, (s.Height-r.d.size)/2))
	r.im.Resize(fyne.NewSize(r.d.size, r.d.size))
}
func (r *drawnRenderer) MinSize() fyne.Size { return fyne.NewSize(r.d.size, r.d.size) }
func (r *drawnRenderer) Refresh() {
	r.im.Resource = r.d.icon.In(r.d.colour)
	r.im.Refresh()
}
func (r *drawnRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.im} }
func (r *drawnRenderer) Destroy()                     {}

// Hint is what an empty place says: a drawing, a heading, one sentence on what
// to do, and the buttons that do it.
func Hint(i Icon, head, sentence string, does ...fyne.CanvasObject) fyne.CanvasObject {
	p := Para(sentence, false).Centred()
	col := Column(8,
		NewDrawn(i, Faint, 44),
		NewText(head, Serif, HeadSize, Ink).Aligned(fyne.TextAlignCenter),
		Middle(container.New(wide{400}, p)),
	)
	if len(does) > 0 {
		col.Add(Middle(Row(8, does...)))
	}
	return Middle(col)
}

// wide asks for a fixed width and whatever height its object needs there.
type wide struct{ w float32 }

func (l wide) Layout(objs []fyne.CanvasObject, s fyne.Size) {
	for _, o := range objs {
		o.Resize(s)
	}
}

func (l wide) MinSize(objs []fyne.CanvasObject) fyne.Size {
	m := fyne.NewSize(l.w, 0)
	for _, o := range objs {
		if o.Size().Width != l.w {
			o.Resize(fyne.NewSize(l.w, o.MinSize().Height))
		}
		m.Height = max(m.Height, o.MinSize().Height)
	}
	return m
}

// Wide gives an object a least width.
func Wide(w float32, o fyne.CanvasObject) fyne.CanvasObject { return container.New(wide{w}, o) }

// Caution is a boxed warning: an icon, what the danger is and what to do.
func Caution(sentence string) fyne.CanvasObject {
	return container.NewStack(Card(), Inset(Border(nil, nil,
		container.NewVBox(InsetEach(NewDrawn(IconWarn, Unsure, 16), 0, 1, 9, 0)), nil, Para(sentence, false)), 10, 9))
}
