package sheetview

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// cornerRest is how long the keys rest before the corners are told: a row of
// key strokes is one move.
const cornerRest = 700 * time.Millisecond

// Steps of a corner moved by a key, pixels of the picture; with Shift the long
// one.
const cornerStep, cornerLongStep = 1, 10

// ChooseCorner takes one of the corners 0 to 3 in hand for the arrow keys, -1
// none. It reports whether there are corners.
func (v *Viewer) ChooseCorner(i int) bool {
	if v.corners == nil {
		return false
	}
	if i != v.hand {
		v.tellCorners()
	}
	v.hand = i
	v.overlay()
	return true
}

// Hand is the corner in hand, -1 for none.
func (v *Viewer) Hand() int {
	if v.corners == nil {
		return -1
	}
	return v.hand
}

// cornerKey moves the corner in hand; it reports whether the key was one for
// corners.
func (v *Viewer) cornerKey(e *fyne.KeyEvent) bool {
	if v.corners == nil {
		return false
	}
	switch e.Name {
	case fyne.KeyTab:
		step := 1
		if v.shifted() {
			step = -1
		}
		v.ChooseCorner(min(max(v.hand+step, 0), 3))
		return true
	case fyne.KeyEscape:
		if v.hand < 0 {
			return false
		}
		v.ChooseCorner(-1)
		return true
	case fyne.KeyReturn, fyne.KeyEnter:
		if v.hand < 0 || !v.untold {
			return false
		}
		v.tellCorners()
		return true
	}
	if v.hand < 0 {
		return false
	}
	step := float64(cornerStep)
	if v.shifted() {
		step = cornerLongStep
	}
	var dx, dy float64
	switch e.Name {
	case fyne.KeyLeft:
		dx = -step
	case fyne.KeyRight:
		dx = step
	case fyne.KeyUp:
		dy = -step
	case fyne.KeyDown:
		dy = step
	default:
		return false
	}
	v.moveCorner(dx, dy)
	return true
}

// cornerRune chooses a corner by its number.
func (v *Viewer) cornerRune(r rune) bool {
	return r >= '1' && r <= '4' && v.ChooseCorner(int(r-'1'))
}

func (v *Viewer) moveCorner(dx, dy float64) {
	c := &v.corners[v.hand]
	c[0] += dx
	c[1] += dy
	v.untold = true
	v.moves++
	moves := v.moves
	v.changed()
	time.AfterFunc(cornerRest, func() {
		v.post(func() {
			if moves == v.moves {
				v.tellCorners()
			}
		})
	})
}

// tellCorners tells where keys have moved the corners to.
func (v *Viewer) tellCorners() {
	if v.untold && v.corners != nil && v.CornersMoved != nil {
		v.untold = false
		v.CornersMoved(*v.corners)
	}
}

// AcceptsTab lets Tab go from corner to corner, and on to the next widget
// after the last.
func (v *Viewer) AcceptsTab() bool {
	if v.corners == nil {
		return false
	}
	if v.shifted() {
		return v.hand > 0
	}
	return v.hand < 3
}

// shifted reports whether Shift is held.
func (v *Viewer) shifted() bool {
	if v.Shift != nil {
		return v.Shift()
	}
	d, ok := fyne.CurrentApp().Driver().(desktop.Driver)
	return ok && d.CurrentKeyModifiers()&fyne.KeyModifierShift != 0
}
