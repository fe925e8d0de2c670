package sheetview

import (
	"image"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
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
	// Drawn tells the outline that was drawn, in millimetres; nil when the
	// drawing was left.
	Drawn func(points [][2]float64)
	// Painted is told of every picture drawn.
	Painted func()
	// Shift reports whether Shift is held; nil asks the toolkit.
	Shift func() bool
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

	boxes    []Marked
	outlines []Outlined
	drawing  *drawing // nil while none is drawn

	corners *[4]Corner
	grip    int  // 0 none, 1 the edge, 2.. a corner
	hand    int  // the corner that keys move, -1 none
	untold  bool // keys have moved a corner since it was told
	moves   int

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
	v := &Viewer{post: post, fitted: true, ratio: 1, hand: -1, TrueScale: 96 / 25.4}
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

// Map is the map over the sheet, nil for none.
func (v *Viewer) Map() *Tiles { return v.stage.Map }

// SetLoupe switches the loupe.
func (v *Viewer) SetLoupe(on bool) { v.loupe = on; v.changed() }

// Loupe reports whether the loupe is on.
func (v *Viewer) Loupe() bool { return v.loupe }

// SetBoxes sets what is marked over the sheets.
func (v *Viewer) SetBoxes(b []Marked) { v.boxes = b; v.overlay() }

// SetCorners shows four corners that can be dragged; nil shows none.
func (v *Viewer) SetCorners(c *[4]Corner) {
	switch {
	case c == nil:
		v.tellCorners()
		v.corners, v.hand = nil, -1
	case v.untold: // these are older than what the user is doing
		return
	default:
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
	// A picture as large as the view needs no smoothing between its pixels,
	// which costs a graphics card that is none three times as much.
	v.raster.ScaleMode = canvas.ImageScaleFastest
	if pic.Rect.Dx() == w && pic.Rect.Dy() == h {
		v.raster.ScaleMode = canvas.ImageScalePixels
	}
	return pic
}

// Cursor is the toolkit's hook.
func (v *Viewer) Cursor() desktop.Cursor {
	if v.near(v.at) == 1 {
		return desktop.HResizeCursor
	}
	return desktop.CrosshairCursor
}
