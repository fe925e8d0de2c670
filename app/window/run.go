package window

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"sync"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/studio"
	"pullbook/app/window/look"
	"pullbook/app/window/places"
	"pullbook/app/window/words"
	"pullbook/catalog/store"
)

// Options say how the window begins. The zero value opens the last catalogue,
// in the size and tone of the last time.
type Options struct {
	Dir    string   // catalogue to open, its folder or packed; "" the last one
	Take   []string // photographs to take in once it is open
	Width  float32  // of the window, 0 as last time
	Height float32
	Tone   string // "light", "dark", "" as last time
	// Log is told what the window came to, line by line, for those who drive it
	// from outside; nil takes the file named by PULLBOOK_LOG, if any.
	Log io.Writer
	// Post runs a function on the interface goroutine; nil means fyne.Do.
	Post func(func())
}

// memoryWanted is what the program may take, besides the graphics libraries,
// before it looks harder for memory to give back: two sheets of 24 megapixels
// and their registering fit.
const memoryWanted = 400 << 20

// Run shows the window and returns when it is closed. The app must have been
// made by its caller with a constant ID, for what the window remembers.
func Run(a fyne.App, o Options) error {
	if name := os.Getenv("PULLBOOK_LOG"); name != "" && o.Log == nil {
		f, err := os.OpenFile(name, os.O_CREATE|os.O_WRONLY|os.O_APPEND, 0o644)
		if err != nil {
			return err
		}
		defer f.Close()
		o.Log = f
		defer weigh(f, 5*time.Second)()
	}
	debug.SetMemoryLimit(memoryWanted)
	a.SetCloudProvider(ownMemory{})
	studio.BesideWindow()
	w := newHouseWindow(a, o)
	if os.Getenv("PULLBOOK_TURNS") != "" {
		w.countTurns()
	}
	w.win.Show()
	a.Run()
	// Not told to the toolkit as what is to be done when it stops: it would queue
	// that and may close the queue first, and crash.
	w.remember()
	return w.close()
}

// houseWindow is the window with whatever catalogue is open in it.
type houseWindow struct {
	app    fyne.App
	win    fyne.Window
	o      Options
	memory *memory

	frame    *places.Frame
	house    *house
	open     *studio.Studio
	gone     bool
	salvaged string // what was brought over into the catalogue being opened
}

// memoryPath is where the window's memory lies; "" keeps none.
func memoryPath() string {
	base, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(base, "pullbook", "window.json")
}

// Size of a window that was never sized.
const firstWidth, firstHeight = 1280, 800

func newHouseWindow(a fyne.App, o Options) *houseWindow {
	if o.Post == nil {
		o.Post = fyne.Do
	}
	p := remembered(memoryPath())
	if err := words.Use(p.String(places.PrefTongue)); err != nil {
		fmt.Fprintln(os.Stderr, err)
	}
	dark := p.Bool(places.PrefDark)
	if o.Tone != "" {
		dark = o.Tone == "dark"
	}
	a.Settings().SetTheme(look.Theme{Dark: dark, Scale: float32(p.FloatWithFallback(places.PrefScale, 1))})
	w := &houseWindow{app: a, win: a.NewWindow("Pullbook"), o: o, memory: p}
	w.win.SetPadded(false)
	w.win.SetMaster()
	if o.Width <= 0 {
		o.Width, o.Height = float32(p.FloatWithFallback(places.PrefWidth, firstWidth)), float32(p.FloatWithFallback(places.PrefHeight, firstHeight))
	}
	w.win.Resize(fyne.NewSize(max(o.Width, 900), max(o.Height, 600)))
	w.win.SetCloseIntercept(func() { w.remember(); w.win.Close() })
	dir := o.Dir
	if dir == "" {
		dir = p.String(places.PrefLast)
		if _, err := os.Stat(dir); err != nil {
			dir = ""
		}
	}
	if dir == "" {
		w.welcome("")
	} else {
		w.openDir(dir)
	}
	return w
}

// openDir opens the catalogue in a folder, or one packed in a file.
func (w *houseWindow) openDir(dir string) {
	w.enter(words.T("Opening %s", filepath.Base(dir)), dir, func(ctx context.Context, p studio.Progress) (*studio.Studio, error) {
		if studio.IsPacked(dir) {
			return studio.OpenPacked(ctx, dir, w.options(), p)
		}
		return studio.Open(dir, w.options())
	})
}

// remember keeps the window's size for the next time.
func (w *houseWindow) remember() {
	s := w.win.Canvas().Size()
	if s.Width < 300 {
		return
	}
	w.memory.SetFloat(places.PrefWidth, float64(s.Width))
	w.memory.SetFloat(places.PrefHeight, float64(s.Height))
}

// log writes a line with the time in milliseconds before it.
func (w *houseWindow) log(format string, a ...any) {
	if w.o.Log != nil {
		fmt.Fprintf(w.o.Log, "%d "+format+"\n", append([]any{time.Now().UnixMilli()}, a...)...)
	}
}

// turnsCounted is how many turns of the toolkit's loop make one line of the log.
const turnsCounted = 50

// countTurns logs how fast the toolkit's loop turns: as often as it draws where
// it has to, at most sixty times a second. It is for those who measure.
func (w *houseWindow) countTurns() {
	n, began := 0, time.Time{}
	a := fyne.NewAnimation(time.Hour, func(float32) {
		if n == 0 {
			began = time.Now()
		}
		if n++; n > turnsCounted {
			w.log("turns: %d in %d ms", turnsCounted, time.Since(began).Milliseconds())
			n = 0
		}
	})
	a.Curve, a.RepeatCount = fyne.AnimationLinear, fyne.AnimationRepeatForever
	a.Start()
}

// welcome is the window without a catalogue.
func (w *houseWindow) welcome(trouble string) {
	say := words.T("A catalogue is one folder that holds everything: plates, states, sheets, photographs. Open yours, begin a new one, or look round the sample.")
	col := container.NewVBox(look.Hint(look.IconPlate, "Pullbook", say,
		look.StrongButton(words.T("Open the sample catalogue"), look.IconPlate, w.sample),
		look.NewButton(words.T("Open a catalogue…"), look.IconFolder, w.pick),
		look.NewButton(words.T("New catalogue…"), look.IconPlus, w.create)))
	if trouble != "" {
		col.Add(look.Middle(look.Wide(460, look.Caution(trouble))))
	}
	w.win.SetContent(container.NewStack(look.NewFill(look.Paper), look.Middle(col)))
	w.win.SetTitle("Pullbook")
	w.log("welcome")
}

// enter opens a catalogue on a worker, with its progress shown, and then shows
// it. Where it lies in dir and does not open, what helps is offered.
func (w *houseWindow) enter(say, dir string, open func(context.Context, studio.Progress) (*studio.Studio, error)) {
	gauge, text := look.NewGauge(look.Blue), look.Small(" ").Giving().Aligned(fyne.TextAlignCenter)
	ctx, cancel := context.WithCancel(context.Background())
	stop := look.QuietButton(words.T("Stop"), look.IconCross, cancel)
	w.win.SetContent(container.NewStack(look.NewFill(look.Paper), look.Middle(look.Wide(420,
		look.Column(10, look.Head(say).Giving().Aligned(fyne.TextAlignCenter), gauge, text, look.Middle(stop))))))
	var last struct {
		sync.Mutex
		pending bool
		done    float64
		what    string
	}
	progress := func(done float64, what string) {
		last.Lock()
		defer last.Unlock()
		last.done, last.what = done, what
		if !last.pending {
			last.pending = true
			w.o.Post(func() {
				last.Lock()
				defer last.Unlock()
				last.pending = false
				gauge.Set(last.done)
				text.SetText(last.what)
			})
		}
	}
	go func() {
		defer cancel()
		s, err := open(ctx, progress)
		w.o.Post(func() {
			switch {
			case err == nil:
				w.show(s)
			case errors.Is(err, context.Canceled):
				w.back("")
			case !w.rescue(dir, err):
				w.back(words.Error(err))
			}
		})
	}()
}

// show puts a catalogue in the place of the one before.
func (w *houseWindow) show(s *studio.Studio) {
	old, oldFrame := w.open, w.frame
	if w.gone {
		s.Close()
		return
	}
	w.open = s
	w.memory.SetString(places.PrefLast, s.Dir())
	places.Remember(w.memory, s.Dir())
	w.win.SetTitle(s.Name() + " – Pullbook")
	oldHouse := w.house
	w.house = newHouse(s)
	w.frame = places.New(places.Needs{App: w.app, Win: w.win, House: w.house, Memory: w.memory, Post: w.o.Post, Log: w.log,
		Open: w.pick, OpenAt: w.openDir, Sample: w.sample, New: w.create, Again: func() { w.again(s.Dir()) }})
	if w.salvaged != "" {
		w.frame.Say(w.salvaged)
		w.salvaged = ""
	}
	if old != nil {
		go func() {
			oldHouse.end()
			oldFrame.Close()
			old.Close()
		}()
	}
	if len(w.o.Take) > 0 {
		w.frame.TakeIn(w.o.Take)
		w.o.Take = nil
	}
}

// again closes the catalogue and opens it anew: what could only be read may be
// free by now.
func (w *houseWindow) again(dir string) {
	old, oldFrame, oldHouse := w.open, w.frame, w.house
	w.open, w.frame, w.house = nil, nil, nil
	w.enter(words.T("Opening %s", filepath.Base(dir)), dir, func(context.Context, studio.Progress) (*studio.Studio, error) {
		oldHouse.end()
		oldFrame.Close()
		if err := old.Close(); err != nil {
			return nil, err
		}
		return studio.Open(dir, w.options())
	})
}

// pick asks for the folder of a catalogue.
func (w *houseWindow) pick() {
	d := dialog.NewFolderOpen(func(l fyne.ListableURI, err error) {
		if err != nil || l == nil {
			return
		}
		w.openDir(l.Path())
	}, w.win)
	w.placed(d)
	d.Show()
}

func (w *houseWindow) placed(d *dialog.FileDialog) {
	s := w.win.Canvas().Size()
	d.Resize(fyne.NewSize(s.Width*0.8, s.Height*0.8))
	if last := w.memory.String(places.PrefLast); last != "" {
		if l, err := storage.ListerForURI(storage.NewFileURI(filepath.Dir(last))); err == nil {
			d.SetLocation(l)
		}
	}
}

// create asks for a name and a folder and begins an empty catalogue.
func (w *houseWindow) create() {
	home, err := os.UserHomeDir()
	if err != nil {
		home = "."
	}
	name, dir := widget.NewEntry(), widget.NewEntry()
	name.SetText(words.T("My plates"))
	dir.SetText(home)
	form := look.Form(90, look.Small(words.T("Name")), name, look.Small(words.T("Folder")), dir)
	d := dialog.NewCustomConfirm(words.T("New catalogue"), words.T("Begin it"), words.T("Leave it"), look.Wide(420, form), func(yes bool) {
		if !yes || name.Text == "" {
			return
		}
		path := filepath.Join(dir.Text, name.Text+".pullbook")
		w.enter(words.T("Beginning %s", name.Text), path, func(context.Context, studio.Progress) (*studio.Studio, error) {
			s, err := studio.Create(path, w.options())
			if err != nil || words.Code() == "en" {
				return s, err
			}
			return s, printIn(s, words.Code())
		})
	}, w.win)
	d.Show()
	w.win.Canvas().Focus(name)
}

// sample opens the sample catalogue, written the first time into the user's own
// configuration folder.
func (w *houseWindow) sample() {
	base, err := os.UserConfigDir()
	if err != nil {
		base = os.TempDir()
	}
	dir := filepath.Join(base, "pullbook", "sample.pullbook")
	w.enter(words.T("Opening the sample catalogue"), dir, func(ctx context.Context, p studio.Progress) (*studio.Studio, error) {
		if _, err := os.Stat(dir); err == nil {
			return studio.Open(dir, w.options())
		}
		if err := os.MkdirAll(filepath.Dir(dir), 0o755); err != nil {
			return nil, err
		}
		return studio.WriteSample(ctx, dir, w.options(), p)
	})
}

// close ends the sitting.
func (w *houseWindow) close() error {
	w.gone = true
	if w.frame != nil {
		w.house.end()
		w.frame.Close()
	}
	if w.open != nil {
		return w.open.Close()
	}
	return nil
}

// printIn has a new catalogue print in the language of the window it was begun
// in; the imprint can say otherwise.
func printIn(s *studio.Studio, language string) error {
	ctx := context.Background()
	m, err := s.Store().Imprint(ctx)
	if err != nil {
		return err
	}
	m.Language = language
	return s.Store().Do(ctx, words.T("edit the imprint"), func(tx *store.Tx) error { return tx.PutImprint(m) })
}
