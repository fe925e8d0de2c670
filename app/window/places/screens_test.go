package places

import (
	"flag"
	"image/png"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
)

var only = flag.String("size", "", "with -screens: only pictures of this width and tone, such as 1280-light")

var tongue = flag.String("tongue", "en", "language of the window in these tests")

var screens = flag.String("screens", "", "folder for pictures of every place, light and dark, 1280x800 and 1920x1080")

// queue is a post for tests: functions wait until the test runs them.
type queue struct {
	mu sync.Mutex
	fs []func()
}

func (q *queue) post(f func()) {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.fs = append(q.fs, f)
}

func (q *queue) run() int {
	q.mu.Lock()
	fs := q.fs
	q.fs = nil
	q.mu.Unlock()
	for _, f := range fs {
		f()
	}
	return len(fs)
}

// stand is a frame in the toolkit's test driver.
type stand struct {
	t   testing.TB
	f   *Frame
	h   *fakeHouse
	q   *queue
	win fyne.Window
}

func newStand(t testing.TB, h *fakeHouse, w, ht float32, dark bool) *stand {
	a := test.NewTempApp(t)
	if err := words.Use(*tongue); err != nil {
		t.Fatal(err)
	}
	a.Settings().SetTheme(look.Theme{Dark: dark})
	win := test.NewTempWindow(t, nil)
	win.SetPadded(false)
	q := &queue{}
	f := New(Needs{App: a, Win: win, House: h, Post: q.post})
	win.Resize(fyne.NewSize(w, ht))
	s := &stand{t: t, f: f, h: h, q: q, win: win}
	t.Cleanup(func() { f.endAll(); f.Close() })
	s.settle()
	return s
}

// endAll stops what goes on by itself.
func (f *Frame) endAll() {
	f.places[AtTable].(*tablePlace).endTurning()
}

// settle runs what is posted until nothing comes any more.
func (s *stand) settle() {
	s.t.Helper()
	still := 0
	for i := 0; i < 20000 && still < 9; i++ {
		if s.q.run() > 0 || s.f.atWork.Load() > 0 || s.h.unfinished() {
			still = 0
			time.Sleep(time.Millisecond)
			continue
		}
		still++
		time.Sleep(25 * time.Millisecond)
	}
	s.win.Content().Refresh() // the driver of the tests lays nothing out anew by itself
	s.win.Content().Refresh()
}

func (h *fakeHouse) unfinished() bool {
	for _, j := range h.Jobs() {
		if !j.Status().Finished {
			return true
		}
	}
	return false
}

func (s *stand) shoot(name string) {
	s.t.Helper()
	s.win.Canvas().Capture()
	// the rasters learn their size when they are first painted
	s.settle()
	img := s.win.Canvas().Capture()
	f, err := os.Create(filepath.Join(*screens, name+".png"))
	if err != nil {
		s.t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		s.t.Fatal(err)
	}
}

// TestScreens writes the pictures that are looked at by eye. Run it with
//
//	go test ./app/window/places -run TestScreens -screens DIR
func TestScreens(t *testing.T) {
	if *screens == "" {
		t.Skip("pictures are written only when -screens names a folder")
	}
	if err := os.MkdirAll(*screens, 0o755); err != nil {
		t.Fatal(err)
	}
	for _, size := range []struct {
		name string
		w, h float32
	}{{"1280", 1280, 776}, {"1920", 1920, 1056}} {
		for _, dark := range []bool{false, true} {
			tone := "light"
			if dark {
				tone = "dark"
			}
			base := size.name + "-" + tone + "-"
			if *only != "" && base != *only+"-" {
				continue
			}
			s := newStand(t, estuary(t), size.w, size.h, dark)
			s.f.goTo(AtPress)
			s.settle()
			s.shoot(base + "1press")
			s.f.goTo(AtCamera)
			s.settle()
			s.shoot(base + "2camera")
			s.f.goTo(AtTable)
			s.settle()
			s.shoot(base + "3table-beside")
			tb := s.f.places[AtTable].(*tablePlace)
			tb.step(-1)
			tb.modes.Choose(1)
			s.settle()
			s.shoot(base + "3table-edge")
			tb.modes.Choose(3)
			s.settle()
			s.shoot(base + "3table-difference")
			tb.modes.Choose(4)
			s.settle()
			s.shoot(base + "3table-all")
			s.f.goTo(AtDesk)
			d := s.f.places[AtDesk].(*deskPlace)
			for i, n := range []string{"entry", "states", "editions", "sheets", "literature", "complete"} {
				d.segs.Choose(i)
				s.settle()
				s.shoot(base + "4desk-" + n)
				if dark || size.w > 1300 {
					break
				}
			}
			if !dark && size.w < 1300 {
				s.f.goTo(AtPress)
				s.f.showCautions()
				s.shoot(base + "5cautions")
				s.win.Canvas().Overlays().Top().Hide()
				s.f.places[AtPress].(*pressPlace).big()
				s.settle()
				s.shoot(base + "5big")
			}
		}
	}
}
