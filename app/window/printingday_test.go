package window

import (
	"context"
	"fmt"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/studio"
	"pullbook/app/studio/rehearsal"
	"pullbook/app/window/look"
	"pullbook/app/window/places"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// dayWindow is a window on a rehearsed printing day, driven as its user does.
type dayWindow struct {
	t   *testing.T
	s   *studio.Studio
	f   *places.Frame
	q   *posts
	win fyne.Window
	d   *rehearsal.Day
}

// openDay opens the window on a day laid out, or on an empty catalogue.
func openDay(t *testing.T, d *rehearsal.Day) *dayWindow {
	t.Helper()
	ctx := context.Background()
	s, err := studio.Create(filepath.Join(t.TempDir(), "day.pullbook"), studio.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	if d != nil {
		d.Lay(t, rehearsal.Books{Save: s.Save, Reference: func(path string, of *catalog.Impression) error {
			taken, err := s.TakeIn(ctx, []string{path}, nil)
			if err != nil {
				return err
			}
			if err := s.FilePhotograph(ctx, taken[0].Photo.ID, of.ID, "by hand", 1); err != nil {
				return err
			}
			return s.PickReference(ctx, of.ID, taken[0].Photo.ID)
		}})
	}
	a := test.NewTempApp(t)
	if err := words.Use("en"); err != nil {
		t.Fatal(err)
	}
	a.Settings().SetTheme(look.Theme{})
	w := &dayWindow{t: t, s: s, q: &posts{}, win: test.NewTempWindow(t, nil), d: d}
	w.win.SetPadded(false)
	w.f = places.New(places.Needs{App: a, Win: w.win, House: newHouse(s), Post: w.q.post})
	t.Cleanup(w.f.Close)
	w.win.Resize(fyne.NewSize(1280, 776))
	w.rest()
	return w
}

// rest waits until nothing is under way.
func (w *dayWindow) rest() {
	w.t.Helper()
	for still, end := 0, time.Now().Add(2*time.Hour); still < 10; {
		if time.Now().After(end) {
			w.t.Fatal("the window does not come to rest")
		}
		if w.q.run() > 0 || w.f.Busy() || len(w.s.Jobs().Running()) > 0 {
			still = 0
		} else {
			still++
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// shown are the texts and buttons that stand in the window and over it.
func (w *dayWindow) shown() (texts []string, buttons []*look.Button) {
	var walk func(o fyne.CanvasObject)
	walk = func(o fyne.CanvasObject) {
		if o == nil || !o.Visible() {
			return
		}
		switch x := o.(type) {
		case *look.Text:
			texts = append(texts, x.Words())
		case *look.Paragraph:
			texts = append(texts, x.Words())
		case *look.Button:
			buttons = append(buttons, x)
		case *widget.PopUp:
			walk(x.Content)
		case *fyne.Container:
			for _, c := range x.Objects {
				walk(c)
			}
		case *container.Scroll:
			walk(x.Content)
		case fyne.Widget:
			for _, c := range test.WidgetRenderer(x).Objects() {
				walk(c)
			}
		}
	}
	walk(w.win.Content())
	for _, o := range w.win.Canvas().Overlays().List() {
		walk(o)
	}
	return texts, buttons
}

// text is the first text shown that a pattern fits.
func (w *dayWindow) text(pattern string) string {
	texts, _ := w.shown()
	re := regexp.MustCompile(pattern)
	for _, s := range texts {
		if re.MatchString(s) {
			return s
		}
	}
	return ""
}

// press presses the first button shown whose text a pattern fits.
func (w *dayWindow) press(pattern string) {
	w.t.Helper()
	_, buttons := w.shown()
	re := regexp.MustCompile(pattern)
	for _, b := range buttons {
		if re.MatchString(b.Text) && !b.Disabled() {
			test.Tap(b)
			return
		}
	}
	w.t.Fatalf("there is no button %q to press", pattern)
}

// TestPrintingDayInTheWindow files a printing day by the Camera place: the
// folder is dropped, the proposals are looked through, those that are sure are
// confirmed with one button, and the report is read. PULLBOOK_LONG files the
// sixty photographs of the whole day.
func TestPrintingDayInTheWindow(t *testing.T) {
	if testing.Short() {
		t.Skip("a printing day takes a minute")
	}
	d := &rehearsal.Day{Plates: 2, Sheets: 2, More: 2, Wide: 1120, Files: t.TempDir()} // 12 files
	if rehearsal.Long() {
		*d = rehearsal.Day{Plates: 4, Sheets: 7, More: 2, Blurred: 2, Wide: 1400, Files: d.Files} // 60
	}
	w := openDay(t, d)
	began := time.Now()
	w.f.TakeIn([]string{d.Files})
	progress := w.watchJob()
	w.rest()
	t.Logf("%d files are looked at in %.0f s", len(d.Truth), time.Since(began).Seconds())
	if !progress {
		t.Error("neither progress nor the time left was shown")
	}
	// Each proposal is shown with how sure it is.
	sure, unsure := 0, 0
	n := len(d.Truth) - 1 // one is there twice
	for range n {
		switch {
		case w.text(`, sure to \d+`) != "":
			sure++
		case w.text(`It could not be told`) != "":
			unsure++
		}
		w.win.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyPageDown})
		w.rest()
	}
	if sure+unsure != n || sure*10 < n*9-10 {
		t.Errorf("of %d photographs %d are shown with how sure it is, %d as not told", n, sure, unsure)
	}
	all := w.text(`^Confirm all that are sure \(\d+\)`)
	if all == "" {
		all = "no button"
		for _, b := range buttonsOf(w) {
			if strings.HasPrefix(b.Text, "Confirm all") {
				all = b.Text
			}
		}
	}
	w.press(`^Confirm all that are sure`)
	w.rest()
	w.check(all)
	if got := w.text(`^\d+ photographs filed, \d+ sheets measured$`); got == "" {
		texts, _ := w.shown()
		t.Errorf("no report is shown; there stands %q", texts)
	} else {
		t.Log(got)
	}
	w.press(`^Close$`)
	if v, err := w.s.Verify(context.Background(), nil); err != nil || !v.Clean() {
		t.Errorf("verify after filing: %v %+v", err, v.Findings)
	}
}

func buttonsOf(w *dayWindow) []*look.Button {
	_, b := w.shown()
	return b
}

// watchJob waits until the job strip shows progress with the time left, or the
// job is over.
func (w *dayWindow) watchJob() bool {
	for end := time.Now().Add(time.Hour); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		w.q.run()
		if w.text(`looked at \d+ of \d+ photographs.* left`) != "" || w.text(`taken in \d+ of \d+ photographs.* left`) != "" {
			return true
		}
		if len(w.s.Jobs().Running()) == 0 {
			return false
		}
	}
	return false
}

// check compares what is filed with the truth.
func (w *dayWindow) check(button string) {
	w.t.Helper()
	snap, err := w.s.Store().Snapshot(context.Background())
	if err != nil {
		w.t.Fatal(err)
	}
	wrong, filed, left := 0, 0, 0
	for _, p := range snap.Photographs {
		want, ours := w.d.Truth[p.Name]
		switch {
		case !ours: // a reference pull
		case p.ImpressionID == "":
			left++
			w.t.Logf("left: %s, sheet %q", p.Name, want)
		case p.ImpressionID == want:
			filed++
		default:
			wrong++
			w.t.Errorf("%s is filed wrongly, by %s", p.Name, p.FiledBy)
		}
	}
	w.t.Logf("%s: %d filed, %d wrong, %d left of %d", button, filed, wrong, left, len(w.d.Truth))
	// Of twelve the other press's sheet is nearly a tenth by itself.
	if left > max(2, len(w.d.Truth)/10) {
		w.t.Errorf("%d of %d photographs are left for the user, more than a tenth", left, len(w.d.Truth))
	}
	if m := regexp.MustCompile(`\((\d+)\)`).FindStringSubmatch(button); m == nil || m[1] != strconv.Itoa(filed) {
		w.t.Errorf("the button said %q, %d are filed", button, filed)
	}
}

// TestCancelInTheWindow stops the taking in of a folder by the cross beside its
// progress, early and late, and sees how soon nothing runs any more.
func TestCancelInTheWindow(t *testing.T) {
	if testing.Short() {
		t.Skip("draws photographs")
	}
	d := &rehearsal.Day{Plates: 2, Sheets: 2, Wide: 1120, Files: t.TempDir()}
	w := openDay(t, d)
	worst := time.Duration(0)
	for _, after := range []time.Duration{200 * time.Millisecond, 2 * time.Second, 5 * time.Second} {
		w.f.TakeIn([]string{d.Files})
		for end := time.Now().Add(after); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
			w.q.run()
		}
		if len(w.s.Jobs().Running()) == 0 {
			t.Logf("after %v the work was done", after)
			continue
		}
		began := w.stopShown()
		for len(w.s.Jobs().Running()) > 0 && time.Since(began) < 3*time.Minute {
			time.Sleep(2 * time.Millisecond)
		}
		took := time.Since(began)
		if n := len(w.s.Jobs().Running()); n > 0 {
			t.Fatalf("%d jobs go on after the cross was pressed", n)
		}
		worst = max(worst, took)
		w.rest()
	}
	if v, err := w.s.Verify(context.Background(), nil); err != nil || !v.Clean() {
		t.Errorf("verify after cancelling: %v %+v", err, v.Findings)
	}
	// Starting again goes on and comes to its end.
	began := time.Now()
	w.f.TakeIn([]string{d.Files})
	w.rest()
	// Owed is half a second; where the machine is so busy that all takes long,
	// stopping is compared with the work, which one photograph is a tenth of.
	whole := time.Since(began)
	t.Logf("stopping took %.3f s at most, the whole work %.1f s", worst.Seconds(), whole.Seconds())
	if worst > max(time.Second/2, whole/50) {
		t.Errorf("stopping took %.3f s, of a work of %.1f s", worst.Seconds(), whole.Seconds())
	}
	if got := w.text(`^Confirm all that are sure`); got == "" {
		found := false
		for _, b := range buttonsOf(w) {
			found = found || strings.HasPrefix(b.Text, "Confirm all that are sure")
		}
		if !found {
			t.Error("after cancelling nothing comes to be confirmed")
		}
	}
}

// stopShown presses the cross of the job under way, once the strip, which is told
// of jobs ten times a second, can have shown it; it gives the moment.
func (w *dayWindow) stopShown() (pressed time.Time) {
	w.t.Helper()
	for {
		before := w.s.Jobs().Running()
		time.Sleep(150 * time.Millisecond)
		w.q.run()
		if len(w.s.Jobs().Running()) == 0 {
			return time.Now()
		}
		pressed = time.Now()
		w.pressCross()
		if now := w.s.Jobs().Running(); len(now) == 0 || len(before) > 0 && now[0] == before[0] {
			return pressed
		}
	}
}

// pressCross presses the first cross in the job strip, along the lower edge of
// the window; there is one to put a note away higher up.
func (w *dayWindow) pressCross() {
	w.t.Helper()
	for _, b := range buttonsOf(w) {
		at := fyne.CurrentApp().Driver().AbsolutePositionForObject(b)
		if b.Text == "" && fmt.Sprint(b.Icon) == fmt.Sprint(look.IconCross) && at.Y > w.win.Canvas().Size().Height-32 {
			test.Tap(b)
			return
		}
	}
	w.t.Fatal("there is no cross to stop the work with")
}
