package places

import (
	"context"
	"sync"
	"sync/atomic"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
	"pullbook/catalog/notation"
)

// place is one of the four places of the working day.
type place interface {
	// content is what the place shows, made once.
	content() fyne.CanvasObject
	// show fills it from the catalogue for the plate in hand. changed is false
	// when only the place was changed.
	show(b *book, plate *catalog.Plate)
	// key is a key pressed while nothing has the focus; true when it was used.
	key(e *fyne.KeyEvent) bool
}

// The places, in their order.
const (
	AtPress = iota
	AtCamera
	AtTable
	AtDesk
)

// Needs is what a frame is made of.
type Needs struct {
	App   fyne.App
	Win   fyne.Window
	House House
	// Memory is what the window remembers; nil takes the app's preferences.
	Memory Memory
	// Post runs a function on the interface goroutine; nil means fyne.Do.
	Post func(func())
	// Open asks for another catalogue; Sample for the sample catalogue.
	Open, Sample func()
	// OpenAt opens the catalogue in a folder, or one packed in a file.
	OpenAt func(path string)
	// New makes a catalogue.
	New func()
	// Again opens this catalogue anew, to write in it.
	Again func()
	// Log is told what the window came to, for those who drive it from outside;
	// it may be nil.
	Log func(format string, a ...any)
}

// Frame is the window of an open catalogue: the plate list, the place, the job
// strip.
type Frame struct {
	app   fyne.App
	win   fyne.Window
	house House
	needs Needs
	post  *poster
	pics  *pictures
	prefs prefs

	ctx    context.Context
	cancel context.CancelFunc
	busy   sync.WaitGroup // workers under way
	atWork atomic.Int32   // how many

	book        *book
	plate       catalog.ID
	at          int
	places      [4]place
	reading     bool
	noticed     bool // the notice of how it was opened was given
	again       bool
	inHand      []func(catalog.ID) // told of every change of the plate in hand
	toTake      []string           // photographs to take in once the catalogue is read
	lives       lives
	foretelling int

	list      *plateList
	head      *look.Text
	number    *look.Text
	under     *look.Text
	lifeBit   *look.Life
	lifeSay   *look.Text
	segs      *look.Segmented
	undo      *look.Button
	redo      *look.Button
	stage     *fyne.Container
	side      *look.Side
	strip     *jobStrip
	note      *noteBar
	menu      []*command
	overlay   *bigPress
	guideOpen *ask // nil before the first time
	root      *fyne.Container
}

// New makes the frame, shows it in the window and begins to read the
// catalogue.
func New(n Needs) *Frame {
	if n.Post == nil {
		n.Post = fyne.Do
	}
	f := &Frame{app: n.App, win: n.Win, house: n.House, needs: n, post: &poster{post: n.Post}}
	f.ctx, f.cancel = context.WithCancel(context.Background())
	if n.Memory == nil {
		n.Memory = n.App.Preferences()
	}
	f.prefs = prefs{n.Memory}
	f.pics = newPictures(f.house, f.post)
	f.plate = f.prefs.plate(f.house.Dir())
	f.at = f.prefs.place()
	f.build()
	f.setMenu()
	f.win.Canvas().SetOnTypedKey(f.typedKey)
	f.win.SetOnDropped(func(_ fyne.Position, uris []fyne.URI) {
		var paths []string
		for _, u := range uris {
			paths = append(paths, u.Path())
		}
		f.TakeIn(paths)
	})
	f.house.OnChange(func() { f.post.do(f.read) })
	f.house.OnJobs(func() { f.post.do(f.strip.show) })
	f.read()
	return f
}

func (f *Frame) log(format string, a ...any) {
	if f.needs.Log != nil {
		f.needs.Log(format, a...)
	}
}

// Show comes back to the window, and says what went wrong outside the frame;
// nil is nothing.
func (f *Frame) Show(err error) {
	f.win.SetContent(f.root)
	f.fail(err)
}

// Say shows a sentence across the place.
func (f *Frame) Say(s string) { f.note.say(look.IconWarn, look.Unsure, s) }

// Do carries out a command by its name, as the menu does; GoTo goes to a place;
// Busy reports whether a worker is under way. They are for those who drive the
// window from a test.
func (f *Frame) Do(name string) { f.run(name) }

// GoTo goes to a place.
func (f *Frame) GoTo(place int) { f.goTo(place) }

// Busy reports whether a worker is under way.
func (f *Frame) Busy() bool { return f.atWork.Load() > 0 || f.book == nil || f.pics.waiting() }

// Desk shows a section of the desk, Sheets a way of showing sheets.
func (f *Frame) Desk(section int) { f.places[AtDesk].(*deskPlace).segs.Choose(section) }

// Sheets shows the table's sheets in one of its ways.
func (f *Frame) Sheets(way int) { f.places[AtTable].(*tablePlace).modes.Choose(way) }

// OpenSheet shows what is known of a sheet of the plate in hand, counted from 0.
func (f *Frame) OpenSheet(i int) {
	if d, l := f.places[AtDesk].(*deskPlace), f.book.impressionsOf[f.plate]; i < len(l) {
		d.openSheet(l[i])
	}
}

// OpenTable shows what taking a spreadsheet in would do.
func (f *Frame) OpenTable(path string) { f.openTable(path) }

// Close ends the frame's workers; the house stays open.
func (f *Frame) Close() {
	f.cancel()
	f.post.close()
	f.pics.close()
	f.busy.Wait()
}

func (f *Frame) build() {
	f.list = newPlateList(f)
	f.strip = newJobStrip(f)
	f.note = newNoteBar()
	f.places = [4]place{newPressPlace(f), newCameraPlace(f), newTablePlace(f), newDeskPlace(f)}
	f.stage = container.NewStack()
	right := look.Border(look.Column(0, f.headBar(), f.note.box), nil, nil, nil, f.stage)
	f.side = look.NewSide(f.list.box, right, f.prefs.listWidth(), 220, false)
	f.side.Moved = f.prefs.setListWidth
	f.root = look.Border(nil, f.strip.box, nil, nil, f.side.Box())
	f.win.SetContent(f.root)
	f.goTo(f.at)
}

// headBar names the plate in hand and holds the way to the four places.
func (f *Frame) headBar() fyne.CanvasObject {
	f.number = look.NewText("", look.Serif, look.HeadSize, look.Copper)
	f.head = look.Head("").Giving()
	f.under = look.Small("").Giving()
	f.lifeBit = look.NewLife(-1)
	f.lifeSay = look.Small("")
	f.segs = look.NewSegmented(f.goTo,
		look.Segment{Text: words.T("Press"), Icon: look.IconPress},
		look.Segment{Text: words.T("Camera"), Icon: look.IconCamera},
		look.Segment{Text: words.T("Table"), Icon: look.IconTable},
		look.Segment{Text: words.T("Desk"), Icon: look.IconDesk})
	f.undo = look.QuietButton("", look.IconUndo, func() { f.run("undo") })
	f.redo = look.QuietButton("", look.IconRedo, func() { f.run("redo") })
	lamp := look.QuietButton("", look.IconLamp, func() { f.run("lamp") })
	title := look.Column(0,
		look.Stretch(look.Row(8, f.number, f.head), f.head),
		look.Stretch(look.Row(8, f.under, look.Inset(f.lifeBit, 0, 2), f.lifeSay), f.under))
	buttons := look.Row(2, f.segs, look.Space(6, 1), f.undo, f.redo, lamp)
	return container.NewStack(look.NewFill(look.Panel), look.Border(nil, look.HRule(), nil, nil,
		look.InsetEach(look.Border(nil, nil, nil, look.InsetEach(look.Middle(buttons), 14, 0, 0, 0), title), 14, 7, 10, 7)))
}

func (f *Frame) showHead() {
	b := f.book
	if b == nil {
		return
	}
	p := b.plates[f.plate]
	if p == nil {
		name := b.Imprint.Title
		if name == "" {
			name = words.T("Catalogue without a title")
		}
		f.number.SetText("")
		f.head.SetText(name)
		f.under.SetText(words.T("No plate in hand"))
		f.lifeBit.Hide()
		f.lifeSay.SetText("")
		return
	}
	f.number.SetText(numberWords(p.Number))
	f.head.SetText(p.Title())
	say := techniqueWords(p)
	add := func(s string) {
		if s != "" && say != "" {
			say += " · "
		}
		say += s
	}
	if d := notation.DateWordsIn(words.Tongue(), p.Date.EDTF); d != "" {
		add(d)
	} else {
		add(p.Date.Text)
	}
	if !p.MeasureSize().IsZero() {
		add(sizeWords(p.MeasureSize()))
	}
	if n := len(b.statesOf[p.ID]); n > 1 {
		add(words.T("states I–%s", notation.Roman(n)))
	} else if n == 1 {
		add(words.T("only state"))
	}
	f.under.SetText(say)
	v := f.lifeOf(p.ID)
	f.lifeBit.Hidden = v.ended // there is none left to draw
	f.lifeBit.Set(v.share)
	f.lifeSay.SetText(v.words)
	f.under.Refresh()
}

func (f *Frame) showUndo() {
	f.undo.SetEnabled(f.house.NextUndo() != "" && !f.house.ReadOnly())
	f.redo.SetEnabled(f.house.NextRedo() != "" && !f.house.ReadOnly())
	f.refreshMenu()
}

// choosePlate takes a plate in hand.
func (f *Frame) choosePlate(id catalog.ID) {
	if f.plate == id {
		return
	}
	f.plate = id
	f.prefs.setPlate(f.house.Dir(), id)
	f.log("plate %s", f.book.plates[id].Title())
	for _, tell := range f.inHand {
		tell(id)
	}
	f.list.mark()
	f.showHead()
	f.showPlace()
	f.expect(quietBefore)
}

// expect prepares what the camera would show.
func (f *Frame) expect(quiet time.Duration) {
	f.places[AtCamera].(*cameraPlace).expect(quiet, f.book, f.book.plates[f.plate])
}

// goTo goes to a place.
func (f *Frame) goTo(i int) {
	f.at = i
	f.prefs.setPlace(i)
	f.segs.ShowChoice(i)
	f.stage.Objects = []fyne.CanvasObject{f.places[i].content()}
	f.stage.Refresh()
	f.showPlace()
	f.refreshMenu()
	f.log("at place %d", i)
}

func (f *Frame) showPlace() {
	if f.book != nil {
		f.places[f.at].show(f.book, f.book.plates[f.plate])
	}
}

// typedKey is a key while nothing has the focus.
func (f *Frame) typedKey(e *fyne.KeyEvent) {
	f.house.Input()
	top := f.win.Canvas().Overlays().Top()
	switch {
	case e.Name == fyne.KeyF1:
		f.showGuide()
		return
	case top != nil: // a dialog or a menu
		if e.Name == fyne.KeyEscape {
			top.Hide()
		}
		return
	case e.Name == fyne.KeyEscape && f.win.Canvas().Focused() != nil:
		f.win.Canvas().Unfocus() // what was written is kept
		return
	}
	if f.overlay != nil {
		f.overlay.key(e)
		return
	}
	if f.places[f.at].key(e) {
		return
	}
	switch e.Name {
	case fyne.KeyUp:
		f.list.next(-1)
	case fyne.KeyDown:
		f.list.next(1)
	case fyne.KeyEscape:
		f.note.hide()
	}
}

// devicePixels is the toolkit's length in device pixels of this window.
func (f *Frame) devicePixels(v float32) int {
	s := f.win.Canvas().Scale()
	if s <= 0 {
		s = 1
	}
	return int(v*s + 0.5)
}
