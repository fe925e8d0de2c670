package sheetview

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"pullbook/app/window/look"
)

// near says what can be taken hold of at a position: 1 the edge, 2 to 5 a
// corner, 0 nothing.
func (v *Viewer) near(p fyne.Position) int {
	if v.corners != nil {
		w, h := v.part()
		for i, c := range v.corners {
			x, y := v.motion.To(c[0], c[1], w, h)
			if math.Hypot(x/v.ratio-float64(p.X), y/v.ratio-float64(p.Y)) < 14 {
				return i + 2
			}
		}
	}
	if v.stage.Mode == Edge && v.drawing == nil {
		x := v.stage.Share * float64(v.Size().Width)
		if math.Abs(x-float64(p.X)) < 9 {
			return 1
		}
	}
	return 0
}

// Scrolled zooms about the pointer.
func (v *Viewer) Scrolled(e *fyne.ScrollEvent) {
	step := min(max(float64(e.Scrolled.DY)/60, -1), 1)
	if step == 0 {
		return
	}
	w, h := v.part()
	x, y := v.local(e.Position)
	v.fitted = false
	v.motion = v.held(v.motion.Zoomed(math.Pow(1.35, step), x, y, w, h))
	v.changed()
}

// MouseDown remembers what was taken hold of, before the drag is known.
func (v *Viewer) MouseDown(e *desktop.MouseEvent) {
	v.at = e.Position
	v.grip = v.near(e.Position)
	v.drawingDown(e)
}

// MouseUp lets go.
func (v *Viewer) MouseUp(*desktop.MouseEvent) {
	if v.grip != 0 {
		v.grip = 0
		v.changed()
	}
}

// Dragged moves the edge, a corner, or the sheets.
func (v *Viewer) Dragged(e *fyne.DragEvent) {
	v.at = e.Position
	if v.drawingDragged(e) {
		return
	}
	dx, dy := float64(e.Dragged.DX), float64(e.Dragged.DY)
	switch {
	case v.grip == 1:
		v.SetShare(v.stage.Share + dx/float64(v.Size().Width))
	case v.grip > 1 && v.corners != nil:
		c := &v.corners[v.grip-2]
		c[0] += dx * v.ratio / v.motion.Scale
		c[1] += dy * v.ratio / v.motion.Scale
		v.changed()
	default:
		v.fitted = false
		v.motion = v.held(v.motion.Panned(dx*v.ratio, dy*v.ratio))
		v.changed()
	}
}

// DragEnd tells where a corner came to lie.
func (v *Viewer) DragEnd() {
	if v.drawingDropped() {
		return
	}
	if v.grip > 1 && v.corners != nil && v.CornersMoved != nil {
		v.CornersMoved(*v.corners)
	}
	v.grip = 0
	v.changed()
}

// MouseIn is the toolkit's hook.
func (v *Viewer) MouseIn(e *desktop.MouseEvent) { v.inside = true; v.MouseMoved(e) }

// MouseMoved carries the loupe.
func (v *Viewer) MouseMoved(e *desktop.MouseEvent) {
	v.at = e.Position
	if v.loupe {
		v.raster.Refresh()
	}
	if d := v.drawing; d != nil && len(d.points) > 0 {
		d.pointer[0], d.pointer[1] = v.AtMM(e.Position)
		v.overlay()
	}
}

// MouseOut is the toolkit's hook.
func (v *Viewer) MouseOut() {
	v.inside = false
	if v.loupe {
		v.raster.Refresh()
	}
}

// Tapped takes the focus and tells where.
func (v *Viewer) Tapped(e *fyne.PointEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(v); c != nil {
		c.Focus(v)
	}
	if v.drawing != nil {
		x, y := v.AtMM(e.Position)
		v.drawing.from = nil
		v.corner([2]float64{x, y})
		return
	}
	if v.TappedMM != nil {
		v.TappedMM(v.AtMM(e.Position))
	}
}

// FocusGained and FocusLost are the toolkit's hooks.
func (v *Viewer) FocusGained() { v.focused = true; v.overlay() }

// FocusLost is the toolkit's hook.
func (v *Viewer) FocusLost() {
	v.focused = false
	v.ChooseCorner(-1)
	v.overlay()
}

// TypedRune zooms: + - 0 fit 1 pixel for pixel, x turns the sheets about, l the loupe.
func (v *Viewer) TypedRune(r rune) {
	if v.drawing != nil && r == ' ' || v.cornerRune(r) {
		return
	}
	switch r {
	case '+', '=':
		v.ZoomBy(1.25)
	case '-':
		v.ZoomBy(0.8)
	case '0':
		v.FitAll()
	case '1':
		v.PixelForPixel()
	case 'x', 'X':
		v.Turn()
	case 'l', 'L':
		v.SetLoupe(!v.loupe)
	}
}

// TypedKey pans with the arrows; with the edge shown, comma and full stop
// move it.
func (v *Viewer) TypedKey(e *fyne.KeyEvent) {
	if v.drawingKey(e) || v.cornerKey(e) {
		return
	}
	step := 40 * v.ratio
	pan := func(dx, dy float64) { v.SetMotion(v.motion.Panned(dx, dy)) }
	switch e.Name {
	case fyne.KeyLeft:
		pan(step, 0)
	case fyne.KeyRight:
		pan(-step, 0)
	case fyne.KeyUp:
		pan(0, step)
	case fyne.KeyDown:
		pan(0, -step)
	case fyne.KeyComma:
		v.SetShare(v.stage.Share - 0.02)
	case fyne.KeyPeriod:
		v.SetShare(v.stage.Share + 0.02)
	case fyne.KeySpace:
		v.Turn()
	default:
		look.PassOn(v, e)
	}
}
