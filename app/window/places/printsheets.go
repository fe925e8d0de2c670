package places

import (
	"context"
	"errors"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// PrintKind is what can be printed for sheets besides the catalogue.
type PrintKind int

// What can be printed.
const (
	PrintRecords PrintKind = iota
	PrintLabels
	PrintDay
)

// Printing says what to print for which sheets, and where.
type Printing struct {
	Kind        PrintKind
	To          string // file
	Impressions []catalog.ID
	LabelSheet  string // name of the label sheet
	Start       int    // place of the first label, from 0
	Plate       catalog.ID
	State       catalog.ID
	Day         time.Time // zero: left to be written in
	Pulls       int       // lines of the day, 0 as many as fit
}

// LabelSheet is a sheet of labels, or of slips to cut.
type LabelSheet struct {
	Name, Page    string
	Count         int
	Width, Height float64 // of a label, mm
	Cut           bool
}

// words names a label sheet.
func (l LabelSheet) words() string {
	if l.Cut {
		return words.T("%s to cut, %d slips of %s × %s mm", l.Page, l.Count, trim(l.Width), trim(l.Height))
	}
	return words.T("%s, %d labels of %s × %s mm", l.Page, l.Count, trim(l.Width), trim(l.Height))
}

// printDesk is the screen on which sheets are chosen to print something for.
type printDesk struct {
	f       *Frame
	b       *book
	plate   *catalog.Plate
	labels  []LabelSheet
	scopes  []func() []*catalog.Impression
	sheets  []*catalog.Impression
	left    map[catalog.ID]bool // sheets left out
	ask     *ask
	kind    *look.OneOf
	scope   *choice
	sheet   *choice
	start   *field
	state   *choice
	pulls   *field
	date    *field
	to      *field
	wrote   string // the name proposed last
	say     *look.Text
	rows    *rowList
	forTags *fyne.Container
	forDay  *fyne.Container
	forList fyne.CanvasObject
	note    *look.Paragraph
}

// printSheets opens the screen, with one kind chosen and the sheets of the
// plate in hand.
func (f *Frame) printSheets(kind PrintKind, only ...catalog.ID) {
	if f.book == nil || f.book.plates[f.plate] == nil {
		return
	}
	p := &printDesk{f: f, b: f.book, plate: f.book.plates[f.plate], labels: f.house.LabelSheets(), left: map[catalog.ID]bool{}}
	p.build()
	if len(only) > 0 {
		for _, i := range p.sheets {
			p.left[i.ID] = true
		}
		for _, id := range only {
			delete(p.left, id)
		}
		p.count()
	}
	if int(kind) == p.kind.Chosen {
		p.kindChosen()
	} else {
		p.kind.Choose(int(kind))
	}
}

func (p *printDesk) build() {
	p.kind = look.NewOneOf(func(int) { p.kindChosen() }, words.T("Records of sheets, for buyer, lender or drawer"), words.T("Labels and drawer slips, with codes"), words.T("The sheet of a printing day, to hang up"))
	var names []string
	for _, l := range p.labels {
		names = append(names, l.words())
	}
	p.sheet = newSelect(names, func(string) { p.count() })
	p.start = newField("1", false, nil)
	p.start.OnChanged = func(string) { p.count() }
	names = nil
	for _, s := range p.b.statesOf[p.plate.ID] {
		names = append(names, p.b.stateWords(s))
	}
	p.state = newSelect(names, nil)
	p.state.SetSelectedIndex(len(names) - 1)
	p.pulls, p.date = blank(), newField(words.Day(time.Now()), false, nil)
	p.pulls.SetPlaceHolder(words.T("as many as fit"))
	p.date.SetPlaceHolder(words.T("left to be written in"))
	p.to, p.note = blank(), look.Para("", true)
	choose := look.QuietButton(words.T("Choose the folder…"), look.IconFolder, func() {
		p.f.folder(func(dir string) { p.to.SetText(filepath.Join(dir, filepath.Base(p.to.Text))) })
	})
	p.forTags = look.Column(8, labelled(words.T("Label sheet"), p.sheet), labelled(words.T("Begin at label"), p.start))
	p.forDay = look.Column(8, labelled(words.T("State"), p.state), labelled(words.T("Date"), p.date), labelled(words.T("Pulls meant"), p.pulls))
	side := look.Column(12, p.kind, look.HRule(), p.forTags, p.forDay, p.note, labelled(words.T("File"), p.to), look.Row(0, choose))

	p.say = look.Small("").Giving()
	p.rows = newRowList(func() int { return len(p.sheets) }, func() fyne.CanvasObject { return newChosenRow(p) }, func(i int, o fyne.CanvasObject) {
		if i < len(p.sheets) {
			o.(*chosenRow).set(p.sheets[i])
		}
	})
	p.rows.HideSeparators = true
	p.scope = newSelect(p.scopeNames(), func(string) { p.scopeChosen() })
	all := look.QuietButton(words.T("All"), look.IconTick, func() { p.left = map[catalog.ID]bool{}; p.count() })
	none := look.QuietButton(words.T("None"), look.IconCross, func() {
		for _, i := range p.sheets {
			p.left[i.ID] = true
		}
		p.count()
	})
	head := look.Column(6, p.scope, look.Border(nil, nil, nil, look.Row(2, all, none), p.say))
	p.forList = look.Border(look.InsetEach(head, 0, 0, 0, 4), nil, nil, nil, p.rows)
	content := look.NewSide(look.InsetEach(p.forList, 16, 0, 0, 0), look.InsetEach(container.NewVScroll(look.InsetEach(side, 2, 0, 12, 0)), 0, 0, 4, 0), 380, 260, true)
	p.ask = p.f.ask(words.T("Print for sheets"), content.Box(), fyne.NewSize(900, 600), words.T("Print it"), p.do)
	p.sheet.SetSelectedIndex(len(p.labels) - 1)
	p.scope.SetSelectedIndex(0)
}

// scopeNames lists whose sheets can be chosen from, and keeps how to find
// them.
func (p *printDesk) scopeNames() []string {
	names := []string{words.T("Sheets of this plate")}
	p.scopes = append(p.scopes, func() []*catalog.Impression { return p.b.impressionsOf[p.plate.ID] })
	for _, s := range p.b.statesOf[p.plate.ID] {
		if len(p.b.statesOf[p.plate.ID]) > 1 {
			names = append(names, words.T("Sheets of %s", p.b.stateWords(s)))
			p.scopes = append(p.scopes, func() []*catalog.Impression { return p.b.inState(p.plate.ID, s.ID) })
		}
	}
	for _, e := range p.b.editionsOf[p.plate.ID] {
		names = append(names, words.T("Sheets of the edition: %s", e.Name))
		p.scopes = append(p.scopes, func() []*catalog.Impression {
			var l []*catalog.Impression
			for _, i := range p.b.impressionsOf[p.plate.ID] {
				if i.EditionID == e.ID {
					l = append(l, i)
				}
			}
			return l
		})
	}
	names = append(names, words.T("Every sheet of the catalogue"))
	p.scopes = append(p.scopes, func() []*catalog.Impression {
		var l []*catalog.Impression
		for i := range p.b.Plates {
			l = append(l, p.b.impressionsOf[p.b.Plates[i].ID]...)
		}
		return l
	})
	return names
}

func (p *printDesk) scopeChosen() {
	if i := p.scope.SelectedIndex(); i >= 0 {
		p.sheets = p.scopes[i]()
		p.left = map[catalog.ID]bool{}
		p.count()
	}
}

// kindChosen shows what the kind asks for and proposes a file.
func (p *printDesk) kindChosen() {
	k := PrintKind(p.kind.Chosen)
	p.forTags.Hidden, p.forDay.Hidden = k != PrintLabels, k != PrintDay
	p.forList.(*fyne.Container).Hidden = k == PrintDay
	what := []string{words.T("record"), words.T("labels"), words.T("printing day")}[k]
	if p.to.Text == p.wrote || p.to.Text == "" {
		p.wrote = filepath.Join(homeFolder(p.f), fileName(p.plate.Title()+", "+what)+".pdf")
		p.to.SetText(p.wrote)
	}
	p.count()
	p.ask.pop.Content.Refresh()
}

// fileName is a text without the characters that a file's name may not have.
func fileName(s string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) || r < ' ' {
			return '-'
		}
		return r
	}, s)
}

// chosen are the sheets chosen, in their order.
func (p *printDesk) chosen() []catalog.ID {
	var l []catalog.ID
	for _, i := range p.sheets {
		if !p.left[i.ID] {
			l = append(l, i.ID)
		}
	}
	return l
}

// count says how many sheets are chosen and how much paper they take.
func (p *printDesk) count() {
	if p.ask == nil {
		return
	}
	n := len(p.chosen())
	p.say.SetText(words.T("%d of %d chosen", n, len(p.sheets)))
	p.rows.Refresh()
	k := PrintKind(p.kind.Chosen)
	note := ""
	switch k {
	case PrintRecords:
		note = words.T("What is known of a sheet on a page or two, with its scores. What a seller must state is decided by local law.")
		if n > 1 {
			note += " " + words.T("Each sheet gets a file of its own, with its name added.")
		}
	case PrintLabels:
		note = words.T("A label that lies beside its sheet when it is photographed files the photograph by itself.")
		if s, l := p.startAt(), p.labelSheet(); l.Count > 0 && n > 0 && s >= 0 {
			note += " " + words.N("%d pages of labels.", (s%l.Count+n+l.Count-1)/l.Count)
		}
	case PrintDay:
		note = words.T("Plate, state, the counts to go on from, a line for each pull and the cautions, to hang beside the press.")
	}
	p.note.SetText(note)
	p.ask.yes.SetEnabled(k == PrintDay || n > 0)
}

// startAt is the place of the first label, from 0; -1 when it is no number.
func (p *printDesk) startAt() int {
	n, err := strconv.Atoi(strings.TrimSpace(p.start.Text))
	if err != nil || n < 1 {
		return -1
	}
	return n - 1
}

func (p *printDesk) labelSheet() LabelSheet {
	if i := p.sheet.SelectedIndex(); i >= 0 {
		return p.labels[i]
	}
	return LabelSheet{}
}

// do prints, as a job.
func (p *printDesk) do() error {
	f := p.f
	x := Printing{Kind: PrintKind(p.kind.Chosen), To: strings.TrimSpace(p.to.Text), Impressions: p.chosen(), LabelSheet: p.labelSheet().Name, Plate: p.plate.ID}
	if x.To == "" {
		return errors.New(words.T("Give the file a name, ending in .pdf."))
	}
	switch x.Kind {
	case PrintLabels:
		if x.Start = p.startAt(); x.Start < 0 {
			return sentence("Labels are counted from 1, from the top left along the rows.")
		}
	case PrintDay:
		if i := p.state.SelectedIndex(); i >= 0 {
			x.State = p.b.statesOf[p.plate.ID][i].ID
		}
		if s := strings.TrimSpace(p.pulls.Text); s != "" {
			n, err := strconv.Atoi(s)
			if err != nil || n < 1 || n > 500 {
				return sentence("The pulls that are meant are a whole number, such as 12; empty gives as many lines as fit.")
			}
			x.Pulls = n
		}
		if s := strings.TrimSpace(p.date.Text); s != "" {
			day, ok := readDay(s)
			if !ok {
				return sentence("The date is a day, such as 2026-03-14; empty leaves it to be written in.")
			}
			x.Day = day
		}
	}
	f.prefs.setFolder(filepath.Dir(x.To))
	f.start(words.T("Printing for sheets"), func(ctx context.Context, pr Progress) error {
		made, warnings, err := f.house.Print(ctx, x, pr)
		if err == nil {
			f.post.do(func() { f.printed(made, warnings) })
		}
		return err
	})
	return nil
}

// readDay reads a day as the window writes it, or as year-month-day.
func readDay(s string) (time.Time, bool) {
	if t, err := time.ParseInLocation("2006-01-02", s, time.Local); err == nil {
		return t, true
	}
	now := time.Now()
	for d := -400; d <= 400; d++ { // the window's own words, either side of today
		if t := now.AddDate(0, 0, d); words.Day(t) == s {
			return t, true
		}
	}
	return time.Time{}, false
}

// printed tells what was made, and what its maker should see to.
func (f *Frame) printed(made, warnings []string) {
	say := words.N("%d files made", len(made))
	if len(made) == 1 {
		say = words.T("It lies in %s", made[0])
	}
	f.tell(say)
	if len(warnings) == 0 {
		return
	}
	col := look.Column(8, look.Para(say, true))
	for _, w := range warnings {
		col.Add(look.Para(w, false))
	}
	f.dialog(words.T("To be seen to"), col, fyne.NewSize(600, 460), "", nil)
}

// chosenRow is one sheet that can be chosen; a tap chooses it or leaves it out.
type chosenRow struct {
	widget.BaseWidget
	p    *printDesk
	imp  *catalog.Impression
	mark *look.Drawn
	name *look.Text
	more *look.Text
	box  *fyne.Container
}

func newChosenRow(p *printDesk) *chosenRow {
	r := &chosenRow{p: p, mark: look.NewDrawn(look.IconTick, look.Blue, 15), name: look.Line("").Giving(), more: look.Small("").Giving()}
	r.box = look.Border(nil, nil, look.InsetEach(look.Wide(18, r.mark), 2, 0, 8, 0), nil, container.New(shares{[]float32{9, 12}, 25}, r.name, r.more))
	r.ExtendBaseWidget(r)
	return r
}

func (r *chosenRow) set(i *catalog.Impression) {
	r.imp = i
	r.mark.Set(look.IconTick, look.Blue)
	if r.p.left[i.ID] {
		r.mark.Set(look.IconMore, look.Faint)
	}
	r.name.SetText(sheetName(i))
	more := r.p.b.stateShort(r.p.b.states[i.StateID])
	if pl := r.p.b.plates[i.PlateID]; pl != nil && i.PlateID != r.p.plate.ID {
		more = strings.TrimSpace(numberWords(pl.Number)+" "+pl.Title()) + " · " + more
	}
	if h := r.p.b.holders[i.HolderID]; h != nil {
		more += " · " + h.Name
	}
	r.more.SetText(more)
}

// Tapped chooses the sheet or leaves it out.
func (r *chosenRow) Tapped(*fyne.PointEvent) {
	if r.p.left[r.imp.ID] {
		delete(r.p.left, r.imp.ID)
	} else {
		r.p.left[r.imp.ID] = true
	}
	r.p.count()
}

// CreateRenderer is the toolkit's hook.
func (r *chosenRow) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(r.box) }
