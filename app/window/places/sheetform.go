package places

import (
	"context"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
	"pullbook/catalog/notation"
)

// kinds are the kinds of impression as they are offered.
var kinds = []catalog.Kind{catalog.KindUnrecorded, catalog.KindTrial, catalog.KindState, catalog.KindBAT, catalog.KindNumbered, catalog.KindArtist,
	catalog.KindPrinter, catalog.KindHorsCommerce, catalog.KindCancellation, catalog.KindUnnumbered}

// sheetForm is everything the catalogue keeps of one sheet, to be written in.
type sheetForm struct {
	b      *book
	was    *catalog.Impression
	x      catalog.Impression
	made   []any // records named in it for the first time
	photos []*catalog.Photograph
	groups []headed
	look   *fyne.Container // the photographs
}

func newSheetForm(f *Frame, b *book, i *catalog.Impression) *sheetForm {
	s := &sheetForm{b: b, was: i, x: *i}
	x := &s.x
	whole := words.T("Numbers and pulls are whole numbers, such as 7.")
	var states, editions []named
	for _, st := range b.statesOf[x.PlateID] {
		states = append(states, named{st.ID, b.stateWords(st)})
	}
	for _, e := range b.editionsOf[x.PlateID] {
		editions = append(editions, named{e.ID, e.Called()})
	}
	s.groups = []headed{
		{words.T("What it is"), []fact{
			picked(words.T("State"), &x.StateID, states), oneOf(words.T("Kind"), &x.Kind, kinds...), picked(words.T("Edition"), &x.EditionID, editions),
			line(words.T("As written on it"), &x.Written), count(words.T("Number, read from it"), &x.Ordinal, whole), count(words.T("Of how many"), &x.OutOf, whole),
			count(words.T("Count of pull"), &x.Pull, whole)}},
		{words.T("Paper"), []fact{
			byName(words.T("Paper"), &x.PaperID, b.paperNames(), &s.made, newPaper),
			sized(words.T("Sheet"), &x.Sheet), line(words.T("Watermark on it"), &x.Watermark)}},
		{words.T("Printing"), []fact{
			byName(words.T("Ink"), &x.InkID, b.inkNames(), &s.made, newInk),
			line(words.T("Wiping"), &x.Wiping), byName(words.T("Printer"), &x.PrinterID, b.peopleNames(), &s.made, newPerson("printer")),
			byName(words.T("Press"), &x.PressID, b.pressNames(), &s.made, newPress),
			clocked(words.T("Pulled at"), &x.PulledAt), dated(words.T("Printed, if only roughly known"), &x.Printed), clocked(words.T("Dry from"), &x.DryFrom)}},
		{words.T("On the sheet"), []fact{
			line(words.T("Signature"), &x.Signature),
			inLines(words.T("Inscriptions"), inscriptionText(x.Inscriptions), words.T("one to a line: text ; place ; pencil, ink, stamp ; by whom"), func(t string) error {
				x.Inscriptions = readInscriptions(t, "pencil")
				return nil
			}),
			line(words.T("Condition"), &x.Condition)}},
		{words.T("Whereabouts"), []fact{
			byName(words.T("Holder"), &x.HolderID, b.holderNames(), &s.made, newHolder),
			line(words.T("Holder's number"), &x.Inventory),
			inLines(words.T("Provenance"), b.ownedBy(x.Provenance), words.T("one to a line, oldest first: who ; since when ; how ; until ; note"), func(t string) error {
				x.Provenance = readProvenance(b, t)
				return nil
			})}},
		{words.T("Published and shown"), []fact{
			inLines(words.T("Literature"), b.cited(x.Literature), words.T("one to a line: short form ; number ; pages ; state there ; note"), func(t string) (err error) {
				x.Literature, err = b.readCited(t, &s.made)
				return err
			}),
			inLines(words.T("Exhibitions"), b.shownAt(x.Exhibitions), words.T("one to a line: short form ; number ; note"), func(t string) error {
				x.Exhibitions = b.readShown(t, &s.made)
				return nil
			}),
			longText(words.T("Remarks"), &x.Remarks), notKnownOf(words.T("Looked for, not known"), &x.NotKnown, sheetUnknowns())}},
	}
	s.photographs(f)
	return s
}

// photographs adds what each photograph of the sheet shows and who made it.
func (s *sheetForm) photographs(f *Frame) {
	list := s.b.photosOf[s.x.ID]
	if len(list) == 0 {
		return
	}
	s.look = look.Column(10, look.Label(words.T("Photographs")))
	for _, p := range list {
		c := *p
		s.photos = append(s.photos, &c)
		facts := []fact{oneOf(words.T("Shows"), &c.View, catalog.ViewWhole, catalog.ViewDetail, catalog.ViewRaking, catalog.ViewTransmitted),
			line(words.T("Photograph by"), &c.Credit), line(words.T("Note"), &c.Note)}
		s.groups = append(s.groups, headed{"", facts})
		shown := newPic(f.pics, f.devicePixels(110), fyne.NewSize(110, 84))
		shown.set(c.ID)
		s.look.Add(look.Border(nil, nil, look.InsetEach(container.NewVBox(shown), 0, 0, 10, 0), nil, look.Column(4, look.Small(c.Name).Giving(), factForm(110, facts))))
	}
}

// content is the form.
func (s *sheetForm) content() fyne.CanvasObject {
	col := headedForm(150, s.groups[:len(s.groups)-len(s.photos)])
	if s.look != nil {
		col.Add(look.Space(1, 4))
		col.Add(s.look)
	}
	if d := s.x.Decision; d.Verdict != "" {
		col.Add(look.Para(words.T("Decided: %s", strings.Join(slices.DeleteFunc([]string{words.T(d.Verdict), words.Day(d.At), d.By, d.Reason}, func(t string) bool { return t == "" }), ", ")), true))
	}
	return col
}

// take reads the form and gives the records to be kept. A new number as
// written is read; a new time of pulling moves the drying with it.
func (s *sheetForm) take() ([]any, error) {
	x, was := &s.x, s.was
	s.made = nil
	if err := takeGroups(s.groups); err != nil {
		return nil, err
	}
	if x.Written != was.Written && x.Ordinal == was.Ordinal && x.OutOf == was.OutOf {
		r := notation.ParseEdition(x.Written)
		x.Ordinal, x.OutOf = r.N, r.Of
		if x.Kind == catalog.KindUnrecorded {
			x.Kind = r.Kind // roman figures name none
		}
	}
	if hours := s.b.Imprint.DryHours; !x.PulledAt.Equal(was.PulledAt) && x.DryFrom.Equal(was.DryFrom) && was.DryFrom.Equal(catalog.DryAt(was.PulledAt, hours)) {
		x.DryFrom = catalog.DryAt(x.PulledAt, hours)
	}
	records := append(s.made, x)
	for _, p := range s.photos {
		if old := s.b.photos[p.ID]; old == nil || old.View != p.View || old.Credit != p.Credit || old.Note != p.Note {
			records = append(records, p)
		}
	}
	return records, nil
}

// openSheet edits what is known of one sheet; one without an ID is new.
func (d *deskPlace) openSheet(i *catalog.Impression) {
	f, s := d.f, newSheetForm(d.f, d.b, i)
	title, verb := sheetName(i), words.T("Keep")
	var others []fyne.CanvasObject
	var a *ask
	if i.ID == "" {
		title, verb = words.T("Enter a sheet"), words.T("Enter it")
	} else if !f.house.ReadOnly() {
		others = append(others, look.QuietButton(words.T("Remove"), look.IconCross, func() {
			a.away()
			f.change(func(ctx context.Context) error {
				return f.house.Delete(ctx, words.T("remove sheet %s", sheetName(i)), i)
			})
		}))
	}
	var do func() error
	if !f.house.ReadOnly() {
		do = func() error {
			records, err := s.take()
			if err != nil {
				return err
			}
			f.save(words.T("edit sheet %s", sheetName(&s.x)), records...)
			return nil
		}
	}
	a = f.ask(title, container.NewVScroll(look.InsetEach(s.content(), 2, 0, 12, 4)), fyne.NewSize(680, 660), verb, do, others...)
}

// enterSheet enters a sheet that was not pulled at this press.
func (d *deskPlace) enterSheet() {
	x := &catalog.Impression{PlateID: d.plate.ID}
	if l := d.b.statesOf[d.plate.ID]; len(l) == 1 {
		x.StateID = l[0].ID
	}
	d.openSheet(x)
}

// sheetUnknowns are the fields of a sheet that may be looked for in vain.
func sheetUnknowns() []named {
	return []named{{"paper_id", words.T("paper")}, {"sheet", words.T("size of the sheet")}, {"watermark", words.T("watermark")}, {"ink_id", words.T("printing ink")},
		{"printer_id", words.T("printer")}, {"pull", words.T("count of the pull")}, {"printed", words.T("date of printing")}, {"holder_id", words.T("whereabouts")}, {"provenance", words.T("provenance")}}
}

// notKnownOf ticks what was looked for and is not known, by the names of
// fields. What else the list holds stays.
func notKnownOf(name string, to *[]string, fields []named) fact {
	var ticks []*tick
	var o []fyne.CanvasObject
	for _, n := range fields {
		t := newTick(n.name, slices.Contains(*to, string(n.id)), nil)
		ticks, o = append(ticks, t), append(o, t)
	}
	return fact{name, container.New(&fieldGrid{least: 118, rows: (len(o) + 1) / 2, whole: true}, o...), func() error {
		l := slices.Clone(*to)
		for i, t := range ticks {
			name := string(fields[i].id)
			switch at := slices.Index(l, name); {
			case t.Checked && at < 0:
				l = append(l, name)
			case !t.Checked && at >= 0:
				l = slices.Delete(l, at, at+1)
			}
		}
		*to = l
		return nil
	}, func(f func()) {
		for _, t := range ticks {
			t.OnChanged = func(bool) { f() }
		}
	}}
}

// ownedBy writes a provenance: who, since when, how, until when, note.
func (b *book) ownedBy(l []catalog.Owner) string {
	var out []string
	for _, o := range l {
		n := o.Name
		if h := b.holders[o.HolderID]; h != nil {
			n = h.Name
		}
		out = append(out, joined(n, o.From.Text, o.How, o.To.Text, o.Note))
	}
	return strings.Join(out, "\n")
}

func readProvenance(b *book, s string) []catalog.Owner {
	var out []catalog.Owner
	for _, l := range lines(s) {
		p := parts(l, 5)
		o := catalog.Owner{Name: p[0], How: p[2], Note: p[4]}
		if id := idOf(b.holderNames(), p[0]); id != "" {
			o.HolderID, o.Name = id, ""
		}
		if p[1] != "" {
			o.From = notation.ParseDate(p[1]).Date
		}
		if p[3] != "" {
			o.To = notation.ParseDate(p[3]).Date
		}
		out = append(out, o)
	}
	return out
}
