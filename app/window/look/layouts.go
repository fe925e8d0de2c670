package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

type insetLayout struct{ l, t, r, b float32 }

func (p insetLayout) Layout(objs []fyne.CanvasObject, s fyne.Size) {
	for _, o := range objs {
		o.Move(fyne.NewPos(p.l, p.t))
		o.Resize(fyne.NewSize(s.Width-p.l-p.r, s.Height-p.t-p.b))
	}
}

func (p insetLayout) MinSize(objs []fyne.CanvasObject) fyne.Size {
	var m fyne.Size
	for _, o := range objs {
		m = m.Max(o.MinSize())
	}
	return m.AddWidthHeight(p.l+p.r, p.t+p.b)
}

// Inset leaves x at the sides and y above and below.
func Inset(o fyne.CanvasObject, x, y float32) fyne.CanvasObject {
	return container.New(insetLayout{x, y, x, y}, o)
}

// InsetEach leaves left, top, right and bottom.
func InsetEach(o fyne.CanvasObject, l, t, r, b float32) fyne.CanvasObject {
	return container.New(insetLayout{l, t, r, b}, o)
}

// flowLayout sets objects in a row or column at their least size with a gap;
// those in stretch share what is left.
type flowLayout struct {
	down    bool
	gap     float32
	stretch map[fyne.CanvasObject]bool
}

// Row sets objects from left to right, centred in height, gap apart.
func Row(gap float32, objs ...fyne.CanvasObject) *fyne.Container {
	return container.New(&flowLayout{gap: gap}, objs...)
}

// Column sets objects from the top, full width, gap apart.
func Column(gap float32, objs ...fyne.CanvasObject) *fyne.Container {
	return container.New(&flowLayout{down: true, gap: gap}, objs...)
}

// Stretch marks which objects of a Row or Column share the space left over.
func Stretch(c *fyne.Container, objs ...fyne.CanvasObject) *fyne.Container {
	l := c.Layout.(*flowLayout)
	if l.stretch == nil {
		l.stretch = map[fyne.CanvasObject]bool{}
	}
	for _, o := range objs {
		l.stretch[o] = true
	}
	return c
}

func (l *flowLayout) Layout(objs []fyne.CanvasObject, s fyne.Size) {
	used, n, seen := float32(0), 0, 0
	for _, o := range objs {
		if !o.Visible() {
			continue
		}
		seen++
		m := o.MinSize()
		if l.down {
			used += m.Height
		} else {
			used += m.Width
		}
		if l.stretch[o] {
			n++
		}
	}
	if seen > 1 {
		used += l.gap * float32(seen-1)
	}
	length := s.Width
	if l.down {
		length = s.Height
	}
	extra := float32(0)
	if n > 0 && length > used {
		extra = (length - used) / float32(n)
	}
	at := float32(0)
	for _, o := range objs {
		if !o.Visible() {
			continue
		}
		m := o.MinSize()
		if l.down {
			if l.stretch[o] {
				m.Height += extra
			}
			o.Move(fyne.NewPos(0, at))
			o.Resize(fyne.NewSize(s.Width, m.Height))
			at += m.Height + l.gap
			continue
		}
		if l.stretch[o] {
			m.Width += extra
		}
		h := m.Height
		if _, isRule := o.(*Fill); isRule {
			h = s.Height
		}
		o.Move(fyne.NewPos(at, (s.Height-h)/2))
		o.Resize(fyne.NewSize(m.Width, h))
		at += m.Width + l.gap
	}
}

func (l *flowLayout) MinSize(objs []fyne.CanvasObject) fyne.Size {
	var m fyne.Size
	seen := 0
	for _, o := range objs {
		if !o.Visible() {
			continue
		}
		seen++
		c := o.MinSize()
		if l.down {
			m.Width = max(m.Width, c.Width)
			m.Height += c.Height
		} else {
			m.Height = max(m.Height, c.Height)
			m.Width += c.Width
		}
	}
	if seen > 1 {
		if l.down {
			m.Height += l.gap * float32(seen-1)
		} else {
			m.Width += l.gap * float32(seen-1)
		}
	}
	return m
}

// factsLayout sets pairs of objects, name and value, in two columns; every
// row is as high as its value asks for at the width it gets.
type factsLayout struct{ name, row float32 }

// Facts is a two-column list of names and values; nameWidth is before the
// text scale.
func Facts(nameWidth float32, objs ...fyne.CanvasObject) *fyne.Container {
	return container.New(&factsLayout{name: nameWidth, row: 22}, objs...)
}

func (l *factsLayout) Layout(objs []fyne.CanvasObject, s fyne.Size) {
	y := float32(0)
	for i := 0; i+1 < len(objs); i += 2 {
		n, v := objs[i], objs[i+1]
		if !v.Visible() {
			n.Hide()
			continue
		}
		v.Resize(fyne.NewSize(s.Width-l.name, v.MinSize().Height))
		h := max(l.row, v.MinSize().Height)
		n.Move(fyne.NewPos(0, y))
		n.Resize(fyne.NewSize(l.name-6, min(h, max(l.row, n.MinSize().Height))))
		v.Move(fyne.NewPos(l.name, y))
		v.Resize(fyne.NewSize(s.Width-l.name, h))
		y += h
	}
}

func (l *factsLayout) MinSize(objs []fyne.CanvasObject) fyne.Size {
	var m fyne.Size
	for i := 0; i+1 < len(objs); i += 2 {
		v := objs[i+1]
		if !v.Visible() {
			continue
		}
		c := v.MinSize()
		m.Width = max(m.Width, l.name+c.Width)
		m.Height += max(l.row, c.Height)
	}
	return m
}

// Middle centres an object in what it is given.
func Middle(o fyne.CanvasObject) fyne.CanvasObject { return container.NewCenter(o) }
