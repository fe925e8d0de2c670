package window

import (
	"context"
	"flag"
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pullbook/app/studio"
	"pullbook/app/window/look"
	"pullbook/app/window/places"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

var screens = flag.String("screens", "", "folder for pictures of every place on the sample catalogue, light and dark, 1280x800 and 1920x1080")
var oneSize = flag.String("size", "", "with -screens: only pictures of this width and tone, such as 1280-light")
var oneShot = flag.String("shot", "", "with -screens: only pictures whose name holds this, such as 4-desk")
var textSize = flag.Float64("text", 1, "size of the text of the pictures, such as 1.5")
var tongue = flag.String("tongue", "en", "language of the pictures")

// posts is the interface goroutine of a test.
type posts struct {
	mu sync.Mutex
	fs []func()
}

func (q *posts) post(f func()) {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.fs = append(q.fs, f)
}

func (q *posts) run() int {
	q.mu.Lock()
	fs := q.fs
	q.fs = nil
	q.mu.Unlock()
	for _, f := range fs {
		f()
	}
	return len(fs)
}

// TestPictures writes a picture of every place on the sample catalogue:
//
//	go test ./app/window -tags sqlite_fts5 -run TestPictures -screens DIR
//
// The toolkit's test driver paints nearly what the graphics card does, without
// the menu bar.
func TestPictures(t *testing.T) {
	if *screens == "" {
		t.Skip("pictures are written only when -screens names a folder")
	}
	if err := os.MkdirAll(*screens, 0o755); err != nil {
		t.Fatal(err)
	}
	s, err := studio.WriteSample(context.Background(), filepath.Join(t.TempDir(), "sample.pullbook"), studio.Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	for _, dark := range []bool{false, true} {
		for _, size := range []fyne.Size{{Width: 1280, Height: 776}, {Width: 1920, Height: 1056}} {
			if name := fmt.Sprintf("%d-%s", int(size.Width), tones[dark]); *oneSize == "" || *oneSize == name {
				everyPlace(t, s, size, dark)
			}
		}
	}
}

var tones = map[bool]string{false: "light", true: "dark"}

// sitting is a window of the sample for its pictures to be taken.
type sitting struct {
	t    *testing.T
	s    *studio.Studio
	f    *places.Frame
	q    *posts
	win  fyne.Window
	head string // of the names of its pictures
}

func sit(t *testing.T, s *studio.Studio, size fyne.Size, dark bool) *sitting {
	a := test.NewTempApp(t)
	if err := words.Use(*tongue); err != nil {
		t.Fatal(err)
	}
	a.Settings().SetTheme(look.Theme{Dark: dark, Scale: float32(*textSize)})
	win := test.NewTempWindow(t, nil)
	win.SetPadded(false)
	x := &sitting{t: t, s: s, q: &posts{}, win: win, head: fmt.Sprintf("%d-%s-", int(size.Width), tones[dark])}
	x.f = places.New(places.Needs{App: a, Win: win, House: newHouse(s), Post: x.q.post})
	win.Resize(size)
	settle(x.f, x.q, s)
	return x
}

// shoot takes a picture, if one of that name is wanted.
func (x *sitting) shoot(name string) {
	x.t.Helper()
	if !strings.Contains(name, *oneShot) {
		return
	}
	for range 2 { // what is painted first learns its size
		settle(x.f, x.q, x.s)
		x.win.Content().Refresh()
		x.win.Content().Refresh()
		x.win.Canvas().Capture()
	}
	settle(x.f, x.q, x.s)
	file, err := os.Create(filepath.Join(*screens, x.head+name+".png"))
	if err != nil {
		x.t.Fatal(err)
	}
	defer file.Close()
	if err := png.Encode(file, x.win.Canvas().Capture()); err != nil {
		x.t.Fatal(err)
	}
}

func everyPlace(t *testing.T, s *studio.Studio, size fyne.Size, dark bool) {
	x := sit(t, s, size, dark)
	f, shoot := x.f, x.shoot
	defer f.Close()
	f.Do("next plate")
	f.Do("next plate")
	f.GoTo(places.AtPress)
	shoot("1-press")
	f.GoTo(places.AtCamera)
	shoot("2-camera")
	f.GoTo(places.AtTable)
	for i, name := range []string{"side-by-side", "edge", "in-turn", "difference", "all-sheets"} {
		f.Sheets(i)
		shoot("3-table-" + name)
	}
	f.Sheets(0)
	for _, name := range []string{"loss map", "tone map", "no map"} {
		f.Do(name)
		shoot("3-table-" + strings.ReplaceAll(name, " ", "-"))
	}
	regions(t, s, f)
	shoot("3-table-regions")
	f.GoTo(places.AtDesk)
	for i, name := range []string{"entry", "states", "editions", "sheets", "literature", "complete", "lists"} {
		f.Desk(i)
		shoot("4-desk-" + name)
	}
	asks(t, f, x.win, shoot)
}

// regions draws two parts on every plate and has the sheet on the table measured
// with them, unless it is done already.
func regions(t *testing.T, s *studio.Studio, f *places.Frame) {
	snap, err := s.Store().Snapshot(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if snap.Plates[0].Regions == nil {
		for i := range snap.Plates {
			p := &snap.Plates[i]
			w, h := p.MeasureSize().WidthMM, p.MeasureSize().HeightMM
			p.Regions = []catalog.Region{
				{Name: "the sky", Outline: catalog.OutlineOf([][2]float64{{3, 3}, {w - 3, 3}, {w - 3, h * 0.3}, {3, h * 0.3}})},
				{Name: "the water and the boats", Outline: catalog.OutlineOf([][2]float64{{w * 0.1, h * 0.7}, {w * 0.6, h * 0.6}, {w * 0.9, h * 0.75}, {w * 0.5, h * 0.95}})}}
			if err := s.Save(context.Background(), "draw two parts", p); err != nil {
				t.Fatal(err)
			}
		}
		f.Do("score")
	}
	f.Do("regions")
}

// asks pictures what stands over the window.
func asks(t *testing.T, f *places.Frame, win fyne.Window, shoot func(string)) {
	over := func(name string, open func()) {
		if !strings.Contains("5-"+name, *oneShot) {
			return
		}
		open()
		shoot("5-" + name)
		for top := win.Canvas().Overlays().Top(); top != nil; top = win.Canvas().Overlays().Top() {
			top.Hide()
		}
	}
	table := filepath.Join(t.TempDir(), "old list.csv")
	err := os.WriteFile(table, []byte("Kat.-Nr.;Titel;Jahr;Platte (cm);Technik;Auflage;Papier;Besitzer;Notiz\n"+
		"8;Ferry Steps;um 1998;12,4 x 18,2;Radierung und Kaltnadel;1/12;Reedpaper;;first of the lot\n"+
		"8;Ferry Steps;um 1998;12,4 x 18,2;Radierung;2/12;Reedpaper;a friend;\n"+
		"8;Ferry Steps;;12,4 x 18,2;Radierung;2/12;Reedpaper;;\n"+
		"9;Sluice;1999 or later;9 x 11 (3 1/2 x 5 in.);Kaltnadel;ca. 20;cream wove;;\n"+
		"no number;Weir;2001;10;Radierung;3/8;;;\n10;Weir;2001;10 x 14;Radierung;3/8;;;\n"), 0o644)
	if err != nil {
		t.Fatal(err)
	}
	over("guide", func() { f.GoTo(places.AtPress); f.Do("guide") })
	over("keys", func() { f.Do("keys") })
	over("cautions", func() { f.Do("cautions") })
	over("records", func() { f.Do("records") })
	over("sheet", func() { f.GoTo(places.AtDesk); f.OpenSheet(1) })
	over("put-together", func() { f.Do("put together") })
	over("labels", func() { f.Do("labels") })
	over("day-sheet", func() { f.Do("day sheet") })
	over("lay-out", func() { f.Do("lay out") })
	over("export", func() { f.Do("export") })
	over("enter-plate", func() { f.Do("enter plate") })
	over("language", func() { f.Do("language") })
	over("history", func() { f.GoTo(places.AtTable); f.Do("history") })
	over("pack", func() { f.Do("pack") })
	over("imprint", func() { f.Do("imprint") })
	over("table", func() { f.OpenTable(table) })
}

// settle runs what is posted until no worker and no job is left, or for half a
// minute: a picture of a busy window is a picture too.
func settle(f *places.Frame, q *posts, s *studio.Studio) {
	for still, end := 0, time.Now().Add(30*time.Second); still < 10 && time.Now().Before(end); {
		if q.run() > 0 || f.Busy() || len(s.Jobs().Running()) > 0 {
			still = 0
		} else {
			still++
		}
		time.Sleep(20 * time.Millisecond)
	}
}
