package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
)

// Segment is one choice of a Segmented control.
type Segment struct {
	Text string
	Icon Icon
}

// Segmented is a row of choices of which exactly one holds. Left and Right
// move the choice when it has the focus.
type Segmented struct {
	choosing
	Segments []Segment

	live *segRenderer
}

// NewSegmented shows the choices, the first chosen.
func NewSegmented(changed func(int), segs ...Segment) *Segmented {
	s := &Segmented{Segments: segs}
	s.choosing = choosing{Changed: changed, over: -1, self: s, back: fyne.KeyLeft, on: fyne.KeyRight, at: s.under,
		count: func() int { return len(s.Segments) }}
	s.ExtendBaseWidget(s)
	return s
}

// SetTexts changes the words of the choices, one for each.
func (s *Segmented) SetTexts(texts ...string) {
	for i := range s.Segments {
		if i < len(texts) {
			s.Segments[i].Text = texts[i]
		}
	}
	s.Refresh()
}

// under is the segment at a place, -1 before anything is drawn.
func (s *Segmented) under(p fyne.Position) int {
	if s.live == nil {
		return -1
	}
	for i := range s.Segments {
		if p.X < s.live.edge(i+1) {
			return i
		}
	}
	return len(s.Segments) - 1
}

// CreateRenderer is the toolkit's hook.
func (s *Segmented) CreateRenderer() fyne.WidgetRenderer {
	r := &segRenderer{s: s, ground: canvas.NewRectangle(color.Transparent), chosen: canvas.NewRectangle(color.Transparent)}
	r.ground.CornerRadius, r.chosen.CornerRadius = 5, 4
	for range s.Segments {
		im := canvas.NewImageFromResource(nil)
		im.FillMode = canvas.ImageFillContain
		r.icons = append(r.icons, im)
		r.texts = append(r.texts, canvas.NewText("", color.Black))
	}
	s.live = r
	r.read()
	return r
}

type segRenderer struct {
	s              *Segmented
	ground, chosen *canvas.Rectangle
	icons          []*canvas.Image
	texts          []*canvas.Text
	width          float32
}

func (r *segRenderer) read() {
	r.ground.FillColor, r.chosen.FillColor = Colour(Over), Colour(Leaf)
	r.ground.StrokeWidth = 1
	r.ground.StrokeColor = Colour(Rule)
	r.chosen.StrokeWidth, r.chosen.StrokeColor = 1, Colour(Rule)
	if r.s.focused {
		r.chosen.StrokeColor, r.chosen.StrokeWidth = Colour(Blue), 2
	}
	for i, g := range r.s.Segments {
		ink := Muted
		if i == r.s.Chosen || i == r.s.over {
			ink = Ink
		}
		if i == r.s.Chosen {
			ink = Blue
		}
		t := r.texts[i]
		t.Text, t.TextSize, t.Color = g.Text, theme.TextSize(), Colour(ink)
		if g.Icon == "" {
			r.icons[i].Hide()
			continue
		}
		r.icons[i].Resource = g.Icon.In(ink)
		r.icons[i].Show()
	}
}

func (r *segRenderer) segWidth(i int) float32 {
	w := r.texts[i].MinSize().Width + 26
	if r.s.Segments[i].Icon != "" {
		w += theme.IconInlineSize() + 6
	}
	return w
}

// edge is where segment i begins, with spare width shared out.
func (r *segRenderer) edge(i int) float32 {
	x, all := float32(0), float32(0)
	for j := range r.s.Segments {
		w := r.segWidth(j)
		all += w
		if j < i {
			x += w
		}
	}
	if r.width > all {
		x += (r.width - all) * float32(i) / float32(len(r.s.Segments))
	}
	return x
}

func (r *segRenderer) Layout(s fyne.Size) {
	r.width = s.Width
	r.ground.Resize(s)
	for i, t := range r.texts {
		x0, x1 := r.edge(i), r.edge(i+1)
		if i == r.s.Chosen {
			r.chosen.Move(fyne.NewPos(x0+2, 2))
			r.chosen.Resize(fyne.NewSize(x1-x0-4, s.Height-4))
		}
		m := t.MinSize()
		icon, gap := float32(0), float32(0)
		if r.s.Segments[i].Icon != "" {
			icon, gap = theme.IconInlineSize(), 6
		}
		x := x0 + (x1-x0-m.Width-icon-gap)/2
		r.icons[i].Move(fyne.NewPos(round(x), round((s.Height-icon)/2)))
		r.icons[i].Resize(fyne.NewSize(icon, icon))
		t.Move(fyne.NewPos(round(x+icon+gap), round((s.Height-m.Height)/2)))
		t.Resize(m)
	}
}

func (r *segRenderer) MinSize() fyne.Size {
	w, h := float32(0), float32(0)
	for i, t := range r.texts {
		w += r.segWidth(i)
		h = max(h, t.MinSize().Height)
	}
	return whole(fyne.NewSize(w, h+12))
}

func (r *segRenderer) Refresh() {
	r.read()
	r.Layout(r.s.Size())
	for _, im := range r.icons {
		im.Refresh()
	}
	canvas.Refresh(r.s)
}

func (r *segRenderer) Objects() []fyne.CanvasObject {
	objs := []fyne.CanvasObject{r.ground, r.chosen}
	for i := range r.texts {
		objs = append(objs, r.icons[i], r.texts[i])
	}
	return objs
}
func (r *segRenderer) Destroy() {}
