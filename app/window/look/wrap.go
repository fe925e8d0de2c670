package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// Wrap sets objects of their own width side by side, gap apart, and goes on in
// another row where one is full.
func Wrap(gap float32, objs ...fyne.CanvasObject) *fyne.Container {
	return container.New(&wrapLayout{gap: gap}, objs...)
}

type wrapLayout struct {
	gap    float32
	height float32 // for the width laid out last
}

func (l *wrapLayout) Layout(objs []fyne.CanvasObject, s fyne.Size) {
	x, y, row := float32(0), float32(0), float32(0)
	for _, o := range objs {
		if !o.Visible() {
			continue
		}
		m := o.MinSize()
		if x > 0 && x+m.Width > s.Width {
			x, y, row = 0, y+row+l.gap, 0
		}
		o.Move(fyne.NewPos(x, y))
		o.Resize(m)
		x += m.Width + l.gap
		row = max(row, m.Height)
	}
	l.height = y + row
}

// MinSize is the widest object and as many rows as were needed last.
func (l *wrapLayout) MinSize(objs []fyne.CanvasObject) fyne.Size {
	var m fyne.Size
	for _, o := range objs {
		if o.Visible() {
			m = m.Max(o.MinSize())
		}
	}
	m.Height = max(m.Height, l.height)
	return m
}

// Beside sets one object at the left and one at the right, or where there is no
// room for both the second below the first.
func Beside(left, right fyne.CanvasObject) *fyne.Container {
	return container.New(&besideLayout{}, left, right)
}

type besideLayout struct{ below bool }

// besideGap is the least distance of the two.
const besideGap = 8

func (l *besideLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	a, b := o[0].MinSize(), o[1].MinSize()
	l.below = a.Width+b.Width+besideGap > s.Width
	o[0].Move(fyne.NewPos(0, 0))
	if l.below {
		o[0].Resize(fyne.NewSize(s.Width, a.Height))
		w := min(b.Width, s.Width)
		o[1].Move(fyne.NewPos(s.Width-w, a.Height+6))
		o[1].Resize(fyne.NewSize(w, b.Height))
		return
	}
	h := max(a.Height, b.Height)
	o[0].Resize(fyne.NewSize(s.Width-b.Width-besideGap, h))
	o[1].Move(fyne.NewPos(s.Width-b.Width, 0))
	o[1].Resize(fyne.NewSize(b.Width, h))
}

func (l *besideLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	a, b := o[0].MinSize(), o[1].MinSize()
	if l.below {
		return fyne.NewSize(max(a.Width, b.Width), a.Height+6+b.Height)
	}
	return fyne.NewSize(max(a.Width, b.Width), max(a.Height, b.Height))
}
