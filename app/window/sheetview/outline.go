package sheetview

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"

	"pullbook/app/window/look"
)

// Outlined is a polygon over the sheets, in millimetres.
type Outlined struct {
	Points [][2]float64
	Chosen bool
}

// drawing is a polygon being drawn.
type drawing struct {
	points  [][2]float64
	from    *[2]float64 // where a box was begun with the pointer
	cross   *[2]float64 // what the arrow keys move
	pointer [2]float64
}

// closeBy is how near the first corner, in units of the toolkit, a click closes
// the outline.
const closeBy = 11

// SetOutlines sets the outlines shown over the sheets.
func (v *Viewer) SetOutlines(l []Outlined) { v.outlines = l; v.overlay() }

// BeginDrawing lets the user draw an outline: a box by dragging, or corner by
// corner, by click or by key. Drawn is told of it, or of nil when it is left.
func (v *Viewer) BeginDrawing() {
	v.drawing = &drawing{}
	if c := fyne.CurrentApp().Driver().CanvasForObject(v); c != nil {
		c.Focus(v)
	}
	v.overlay()
}

// Drawing reports whether an outline is being drawn.
func (v *Viewer) Drawing() bool { return v.drawing != nil }

// EndDrawing leaves the outline that is being drawn.
func (v *Viewer) EndDrawing() { v.drawn(nil) }

// drawn ends the drawing and tells its outcome.
func (v *Viewer) drawn(points [][2]float64) {
	if v.drawing == nil {
		return
	}
	v.drawing = nil
	v.overlay()
	if v.Drawn != nil {
		v.Drawn(points)
	}
}

func boxOf(a, b [2]float64) [][2]float64 {
	return [][2]float64{{min(a[0], b[0]), min(a[1], b[1])}, {max(a[0], b[0]), min(a[1], b[1])},
		{max(a[0], b[0]), max(a[1], b[1])}, {min(a[0], b[0]), max(a[1], b[1])}}
}

// corner sets a corner, or closes the outline at its first.
func (v *Viewer) corner(p [2]float64) {
	d := v.drawing
	if len(d.points) > 2 {
		first := d.points[0]
		if math.Hypot(p[0]-first[0], p[1]-first[1])*v.motion.Scale/v.ratio < closeBy {
			v.drawn(d.points)
			return
		}
	}
	d.points = append(d.points, p)
	d.pointer = p
	v.overlay()
}

// closed ends the outline: two corners are those of a box.
func (v *Viewer) closed() {
	switch d := v.drawing; {
	case len(d.points) == 2:
		v.drawn(boxOf(d.points[0], d.points[1]))
	case len(d.points) > 2:
		v.drawn(d.points)
	}
}

// drawingKey is a key while an outline is drawn; it reports whether it was one
// for that.
func (v *Viewer) drawingKey(e *fyne.KeyEvent) bool {
	d := v.drawing
	if d == nil {
		return false
	}
	step := 6.0
	if v.shifted() {
		step = 40
	}
	step *= v.ratio / v.motion.Scale
	move := func(dx, dy float64) {
		if d.cross == nil {
			d.cross = &[2]float64{v.motion.CX, v.motion.CY}
		}
		d.cross[0] += dx * step
		d.cross[1] += dy * step
		d.pointer = *d.cross
		v.overlay()
	}
	switch e.Name {
	case fyne.KeyLeft:
		move(-1, 0)
	case fyne.KeyRight:
		move(1, 0)
	case fyne.KeyUp:
		move(0, -1)
	case fyne.KeyDown:
		move(0, 1)
	case fyne.KeySpace:
		if d.cross == nil {
			move(0, 0)
		}
		v.corner(*d.cross)
	case fyne.KeyReturn, fyne.KeyEnter:
		v.closed()
	case fyne.KeyBackspace, fyne.KeyDelete:
		if n := len(d.points); n > 0 {
			d.points = d.points[:n-1]
			v.overlay()
		}
	case fyne.KeyEscape:
		v.EndDrawing()
	default:
		return false
	}
	return true
}

// drawingDown begins a box under the pointer.
func (v *Viewer) drawingDown(e *desktop.MouseEvent) {
	if d := v.drawing; d != nil && len(d.points) == 0 {
		x, y := v.AtMM(e.Position)
		d.from, d.pointer = &[2]float64{x, y}, [2]float64{x, y}
	}
}

// drawingDragged draws the box; it reports whether one is being drawn. Once
// corners are set, dragging moves the sheets.
func (v *Viewer) drawingDragged(e *fyne.DragEvent) bool {
	d := v.drawing
	if d == nil || d.from == nil {
		return false
	}
	// By how far it went, since side by side the other view begins half-way.
	d.pointer[0] += float64(e.Dragged.DX) * v.ratio / v.motion.Scale
	d.pointer[1] += float64(e.Dragged.DY) * v.ratio / v.motion.Scale
	v.overlay()
	return true
}

// drawingDropped ends the box where the pointer is let go.
func (v *Viewer) drawingDropped() bool {
	d := v.drawing
	if d == nil || d.from == nil {
		return false
	}
	v.drawn(boxOf(*d.from, d.pointer))
	return true
}

// shownDrawing is the outline as far as it is drawn, with the corner that comes
// next.
func (d *drawing) shownDrawing() [][2]float64 {
	if d.from != nil {
		return boxOf(*d.from, d.pointer)
	}
	if len(d.points) == 0 {
		return nil
	}
	return append(append([][2]float64(nil), d.points...), d.pointer)
}

// outlineDrawer keeps the lines and dots that outlines are drawn with.
type outlineDrawer struct {
	lines []*canvas.Line
	dots  []*canvas.Circle
}

func (r *viewRenderer) placeOutlines() {
	v, o := r.v, &r.outlines
	nl, nd := 0, 0
	one := func(p, q fyne.Position, width float32, ink fyne.ThemeColorName) {
		if nl == len(o.lines) {
			o.lines = append(o.lines, canvas.NewLine(color.White))
		}
		l := o.lines[nl]
		nl++
		l.StrokeColor, l.StrokeWidth, l.Position1, l.Position2 = look.Colour(ink), width, p, q
		l.Show()
	}
	type stroke struct {
		p, q  fyne.Position
		width float32
	}
	var strokes []stroke
	line := func(p, q fyne.Position, width float32) { strokes = append(strokes, stroke{p, q, width}) }
	dot := func(p fyne.Position, radius float32) {
		if nd == len(o.dots) {
			o.dots = append(o.dots, canvas.NewCircle(color.White))
		}
		c := o.dots[nd]
		nd++
		c.FillColor, c.StrokeColor, c.StrokeWidth = look.Colour(look.OnPicture), look.Colour(look.Veil), 2
		c.Resize(fyne.NewSize(2*radius, 2*radius))
		c.Move(p.SubtractXY(radius, radius))
		c.Show()
	}
	round := func(points [][2]float64, off, width float32) {
		for i, a := range points {
			b := points[(i+1)%len(points)]
			line(r.at(a[0], a[1], off), r.at(b[0], b[1], off), width)
		}
	}
	if v.w > 1 {
		for _, off := range r.copies() {
			for _, x := range v.outlines {
				width := float32(1.5)
				if x.Chosen {
					width = 3
				}
				round(x.Points, off, width)
			}
			if d := v.drawing; d != nil {
				round(d.shownDrawing(), off, 2)
				for _, p := range d.points {
					dot(r.at(p[0], p[1], off), 4)
				}
				if d.cross != nil {
					p := r.at(d.cross[0], d.cross[1], off)
					line(p.SubtractXY(12, 0), p.AddXY(12, 0), 2)
					line(p.SubtractXY(0, 12), p.AddXY(0, 12), 2)
				}
			}
		}
	}
	// Dark with a light edge: seen on paper and in the darkest hatching, and of no
	// colour that means something.
	for _, s := range strokes {
		one(s.p, s.q, s.width+2.4, look.OnPicture)
	}
	for _, s := range strokes {
		one(s.p, s.q, s.width, look.Veil)
	}
	for _, l := range o.lines[nl:] {
		l.Hide()
	}
	for _, c := range o.dots[nd:] {
		c.Hide()
	}
}

// copies are the offsets at which what lies over a sheet is drawn: twice side by
// side.
func (r *viewRenderer) copies() []float32 {
	if r.v.stage.Mode == Beside {
		return []float32{0, float32(float64(r.v.w-HalfWidth(r.v.w)) / r.v.ratio)}
	}
	return []float32{0}
}
