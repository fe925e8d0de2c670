package sheetview

import "math"

// Motion is what part of the plate is seen: Scale in device pixels per
// millimetre, and the point in millimetres at the middle of the view. Both
// sheets of a pair are drawn by the same Motion.
type Motion struct {
	Scale  float64
	CX, CY float64
}

// Box is a rectangle in millimetres.
type Box struct{ X0, Y0, X1, Y1 float64 }

// W and H are the sides of the box.
func (b Box) W() float64 { return b.X1 - b.X0 }

// H is the height of the box.
func (b Box) H() float64 { return b.Y1 - b.Y0 }

// Fit is the motion that shows all of the box in a view of w x h device
// pixels with a margin of 4 %.
func Fit(b Box, w, h float64) Motion {
	if b.W() <= 0 || b.H() <= 0 || w < 1 || h < 1 {
		return Motion{Scale: 1}
	}
	s := math.Min(w/b.W(), h/b.H()) * 0.96
	return Motion{Scale: s, CX: (b.X0 + b.X1) / 2, CY: (b.Y0 + b.Y1) / 2}
}

// At is the place in millimetres under the device pixel (x, y) of a view of
// w x h.
func (m Motion) At(x, y, w, h float64) (mmX, mmY float64) {
	return m.CX + (x-w/2)/m.Scale, m.CY + (y-h/2)/m.Scale
}

// To is the device pixel of a place in millimetres.
func (m Motion) To(mmX, mmY, w, h float64) (x, y float64) {
	return (mmX-m.CX)*m.Scale + w/2, (mmY-m.CY)*m.Scale + h/2
}

// Zoomed multiplies the scale by f and keeps the place under (x, y) there.
func (m Motion) Zoomed(f, x, y, w, h float64) Motion {
	mx, my := m.At(x, y, w, h)
	n := m
	n.Scale *= f
	n.CX = mx - (x-w/2)/n.Scale
	n.CY = my - (y-h/2)/n.Scale
	return n
}

// Panned moves the picture by (dx, dy) device pixels.
func (m Motion) Panned(dx, dy float64) Motion {
	m.CX -= dx / m.Scale
	m.CY -= dy / m.Scale
	return m
}

// Held keeps the motion within reason: the middle of the view stays on the
// box, the scale between a third of fitting and most device pixels for one
// picture pixel.
func (m Motion) Held(b Box, w, h, pxPerMM float64) Motion {
	least := Fit(b, w, h).Scale / 3
	most := math.Max(pxPerMM*12, least*4)
	m.Scale = math.Min(math.Max(m.Scale, least), most)
	m.CX = math.Min(math.Max(m.CX, b.X0), b.X1)
	m.CY = math.Min(math.Max(m.CY, b.Y0), b.Y1)
	return m
}
