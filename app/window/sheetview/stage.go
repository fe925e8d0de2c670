package sheetview

import (
	"image"
	"image/color"
)

// Stage is what is to be drawn: two sheets (B may be nil, and A too), a mode
// and a motion. It keeps the drawings of the last motion, so that moving the
// edge or changing the mode does not sample the pictures again. It is used
// from one goroutine.
type Stage struct {
	A, B   *Sheet
	Mode   Mode
	Share  float64 // where the edge stands, 0..1 of the width
	Second bool    // in turn: the second sheet is up
	Map    *Tiles
	Ground color.NRGBA

	a, b layer
	out  *image.RGBA
}

// layer is one sheet drawn for one motion.
type layer struct {
	of    *Sheet
	m     Motion
	fine  bool
	pix   *image.RGBA
	valid bool
}

func (l *layer) draw(s *Sheet, m Motion, w, h int, fine bool, ground color.NRGBA) *image.RGBA {
	fits := l.pix != nil && l.pix.Rect.Dx() == w && l.pix.Rect.Dy() == h
	if l.valid && fits && l.of == s && l.m == m && (l.fine || !fine) {
		return l.pix
	}
	if !fits {
		l.pix = image.NewRGBA(image.Rect(0, 0, w, h))
	}
	switch {
	case s == nil:
		paint(l.pix, 0, w, 0, h, ground)
	case fine:
		s.Settle(l.pix, m, ground)
	default:
		s.Draft(l.pix, m, ground)
	}
	l.of, l.m, l.fine, l.valid = s, m, fine, true
	return l.pix
}

// Forget drops the kept drawings, after the ground colour changed.
func (st *Stage) Forget() { st.a.valid, st.b.valid = false, false }

// Draw is the view of w x h device pixels. fine asks for exact averages
// (still pictures). The picture returned is overwritten by the next Draw.
func (st *Stage) Draw(m Motion, w, h int, fine bool) *image.RGBA {
	if st.out == nil || st.out.Rect.Dx() != w || st.out.Rect.Dy() != h {
		st.out = image.NewRGBA(image.Rect(0, 0, w, h))
	}
	g := st.Ground
	switch {
	case st.Mode == Beside:
		st.beside(m, w, h, fine)
	case st.Mode == Difference && st.A != nil && st.B != nil:
		a, b := st.a.draw(st.A, m, w, h, fine, g), st.b.draw(st.B, m, w, h, fine, g)
		difference(st.out, a, b, st.A.White, st.B.White, g, st.both(m, w, h))
	case st.Mode == Edge:
		a, b := st.a.draw(st.A, m, w, h, fine, g), st.b.draw(st.B, m, w, h, fine, g)
		divide(st.out, a, b, int(st.Share*float64(w)))
	case st.Mode == InTurn && !st.Second:
		copy(st.out.Pix, st.a.draw(st.A, m, w, h, fine, g).Pix)
	default:
		copy(st.out.Pix, st.b.draw(st.B, m, w, h, fine, g).Pix)
	}
	if st.Map != nil && st.Mode != Beside && st.Mode != Difference {
		st.Map.overlay(st.out, m)
	}
	return st.out
}

// gutter is the neutral strip between two sheets side by side, device pixels.
const gutter = 6

// HalfWidth is the width of one of two views side by side.
func HalfWidth(w int) int { return max((w-gutter)/2, 1) }

func (st *Stage) beside(m Motion, w, h int, fine bool) {
	half := HalfWidth(w)
	a := st.a.draw(st.A, m, half, h, fine, st.Ground)
	b := st.b.draw(st.B, m, half, h, fine, st.Ground)
	if st.Map != nil {
		mapped := image.NewRGBA(b.Rect)
		copy(mapped.Pix, b.Pix)
		st.Map.overlay(mapped, m)
		b = mapped
	}
	gap := color.NRGBA{0x60, 0x60, 0x60, 0xff}
	for y := range h {
		o := st.out.Pix[y*st.out.Stride:]
		copy(o[:4*half], a.Pix[y*a.Stride:y*a.Stride+4*half])
		copy(o[4*(w-half):4*w], b.Pix[y*b.Stride:y*b.Stride+4*half])
	}
	paint(st.out, half, w-half, 0, h, gap)
}

// both says, for each row of the view, which columns lie on both sheets.
func (st *Stage) both(m Motion, w, h int) func(y int) (int, int) {
	a, b := st.A.Box(), st.B.Box()
	box := Box{max(a.X0, b.X0), max(a.Y0, b.Y0), min(a.X1, b.X1), min(a.Y1, b.Y1)}
	x0, y0 := m.To(box.X0, box.Y0, float64(w), float64(h))
	x1, y1 := m.To(box.X1, box.Y1, float64(w), float64(h))
	c0, c1 := min(max(int(x0+1), 0), w), min(max(int(x1), 0), w)
	return func(y int) (int, int) {
		if float64(y) < y0 || float64(y) > y1-1 || c1 <= c0 {
			return 0, 0
		}
		return c0, c1
	}
}
