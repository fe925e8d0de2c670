package sheetview

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"pullbook/app/window/look"
)

// CreateRenderer is the toolkit's hook.
func (v *Viewer) CreateRenderer() fyne.WidgetRenderer {
	r := &viewRenderer{v: v}
	r.edge = canvas.NewLine(color.White)
	r.edge.StrokeWidth = 2
	r.knob = canvas.NewCircle(color.White)
	r.ring = canvas.NewRectangle(color.Transparent)
	for i := range r.sides {
		r.sides[i] = canvas.NewLine(color.White)
		r.handles[i] = canvas.NewCircle(color.White)
	}
	v.live = r
	r.place()
	return r
}

// viewRenderer places what is drawn over the raster: marked boxes, the edge,
// the corners, the focus ring. There is no ground behind the raster: it is
// opaque, and every covered pixel costs.
type viewRenderer struct {
	v     *Viewer
	boxes []*canvas.Rectangle

	outlines outlineDrawer
	edge     *canvas.Line
	knob     *canvas.Circle
	sides    [4]*canvas.Line
	handles  [4]*canvas.Circle
	ring     *canvas.Rectangle
}

// IsClip makes the toolkit clip what is drawn over the sheets.
func (r *viewRenderer) IsClip() {}

func (v *Viewer) overlay() {
	if v.live != nil {
		v.live.place()
		canvas.Refresh(v)
	}
}

func (r *viewRenderer) place() {
	v := r.v
	size := v.Size()
	r.edge.Hidden = v.stage.Mode != Edge || v.stage.A == nil || v.stage.B == nil
	r.knob.Hidden = r.edge.Hidden
	x := float32(v.stage.Share) * size.Width
	r.edge.Position1, r.edge.Position2 = fyne.NewPos(x, 0), fyne.NewPos(x, size.Height)
	r.knob.Resize(fyne.NewSize(12, 12))
	r.knob.Move(fyne.NewPos(x-6, size.Height/2-6))
	r.ring.Hidden = !v.focused
	r.ring.StrokeColor, r.ring.StrokeWidth = look.Colour(look.Blue), 2
	r.ring.Resize(size)
	r.placeCorners()
	r.placeBoxes()
	r.placeOutlines()
}

func (r *viewRenderer) at(x, y float64, offset float32) fyne.Position {
	w, h := r.v.part()
	px, py := r.v.motion.To(x, y, w, h)
	return fyne.NewPos(float32(px/r.v.ratio)+offset, float32(py/r.v.ratio))
}

func (r *viewRenderer) placeCorners() {
	show := r.v.corners != nil && r.v.w > 1
	for i := range r.sides {
		r.sides[i].Hidden, r.handles[i].Hidden = !show, !show
		if !show {
			continue
		}
		c, d := r.v.corners[i], r.v.corners[(i+1)%4]
		p := r.at(c[0], c[1], 0)
		r.sides[i].StrokeColor, r.sides[i].StrokeWidth = look.Colour(look.Copper), 1.5
		r.sides[i].Position1, r.sides[i].Position2 = p, r.at(d[0], d[1], 0)
		h := r.handles[i]
		h.FillColor, h.StrokeColor, h.StrokeWidth = color.NRGBA{0xff, 0xff, 0xff, 0x60}, look.Colour(look.Copper), 2
		radius := float32(7)
		if i == r.v.hand {
			h.FillColor, radius = color.NRGBA{0xff, 0xff, 0xff, 0x20}, 11
			h.StrokeWidth = 4
		}
		h.Resize(fyne.NewSize(2*radius, 2*radius))
		h.Move(p.SubtractXY(radius, radius))
	}
}

func (r *viewRenderer) placeBoxes() {
	n := 0
	for _, off := range r.copies() {
		for _, b := range r.v.boxes {
			if n == len(r.boxes) {
				r.boxes = append(r.boxes, canvas.NewRectangle(color.Transparent))
			}
			o := r.boxes[n]
			n++
			p, q := r.at(b.Box.X0, b.Box.Y0, off), r.at(b.Box.X1, b.Box.Y1, off)
			o.Hidden = r.v.w < 2
			o.StrokeColor, o.StrokeWidth = look.Colour(b.Colour), 1.5
			if b.Chosen {
				o.StrokeWidth = 3
			}
			o.CornerRadius = 2
			o.Move(p.SubtractXY(3, 3))
			o.Resize(fyne.NewSize(q.X-p.X+6, q.Y-p.Y+6))
		}
	}
	for _, o := range r.boxes[n:] {
		o.Hide()
	}
}

func (r *viewRenderer) Layout(s fyne.Size) {
	r.v.raster.Resize(s)
	r.place()
}

func (r *viewRenderer) MinSize() fyne.Size { return fyne.NewSize(160, 120) }

func (r *viewRenderer) Refresh() {
	r.place()
	r.v.raster.Refresh()
}

func (r *viewRenderer) Objects() []fyne.CanvasObject {
	o := []fyne.CanvasObject{r.v.raster}
	for _, b := range r.boxes {
		o = append(o, b)
	}
	for _, l := range r.outlines.lines {
		o = append(o, l)
	}
	for _, c := range r.outlines.dots {
		o = append(o, c)
	}
	for i := range r.sides {
		o = append(o, r.sides[i])
	}
	for i := range r.handles {
		o = append(o, r.handles[i])
	}
	return append(o, r.edge, r.knob, r.ring)
}

func (r *viewRenderer) Destroy() {}
