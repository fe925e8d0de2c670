package places

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"pullbook/app/window/look"
)

// tall gives its object a fixed height.
type tall struct{ h float32 }

func (l *tall) Layout(o []fyne.CanvasObject, s fyne.Size) {
	for _, x := range o {
		x.Resize(s)
	}
}
func (l *tall) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(o[0].MinSize().Width, l.h)
}

// labelled sets a small label over a field.
func labelled(name string, field fyne.CanvasObject) fyne.CanvasObject {
	return look.Column(2, look.Label(name), field)
}

// fieldGrid sets fields in as many columns as fit, at least least wide, and with
// whole as wide as the widest of them.
type fieldGrid struct {
	least float32
	rows  int
	whole bool
}

func (g *fieldGrid) columns(width float32, o []fyne.CanvasObject) int {
	least := g.least * theme.TextSize() / 13
	for _, x := range o {
		if g.whole {
			least = max(least, x.MinSize().Width)
		}
	}
	return max(1, min(len(o), int((width+10)/(least+10))))
}

func (g *fieldGrid) Layout(o []fyne.CanvasObject, s fyne.Size) {
	cols := g.columns(s.Width, o)
	w := (s.Width - 10*float32(cols-1)) / float32(cols)
	h := float32(0)
	for _, x := range o {
		h = max(h, x.MinSize().Height)
	}
	for i, x := range o {
		x.Move(fyne.NewPos(float32(i%cols)*(w+10), float32(i/cols)*(h+8)))
		x.Resize(fyne.NewSize(w, h))
	}
	g.rows = (len(o) + cols - 1) / cols
}
func (g *fieldGrid) MinSize(o []fyne.CanvasObject) fyne.Size {
	h := float32(0)
	for _, x := range o {
		h = max(h, x.MinSize().Height)
	}
	rows := max(g.rows, 1)
	return fyne.NewSize(g.least, h*float32(rows)+8*float32(rows-1))
}
