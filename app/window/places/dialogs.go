package places

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"

	"pullbook/app/window/look"
	"pullbook/app/window/sheetview"
	"pullbook/app/window/words"
	"pullbook/catalog"
	"pullbook/catalog/notation"
)

// enterPlate asks for the few facts a plate begins with.
func (f *Frame) enterPlate() {
	title, number, tech, h, w, date := blank(), blank(), newCombo(techniqueNames()), blank(), blank(), blank()
	highest := 0
	if f.book != nil {
		for _, p := range f.book.Plates {
			highest = max(highest, p.Number.N)
		}
	}
	number.SetText(strconv.Itoa(highest + 1))
	form := look.Form(120,
		look.Small(words.T("Number")), number, look.Small(words.T("Title")), title,
		look.Small(words.T("Technique")), tech, look.Small(words.T("Height, mm")), h, look.Small(words.T("Width, mm")), w,
		look.Small(words.T("Date")), date)
	f.dialog(words.T("Enter a plate"), form, fyne.NewSize(440, 330), words.T("Enter it"), func() error {
		if strings.TrimSpace(title.Text) == "" {
			return fmt.Errorf("%s", words.T("A plate needs a title; a supplied one in brackets will do."))
		}
		size, err := readSize(h.Text, w.Text)
		if err != nil {
			return err
		}
		p := &catalog.Plate{ID: catalog.NewID(), Titles: []catalog.Title{{Text: strings.TrimSpace(title.Text), Given: "artist"}}, Mark: size, Standing: catalog.Accepted,
			Date: notation.ParseDate(date.Text).Date, MakerID: f.maker()}
		p.Number.N, err = strconv.Atoi(strings.TrimSpace(number.Text))
		if err != nil {
			return fmt.Errorf("%s", words.T("The number of a plate is a whole number, such as 12."))
		}
		for _, t := range strings.Split(tech.Text, ",") {
			if t = strings.TrimSpace(t); t != "" {
				p.Techniques = append(p.Techniques, techniqueNamed(t))
			}
		}
		s := &catalog.State{ID: catalog.NewID(), PlateID: p.ID, N: 1}
		f.plate = p.ID
		f.save(words.T("enter plate %s", p.Title()), p, s)
		return nil
	})
	f.win.Canvas().Focus(title)
}

func (f *Frame) maker() catalog.ID {
	if f.book != nil {
		return f.book.Imprint.MakerID
	}
	return ""
}

func techniqueNames() []string {
	var l []string
	for _, t := range []catalog.Technique{catalog.Engraving, catalog.Etching, catalog.Drypoint, catalog.Aquatint, catalog.SoftGround, catalog.Mezzotint, catalog.Roulette} {
		l = append(l, words.T(string(t)))
	}
	return l
}

func techniqueNamed(s string) catalog.Technique {
	for _, t := range []catalog.Technique{catalog.Engraving, catalog.Etching, catalog.Drypoint, catalog.Aquatint, catalog.SoftGround, catalog.Mezzotint, catalog.Roulette} {
		if strings.EqualFold(words.T(string(t)), s) {
			return t
		}
	}
	return catalog.Technique(strings.ToLower(s))
}

// readSize reads a height and a width typed in millimetres; both empty is not
// recorded.
func readSize(h, w string) (catalog.Size, error) {
	if strings.TrimSpace(h+w) == "" {
		return catalog.Size{}, nil
	}
	read := func(s string) (float64, error) {
		return strconv.ParseFloat(strings.Replace(strings.TrimSpace(s), ",", ".", 1), 64)
	}
	hv, err1 := read(h)
	wv, err2 := read(w)
	if err1 != nil || err2 != nil || hv <= 0 || wv <= 0 {
		return catalog.Size{}, fmt.Errorf("%s", words.T("Height and width are figures in millimetres, such as 180 and 240."))
	}
	return catalog.Size{HeightMM: hv, WidthMM: wv}, nil
}

// enterState adds the next state of the plate in hand.
func (f *Frame) enterState() {
	if f.book == nil || f.book.plates[f.plate] == nil {
		return
	}
	n := len(f.book.statesOf[f.plate]) + 1
	desc, date := newField("", true, nil), blank()
	desc.Wrapping = fyne.TextWrapWord
	desc.SetPlaceHolder(words.T("By what it is told from the state before: new work, removed work, where."))
	form := look.Form(100, look.Small(words.T("Described")), desc, look.Small(words.T("Date")), date)
	f.dialog(words.T("Enter state %s", notation.Roman(n)), form, fyne.NewSize(520, 300), words.T("Enter it"), func() error {
		f.save(words.T("enter state %s", notation.Roman(n)), &catalog.State{PlateID: f.plate, N: n, Description: desc.Text,
			Date: notation.ParseDate(date.Text).Date})
		return nil
	})
	f.win.Canvas().Focus(desc)
}

// enterEdition adds an edition of the latest state.
func (f *Frame) enterEdition() {
	if f.book == nil || len(f.book.statesOf[f.plate]) == 0 {
		return
	}
	states := f.book.statesOf[f.plate]
	var names []string
	for _, s := range states {
		names = append(names, f.book.stateWords(s))
	}
	name, size, ap, pp, hc := blank(), blank(), blank(), blank(), blank()
	state := newSelect(names, nil)
	state.SetSelectedIndex(len(states) - 1)
	name.SetText(words.T("edition"))
	form := look.Form(130, look.Small(words.T("Name")), name, look.Small(words.T("State")), state, look.Small(words.T("Numbered")), size,
		look.Small(words.T("Artist's proofs")), ap, look.Small(words.T("Printer's proofs")), pp, look.Small(words.T("Hors commerce")), hc)
	f.dialog(words.T("Enter an edition"), form, fyne.NewSize(440, 350), words.T("Enter it"), func() error {
		e := &catalog.Edition{PlateID: f.plate, StateID: states[max(state.SelectedIndex(), 0)].ID, Name: name.Text, Kind: "edition", Scheme: "arabic"}
		for _, x := range []struct {
			to *int
			s  string
		}{{&e.Size, size.Text}, {&e.Artists, ap.Text}, {&e.Printers, pp.Text}, {&e.HorsComm, hc.Text}} {
			if strings.TrimSpace(x.s) == "" {
				continue
			}
			n, err := strconv.Atoi(strings.TrimSpace(x.s))
			if err != nil || n < 0 {
				return fmt.Errorf("%s", words.T("The numbers of an edition are whole numbers, such as 30."))
			}
			*x.to = n
		}
		f.save(words.T("enter %s", e.Name), e)
		return nil
	})
	f.win.Canvas().Focus(size)
}

// noPlate is what a place says when there is no plate in hand.
func (f *Frame) noPlate() fyne.CanvasObject {
	return look.Hint(look.IconPlate, words.T("No plate in hand"),
		words.T("Choose a plate in the list at the left, or enter the first one. Its states, sheets and photographs are kept with it."),
		look.StrongButton(words.T("Enter a plate"), look.IconPlus, f.enterPlate))
}

// pickPhotographs asks for one picture file; folders and several files come by
// drop or by the folder command.
func (f *Frame) pickPhotographs() {
	d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil {
			f.fail(err)
			return
		}
		if r == nil {
			return
		}
		r.Close()
		f.prefs.setFolder(filepath.Dir(r.URI().Path()))
		f.TakeIn([]string{r.URI().Path()})
	}, f.win)
	d.SetFilter(storage.NewExtensionFileFilter([]string{".jpg", ".jpeg", ".png", ".tif", ".tiff", ".webp", ".JPG", ".JPEG", ".PNG", ".TIF", ".TIFF"}))
	f.place(d)
}

type fileDialog interface {
	SetLocation(fyne.ListableURI)
	Resize(fyne.Size)
	Show()
}

// place shows a file dialog in the folder last used.
func (f *Frame) place(d fileDialog) {
	if l, err := storage.ListerForURI(storage.NewFileURI(f.prefs.folder())); err == nil && f.prefs.folder() != "" {
		d.SetLocation(l)
	}
	s := f.win.Canvas().Size()
	d.Resize(fyne.NewSize(s.Width*0.8, s.Height*0.8))
	d.Show()
}

func (f *Frame) pickFolder() {
	f.folder(func(path string) { f.TakeIn([]string{path}) })
}

func (f *Frame) folder(then func(path string)) {
	f.place(dialog.NewFolderOpen(func(l fyne.ListableURI, err error) {
		if err != nil {
			f.fail(err)
			return
		}
		if l != nil {
			f.prefs.setFolder(l.Path())
			then(l.Path())
		}
	}, f.win))
}

// verify reads every byte of the catalogue as a job and tells the outcome.
func (f *Frame) verify() {
	f.start(words.T("Verifying"), func(ctx context.Context, p Progress) error {
		say, err := f.house.Verify(ctx, p)
		if err == nil {
			f.post.do(func() {
				f.dialog(words.T("Verified"), look.Para(say, false), fyne.NewSize(460, 260), "", nil)
			})
		}
		return err
	})
}

// askName asks in whose name decisions are recorded.
func (f *Frame) askName() {
	name := newField(f.prefs.by(), false, nil)
	f.dialog(words.T("Your name"), look.Column(8, labelled(words.T("Name"), name),
		look.Para(words.T("Decisions about sheets are recorded with it."), true)), fyne.NewSize(380, 220), words.T("Keep"), func() error {
		f.prefs.setBy(strings.TrimSpace(name.Text))
		return nil
	})
	f.win.Canvas().Focus(name)
}

// chooseLanguage sets the language of the next start: the toolkit cannot change
// it while it runs.
func (f *Frame) chooseLanguage() {
	var names []string
	now := 0
	for i, l := range words.Languages {
		names = append(names, words.T(l.Name))
		if l.Code == f.prefs.p.String(PrefTongue) {
			now = i
		}
	}
	pick := look.NewOneOf(nil, names...)
	pick.Chosen = now
	f.dialog(words.T("Language"), look.Column(8, pick, look.Para(words.T("The window speaks it from the next start on."), true)), fyne.NewSize(360, 260), words.T("Keep"), func() error {
		f.prefs.p.SetString(PrefTongue, words.Languages[pick.Chosen].Code)
		return nil
	})
}

// setTrueSize asks for the length on the screen of a bar meant to be 100 mm.
func (f *Frame) setTrueSize() {
	mm := blank()
	mm.SetText("100")
	points := f.prefs.screenPerMM() * 100
	bar := look.NewFill(look.Copper)
	f.dialog(words.T("True size"), look.Column(12,
		look.Para(words.T("Lay a ruler on the screen, measure this bar and type its length in millimetres."), false),
		container.NewHBox(look.Wide(float32(points), container.New(&tall{14}, bar))), look.Form(130, look.Small(words.T("Length, mm")), mm)),
		fyne.NewSize(float32(max(460, points+80)), 280), words.T("Keep"), func() error {
			v, err := strconv.ParseFloat(strings.Replace(mm.Text, ",", ".", 1), 64)
			if err != nil || v < 20 || v > 500 {
				return fmt.Errorf("%s", words.T("The length is a figure in millimetres, such as 97."))
			}
			f.prefs.setScreenPerMM(points / v)
			return nil
		})
}

// showKeys lists every command that has a key.
func (f *Frame) showKeys() {
	o := []fyne.CanvasObject{look.Label(words.T("Everywhere")), look.Small("")}
	for _, x := range [][2]string{{"Alt", words.T("open the menu; arrows, Return and Escape go through it")}, {"Tab", words.T("the next field or button; back with Shift")}, {"Esc", words.T("leave a field, put away what stands over the window")}} {
		o = append(o, look.Small(x[0]), look.Line(x[1]))
	}
	last := ""
	for _, c := range f.menu {
		k := keyWords(c)
		if k == "" {
			continue
		}
		if c.menu != last {
			o = append(o, look.Label(c.menu), look.Small(""))
			last = c.menu
		}
		o = append(o, look.Small(k), look.Line(c.label))
	}
	o = append(o, look.Label(words.T("On a sheet")), look.Small(""))
	for _, x := range [][2]string{{"+ −", words.T("nearer, farther")}, {"0  1", words.T("whole sheet, pixel for pixel")}, {"← → ↑ ↓", words.T("move")}, {"X", words.T("the other sheet, in turn")}, {"L", words.T("loupe")}, {", .", words.T("move the edge")},
		{"1 … 4  Tab", words.T("at the camera: a corner of the plate mark")}, {"← → ↑ ↓", words.T("move that corner, with Shift ten pixels")}} {
		o = append(o, look.Small(x[0]), look.Line(x[1]))
	}
	f.dialog(words.T("Keys"), look.Facts(170, o...), fyne.NewSize(560, 620), "", nil)
}

func keyWords(c *command) string {
	ctrlWord := words.T("Ctrl") + " "
	switch c.shortcut.(type) {
	case *fyne.ShortcutUndo:
		return ctrlWord + "Z"
	case *fyne.ShortcutRedo:
		return ctrlWord + "Y"
	}
	if c.key == "" {
		return ""
	}
	s := ""
	if c.mod&fyne.KeyModifierControl != 0 {
		s += ctrlWord
	}
	if c.mod&fyne.KeyModifierAlt != 0 {
		s += words.T("Alt") + " "
	}
	if c.mod&fyne.KeyModifierShift != 0 {
		s += words.T("Shift") + " "
	}
	return s + string(c.key)
}

func (f *Frame) showAbout() {
	f.dialog(words.T("About Pullbook"), look.Column(8,
		look.Para(words.T("Pullbook keeps a printmaker's catalogue: plates, states, impressions and editions, and measures photographed pulls against the one approved."), false),
		look.Para(words.T("The catalogue in hand lies in %s.", f.house.Dir()), true),
		look.Para(words.T("Type: EB Garamond and Lato, SIL Open Font License. The program: MIT licence."), true)), fyne.NewSize(460, 280), "", nil)
}

// viewer is the sheet viewer of the place in hand.
func (f *Frame) viewer() *sheetview.Viewer {
	switch p := f.places[f.at].(type) {
	case *tablePlace:
		return p.view
	case *cameraPlace:
		return p.view
	}
	return nil
}

func (f *Frame) hasViewer() bool { return f.viewer() != nil }

// exists reports whether a file is there and not empty.
func exists(path string) bool {
	i, err := os.Stat(path)
	return err == nil && i.Size() > 0
}
