package places

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
	"pullbook/catalog/notation"
)

// ledger is the account of an edition: what was announced, and what there is.
type ledger struct {
	announced, pulled, signed, gone, torn int
	missing, double                       []int
}

// accountFor counts the numbered sheets of an edition.
func accountFor(b *book, e *catalog.Edition) ledger {
	l := ledger{announced: e.Size}
	seen := map[int]int{}
	for _, i := range b.impressionsOf[e.PlateID] {
		if i.EditionID != e.ID || i.Kind != catalog.KindNumbered {
			continue
		}
		l.pulled++
		if i.Ordinal > 0 {
			seen[i.Ordinal]++
		}
		if i.Signature != "" || i.Decision.Verdict == "sign" {
			l.signed++
		}
		if i.HolderID != "" {
			l.gone++
		}
		if i.Decision.Verdict == "tear up" {
			l.torn++
		}
	}
	for n := 1; n <= e.Size; n++ {
		if seen[n] == 0 {
			l.missing = append(l.missing, n)
		}
	}
	for n, k := range seen {
		if k > 1 {
			l.double = append(l.double, n)
		}
	}
	slices.Sort(l.double)
	return l
}

// runs writes numbers as ranges: 1–4, 7, 9–12.
func runs(l []int) string {
	var out []string
	for i := 0; i < len(l); {
		j := i
		for j+1 < len(l) && l[j+1] == l[j]+1 {
			j++
		}
		switch {
		case j == i:
			out = append(out, strconv.Itoa(l[i]))
		case j == i+1:
			out = append(out, strconv.Itoa(l[i]), strconv.Itoa(l[j]))
		default:
			out = append(out, fmt.Sprintf("%d–%d", l[i], l[j]))
		}
		i = j + 1
	}
	return strings.Join(out, ", ")
}

// editions shows the ledger of each edition.
func (d *deskPlace) editions() fyne.CanvasObject {
	col := look.Column(12)
	list := d.b.editionsOf[d.plate.ID]
	if len(list) == 0 {
		col.Add(look.Para(words.T("This plate has no edition yet. Sheets outside an edition are proofs."), true))
	}
	for _, e := range list {
		col.Add(look.Raised(d.editionCard(e)))
	}
	col.Add(container.NewHBox(look.NewButton(words.T("Enter an edition…"), look.IconPlus, func() { d.f.run("enter edition") })))
	col.Add(d.planner.box)
	d.planner.ask(d.plate.ID)
	return col
}

func (d *deskPlace) editionCard(e *catalog.Edition) fyne.CanvasObject {
	number := func(what string, now int, set func(*catalog.Edition, int)) *field {
		text := ""
		if now > 0 {
			text = strconv.Itoa(now)
		}
		return newField(text, false, func(s string) {
			n, err := strconv.Atoi(s)
			if s == "" {
				n, err = 0, nil
			}
			if err != nil || n < 0 {
				d.f.fail(sentence("The numbers of an edition are whole numbers, such as 30."))
				return
			}
			x := *e
			set(&x, n)
			d.f.save(words.T("edit %s", what), &x)
		})
	}
	text := func(what, now string, many bool, set func(*catalog.Edition, string)) *field {
		return newField(now, many, func(s string) {
			x := *e
			set(&x, s)
			d.f.save(words.T("edit %s", what), &x)
		})
	}
	l := accountFor(d.b, e)
	counts := container.New(&fieldGrid{least: 84, rows: 1},
		labelled(words.T("Numbered"), number(words.T("size of the edition"), e.Size, func(x *catalog.Edition, n int) { x.Size = n })),
		labelled("A.P.", number("A.P.", e.Artists, func(x *catalog.Edition, n int) { x.Artists = n })),
		labelled("P.P.", number("P.P.", e.Printers, func(x *catalog.Edition, n int) { x.Printers = n })),
		labelled("H.C.", number("H.C.", e.HorsComm, func(x *catalog.Edition, n int) { x.HorsComm = n })),
		labelled("T.P.", number("T.P.", e.Trials, func(x *catalog.Edition, n int) { x.Trials = n })))
	facts := look.Form(128,
		look.Small(words.T("Name")), text(words.T("name of the edition"), e.Name, false, func(x *catalog.Edition, s string) { x.Name = s }),
		look.Small(words.T("Date")), text(words.T("date of the edition"), e.Date.Text, false, func(x *catalog.Edition, s string) { x.Date = notation.ParseDate(s).Date }),
		look.Small(words.T("Paper")), d.editionName(e, words.T("paper"), d.b.paperNames(), e.PaperID, func(x *catalog.Edition, name string) (r []any) {
			if x.PaperID = idOf(d.b.paperNames(), name); x.PaperID == "" && name != "" {
				p := &catalog.Paper{ID: catalog.NewID(), Name: name}
				x.PaperID, r = p.ID, []any{p}
			}
			return r
		}),
		look.Small(words.T("Printer")), d.editionName(e, words.T("printer"), d.b.peopleNames(), e.PrinterID, func(x *catalog.Edition, name string) (r []any) {
			x.PrinterID, r = d.person(name, "printer")
			return r
		}),
		look.Small(words.T("Publisher")), d.editionName(e, words.T("publisher"), d.b.peopleNames(), e.Publisher, func(x *catalog.Edition, name string) (r []any) {
			x.Publisher, r = d.person(name, "publisher")
			return r
		}),
		look.Small(words.T("How signed")), text(words.T("how it is signed"), e.Signed, false, func(x *catalog.Edition, s string) { x.Signed = s }),
		look.Small(words.T("Plate afterwards")), fateChoice(e.PlateAfter, func(t catalog.Fate) {
			x := *e
			x.PlateAfter = t
			d.f.save(words.T("edit %s", words.T("the plate after the edition")), &x)
		}),
		look.Small(words.T("Statement")), text(words.T("statement"), e.Statement, true, func(x *catalog.Edition, s string) { x.Statement = s }),
		look.Small(words.T("Remarks")), text(words.T("remarks"), e.Remarks, true, func(x *catalog.Edition, s string) { x.Remarks = s }))
	gauge := look.NewGauge(look.Copper)
	if e.Size > 0 {
		gauge.Set(float64(l.pulled) / float64(e.Size))
	}
	say := words.T("%d of %d pulled, %d signed, %d with holders, %d torn up", l.pulled, l.announced, l.signed, l.gone, l.torn)
	title := e.Name
	if s := d.b.states[e.StateID]; s != nil {
		title += ", " + d.b.stateWords(s)
	}
	col := look.Column(7, look.Title(title).Giving(), counts, gauge, look.Line(say).Giving())
	if len(l.missing) > 0 && len(l.missing) < e.Size {
		col.Add(look.Para(words.T("Not accounted for: %s.", runs(l.missing)), true))
	}
	if len(l.double) > 0 {
		col.Add(look.Caution(words.T("Given out twice: %s. Two sheets cannot carry one number; put one of them right.", runs(l.double))))
	}
	col.Add(facts)
	col.Add(look.Para(words.T("Statements about editions are governed by local law; this ledger helps to fill them in."), true))
	return col
}

// editionName is a field of an edition that names a record of one of the lists;
// a new name enters one.
func (d *deskPlace) editionName(e *catalog.Edition, what string, list []named, now catalog.ID, set func(x *catalog.Edition, name string) []any) fyne.CanvasObject {
	return newComboWith(nameOf(list, now), namesOf(list), func(s string) {
		x := *e
		records := set(&x, s)
		d.f.save(words.T("edit %s", what), append(records, &x)...)
	})
}

// sheets is the whereabouts: every sheet, who has it, what was decided.
func (d *deskPlace) sheets() fyne.CanvasObject {
	list := d.b.impressionsOf[d.plate.ID]
	if len(list) == 0 {
		return look.Para(words.T("No sheet of this plate is recorded yet. Sheets are entered at the press, or when their photographs are taken in."), true)
	}
	head := newSheetRow(d)
	head.head()
	rows := newRowList(func() int { return len(list) }, func() fyne.CanvasObject { return newSheetRow(d) }, func(i int, o fyne.CanvasObject) {
		if i < len(list) {
			o.(*sheetRow).fill(d.b, list[i])
		}
	})
	rows.HideSeparators = true
	acts := look.Row(4,
		look.NewButton(words.T("Records…"), look.IconPage, func() { d.f.run("records") }),
		look.NewButton(words.T("Labels and slips…"), look.IconPage, func() { d.f.run("labels") }),
		look.QuietButton(words.T("Printing day…"), look.IconPress, func() { d.f.run("day sheet") }))
	return look.InsetEach(look.Border(look.Column(8, acts, look.Column(0, head, look.HRule())), nil, nil, nil, rows), 14, 4, 14, 10)
}

// sheetRow is one sheet of the whereabouts; a tap opens it.
type sheetRow struct {
	widget.BaseWidget
	d     *deskPlace
	imp   *catalog.Impression
	cells [6]*look.Text
	box   *fyne.Container
}

func newSheetRow(d *deskPlace) *sheetRow {
	r := &sheetRow{d: d}
	var o []fyne.CanvasObject
	for k := range r.cells {
		r.cells[k] = look.Line("").Giving()
		o = append(o, r.cells[k])
	}
	r.box = container.New(shares{[]float32{13, 6, 8, 20, 24, 12}, 25}, o...)
	r.ExtendBaseWidget(r)
	return r
}

func (r *sheetRow) head() {
	for k, s := range []string{words.T("Sheet"), words.T("Pull"), words.T("State"), words.T("Paper"), words.T("Holder"), words.T("Decided")} {
		r.cells[k] = look.Label(s)
		r.box.Objects[k] = r.cells[k]
	}
}

func (r *sheetRow) fill(b *book, i *catalog.Impression) {
	r.imp = i
	pull, paper, holder := "", "", words.T("in the studio")
	if i.Pull > 0 {
		pull = strconv.Itoa(i.Pull)
	}
	if p := b.papers[i.PaperID]; p != nil {
		paper = p.Name
	}
	if h := b.holders[i.HolderID]; h != nil {
		holder = h.Name
	}
	for k, s := range []string{sheetName(i), pull, b.stateShort(b.states[i.StateID]), paper, holder, words.T(i.Decision.Verdict)} {
		r.cells[k].SetText(s)
	}
}

// Tapped opens the sheet.
func (r *sheetRow) Tapped(*fyne.PointEvent) {
	if r.imp != nil {
		r.d.openSheet(r.imp)
	}
}

// CreateRenderer is the toolkit's hook.
func (r *sheetRow) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(r.box) }

// openSheet edits what is known of one sheet.
func (d *deskPlace) openSheet(i *catalog.Impression) {
	b := d.b
	entry := func(s string, many bool) *field { return newField(s, many, nil) }
	written, sig, cond, inv, remarks := entry(i.Written, false), entry(i.Signature, false), entry(i.Condition, false), entry(i.Inventory, false), entry(i.Remarks, true)
	var names []string
	for k := range b.Holders {
		names = append(names, b.Holders[k].Name)
	}
	holder := newCombo(names)
	if h := b.holders[i.HolderID]; h != nil {
		holder.SetText(h.Name)
	}
	var prov []string
	for _, o := range i.Provenance {
		n := o.Name
		if h := b.holders[o.HolderID]; h != nil {
			n = h.Name
		}
		prov = append(prov, strings.TrimSpace(n+" ; "+o.From.Text+" ; "+o.How))
	}
	provenance := entry(strings.Join(prov, "\n"), true)
	form := look.Form(130, look.Small(words.T("As written on it")), written, look.Small(words.T("Signature")), sig, look.Small(words.T("Condition")), cond,
		look.Small(words.T("Holder")), holder, look.Small(words.T("Holder's number")), inv,
		look.Small(words.T("Provenance")), provenance, look.Small(""), look.Small(words.T("one to a line, oldest first: who ; since when ; how")).Giving(),
		look.Small(words.T("Remarks")), remarks)
	d.f.dialog(sheetName(i), form, fyne.NewSize(580, 470), words.T("Keep"), func() error {
		x := *i
		x.Written, x.Signature, x.Condition, x.Inventory, x.Remarks = written.Text, sig.Text, cond.Text, inv.Text, remarks.Text
		var records []any
		x.HolderID = ""
		if n := strings.TrimSpace(holder.Text); n != "" {
			for k := range b.Holders {
				if b.Holders[k].Name == n {
					x.HolderID = b.Holders[k].ID
				}
			}
			if x.HolderID == "" {
				h := &catalog.Holder{ID: catalog.NewID(), Name: n}
				x.HolderID = h.ID
				records = append(records, h)
			}
		}
		x.Provenance = readProvenance(b, provenance.Text, i.Provenance)
		d.f.save(words.T("edit sheet %s", sheetName(&x)), append(records, &x)...)
		return nil
	})
}

func readProvenance(b *book, s string, old []catalog.Owner) []catalog.Owner {
	var out []catalog.Owner
	for k, l := range lines(s) {
		p := strings.Split(l, ";")
		o := catalog.Owner{}
		if k < len(old) {
			o = old[k]
		}
		o.Name, o.HolderID = strings.TrimSpace(p[0]), ""
		for j := range b.Holders {
			if b.Holders[j].Name == o.Name {
				o.HolderID, o.Name = b.Holders[j].ID, ""
			}
		}
		if len(p) > 1 {
			o.From = notation.ParseDate(strings.TrimSpace(p[1])).Date
		}
		if len(p) > 2 {
			o.How = strings.TrimSpace(p[2])
		}
		out = append(out, o)
	}
	return out
}
