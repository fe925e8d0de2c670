package look

import (
	"image"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Verdict is the shape and colour of a judgement; shape and word carry it as
// well as colour.
type Verdict int

// Verdicts.
const (
	NoVerdict Verdict = iota
	IsWithin
	CannotTell
	IsOutside
	IsRefused
)

// Colour is the verdict's colour name.
func (v Verdict) Colour() fyne.ThemeColorName {
	switch v {
	case IsWithin:
		return Within
	case IsOutside:
		return Outside
	case CannotTell:
		return Unsure
	}
	return Faint
}

// Mark is a small drawn sign: a filled disc for within, a ring for cannot
// tell, a lozenge for outside, a bar for refused.
type Mark struct {
	widget.BaseWidget
	v Verdict
}

// NewMark draws a verdict.
func NewMark(v Verdict) *Mark {
	m := &Mark{v: v}
	m.ExtendBaseWidget(m)
	return m
}

// Set changes the verdict.
func (m *Mark) Set(v Verdict) {
	if m.v != v {
		m.v = v
		m.Refresh()
	}
}

// CreateRenderer is the toolkit's hook.
func (m *Mark) CreateRenderer() fyne.WidgetRenderer {
	r := &markRenderer{m: m}
	r.drawn = canvas.NewRaster(r.draw)
	r.drawn.ScaleMode = canvas.ImageScalePixels
	return r
}

type markRenderer struct {
	m     *Mark
	drawn *canvas.Raster
}

// markSide is the side of the square that a mark lies in.
const markSide = 13

// draw draws the sign for a size in device pixels.
func (r *markRenderer) draw(w, h int) image.Image {
	p := NewPen(w, h)
	unit := float32(w) / markSide // device pixels for one unit of the toolkit
	cx, cy, c := float32(w)/2, float32(h)/2, Colour(r.m.v.Colour())
	switch r.m.v {
	case IsWithin:
		p.Disc(cx, cy, 4.5*unit, c)
	case CannotTell:
		p.Ring(cx, cy, 4.5*unit, 2*unit, c)
	case IsRefused:
		p.Line(cx-4.5*unit, cy, cx+4.5*unit, cy, 3*unit, c)
	case IsOutside:
		const out, in = 6.2, 3.2 // of the corners, so that the sides are two units wide
		at := func(d float32) [][2]float32 {
			d *= unit
			return [][2]float32{{cx, cy - d}, {cx + d, cy}, {cx, cy + d}, {cx - d, cy}}
		}
		p.frame(at(out), at(in), c)
	}
	return p.Picture()
}

func (r *markRenderer) Layout(s fyne.Size) {
	r.drawn.Move(fyne.NewPos(round((s.Width-markSide)/2), round((s.Height-markSide)/2)))
	r.drawn.Resize(fyne.NewSquareSize(markSide))
	r.drawn.Hidden = r.m.v == NoVerdict
}

func (r *markRenderer) MinSize() fyne.Size           { return fyne.NewSquareSize(markSide) }
func (r *markRenderer) Refresh()                     { r.Layout(r.m.Size()); r.drawn.Refresh() }
func (r *markRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.drawn} }
func (r *markRenderer) Destroy()                     {}

// lifeStrokes is the number of strokes of a Life mark.
const lifeStrokes = 10

// Life draws how much of a plate's working life is left: ten strokes of
// hatching that shorten to stubs as the plate wears. Below nought it is not
// known and the strokes are pale.
type Life struct {
	widget.BaseWidget
	left float64
}

// NewLife draws a share 0..1 of life left, or less than nought for not known.
func NewLife(left float64) *Life {
	l := &Life{left: left}
	l.ExtendBaseWidget(l)
	return l
}

// Set changes the share.
func (l *Life) Set(left float64) {
	if l.left != left {
		l.left = left
		l.Refresh()
	}
}

// CreateRenderer is the toolkit's hook.
func (l *Life) CreateRenderer() fyne.WidgetRenderer {
	r := &lifeRenderer{l: l}
	r.drawn = canvas.NewRaster(r.draw)
	r.drawn.ScaleMode = canvas.ImageScalePixels
	return r
}

type lifeRenderer struct {
	l     *Life
	drawn *canvas.Raster
}

// draw draws the strokes for a size in device pixels.
func (r *lifeRenderer) draw(w, h int) image.Image {
	p := NewPen(w, h)
	left, wide, high := r.l.left, float32(w), float32(h)
	unit := high / max(r.l.Size().Height, 1) // device pixels for one unit of the toolkit
	full := int(left*lifeStrokes + 0.5)
	if left > 0 && full == 0 {
		full = 1
	}
	for i := range lifeStrokes {
		width, ink, top := float32(1.6), Copper, float32(0)
		if left < 0 {
			width, ink = 0.8, Faint
		} else if i >= full {
			width, ink, top = 1.2, Faint, high*0.66
		}
		x := unit + float32(i)*(wide-6*unit)/(lifeStrokes-1)
		p.Line(x+3*unit*(high-top)/high, top, x, high, width*unit, Colour(ink))
	}
	return p.Picture()
}

func (r *lifeRenderer) Layout(s fyne.Size)           { r.drawn.Resize(s) }
func (r *lifeRenderer) MinSize() fyne.Size           { return fyne.NewSize(42, 11) }
func (r *lifeRenderer) Refresh()                     { r.drawn.Refresh() }
func (r *lifeRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.drawn} }
func (r *lifeRenderer) Destroy()                     {}

// Gauge is a 4 px bar filled from the left; past its end it turns to the
// colour of warnings.
type Gauge struct {
	widget.BaseWidget
	share float64
	fill  fyne.ThemeColorName
}

// NewGauge shows a share 0..1.
func NewGauge(fill fyne.ThemeColorName) *Gauge {
	g := &Gauge{fill: fill}
	g.ExtendBaseWidget(g)
	return g
}

// Set changes the share.
func (g *Gauge) Set(share float64) {
	if g.share != share {
		g.share = share
		g.Refresh()
	}
}

// CreateRenderer is the toolkit's hook.
func (g *Gauge) CreateRenderer() fyne.WidgetRenderer {
	r := &gaugeRenderer{g: g, bed: canvas.NewRectangle(color.Transparent), bar: canvas.NewRectangle(color.Transparent)}
	r.bed.CornerRadius, r.bar.CornerRadius = 2, 2
	return r
}

type gaugeRenderer struct {
	g        *Gauge
	bed, bar *canvas.Rectangle
}

func (r *gaugeRenderer) Layout(s fyne.Size) {
	r.bed.FillColor = Colour(Rule)
	r.bar.FillColor = Colour(r.g.fill)
	if r.g.share > 1 {
		r.bar.FillColor = Colour(Unsure)
	}
	y := (s.Height - 4) / 2
	r.bed.Move(fyne.NewPos(0, y))
	r.bed.Resize(fyne.NewSize(s.Width, 4))
	r.bar.Move(fyne.NewPos(0, y))
	w := s.Width * float32(min(max(r.g.share, 0), 1))
	r.bar.Hidden = w < 1
	r.bar.Resize(fyne.NewSize(w, 4))
}

func (r *gaugeRenderer) MinSize() fyne.Size { return fyne.NewSize(40, 6) }
func (r *gaugeRenderer) Refresh()           { r.Layout(r.g.Size()); canvas.Refresh(r.g) }
func (r *gaugeRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.bed, r.bar}
}
func (r *gaugeRenderer) Destroy() {}
