package sheetview

import (
	"image"
	"image/color"
	"sync"
	"time"

	"pullbook/app/window/look"
)

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
