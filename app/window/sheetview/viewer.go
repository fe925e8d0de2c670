package sheetview

import (
	"image"
	"image/color"
	"sync"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/window/look"
)

// Marked is a box to be drawn over the sheets, in millimetres.
type Marked struct {
	Box    Box
	Colour fyne.ThemeColorName
	Chosen bool
}

// Viewer is the widget: a Stage under the pointer and the keyboard. All its
// methods are for the interface goroutine.
type Viewer struct {
	widget.BaseWidget
	// Moved is told after every change of motion or mode.
	Moved func()
	// EdgeMoved, CornersMoved and Tapped tell what the user did.
	CornersMoved func([4]Corner)
	TappedMM     func(x, y float64)
	// Painted is told of every picture drawn.
	Painted func()
	// TrueScale is device pixels per millimetre at true size.
	TrueScale float64

	post   func(func())
	stage  Stage
	motion Motion
	w, h   int     // device pixels of the last drawing
	ratio  float64 // device pixels for one unit of the toolkit
	fitted bool    // the motion still is the fitting one
	loupe  bool
	at     fyne.Position // the pointer
	inside bool

	boxes   []Marked
	corners *[4]Corner
	grip    int // 0 none, 1 the edge, 2.. a corner

	seq     int // counts changes, so that late drawings are dropped
	timer   *time.Timer
	settler settler
	small   halfStage
	busy    bool // drafts take too long at full resolution
	ready   *image.RGBA
	readyAt int
	lens    *image.RGBA
	raster  *canvas.Raster
	focused bool
	live    *viewRenderer
}

// NewViewer is an empty viewer; post runs a function on the interface
// goroutine.
func NewViewer(post func(func())) *Viewer {
	v := &Viewer{post: post, fitted: true, ratio: 1, TrueScale: 96 / 25.4}
	v.stage.Share = 0.5
	v.raster = canvas.NewRaster(v.generate)
	v.raster.ScaleMode = canvas.ImageScaleFastest
	v.ExtendBaseWidget(v)
	return v
}

// ShowPair sets the two sheets; keep holds the motion, otherwise both are fitted.
func (v *Viewer) ShowPair(a, b *Sheet, keep bool) {
	v.stage.A, v.stage.B = a, b
	if !keep {
		v.fitted = true
	}
	v.changed()
}

// Sheets are the two sheets shown.
func (v *Viewer) Sheets() (a, b *Sheet) { return v.stage.A, v.stage.B }

// SetMode changes how the sheets are shown.
func (v *Viewer) SetMode(m Mode) {
	if v.stage.Mode == m {
		return
	}
	v.stage.Mode = m
	v.changed()
}

// Mode is how the sheets are shown.
func (v *Viewer) Mode() Mode { return v.stage.Mode }

// Turn puts the other sheet up, in turn.
func (v *Viewer) Turn() { v.stage.Second = !v.stage.Second; v.changed() }

// SecondUp reports whether the second sheet is up, in turn.
func (v *Viewer) SecondUp() bool { return v.stage.Second }

// SetShare moves the edge to a share of the width.
func (v *Viewer) SetShare(s float64) { v.stage.Share = min(max(s, 0), 1); v.changed() }

// Share is where the edge stands.
func (v *Viewer) Share() float64 { return v.stage.Share }

// SetMap lays a map over the second sheet; nil takes it off.
func (v *Viewer) SetMap(t *Tiles) { v.stage.Map = t; v.changed() }

// SetLoupe switches the loupe.
func (v *Viewer) SetLoupe(on bool) { v.loupe = on; v.changed() }

// Loupe reports whether the loupe is on.
func (v *Viewer) Loupe() bool { return v.loupe }

// SetBoxes sets what is marked over the sheets.
func (v *Viewer) SetBoxes(b []Marked) { v.boxes = b; v.overlay() }

// SetCorners shows four corners that can be dragged; nil shows none.
func (v *Viewer) SetCorners(c *[4]Corner) {
	v.corners = nil
	if c != nil {
		k := *c
		v.corners = &k
	}
	v.overlay()
}

// Motion is the present motion.
func (v *Viewer) Motion() Motion { return v.motion }

// SetMotion moves to a motion.
func (v *Viewer) SetMotion(m Motion) {
	v.fitted = false
	v.motion = v.held(m)
	v.changed()
}

// FitAll shows the whole of the sheets.
func (v *Viewer) FitAll() { v.fitted = true; v.changed() }

// TrueSize shows a millimetre of the plate as a millimetre of the screen.
func (v *Viewer) TrueSize() { m := v.motion; m.Scale = v.TrueScale * v.ratio; v.SetMotion(m) }

// PixelForPixel shows one pixel of the photograph as one of the screen.
func (v *Viewer) PixelForPixel() {
	if s := v.any(); s != nil {
		m := v.motion
		m.Scale = s.PxPerMM
		v.SetMotion(m)
	}
}

// ZoomBy multiplies the scale about the middle of the view.
func (v *Viewer) ZoomBy(f float64) {
	m := v.motion
	m.Scale *= f
	v.SetMotion(m)
}

// GoTo brings a box to the middle, enlarged to a third of the view at most.
func (v *Viewer) GoTo(b Box) {
	w, h := v.part()
	m := Fit(b, w, h)
	m.Scale = max(min(m.Scale*0.4, 40*v.ratio), Fit(v.box(), w, h).Scale)
	v.SetMotion(m)
}

func (v *Viewer) any() *Sheet {
	if v.stage.A != nil {
		return v.stage.A
	}
	return v.stage.B
}

func (v *Viewer) box() Box {
	if s := v.any(); s != nil {
		return s.Box()
	}
	return Box{0, 0, 100, 100}
}

// part is the size in device pixels of the view of one sheet.
func (v *Viewer) part() (w, h float64) {
	if v.stage.Mode == Beside {
		return float64(HalfWidth(v.w)), float64(v.h)
	}
	return float64(v.w), float64(v.h)
}

func (v *Viewer) held(m Motion) Motion {
	w, h := v.part()
	if w < 2 || h < 2 {
		return m
	}
	px := 10.0
	if s := v.any(); s != nil {
		px = s.PxPerMM
	}
	return m.Held(v.box(), w, h, px)
}

// local is a position of the toolkit in device pixels of the view of the
// sheet it lies on.
func (v *Viewer) local(p fyne.Position) (x, y float64) {
	x, y = float64(p.X)*v.ratio, float64(p.Y)*v.ratio
	if v.stage.Mode == Beside {
		if half := float64(HalfWidth(v.w)); x > float64(v.w)-half {
			x -= float64(v.w) - half
		}
	}
	return x, y
}

// AtMM is the place in millimetres under a position of the toolkit.
func (v *Viewer) AtMM(p fyne.Position) (x, y float64) {
	w, h := v.part()
	lx, ly := v.local(p)
	return v.motion.At(lx, ly, w, h)
}

// changed redraws as a draft and sets the timer for the still picture.
func (v *Viewer) changed() {
	v.seq++
	v.ready = nil
	if v.fitted && v.w > 1 {
		w, h := v.part()
		v.motion = Fit(v.box(), w, h)
	}
	v.raster.Refresh()
	v.overlay()
	if v.Moved != nil {
		v.Moved()
	}
	v.settleLater()
}

// stillAfter is how long nothing may move before the exact picture is drawn.
const stillAfter = 150 * time.Millisecond

func (v *Viewer) settleLater() {
	if v.timer != nil {
		v.timer.Stop()
	}
	if v.w < 2 || v.any() == nil && v.stage.B == nil {
		return
	}
	seq, stage, m, w, h := v.seq, v.stage, v.motion, v.w, v.h
	stage.Ground = surround()
	v.timer = time.AfterFunc(stillAfter, func() {
		pic := v.settler.draw(stage, m, w, h)
		v.post(func() {
			if seq == v.seq {
				v.ready, v.readyAt = pic, seq
				v.raster.Refresh()
			}
		})
	})
}

// halfStage draws drafts at half the resolution into buffers of its own.
type halfStage struct{ stage Stage }

func (s *halfStage) draw(st Stage, m Motion, w, h int) *image.RGBA {
	s.stage.A, s.stage.B, s.stage.Mode, s.stage.Share = st.A, st.B, st.Mode, st.Share
	s.stage.Second, s.stage.Map = st.Second, st.Map
	if s.stage.Ground != st.Ground {
		s.stage.Ground = st.Ground
		s.stage.Forget()
	}
	return s.stage.Draw(m, w, h, false)
}

// settler draws still pictures away from the interface goroutine, one at a
// time, into buffers of its own.
type settler struct {
	mu    sync.Mutex
	stage Stage
}

func (s *settler) draw(st Stage, m Motion, w, h int) *image.RGBA {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.stage.A, s.stage.B, s.stage.Mode, s.stage.Share = st.A, st.B, st.Mode, st.Share
	s.stage.Second, s.stage.Map, s.stage.Ground = st.Second, st.Map, st.Ground
	s.stage.Forget()
	out := s.stage.Draw(m, w, h, true)
	keep := image.NewRGBA(out.Rect)
	copy(keep.Pix, out.Pix)
	return keep
}

// generate is called by the toolkit with the true size in device pixels, once
// for every frame painted.
func (v *Viewer) generate(w, h int) image.Image {
	if w < 1 || h < 1 {
		return image.NewRGBA(image.Rect(0, 0, 1, 1))
	}
	if w != v.w || h != v.h {
		v.w, v.h = w, h
		if width := v.Size().Width; width > 0 {
			v.ratio = float64(w) / float64(width)
		}
		if v.fitted {
			pw, ph := v.part()
			v.motion = Fit(v.box(), pw, ph)
		}
		v.seq++
		v.ready = nil
		v.overlay()
		v.settleLater()
		if v.Moved != nil {
			v.post(v.Moved)
		}
	}
	if ground := surround(); ground != v.stage.Ground {
		v.stage.Ground = ground
		v.stage.Forget()
		v.ready = nil
		v.settleLater()
	}
	if v.Painted != nil {
		v.Painted()
	}
	lens := v.loupe && v.inside || v.grip > 1
	pic := v.ready
	if pic == nil || v.readyAt != v.seq {
		pic = v.draft(w, h, lens)
	}
	if lens {
		pic = v.withLens(pic)
	}
	return pic
}

// surround is the neutral grey round pictures in the present theme.
func surround() color.NRGBA {
	return color.NRGBAModel.Convert(look.Colour(look.Surround)).(color.NRGBA)
}

// A draft that took longer than slowDraft is drawn at half the resolution from
// then on, until it takes less than quickDraft.
const (
	slowDraft  = 16 * time.Millisecond
	quickDraft = 3 * time.Millisecond
)

// draft is the picture while something moves. A difference, which costs most,
// and whatever this machine is too busy for are drawn at half the resolution
// and stretched by the painter; the sharp picture follows when all is still.
func (v *Viewer) draft(w, h int, whole bool) *image.RGBA {
	half := (v.busy || v.stage.Mode == Difference) && !whole && w > 400
	began := time.Now()
	var pic *image.RGBA
	if half {
		m := v.motion
		m.Scale /= 2
		pic = v.small.draw(v.stage, m, w/2, h/2)
	} else {
		pic = v.stage.Draw(v.motion, w, h, false)
	}
	switch took := time.Since(began); {
	case !half && took > slowDraft:
		v.busy = true
	case half && took < quickDraft:
		v.busy = false
	}
	return pic
}

// lensSide is the side of the loupe in units of the toolkit.
const lensSide = 240

// withLens copies the picture and draws the loupe at the pointer: the place
// under it, one pixel of the photograph for one of the screen, first sheet at
// the left and second at the right where there are two.
func (v *Viewer) withLens(pic *image.RGBA) *image.RGBA {
	side := min(int(lensSide*v.ratio), v.w-4, v.h-4)
	if side < 40 {
		return pic
	}
	out := image.NewRGBA(pic.Rect)
	copy(out.Pix, pic.Pix)
	mx, my := v.AtMM(v.at)
	s := v.any()
	if s == nil {
		s = v.stage.B
	}
	if s == nil {
		return pic
	}
	scale := s.PxPerMM
	if v.grip > 1 {
		scale = s.PxPerMM * 2
	}
	m := Motion{Scale: max(scale, v.motion.Scale*1.5), CX: mx, CY: my}
	if v.lens == nil || v.lens.Rect.Dx() != side {
		v.lens = image.NewRGBA(image.Rect(0, 0, side, side))
	}
	lens := Stage{A: v.stage.A, B: v.stage.B, Mode: Edge, Share: 0.5, Ground: v.stage.Ground}
	if lens.B == nil {
		lens.B = lens.A
	}
	if lens.A == nil {
		lens.A = lens.B
	}
	drawn := lens.Draw(m, side, side, false)
	cx, cy := int(float64(v.at.X)*v.ratio), int(float64(v.at.Y)*v.ratio)
	x0 := min(max(cx-side/2, 2), v.w-side-2)
	y0 := min(max(cy-side/2, 2), v.h-side-2)
	if v.grip > 1 { // beside the corner, not over it
		y0 = min(max(cy-side-40, 2), v.h-side-2)
	}
	white := color.NRGBA{0xff, 0xff, 0xff, 0xff}
	paint(out, x0-2, x0+side+2, y0-2, y0+side+2, color.NRGBA{0x30, 0x30, 0x30, 0xff})
	for y := range side {
		copy(out.Pix[(y0+y)*out.Stride+4*x0:(y0+y)*out.Stride+4*(x0+side)], drawn.Pix[y*drawn.Stride:])
	}
	if v.grip > 1 {
		paint(out, x0+side/2, x0+side/2+1, y0+side/2-14, y0+side/2+15, color.NRGBA{0xA4, 0x58, 0x2B, 0xff})
		paint(out, x0+side/2-14, x0+side/2+15, y0+side/2, y0+side/2+1, color.NRGBA{0xA4, 0x58, 0x2B, 0xff})
	} else if v.stage.A != nil && v.stage.B != nil {
		paint(out, x0+side/2, x0+side/2+1, y0, y0+side, white)
	}
	return out
}

// Cursor is the toolkit's hook.
func (v *Viewer) Cursor() desktop.Cursor {
	if v.near(v.at) == 1 {
		return desktop.HResizeCursor
	}
	return desktop.CrosshairCursor
}
