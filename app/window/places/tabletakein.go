package places

import (
	"context"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog/exchange/cells"
	"pullbook/catalog/exchange/sheet"
)

// tableTakeIn is the screen that takes somebody's spreadsheet in: what each
// column means, how its first rows are understood, what becomes of every row.
// Nothing is changed before the one step at the end.
type tableTakeIn struct {
	f      *Frame
	name   string
	tables []cells.Sheet
	table  cells.Sheet
	match  sheet.Matching
	plan   *sheet.Plan
	turn   int
	lines  []planLine

	ask     *ask
	which   *choice
	each    *look.Segmented
	unit    *choice
	columns *fyne.Container // the columns, side by side
	across  *container.Scroll
	content *fyne.Container
	summary *look.Text
	report  *rowList
}

// shownRows is how many rows are shown as they will be understood.
const shownRows = 5

// unitsMM are the units of bare figures, in the order of the choice.
var unitsMM = []float64{0, 1, 10, 25.4}

// takeInTable asks for a spreadsheet and shows what taking it in would do.
func (f *Frame) takeInTable() {
	f.pickFile([]string{".csv", ".tsv", ".txt", ".tab", ".xlsx", ".xlsm", ".xltx"}, f.openTable)
}

// pickFile asks for one file with one of the endings.
func (f *Frame) pickFile(endings []string, then func(path string)) {
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
		then(r.URI().Path())
	}, f.win)
	for _, e := range slices.Clone(endings) {
		endings = append(endings, strings.ToUpper(e))
	}
	d.SetFilter(storage.NewExtensionFileFilter(endings))
	f.place(d)
}

// openTable reads a spreadsheet on a worker and shows it.
func (f *Frame) openTable(path string) {
	f.work(func(ctx context.Context) func() {
		tables, err := f.house.OpenTables(ctx, path)
		return func() {
			if err != nil {
				f.fail(err)
				return
			}
			t := &tableTakeIn{f: f, name: filepath.Base(path), tables: tables}
			t.show()
		}
	})
}

func (t *tableTakeIn) show() {
	var names []string
	for _, s := range t.tables {
		names = append(names, s.Name)
	}
	t.which = newSelect(names, func(string) { t.choose(t.which.SelectedIndex()) })
	t.each = look.NewSegmented(func(i int) {
		t.match.Each = []sheet.Each{sheet.EachImpression, sheet.EachPlate}[i]
		t.understand()
	}, look.Segment{Text: words.T("one sheet")}, look.Segment{Text: words.T("one plate")})
	t.unit = newSelect([]string{words.T("left unread"), "mm", "cm", words.T("inches")}, func(string) {
		if i := t.unit.SelectedIndex(); i >= 0 && t.match.UnitMM != unitsMM[i] {
			t.match.UnitMM = unitsMM[i]
			t.understand()
		}
	})
	t.columns = container.New(&columnsLayout{})
	t.across = container.NewHScroll(t.columns)
	t.summary = look.NewText("", look.Bold, "text", look.Ink).Giving()
	t.report = newRowList(func() int { return len(t.lines) }, newPlanRow, func(i int, o fyne.CanvasObject) {
		if i < len(t.lines) {
			o.(*planRow).set(t.lines[i])
		}
	})
	t.report.HideSeparators = true
	settings := look.Row(10, look.Small(words.T("Each row is")), t.each, look.Space(8, 1),
		look.Small(words.T("Figures without a unit")), look.Wide(130, t.unit))
	if len(t.tables) > 1 {
		settings = look.Row(10, look.Small(words.T("Sheet of the workbook")), look.Wide(170, t.which), look.Space(8, 1), settings)
	}
	say := look.Para(words.T("Say for each column what it holds. Under each text stands how it is understood. No text is lost: what cannot be read stands in the remarks."), true)
	t.content = look.Border(look.Column(8, settings, say, t.across, look.Space(1, 2), t.summary, look.HRule()), nil, nil, nil, t.report)
	all := t.f.win.Canvas().Size()
	t.ask = t.f.ask(words.T("Take in %s", t.name), t.content, fyne.NewSize(all.Width, all.Height), words.T("Take the rows in"), t.takeIn)
	t.ask.yes.Disable()
	t.which.SetSelectedIndex(0)
	if len(t.tables) == 1 {
		t.choose(0)
	}
	t.f.log("table open")
}

// choose takes a table of the workbook in hand.
func (t *tableTakeIn) choose(i int) {
	if i < 0 || t.table.Name == t.tables[i].Name && len(t.table.Heading) > 0 {
		return
	}
	t.table = t.tables[i]
	t.turn++
	turn := t.turn
	t.f.work(func(context.Context) func() {
		m := sheet.Guess(t.tables[i])
		return func() {
			if turn != t.turn {
				return
			}
			t.match = m
			t.unit.SetSelectedIndex(max(slices.Index(unitsMM, m.UnitMM), 0))
			t.each.ShowChoice(slices.Index([]sheet.Each{sheet.EachImpression, sheet.EachPlate}, m.Each))
			t.showColumns()
			t.understand()
		}
	})
}

// showColumns makes a column of the screen for each of the table.
func (t *tableTakeIn) showColumns() {
	fields := sheet.Fields()
	var names []string
	for _, f := range fields {
		names = append(names, words.T(string(f)))
	}
	t.columns.RemoveAll()
	for i, h := range t.table.Heading {
		c := newTableColumn(strings.TrimSpace(h), names, func(k int) {
			if t.match.Columns[i] != fields[k] {
				t.match.Columns = slices.Clone(t.match.Columns)
				t.match.Columns[i] = fields[k]
				t.understand()
			}
		})
		c.pick.SetSelectedIndex(slices.Index(fields, t.match.Columns[i]))
		t.columns.Add(c.box)
	}
	t.across.ScrollToOffset(fyne.Position{})
	t.content.Refresh()
}

// understand reads the table anew by the matching, on a worker.
func (t *tableTakeIn) understand() {
	if len(t.match.Columns) == 0 {
		return
	}
	t.turn++
	turn, m := t.turn, t.match
	t.ask.yes.Disable()
	t.summary.SetText(words.T("reading the rows…"))
	t.f.work(func(ctx context.Context) func() {
		seen := firstRows(t.table, m)
		plan, err := t.f.house.PlanTable(ctx, t.table, m)
		var lines []planLine
		if err == nil {
			lines = linesOf(plan)
		}
		return func() {
			if turn != t.turn {
				return
			}
			for i, o := range t.columns.Objects {
				if i < len(seen) {
					o.(*fyne.Container).Objects[1].(*fyne.Container).Objects = seen[i].objects(m.Columns[i] == sheet.LeaveOut)
					o.Refresh()
				}
			}
			t.plan, t.lines = plan, lines
			if err != nil {
				t.plan, t.lines = nil, nil
				t.summary.SetText(words.Error(err))
			} else {
				t.summary.SetText(tablePlanWords(plan))
				t.ask.yes.SetEnabled(plan.Accepted() > 0)
				t.f.log("table planned: %d of %d", plan.Accepted(), len(plan.Rows))
			}
			t.content.Refresh()
		}
	})
}

// takeIn does what the plan says, as one step.
func (t *tableTakeIn) takeIn() error {
	f, plan := t.f, t.plan
	if plan == nil {
		return sentence("The rows are still being read; wait a moment.")
	}
	f.change(func(ctx context.Context) error {
		err := f.house.TakeInTable(ctx, plan)
		if err == nil {
			f.post.do(func() { f.tell(words.N("%d rows taken in", plan.Accepted())) })
		}
		return err
	})
	return nil
}

// tablePlanWords says in a sentence what a plan would do.
func tablePlanWords(p *sheet.Plan) string {
	s := words.T("%d of %d rows can be taken in:", p.Accepted(), len(p.Rows)) + " " + words.N("%d plates", len(p.New.Plates)) + ", " +
		words.N("%d states", len(p.New.States)) + ", " + words.N("%d impressions", len(p.New.Impressions)) + ", " + words.N("%d editions", len(p.New.Editions)) + "."
	if n := len(p.Rows) - p.Accepted(); n > 0 {
		s += " " + words.N("%d rows stay outside; each says why.", n)
	}
	return s
}

// planLine is one line of the report under the columns.
type planLine struct {
	row     int
	refused bool
	say     string
}

// linesOf lists what was refused first, then what is odd.
func linesOf(p *sheet.Plan) []planLine {
	var refused, notes []planLine
	for _, r := range p.Rows {
		if r.Refused != "" {
			refused = append(refused, planLine{r.At, true, rowWords(r.Refused)})
			continue
		}
		for _, n := range r.Notes {
			notes = append(notes, planLine{r.At, false, rowWords(n)})
		}
	}
	return append(refused, notes...)
}

// planRow is one line of the report.
type planRow struct {
	widget.BaseWidget
	mark *look.Mark
	row  *look.Text
	say  *look.Text
	box  *fyne.Container
}

func newPlanRow() fyne.CanvasObject {
	r := &planRow{mark: look.NewMark(look.NoVerdict), row: look.Small(""), say: look.Line("").Giving()}
	r.box = container.New(&tall{24}, look.Border(nil, nil, look.Row(8, r.mark, look.Wide(70, r.row)), nil, r.say))
	r.ExtendBaseWidget(r)
	return r
}

func (r *planRow) set(l planLine) {
	r.mark.Set(look.CannotTell)
	say := l.say
	if l.refused {
		r.mark.Set(look.IsOutside)
		say = words.T("stays outside: %s", l.say)
	}
	r.row.SetText(words.T("row %d", l.row))
	r.say.SetText(say)
}

// CreateRenderer is the toolkit's hook.
func (r *planRow) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(r.box) }
