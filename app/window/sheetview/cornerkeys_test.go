package sheetview

import (
	"image"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

// Corners are chosen by number and Tab and moved by arrows; a row of strokes is
// told once, and corners that come in meanwhile do not undo it.
func TestCornersByKeyboard(t *testing.T) {
	test.NewTempApp(t)
	v := NewViewer(func(func()) {}) // what is posted is drawing, which this does not look at
	v.ShowPair(nil, NewSheet(image.NewRGBA(image.Rect(0, 0, 400, 300)), 1, 0, 0), false)
	w := test.NewTempWindow(t, v)
	w.Resize(fyne.NewSize(400, 300))
	shift := false
	v.Shift = func() bool { return shift }
	told := 0
	var last [4]Corner
	v.CornersMoved = func(c [4]Corner) { told++; last = c }
	press := func(names ...fyne.KeyName) {
		for _, n := range names {
			v.TypedKey(&fyne.KeyEvent{Name: n})
		}
	}
	if v.AcceptsTab() || v.ChooseCorner(1) {
		t.Fatal("there are no corners yet")
	}
	start := [4]Corner{{50, 50}, {350, 50}, {350, 250}, {50, 250}}
	v.SetCorners(&start)
	v.TypedRune('2')
	if v.Hand() != 1 {
		t.Fatalf("corner %d is in hand", v.Hand())
	}
	press(fyne.KeyRight, fyne.KeyRight, fyne.KeyUp)
	shift = true
	press(fyne.KeyDown)
	shift = false
	v.SetCorners(&start) // an older report comes in
	if told != 0 || v.corners[1] != (Corner{352, 59}) {
		t.Fatalf("told %d times, the corner is at %v", told, v.corners[1])
	}
	press(fyne.KeyTab)
	if v.Hand() != 2 || told != 1 || last[1] != (Corner{352, 59}) {
		t.Errorf("Tab: corner %d, told %d times, %v", v.Hand(), told, last)
	}
	press(fyne.KeyTab)
	if v.Hand() != 3 || v.AcceptsTab() {
		t.Error("Tab does not go on after the last corner")
	}
	shift = true
	press(fyne.KeyTab)
	shift = false
	if v.Hand() != 2 {
		t.Errorf("Shift and Tab go to corner %d", v.Hand())
	}
	press(fyne.KeyLeft, fyne.KeyReturn)
	if told != 2 || last[2] != (Corner{349, 250}) {
		t.Errorf("Return: told %d times, %v", told, last[2])
	}
	press(fyne.KeyEscape)
	if v.Hand() != -1 {
		t.Error("Escape leaves a corner in hand")
	}
	at := v.motion
	press(fyne.KeyLeft)
	if v.motion == at {
		t.Error("without a corner in hand the arrows do not move the sheet")
	}
}
