package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// Side sets one object at a fixed width beside another that takes the rest,
// with a hairline between them that can be dragged.
type Side struct {
	Width, Least float32
	Right        bool // the fixed object is on the right
	// RestMost is the width beyond which the other object has no use for room:
	// what is left over goes to the fixed one, until the line is dragged. 0 is
	// without bound.
	RestMost float32
	Moved    func(width float32)

	box   *fyne.Container
	fixed fyne.CanvasObject
	rest  fyne.CanvasObject
	grip  *grip
}

// NewSide makes a Side; the object to place in the window is Box().
func NewSide(fixed, rest fyne.CanvasObject, width, least float32, right bool) *Side {
	s := &Side{Width: width, Least: least, Right: right, fixed: fixed, rest: rest}
	s.grip = newGrip(func(dx float32) {
		if s.Right {
			dx = -dx
		}
		if s.RestMost > 0 {
			s.Width, s.RestMost = s.fixed.Size().Width, 0
		}
		s.Width = max(s.Least, s.Width+dx)
		s.box.Refresh()
		if s.Moved != nil {
			s.Moved(s.Width)
		}
	})
	s.box = container.New(s, fixed, rest, s.grip)
	return s
}

// Box is the object to place.
func (s *Side) Box() *fyne.Container { return s.box }

// Layout is the toolkit's hook.
func (s *Side) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	w := s.Width
	if !s.fixed.Visible() {
		s.grip.Hide()
		s.rest.Move(fyne.NewPos(0, 0))
		s.rest.Resize(size)
		return
	}
	s.grip.Show()
	if s.RestMost > 0 {
		w = max(w, size.Width-1-s.RestMost)
	}
	w = max(s.Least, min(w, size.Width-s.rest.MinSize().Width-1))
	w = max(w, s.fixed.MinSize().Width)
	x, fx, rx := w, float32(0), w+1
	if s.Right {
		x, fx, rx = size.Width-w-1, size.Width-w, 0
	}
	s.fixed.Move(fyne.NewPos(fx, 0))
	s.fixed.Resize(fyne.NewSize(w, size.Height))
	s.rest.Move(fyne.NewPos(rx, 0))
	s.rest.Resize(fyne.NewSize(size.Width-w-1, size.Height))
	s.grip.Move(fyne.NewPos(x-3, 0))
	s.grip.Resize(fyne.NewSize(7, size.Height))
}

// MinSize is the toolkit's hook.
func (s *Side) MinSize([]fyne.CanvasObject) fyne.Size {
	f, r := s.fixed.MinSize(), s.rest.MinSize()
	if !s.fixed.Visible() {
		return r
	}
	return fyne.NewSize(max(f.Width, s.Least)+1+r.Width, max(f.Height, r.Height))
}

// grip is the line between: one pixel drawn, seven to hold.
type grip struct {
	widget.BaseWidget
	line  *Fill
	moved func(dx float32)
}

func newGrip(moved func(float32)) *grip {
	g := &grip{line: VRule(), moved: moved}
	g.ExtendBaseWidget(g)
	return g
}

func (g *grip) Dragged(e *fyne.DragEvent) { g.moved(e.Dragged.DX) }
func (g *grip) DragEnd()                  {}
func (g *grip) Cursor() desktop.Cursor    { return desktop.HResizeCursor }

func (g *grip) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(InsetEach(g.line, 3, 0, 3, 0))
}
