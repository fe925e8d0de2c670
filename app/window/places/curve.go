package places

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
	"pullbook/catalog/life"
)

// curvePoint is one measured sheet.
type curvePoint struct {
	id      catalog.ID
	pull    float64
	v       catalog.Value
	verdict look.Verdict
	chosen  bool
}

// curve plots loss against count of pull: the sheets with their uncertainty
// (bars of two u), the forecast with its 80 per cent band, and the limit.
type curve struct {
	widget.BaseWidget
	pts    []curvePoint
	fc     *life.Forecast
	limit  float64
	picked func(catalog.ID)
	live   *curveRenderer
}

func newCurve() *curve {
	c := &curve{}
	c.ExtendBaseWidget(c)
	return c
}

func (c *curve) set(pts []curvePoint, fc *life.Forecast, limit float64) {
	if fc != nil && fc.Readings == 0 {
		fc = nil // the trade's expectation alone is no curve of this plate
	}
	c.pts, c.fc, c.limit = pts, fc, limit
	c.Refresh()
}

// Tapped picks the nearest sheet.
func (c *curve) Tapped(e *fyne.PointEvent) {
	if c.live == nil || c.picked == nil {
		return
	}
	best, at := float32(18), -1
	for i, p := range c.pts {
		q := c.live.at(p.pull, p.v.V)
		if d := float32(math.Hypot(float64(q.X-e.Position.X), float64(q.Y-e.Position.Y))); d < best {
			best, at = d, i
		}
	}
	if at >= 0 {
		c.picked(c.pts[at].id)
	}
}

func (c *curve) CreateRenderer() fyne.WidgetRenderer {
	r := &curveRenderer{c: c}
	r.plot = canvas.NewRaster(r.draw)
	r.plot.ScaleMode = canvas.ImageScalePixels
	c.live = r
	r.build()
	return r
}

// mostPoints bounds what is drawn; beyond it every nth sheet is left out.
const mostPoints = 300

type curveRenderer struct {
	c          *curve
	size       fyne.Size
	plot       *canvas.Raster
	objs       []fyne.CanvasObject
	maxX, maxY float64
}

// the frame of the plot inside the widget
const plotLeft, plotTop, plotRight, plotFoot = 46, 26, 12, 24

func (r *curveRenderer) at(pull, v float64) fyne.Position {
	w, h := r.size.Width-plotLeft-plotRight, r.size.Height-plotTop-plotFoot
	return fyne.NewPos(plotLeft+w*float32(pull/r.maxX), plotTop+h*float32(1-v/r.maxY))
}

// nice is a round step that cuts v into about n.
func nice(v float64, n float64) float64 {
	raw := v / n
	p := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range []float64{1, 2, 5, 10} {
		if m*p >= raw {
			return m * p
		}
	}
	return 10 * p
}

func (r *curveRenderer) build() {
	c := r.c
	r.objs = []fyne.CanvasObject{}
	if r.size.Width < 160 || r.size.Height < 90 {
		return
	}
	text := func(s string, p fyne.Position, align fyne.TextAlign, n fyne.ThemeColorName, bold bool) {
		t := canvas.NewText(s, look.Colour(n))
		t.TextSize = theme.CaptionTextSize()
		t.TextStyle.Bold = bold
		t.Alignment = align
		m := t.MinSize()
		switch align {
		case fyne.TextAlignCenter:
			p.X -= m.Width / 2
		case fyne.TextAlignTrailing:
			p.X -= m.Width
		}
		t.Move(p)
		t.Resize(m)
		r.objs = append(r.objs, t)
	}
	text(words.T("Loss against the reference pull, by count of pull"), fyne.NewPos(6, 4), fyne.TextAlignLeading, look.Muted, true)
	if len(c.pts) == 0 {
		text(words.T("Measure sheets whose pull is recorded, and the wear of the plate is drawn here."), fyne.NewPos(6, r.size.Height/2-8), fyne.TextAlignLeading, look.Muted, false)
		return
	}
	r.scale()
	r.plot.Resize(r.size)
	r.objs = append(r.objs, r.plot)
	for v, step := 0.0, nice(r.maxY, 4); v <= r.maxY*1.0001; v += step {
		p := r.at(0, v)
		text(words.Percent(v, 0), fyne.NewPos(plotLeft-6, p.Y-8), fyne.TextAlignTrailing, look.Muted, false)
	}
	for x, step := 0.0, nice(r.maxX, 8); x <= r.maxX*1.0001; x += step {
		p := r.at(x, 0)
		text(words.Num(x, 0), fyne.NewPos(p.X, p.Y+5), fyne.TextAlignCenter, look.Muted, false)
	}
	if c.limit > 0 && c.limit < r.maxY {
		p := r.at(0, c.limit)
		text(words.T("limit"), fyne.NewPos(plotLeft+8, p.Y-17), fyne.TextAlignLeading, look.Outside, false)
	}
}

func (r *curveRenderer) scale() {
	c := r.c
	r.maxX, r.maxY = 10, 0.1
	for _, p := range c.pts {
		r.maxX = max(r.maxX, p.pull*1.08)
		r.maxY = max(r.maxY, (p.v.V+2*p.v.U)*1.1)
	}
	if c.limit > 0 {
		r.maxY = max(r.maxY, c.limit*1.25)
	}
	if c.fc != nil && !c.fc.TooEarly && c.fc.Readings > 0 {
		r.maxX = max(r.maxX, min(float64(c.fc.Pulled)+c.fc.Left50*1.1, r.maxX*2.5))
	}
}

// draw draws all of the plot but its words, in device pixels. Hundreds of dots
// and bars make one picture: the toolkit would paint each of them anew with
// every picture of the window.
func (r *curveRenderer) draw(w, h int) image.Image {
	p := look.NewPen(w, h)
	if r.maxX == 0 || r.size.Width < 1 {
		return p.Picture()
	}
	k := float32(w) / r.size.Width
	line := func(a, b fyne.Position, n fyne.ThemeColorName, width float32) {
		p.Line(a.X*k, a.Y*k, b.X*k, b.Y*k, width*k, look.Colour(n))
	}
	right := r.size.Width - plotRight
	for v, step := 0.0, nice(r.maxY, 4); v <= r.maxY*1.0001; v += step {
		y := r.crisp(r.at(0, v).Y, k)
		line(fyne.NewPos(plotLeft, y), fyne.NewPos(right, y), look.Rule, 1)
	}
	for x, step := 0.0, nice(r.maxX, 8); x <= r.maxX*1.0001; x += step {
		q := r.at(x, 0)
		q.X = r.crisp(q.X, k)
		line(q, q.AddXY(0, 4), look.Faint, 1)
	}
	band := r.drawBand(int((r.size.Width-plotLeft-plotRight)*k), int((r.size.Height-plotTop-plotFoot)*k))
	at := image.Pt(int(plotLeft*k), int(plotTop*k))
	draw.Draw(p.Picture(), band.Bounds().Add(at), band, image.Point{}, draw.Over)
	if l := r.c.limit; l > 0 && l < r.maxY {
		y := r.crisp(r.at(0, l).Y, k)
		for x := float32(plotLeft); x < right; x += 9 {
			line(fyne.NewPos(x, y), fyne.NewPos(min(x+5, right), y), look.Outside, 1)
		}
	}
	r.points(p, k, line)
	return p.Picture()
}

// crisp sets a hairline on the middle of a device pixel.
func (r *curveRenderer) crisp(v, k float32) float32 { return (float32(int(v*k)) + 0.5) / k }

// points draws the sheets; k is device pixels for one unit of the toolkit.
func (r *curveRenderer) points(pen *look.Pen, k float32, line func(a, b fyne.Position, n fyne.ThemeColorName, w float32)) {
	every := (len(r.c.pts) + mostPoints - 1) / mostPoints
	disc := func(at fyne.Position, d float32, n fyne.ThemeColorName) {
		pen.Disc(at.X*k, at.Y*k, d/2*k, look.Colour(n))
	}
	for i, p := range r.c.pts {
		if i%every != 0 && !p.chosen {
			continue
		}
		line(r.at(p.pull, max(p.v.V-2*p.v.U, 0)), r.at(p.pull, p.v.V+2*p.v.U), look.Muted, 1)
		at, d := r.at(p.pull, max(p.v.V, 0)), float32(6)
		if p.chosen {
			d = 11
			disc(at, d+2, look.Ink)
			d -= 2
		}
		switch p.verdict {
		case look.CannotTell:
			disc(at, d+1, look.Unsure)
			disc(at, d-2, look.Paper)
		case look.IsOutside:
			disc(at, d, look.Outside)
		default:
			disc(at, d, look.Blue)
		}
	}
}

// drawBand fills the 80 per cent band of the forecast, column by column.
func (r *curveRenderer) drawBand(w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	fc := r.c.fc
	if fc == nil || len(fc.Curve) < 2 || r.maxX == 0 {
		return img
	}
	c := color.NRGBAModel.Convert(look.Colour(look.Copper)).(color.NRGBA)
	const a = 0x2c
	fill := color.RGBA{uint8(int(c.R) * a / 255), uint8(int(c.G) * a / 255), uint8(int(c.B) * a / 255), a}
	k := 1
	for x := range w {
		pull := (float64(x) + 0.5) / float64(w) * r.maxX
		for k < len(fc.Curve)-1 && fc.Curve[k].Pull < pull {
			k++
		}
		p, q := fc.Curve[k-1], fc.Curve[k]
		if pull < p.Pull || pull > q.Pull || q.Pull == p.Pull {
			continue
		}
		f := (pull - p.Pull) / (q.Pull - p.Pull)
		lo, hi := p.Lo+(q.Lo-p.Lo)*f, p.Hi+(q.Hi-p.Hi)*f
		y0, y1 := int(float64(h)*(1-hi/r.maxY)), int(float64(h)*(1-max(lo, 0)/r.maxY))
		for y := max(y0, 0); y < min(y1, h); y++ {
			img.SetRGBA(x, y, fill)
		}
		mid := float64(h) * (1 - max(p.Mid+(q.Mid-p.Mid)*f, 0)/r.maxY)
		slope := (q.Mid - p.Mid) / r.maxY * float64(h) / ((q.Pull - p.Pull) / r.maxX * float64(w))
		stroke(img, x, mid, 1.1*math.Hypot(1, slope), c)
	}
	return img
}

func (r *curveRenderer) Layout(s fyne.Size) {
	r.size = s
	r.build()
}
func (r *curveRenderer) MinSize() fyne.Size { return fyne.NewSize(200, 120) }
func (r *curveRenderer) Refresh() {
	r.build()
	canvas.Refresh(r.c)
}
func (r *curveRenderer) Objects() []fyne.CanvasObject { return r.objs }
func (r *curveRenderer) Destroy()                     {}

// stroke draws one column of a line with soft edges.
func stroke(img *image.RGBA, x int, mid, half float64, c color.NRGBA) {
	for y := max(int(mid-half-1), 0); y <= min(int(mid+half+1), img.Rect.Dy()-1); y++ {
		k := min(max(half+0.5-math.Abs(float64(y)+0.5-mid), 0), 1)
		o := img.RGBAAt(x, y)
		mix := func(a, b uint8) uint8 { return uint8(float64(a)*k + float64(b)*(1-k)) }
		img.SetRGBA(x, y, color.RGBA{mix(c.R, o.R), mix(c.G, o.G), mix(c.B, o.B), mix(0xff, o.A)})
	}
}
