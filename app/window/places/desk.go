package places

import (
	"context"
	"errors"
	"image"
	"path/filepath"
	"strings"
	"sync/atomic"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"pullbook/app/window/look"
	"pullbook/app/window/sheetview"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// deskPlace is where entries are written, editions accounted for, and the
// catalogue made.
type deskPlace struct {
	f     *Frame
	b     *book
	plate *catalog.Plate

	box    *fyne.Container
	full   fyne.CanvasObject
	segs   *look.Segmented
	sheet  *fyne.Container // the section shown
	scroll *container.Scroll
	body   *fyne.Container // the scroll, or the list of sheets, which scrolls by itself
	lists  *listsDesk
	wide   fyne.CanvasObject // the lists, without a page beside them
	page   *pageView

	planner *planner // of editions
}

// atLists is the section of the lists, which are not of one plate.
const atLists = 6

func newDeskPlace(f *Frame) *deskPlace {
	d := &deskPlace{f: f, box: container.NewStack(), sheet: container.NewStack()}
	d.segs = look.NewSegmented(func(int) { d.section() },
		look.Segment{Text: words.T("Entry")}, look.Segment{Text: words.T("States")}, look.Segment{Text: words.T("Editions")},
		look.Segment{Text: words.T("Sheets")}, look.Segment{Text: words.T("Literature")}, look.Segment{Text: words.T("Complete?")}, look.Segment{Text: words.T("Lists")})
	d.lists = newListsDesk(f)
	d.planner = newPlanner(d)
	d.scroll = container.NewVScroll(look.InsetEach(d.sheet, 14, 4, 18, 14))
	d.page = newPageView(d)
	d.body = container.NewStack(d.scroll)
	left := look.Border(look.Inset(container.NewHBox(d.segs), 14, 10), nil, nil, nil, d.body)
	d.wide = look.Border(look.Inset(container.NewHBox(d.segs), 14, 10), nil, nil, nil, d.lists.box)
	side := look.NewSide(d.page.box, left, 420, 300, true)
	side.RestMost = 820
	d.full = side.Box()
	return d
}

// section shows the section chosen.
func (d *deskPlace) section() {
	if d.b != nil {
		d.show(d.b, d.plate)
		d.fill()
	}
}

func (d *deskPlace) content() fyne.CanvasObject { return d.box }

func (d *deskPlace) show(b *book, plate *catalog.Plate) {
	other := (d.plate == nil) != (plate == nil) || plate != nil && d.plate.ID != plate.ID
	d.b, d.plate = b, plate
	d.box.RemoveAll()
	switch {
	case d.segs.Chosen == atLists:
		d.box.Add(d.wide)
		if !d.typing() {
			d.lists.show(b)
		}
		return
	case plate == nil:
		d.box.Add(d.f.noPlate())
		return
	}
	d.box.Add(d.full)
	if other {
		d.scroll.ScrollToTop()
		d.page.at = 0
	}
	if other || !d.typing() {
		d.fill()
	}
	d.page.draw()
}

// typing reports whether a field of the desk has the focus: it is not filled
// anew under the user's hands.
func (d *deskPlace) typing() bool {
	switch d.f.win.Canvas().Focused().(type) {
	case *field, *combo:
		return true
	}
	return false
}

func (d *deskPlace) fill() {
	if d.plate == nil || d.segs.Chosen == atLists {
		return
	}
	var o fyne.CanvasObject
	switch d.segs.Chosen {
	case 0:
		o = d.entry()
	case 1:
		o = d.states()
	case 2:
		o = d.editions()
	case 3:
		d.body.Objects = []fyne.CanvasObject{d.sheets()}
		d.body.Refresh()
		return
	case 4:
		o = d.literature()
	default:
		o = d.complete()
	}
	d.body.Objects = []fyne.CanvasObject{d.scroll}
	d.sheet.Objects = []fyne.CanvasObject{o}
	d.sheet.Refresh()
	d.body.Refresh()
}

func (d *deskPlace) key(*fyne.KeyEvent) bool { return false }

// BookFormats are the page formats of the printed catalogue, in words.
var BookFormats = []string{"230 × 300 mm", "170 × 240 mm", "A4", "Letter"}

// layOut asks for a file and makes the printed catalogue as a job.
func (d *deskPlace) layOut() {
	f := d.f
	var away func()
	path := newField(filepath.Join(homeFolder(f), catalogueName(f)+".pdf"), false, nil)
	say := look.Para("", true)
	check := func() {
		if exists(path.Text) {
			say.SetText(words.T("There is a file of this name already; it will be replaced."))
		} else {
			say.SetText(words.T("Every plate with its states, editions and sheets, an index and a concordance."))
		}
	}
	path.OnChanged = func(string) { check() }
	check()
	choose := look.QuietButton(words.T("Choose the folder…"), look.IconFolder, func() {
		f.folder(func(dir string) { path.SetText(filepath.Join(dir, filepath.Base(path.Text))) })
	})
	format := newSelect(BookFormats, nil)
	format.SetSelectedIndex(0)
	profile := blank()
	profile.SetPlaceHolder(words.T("the printer's colour profile, .icc; may be empty"))
	find := look.QuietButton("", look.IconFolder, func() { f.pickFile([]string{".icc", ".icm"}, profile.SetText) })
	parts := look.QuietButton(words.T("Parts, order and texts…"), look.IconPage, func() { away(); f.putTogether() })
	forPrinter := look.Border(nil, nil, nil, find, profile)
	forPrinter.Hide()
	what := look.NewOneOf(func(i int) { forPrinter.Hidden = i == 0; forPrinter.Refresh() },
		words.T("For the screen and to keep"), words.T("For the printer: bleed, crop marks, pure black text"))
	private := newTick(words.T("name private holders"), false, nil)
	form := look.Form(100, look.Small(words.T("File")), path, look.Small(""), look.Row(0, choose), look.Small(words.T("Page")), look.Row(0, look.Wide(170, format)),
		look.Small(words.T("Made")), look.Column(4, what, forPrinter), look.Small(words.T("Holders")), private, look.Small(words.T("Put together")), look.Row(0, parts))
	away = f.dialog(words.T("Lay out the printed catalogue"), look.Column(8, form, say), fyne.NewSize(600, 440), words.T("Lay it out"), func() error {
		to := path.Text
		if to == "" {
			return errors.New(words.T("Give the file a name, ending in .pdf."))
		}
		o := BookWish{Format: max(format.SelectedIndex(), 0), ForPrinter: what.Chosen == 1, ShowPrivate: private.Checked}
		if o.ForPrinter {
			o.Profile = strings.TrimSpace(profile.Text)
		}
		f.prefs.setFolder(filepath.Dir(to))
		f.start(words.T("Laying out the catalogue"), func(ctx context.Context, p Progress) error {
			warnings, err := f.house.LayOut(ctx, to, o, p)
			if err == nil {
				f.post.do(func() { f.laidOut(to, warnings) })
			}
			return err
		})
		return nil
	})
	f.win.Canvas().Focus(path)
}

// laidOut tells where the catalogue lies. What should be seen to is offered, not
// thrust: there may be a sentence for each of many plates.
func (f *Frame) laidOut(to string, warnings []string) {
	f.tell(words.T("The catalogue lies in %s", to))
	if len(warnings) == 0 {
		return
	}
	f.note.offer(look.IconPage, look.Unsure, words.N("The catalogue is laid out; %d things should be seen to before it is printed.", len(warnings)), words.T("Show them"), func() {
		col := look.Column(8)
		for _, w := range warnings {
			col.Add(look.Para(w, false))
		}
		f.dialog(words.T("To be seen to"), col, fyne.NewSize(640, 500), "", nil)
	})
}

// exportForms are what a catalogue can be given to others as. Those that stand
// at an address take their identifiers from it.
var exportForms = []struct {
	code, name, say string
	addressed       bool
}{
	{"web", "Web", "pages to be read with a browser", false},
	{"csv", "CSV", "tables for a spreadsheet", false},
	{"linked-art", "Linked Art", "JSON for museums and research portals", true},
	{"lido", "LIDO", "XML for collection exchange", true},
	{"iiif", "IIIF", "manifests for picture viewers", true},
}

// export writes exchange files as a job.
func (d *deskPlace) export() {
	f := d.f
	var names []string
	for _, x := range exportForms {
		names = append(names, x.name+": "+words.T(x.say))
	}
	as := look.NewOneOf(nil, names...)
	dir := newField(filepath.Join(homeFolder(f), catalogueName(f)+" export"), false, nil)
	choose := look.QuietButton(words.T("Choose the folder…"), look.IconFolder, func() {
		f.folder(func(path string) { dir.SetText(path) })
	})
	base := blank()
	say := look.Para(words.T("Where the folder will stand on the web, as https://prints.example/plates. Picture viewers need it; left empty, IIIF is for trying out on this machine. Tables and pages stand anywhere."), true)
	f.dialog(words.T("Export for others"), look.Column(8, as, labelled(words.T("Folder"), dir), look.Row(0, choose), labelled(words.T("Address"), base), say), fyne.NewSize(560, 480), words.T("Export"), func() error {
		form, to, at := exportForms[as.Chosen], dir.Text, strings.TrimSpace(base.Text)
		if to == "" {
			return errors.New(words.T("Name a folder to write into."))
		}
		if !form.addressed {
			at = ""
		}
		f.start(words.T("Exporting"), func(ctx context.Context, p Progress) error {
			err := f.house.Export(ctx, form.code, to, at, p)
			if err == nil {
				f.post.do(func() { f.tell(words.T("Exported to %s", to)) })
			}
			return err
		})
		return nil
	})
}

func homeFolder(f *Frame) string {
	if s := f.prefs.folder(); s != "" {
		return s
	}
	return filepath.Dir(f.house.Dir())
}

func catalogueName(f *Frame) string {
	n := filepath.Base(f.house.Dir())
	return n[:len(n)-len(filepath.Ext(n))]
}

// pageView shows the entry as it will print.
type pageView struct {
	d      *deskPlace
	img    *canvas.Image
	say    *look.Text
	at     int
	pages  int
	width  int // of the page drawn, device pixels
	turn   int
	newest atomic.Int64 // turn, for workers
	prev   *look.Button
	next   *look.Button
	box    fyne.CanvasObject
}

func newPageView(d *deskPlace) *pageView {
	p := &pageView{d: d, img: &canvas.Image{FillMode: canvas.ImageFillContain, ScaleMode: canvas.ImageScaleFastest}, say: look.Small("").Giving().Aligned(fyne.TextAlignCenter)}
	p.img.Hide()
	p.prev = look.QuietButton("‹", "", func() { p.leaf(-1) })
	p.next = look.QuietButton("›", "", func() { p.leaf(1) })
	lay := look.NewButton(words.T("Lay out…"), look.IconPage, func() { d.f.run("lay out") })
	exp := look.QuietButton(words.T("Export…"), look.IconOut, func() { d.f.run("export") })
	foot := look.Beside(look.Row(2, lay, exp), look.Border(nil, nil, nil, look.Row(0, p.prev, p.next), look.Wide(128, p.say)))
	p.box = look.Border(nil, container.NewStack(look.NewFill(look.Panel), look.Inset(foot, 10, 6)), nil, nil,
		container.NewStack(look.NewFill(look.Surround), look.Inset(container.New(&pageLayout{p}, p.img), 14, 14)))
	return p
}

// pageLayout has the page drawn anew when its width has changed.
type pageLayout struct{ p *pageView }

func (l *pageLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	o[0].Resize(s)
	if w := l.p.d.f.devicePixels(s.Width); l.p.width > 0 && w > 100 && w != l.p.width {
		l.p.draw()
	}
}
func (l *pageLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(120, 160) }

func (p *pageView) leaf(n int) {
	if at := p.at + n; at >= 0 && (p.pages == 0 || at < p.pages) {
		p.at = at
		p.draw()
	}
}

// drawAfter lets a burst of edits make one page.
const drawAfter = 250 * time.Millisecond

func (p *pageView) draw() {
	if p.d.f.at != AtDesk || p.d.plate == nil {
		return
	}
	p.turn++
	p.newest.Store(int64(p.turn))
	turn, f, id, at := p.turn, p.d.f, p.d.plate.ID, p.at
	p.say.SetText(words.T("setting the page…"))
	width := f.devicePixels(p.img.Size().Width) // exactly, so that nothing is scaled again
	if width < 300 {
		width = 700
	}
	p.width = width
	f.work(func(ctx context.Context) func() {
		select {
		case <-time.After(drawAfter):
		case <-ctx.Done():
			return nil
		}
		if p.newest.Load() != int64(turn) {
			return nil // overtaken by another edit
		}
		img, pages, err := f.house.Preview(ctx, id, at, width)
		var tight *image.RGBA
		if err == nil {
			tight = sheetview.Tight(img)
		}
		return func() {
			if turn != p.turn {
				return
			}
			if err != nil {
				p.img.Hide()
				p.say.SetText(words.Error(err))
				return
			}
			p.pages = pages
			f.log("page set")
			p.img.Image = tight
			p.img.Show()
			p.img.Refresh()
			p.say.SetText(words.T("page %d of %d of this entry", at+1, pages))
			p.prev.SetEnabled(at > 0)
			p.next.SetEnabled(at+1 < pages)
		}
	})
}
