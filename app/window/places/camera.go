package places

import (
	"context"
	"errors"
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pullbook/app/window/look"
	"pullbook/app/window/sheetview"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// trayItem is a photograph in the tray: one to be confirmed, or one filed.
type trayItem struct {
	taken   Taken
	waiting bool // to be confirmed
	head    string
}

// cameraPlace takes photographs in and files them.
type cameraPlace struct {
	f       *Frame
	plate   *catalog.Plate
	waiting []Taken
	items   []trayItem
	chosen  catalog.ID
	filing  map[catalog.ID]bool // confirmed; when filed, the next one waiting is shown
	turn    int                 // counts choices, so that late pictures are dropped
	w, h    float64

	box      *fyne.Container
	full     fyne.CanvasObject
	empty    fyne.CanvasObject
	tray     *rowList
	all      *look.Button
	say      *look.Text
	again    *look.Button
	view     *sheetview.Viewer
	shown    catalog.ID      // the photograph in the viewer
	began    time.Time       // when the photograph was chosen that is not painted yet
	stop     func()          // ends the reading of the photograph before
	looked   context.Context // ends when another photograph is chosen
	panel    *photoPanel
	watch    *watcher
	quiet    bool
	checked  catalog.ID // the photograph judged last
	checking bool
	near     *beforehand
}

func newCameraPlace(f *Frame) *cameraPlace {
	c := &cameraPlace{f: f, box: container.NewStack(), filing: map[catalog.ID]bool{}, near: &beforehand{f: f}}
	c.view = sheetview.NewViewer(f.post.do)
	c.view.SetMode(sheetview.Single)
	c.view.CornersMoved = c.cornersMoved
	c.view.Painted = c.painted
	c.tray = newRowList(func() int { return len(c.items) }, c.newRow, c.fillRow)
	c.tray.HideSeparators = true
	c.tray.OnSelected = func(i int) {
		if !c.quiet && i < len(c.items) {
			c.choose(c.items[i])
		}
	}
	c.panel = newPhotoPanel(c)
	c.all = look.StrongButton(words.T("Confirm all"), look.IconTick, c.confirmAll)
	c.say = look.Small("").Giving()
	pick := look.NewButton(words.T("Pick files…"), look.IconDrop, f.pickPhotographs)
	folder := look.QuietButton(words.T("Folder…"), look.IconFolder, f.pickFolder)
	c.again = look.QuietButton(words.T("Recognise"), look.IconEye, c.recognise)
	top := look.Column(6, look.Row(4, pick, folder), c.all, look.Stretch(look.Row(4, c.say, c.again), c.say))
	left := look.OnPanel(look.Border(look.Inset(top, 10, 10), nil, nil, nil, c.tray))
	c.full = look.NewSide(left, look.NewSide(c.panel.box, c.view, 290, 240, true).Box(), 230, 190, false).Box()
	c.empty = look.Hint(look.IconCamera, words.T("No photographs of this plate yet"),
		words.T("Drop photographs or a whole folder on this window, or pick them. Each is turned upright, checked, and filed to the plate, state and sheet it shows, once you agree."),
		look.StrongButton(words.T("Pick files…"), look.IconDrop, f.pickPhotographs),
		look.NewButton(words.T("Take in a folder…"), look.IconFolder, f.pickFolder))
	return c
}

func (c *cameraPlace) content() fyne.CanvasObject { return c.box }

func (c *cameraPlace) show(b *book, plate *catalog.Plate) {
	c.plate = plate
	if c.watch == nil {
		c.watch = newWatcher(c.f)
	}
	c.list(b)
	c.box.RemoveAll()
	if len(c.items) == 0 {
		c.box.Add(c.empty)
		return
	}
	c.box.Add(c.full)
	if p := b.photos[c.chosen]; c.filing[c.chosen] && p != nil && p.ImpressionID != "" {
		delete(c.filing, c.chosen)
		if it := c.items[1]; it.waiting {
			c.choose(it)
			return
		}
	}
	for _, it := range c.items {
		if it.taken.PhotoID == c.chosen && c.chosen != "" {
			c.mark()
			c.panel.show(b, it)
			return
		}
	}
	for _, it := range c.items {
		if it.head == "" {
			c.choose(it)
			break
		}
	}
}

// TakeIn takes photographs and folders in: the one way for drop, dialog, watched
// folder and command line.
func (f *Frame) TakeIn(paths []string) {
	if len(paths) == 0 {
		return
	}
	if f.house.ReadOnly() {
		f.fail(errors.New(words.T("This catalogue is open for reading only, so nothing can be changed here.")))
		return
	}
	if f.book == nil { // not read yet: at once when it is
		f.toTake = append(f.toTake, paths...)
		return
	}
	hint := Hint{Plate: f.plate}
	c := f.places[AtCamera].(*cameraPlace)
	f.goTo(AtCamera)
	name := words.T("Taking photographs in")
	f.start(name, func(ctx context.Context, p Progress) error {
		taken, err := f.house.TakeIn(ctx, paths, hint, p)
		f.post.do(func() { c.came(taken) })
		return err
	})
}

// Look shows the photograph of a name at the camera.
func (f *Frame) Look(name string) {
	f.goTo(AtCamera)
	c := f.places[AtCamera].(*cameraPlace)
	for _, it := range c.items {
		if it.head == "" && it.taken.Name == name {
			c.choose(it)
			return
		}
	}
}

// came puts what was taken in on the tray.
func (c *cameraPlace) came(taken []Taken) {
	bad := 0
	again := 0
	for _, t := range taken {
		if t.Again {
			again++
		}
		if t.Refused != "" && t.PhotoID == "" {
			bad++
			c.f.fail(errors.New(t.Refused))
			continue
		}
		c.waiting = slices.DeleteFunc(c.waiting, func(x Taken) bool { return x.PhotoID == t.PhotoID })
		c.waiting = append(c.waiting, t)
	}
	if n := len(taken) - bad - again; n > 0 {
		c.f.tell(words.N("%d photographs taken in", n))
		c.chosen = taken[len(taken)-1].PhotoID
		for _, t := range taken {
			if t.PhotoID != "" {
				c.chosen = t.PhotoID
				break
			}
		}
		c.turn++
		c.warn(taken)
	}
	c.f.read()
	if c.f.at == AtCamera {
		c.f.showPlace()
		c.load(c.chosen)
	}
}

// choose shows a photograph.
func (c *cameraPlace) choose(it trayItem) {
	if it.head != "" {
		return
	}
	c.chosen = it.taken.PhotoID
	c.mark()
	c.panel.show(c.f.book, it)
	c.load(it.taken.PhotoID)
}

func (c *cameraPlace) report(r *Report) {
	if len(r.Findings) == 0 && r.Refused == "" && r.Wedge == nil {
		c.check(c.chosen)
	}
	k := r.Corners
	switch { // a place to begin from
	case r.HasMark:
	case r.Wedge != nil:
		k = [4][2]float64{{0.1, 0.43}, {0.9, 0.43}, {0.9, 0.57}, {0.1, 0.57}}
	default:
		k = [4][2]float64{{0.2, 0.2}, {0.8, 0.2}, {0.8, 0.8}, {0.2, 0.8}}
	}
	var px [4]sheetview.Corner
	for i := range k {
		px[i] = sheetview.Corner{k[i][0] * c.w, k[i][1] * c.h}
	}
	c.view.SetCorners(&px)
	c.panel.report(r, "")
}

// cornersMoved keeps the corners the user set.
func (c *cameraPlace) cornersMoved(px [4]sheetview.Corner) {
	id := c.chosen
	if id == "" || c.w == 0 {
		return
	}
	var k [4][2]float64
	for i := range px {
		k[i] = [2]float64{px[i][0] / c.w, px[i][1] / c.h}
	}
	c.f.change(func(ctx context.Context) error {
		if err := c.f.house.Mark(ctx, id, k); err != nil {
			return err
		}
		c.f.post.do(func() {
			if !c.readAgain(id) {
				c.f.tell(words.T("Plate mark set by hand"))
			}
			c.load(id)
		})
		return nil
	})
}

// blankSheet says that the photograph shown is of a blank sheet.
func (c *cameraPlace) blankSheet() {
	f, id := c.f, c.chosen
	f.change(func(ctx context.Context) error {
		with, err := f.house.BlankSheet(ctx, id)
		if err == nil {
			f.post.do(func() { f.tell(words.N("%d photographs share the light of this blank sheet", with)) })
		}
		return err
	})
}

// confirm files the photographs where they are said to belong, and measures.
func (c *cameraPlace) confirm(list []Taken) {
	if len(list) == 0 {
		return
	}
	for _, t := range list {
		c.filing[t.PhotoID] = true
	}
	f := c.f
	f.start(words.T("Filing and measuring"), func(ctx context.Context, p Progress) error {
		done, err := f.house.Confirm(ctx, list, p)
		if err == nil {
			f.post.do(func() { c.filed(done) })
		}
		return err
	})
}

// sureEnough is how sure a proposal must be to be confirmed with all others
// (nine in ten); the rest are confirmed one by one.
const sureEnough = 0.9

func (t Taken) isSure() bool {
	return t.Refused == "" && t.PlateID != "" && t.StateID != "" && t.View != "" && t.Sure >= sureEnough
}

// recognise looks again at what waits without a sure place.
func (c *cameraPlace) recognise() {
	var ids []catalog.ID
	for _, it := range c.items {
		if it.waiting && !it.taken.isSure() {
			ids = append(ids, it.taken.PhotoID)
		}
	}
	if len(ids) == 0 {
		return
	}
	f, hint := c.f, Hint{Plate: c.f.plate}
	f.start(words.T("Recognising"), func(ctx context.Context, p Progress) error {
		told, err := f.house.Propose(ctx, ids, hint, p)
		f.post.do(func() { c.came(told) })
		return err
	})
}

func (c *cameraPlace) confirmAll() {
	var list []Taken
	for _, t := range c.waiting {
		if t.isSure() {
			list = append(list, t)
		}
	}
	c.confirm(list)
}

func (c *cameraPlace) mark() {
	c.quiet = true
	defer func() { c.quiet = false }()
	for i, it := range c.items {
		if it.head == "" && it.taken.PhotoID == c.chosen {
			c.tray.Select(i)
			return
		}
	}
}

func (c *cameraPlace) key(e *fyne.KeyEvent) bool {
	switch e.Name {
	case fyne.Key1, fyne.Key2, fyne.Key3, fyne.Key4:
		if c.view.ChooseCorner(slices.Index([]fyne.KeyName{fyne.Key1, fyne.Key2, fyne.Key3, fyne.Key4}, e.Name)) {
			c.f.win.Canvas().Focus(c.view)
		}
		return true
	case fyne.KeyReturn, fyne.KeyEnter:
		c.panel.confirmThis()
		return true
	case fyne.KeyPageDown, fyne.KeyPageUp:
		step := 1
		if e.Name == fyne.KeyPageUp {
			step = -1
		}
		for i, it := range c.items {
			if it.taken.PhotoID == c.chosen && it.head == "" {
				for j := i + step; j >= 0 && j < len(c.items); j += step {
					if c.items[j].head == "" {
						c.choose(c.items[j])
						return true
					}
				}
			}
		}
		return true
	}
	return false
}
