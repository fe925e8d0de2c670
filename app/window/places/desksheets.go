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

// editedEdition is a field of an edition, kept when it is left.
func (d *deskPlace) editedEdition(e *catalog.Edition, what string, of func(x *catalog.Edition, made *[]any) fact) fyne.CanvasObject {
	return edited(d, *e, func() *catalog.Edition { return d.f.book.editions[e.ID] }, words.T("edit %s", what), of)
}

// editionFacts are everything the catalogue keeps of an edition besides its
// counts.
func (d *deskPlace) editionFacts(e *catalog.Edition) []fyne.CanvasObject {
	b := d.b
	var o []fyne.CanvasObject
	add := func(name, what string, of func(x *catalog.Edition, made *[]any) fact) {
		o = append(o, row(name, d.editedEdition(e, what, of))...)
	}
	var states []named
	for _, s := range b.statesOf[e.PlateID] {
		states = append(states, named{s.ID, b.stateWords(s)})
	}
	add(words.T("Name"), words.T("name of the edition"), func(x *catalog.Edition, _ *[]any) fact { return line("", &x.Name) })
	add(words.T("Kind"), words.T("kind of the edition"), func(x *catalog.Edition, _ *[]any) fact {
		return oneOf("", &x.Kind, "edition", "restrike", "posthumous")
	})
	add(words.T("State"), words.T("state of the edition"), func(x *catalog.Edition, _ *[]any) fact { return picked("", &x.StateID, states) })
	add(words.T("Date"), words.T("date of the edition"), func(x *catalog.Edition, _ *[]any) fact { return dated("", &x.Date) })
	add(words.T("Numbered in"), words.T("figures of the edition"), func(x *catalog.Edition, _ *[]any) fact {
		return oneOf("", &x.Scheme, "", "arabic", "roman", "unnumbered")
	})
	add(words.T("Paper"), words.T("paper"), func(x *catalog.Edition, made *[]any) fact {
		return byName("", &x.PaperID, b.paperNames(), made, newPaper)
	})
	add(words.T("Printer"), words.T("printer"), func(x *catalog.Edition, made *[]any) fact {
		return byName("", &x.PrinterID, b.peopleNames(), made, newPerson("printer"))
	})
	add(words.T("Publisher"), words.T("publisher"), func(x *catalog.Edition, made *[]any) fact {
		return byName("", &x.Publisher, b.peopleNames(), made, newPerson("publisher"))
	})
	add(words.T("How signed"), words.T("how it is signed"), func(x *catalog.Edition, _ *[]any) fact { return line("", &x.Signed) })
	add(words.T("Stamps"), words.T("stamps"), func(x *catalog.Edition, _ *[]any) fact { return line("", &x.Stamps) })
	add(words.T("Price"), words.T("price"), func(x *catalog.Edition, _ *[]any) fact { return line("", &x.Price) })
	add(words.T("Plate afterwards"), words.T("the plate after the edition"), func(x *catalog.Edition, _ *[]any) fact { return oneOf("", &x.PlateAfter, fates...) })
	add(words.T("Statement"), words.T("statement"), func(x *catalog.Edition, _ *[]any) fact { return longText("", &x.Statement) })
	add(words.T("Remarks"), words.T("remarks"), func(x *catalog.Edition, _ *[]any) fact { return longText("", &x.Remarks) })
	add(words.T("Looked for, not known"), words.T("what is not known"), func(x *catalog.Edition, _ *[]any) fact {
		return notKnownOf("", &x.NotKnown, []named{{"size", words.T("size of the edition")}, {"others", words.T("unnumbered sheets")}, {"hors_commerce", words.T("hors commerce")},
			{"paper_id", words.T("paper")}, {"printer_id", words.T("printer")}, {"publisher", words.T("publisher")}})
	})
	return o
}

// editionCounts are the numbers of an edition side by side.
func (d *deskPlace) editionCounts(e *catalog.Edition) fyne.CanvasObject {
	number := func(name, what string, of func(x *catalog.Edition) *int) fyne.CanvasObject {
		return labelled(name, d.editedEdition(e, what, func(x *catalog.Edition, _ *[]any) fact {
			return count("", of(x), words.T("The numbers of an edition are whole numbers, such as 30."))
		}))
	}
	return container.New(&fieldGrid{least: 76, rows: 1},
		number(words.T("Numbered"), words.T("size of the edition"), func(x *catalog.Edition) *int { return &x.Size }),
		number("A.P.", "A.P.", func(x *catalog.Edition) *int { return &x.Artists }),
		number("P.P.", "P.P.", func(x *catalog.Edition) *int { return &x.Printers }),
		number("H.C.", "H.C.", func(x *catalog.Edition) *int { return &x.HorsComm }),
		number("T.P.", "T.P.", func(x *catalog.Edition) *int { return &x.Trials }),
		number(words.T("Others"), words.T("other sheets"), func(x *catalog.Edition) *int { return &x.Others }))
}

func (d *deskPlace) editionCard(e *catalog.Edition) fyne.CanvasObject {
	l := accountFor(d.b, e)
	gauge := look.NewGauge(look.Copper)
	if e.Size > 0 {
		gauge.Set(float64(l.pulled) / float64(e.Size))
	}
	say := words.T("%d of %d pulled, %d signed, %d with holders, %d torn up", l.pulled, l.announced, l.signed, l.gone, l.torn)
	title := e.Name
	if s := d.b.states[e.StateID]; s != nil {
		title += ", " + d.b.stateWords(s)
	}
	col := look.Column(7, look.Title(title).Giving(), d.editionCounts(e), gauge, look.Line(say).Giving())
	if len(l.missing) > 0 && len(l.missing) < e.Size {
		col.Add(look.Para(words.T("Not accounted for: %s.", runs(l.missing)), true))
	}
	if len(l.double) > 0 {
		col.Add(look.Caution(words.T("Given out twice: %s. Two sheets cannot carry one number; put one of them right.", runs(l.double))))
	}
	col.Add(look.Form(128, d.editionFacts(e)...))
	col.Add(look.Para(words.T("Statements about editions are governed by local law; this ledger helps to fill them in."), true))
	return col
}

// sheets is the whereabouts: every sheet, who has it, what was decided.
func (d *deskPlace) sheets() fyne.CanvasObject {
	list := d.b.impressionsOf[d.plate.ID]
	if len(list) == 0 {
		return look.Inset(look.Column(10, look.Para(words.T("No sheet of this plate is recorded yet. Sheets are entered at the press, or when their photographs are taken in, or here by hand."), true),
			container.NewHBox(look.NewButton(words.T("Enter a sheet…"), look.IconPlus, d.enterSheet))), 14, 4)
	}
	head := newSheetRow(d)
	head.head()
	rows := newRowList(func() int { return len(list) }, func() fyne.CanvasObject { return newSheetRow(d) }, func(i int, o fyne.CanvasObject) {
		if i < len(list) {
			o.(*sheetRow).fill(d.b, list[i])
		}
	})
	rows.HideSeparators = true
	acts := look.Wrap(4,
		look.NewButton(words.T("Enter a sheet…"), look.IconPlus, d.enterSheet),
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
	r.box = container.New(shares{[]float32{12, 8, 11, 18, 22, 14}, 25}, o...)
	r.ExtendBaseWidget(r)
	return r
}

func (r *sheetRow) head() {
	for k, s := range []string{words.T("Sheet"), words.T("Pull"), words.T("State"), words.T("Paper"), words.T("Holder"), words.T("Decided")} {
		r.cells[k] = look.Label(s).Giving()
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
