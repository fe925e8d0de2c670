package sheetview

import (
	"image"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"pullbook/app/window/look"
)

// drawer is a viewer of a sheet of 100 x 75 mm, four device pixels a millimetre,
// and the outlines that were drawn on it.
func drawer(t *testing.T) (v *Viewer, told *[][][2]float64) {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(look.Theme{})
	v = NewViewer(func(func()) {})
	v.SetMode(Single)
	v.ShowPair(nil, NewSheet(image.NewRGBA(image.Rect(0, 0, 400, 300)), 4, 0, 0), false)
	w := test.NewTempWindow(t, v)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(400, 300))
	v.generate(400, 300)
	told = &[][][2]float64{}
	v.Drawn = func(p [][2]float64) { *told = append(*told, p) }
	v.SetMotion(Motion{Scale: 4, CX: 50, CY: 37.5})
	return v, told
}

func sameOutline(t *testing.T, what string, got, want [][2]float64) {
	t.Helper()
	same := len(got) == len(want)
	for i := 0; same && i < len(want); i++ {
		same = math.Hypot(got[i][0]-want[i][0], got[i][1]-want[i][1]) < 0.01
	}
	if !same {
		t.Errorf("%s: drawn %v, want %v", what, got, want)
	}
}

func TestOutlinesByPointer(t *testing.T) {
	v, told := drawer(t)
	v.BeginDrawing()
	at := fyne.NewPos(300, 200)
	v.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}})
	v.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: at}, Dragged: fyne.NewDelta(-200, -120)})
	v.DragEnd()
	if v.Drawing() || len(*told) != 1 {
		t.Fatalf("a box by dragging: %v", *told)
	}
	sameOutline(t, "a box by dragging", (*told)[0], [][2]float64{{25, 20}, {75, 20}, {75, 50}, {25, 50}})

	v.BeginDrawing()
	before := v.Motion()
	for _, p := range []fyne.Position{{X: 40, Y: 40}, {X: 200, Y: 40}, {X: 200, Y: 160}} {
		v.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: p}})
		v.Tapped(&fyne.PointEvent{Position: p})
	}
	v.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: at}, Dragged: fyne.NewDelta(0, 1)})
	if !v.Drawing() {
		t.Fatal("dragging between two corners ends the outline")
	}
	v.SetMotion(before)
	v.Tapped(&fyne.PointEvent{Position: fyne.NewPos(44, 43)}) // near the first
	if len(*told) != 2 {
		t.Fatalf("a triangle by clicks: %v", *told)
	}
	sameOutline(t, "a triangle by clicks", (*told)[1], [][2]float64{{10, 10}, {50, 10}, {50, 40}})
}

func TestOutlinesByKeyboard(t *testing.T) {
	v, told := drawer(t)
	shift := false
	v.Shift = func() bool { return shift }
	press := func(names ...fyne.KeyName) {
		for _, n := range names {
			v.TypedKey(&fyne.KeyEvent{Name: n})
		}
	}
	v.BeginDrawing()
	press(fyne.KeySpace) // in the middle
	shift = true
	press(fyne.KeyRight, fyne.KeyDown)
	shift = false
	press(fyne.KeySpace, fyne.KeyLeft, fyne.KeySpace, fyne.KeyBackspace, fyne.KeyReturn)
	if len(*told) != 1 {
		t.Fatalf("told %v", *told)
	}
	sameOutline(t, "a box of two corners", (*told)[0], [][2]float64{{50, 37.5}, {60, 37.5}, {60, 47.5}, {50, 47.5}})
	v.BeginDrawing()
	press(fyne.KeySpace, fyne.KeyReturn) // one corner is no outline
	if !v.Drawing() {
		t.Error("one corner ends the drawing")
	}
	press(fyne.KeyEscape)
	if v.Drawing() || len(*told) != 2 || (*told)[1] != nil {
		t.Errorf("Escape: %v", *told)
	}
	m := v.Motion()
	m.Scale *= 2
	v.SetMotion(m)
	m = v.Motion()
	press(fyne.KeyLeft)
	if v.Motion() == m {
		t.Error("once the drawing is left the arrows do not move the sheet")
	}
}

// Outlines are shown twice side by side, each at its place on its sheet.
func TestOutlinesLieOnBothSheets(t *testing.T) {
	v, _ := drawer(t)
	a, b := v.Sheets()
	if a == nil {
		a = b
	}
	v.ShowPair(a, a, true)
	v.SetMode(Beside)
	v.SetOutlines([]Outlined{{Points: [][2]float64{{10, 10}, {30, 10}, {20, 20}}, Chosen: true}})
	var shown int
	for _, l := range v.live.outlines.lines {
		if l.Visible() {
			shown++
		}
	}
	if shown != 12 {
		t.Errorf("%d lines, each drawn twice, for a triangle on two sheets", shown)
	}
	first, second := v.live.outlines.lines[0], v.live.outlines.lines[3]
	if d := second.Position1.X - first.Position1.X; math.Abs(float64(d)-203) > 0.6 || second.Position1.Y != first.Position1.Y {
		t.Errorf("the second lies %v from the first, half the view is 203", d)
	}
	v.SetOutlines(nil)
	for _, l := range v.live.outlines.lines {
		if l.Visible() {
			t.Error("an outline stays")
		}
	}
}
