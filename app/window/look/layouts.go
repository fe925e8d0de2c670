package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
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
	return growing(container.New(&flowLayout{gap: gap}, objs...))
}

// Column sets objects from the top, full width, gap apart.
func Column(gap float32, objs ...fyne.CanvasObject) *fyne.Container {
	return growing(container.New(&flowLayout{down: true, gap: gap}, objs...))
}

// growing has the container laid out anew when one of its lines needs more
// room.
func growing(c *fyne.Container) *fyne.Container {
	for _, o := range c.Objects {
		if t, ok := o.(*Text); ok {
			t.grown = func() { c.Layout.Layout(c.Objects, c.Size()) }
		}
	}
	return c
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
		if l.down && o.Size().Width != s.Width { // what wraps must know its width first
			o.Resize(fyne.NewSize(s.Width, o.Size().Height))
		}
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
			o.Move(fyne.NewPos(0, round(at)))
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
		o.Move(fyne.NewPos(round(at), round((s.Height-h)/2)))
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
type factsLayout struct{ name, row, gap float32 }

// Facts is a two-column list of names and values; nameWidth is before the
// text scale.
func Facts(nameWidth float32, objs ...fyne.CanvasObject) *fyne.Container {
	return container.New(&factsLayout{name: nameWidth, row: 22}, objs...)
}

// Form is a two-column list of names and fields.
func Form(nameWidth float32, objs ...fyne.CanvasObject) *fyne.Container {
	return container.New(&factsLayout{name: nameWidth, row: 26, gap: 5}, objs...)
}

// widest bounds the length of a field: longer lines are hard to read.
const widest = 640

func (l *factsLayout) Layout(objs []fyne.CanvasObject, s fyne.Size) {
	y := float32(0)
	scale := theme.TextSize() / 13
	name := l.name * scale
	s.Width = min(s.Width, name+widest*scale)
	for i := 0; i+1 < len(objs); i += 2 {
		n, v := objs[i], objs[i+1]
		if !v.Visible() {
			n.Hide()
			continue
		}
		v.Resize(fyne.NewSize(s.Width-name, v.MinSize().Height))
		h := max(l.row, v.MinSize().Height)
		n.Move(fyne.NewPos(0, y))
		n.Resize(fyne.NewSize(name-6, min(h, max(l.row, n.MinSize().Height))))
		v.Move(fyne.NewPos(name, y))
		v.Resize(fyne.NewSize(s.Width-name, h))
		y += h + l.gap
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
		m.Width = max(m.Width, l.name*theme.TextSize()/13+c.Width)
		m.Height += max(l.row, c.Height) + l.gap
	}
	return m
}

// borderLayout sets objects at the four edges of another with no gap.
type borderLayout struct{ top, bottom, left, right fyne.CanvasObject }

// Border sets objects at the edges of another, without the gaps of the
// toolkit's own; nil edges are left out.
func Border(top, bottom, left, right fyne.CanvasObject, middle ...fyne.CanvasObject) *fyne.Container {
	l := &borderLayout{top, bottom, left, right}
	c := container.New(l)
	for _, o := range append(middle, top, bottom, left, right) {
		if o != nil {
			c.Add(o)
		}
	}
	return growing(c)
}

func shown(o fyne.CanvasObject) bool { return o != nil && o.Visible() }

func (l *borderLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	x0, y0, x1, y1 := float32(0), float32(0), s.Width, s.Height
	for _, o := range []fyne.CanvasObject{l.top, l.bottom} {
		if shown(o) && o.Size().Width != s.Width {
			o.Resize(fyne.NewSize(s.Width, o.Size().Height))
		}
	}
	if shown(l.top) {
		h := l.top.MinSize().Height
		l.top.Move(fyne.NewPos(0, 0))
		l.top.Resize(fyne.NewSize(s.Width, h))
		y0 = h
	}
	if shown(l.bottom) {
		h := l.bottom.MinSize().Height
		y1 -= h
		l.bottom.Move(fyne.NewPos(0, y1))
		l.bottom.Resize(fyne.NewSize(s.Width, h))
	}
	if shown(l.left) {
		w := l.left.MinSize().Width
		l.left.Move(fyne.NewPos(0, y0))
		l.left.Resize(fyne.NewSize(w, y1-y0))
		x0 = w
	}
	if shown(l.right) {
		w := l.right.MinSize().Width
		x1 -= w
		l.right.Move(fyne.NewPos(x1, y0))
		l.right.Resize(fyne.NewSize(w, y1-y0))
	}
	if m := o[0]; m != l.top && m != l.bottom && m != l.left && m != l.right {
		m.Move(fyne.NewPos(x0, y0))
		m.Resize(fyne.NewSize(max(x1-x0, 0), max(y1-y0, 0)))
	}
}

func (l *borderLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	var m fyne.Size
	if c := o[0]; c != l.top && c != l.bottom && c != l.left && c != l.right && c.Visible() {
		m = c.MinSize()
	}
	for _, e := range []fyne.CanvasObject{l.left, l.right} {
		if shown(e) {
			m = fyne.NewSize(m.Width+e.MinSize().Width, max(m.Height, e.MinSize().Height))
		}
	}
	for _, e := range []fyne.CanvasObject{l.top, l.bottom} {
		if shown(e) {
			m = fyne.NewSize(max(m.Width, e.MinSize().Width), m.Height+e.MinSize().Height)
		}
	}
	return m
}

// Middle centres an object in what it is given.
func Middle(o fyne.CanvasObject) fyne.CanvasObject { return container.New(middleLayout{}, o) }

type middleLayout struct{}

func (middleLayout) Layout(objs []fyne.CanvasObject, s fyne.Size) {
	for _, o := range objs {
		m := o.MinSize()
		o.Resize(m)
		o.Move(fyne.NewPos(round((s.Width-m.Width)/2), round((s.Height-m.Height)/2)))
	}
}

func (middleLayout) MinSize(objs []fyne.CanvasObject) fyne.Size {
	var m fyne.Size
	for _, o := range objs {
		m = m.Max(o.MinSize())
	}
	return m
}
