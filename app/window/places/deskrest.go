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
)

// literature lists where the plate is spoken of.
func (d *deskPlace) literature() fyne.CanvasObject {
	col := look.Column(6)
	if len(d.plate.Literature) == 0 {
		col.Add(look.Para(words.T("No literature is recorded for this plate."), true))
	}
	for k, c := range d.plate.Literature {
		say := words.T("unknown work")
		if w := d.b.works[c.WorkID]; w != nil {
			say = w.Short
			if say == "" {
				say = w.Title
			}
		}
		if c.Number != "" {
			say += ", " + words.T("no. %s", c.Number)
		}
		if c.Pages != "" {
			say += ", " + words.T("p. %s", c.Pages)
		}
		if c.Note != "" {
			say += " (" + c.Note + ")"
		}
		drop := look.QuietButton("", look.IconCross, func() {
			d.edit(words.T("literature"), func(p *catalog.Plate) error {
				p.Literature = slices.Delete(slices.Clone(p.Literature), k, k+1)
				return nil
			})
		})
		col.Add(look.Border(nil, nil, nil, drop, look.Para(say, false)))
	}
	col.Add(container.NewHBox(look.NewButton(words.T("Cite a work…"), look.IconPlus, d.cite)))
	col.Add(look.Space(1, 8))
	d.showings(col)
	return col
}

// showings lists where the plate was shown.
func (d *deskPlace) showings(col *fyne.Container) {
	col.Add(look.Label(words.T("Exhibitions")))
	if len(d.plate.Exhibitions) == 0 {
		col.Add(look.Para(words.T("No exhibition is recorded for this plate."), true))
	}
	for k, x := range d.plate.Exhibitions {
		say := words.T("unknown exhibition")
		for i := range d.b.Exhibitions {
			if e := &d.b.Exhibitions[i]; e.ID == x.ExhibitionID {
				say = firstText(e.Short, e.Title)
			}
		}
		if x.Number != "" {
			say += ", " + words.T("no. %s", x.Number)
		}
		drop := look.QuietButton("", look.IconCross, func() {
			d.edit(words.T("exhibitions"), func(p *catalog.Plate) error {
				p.Exhibitions = slices.Delete(slices.Clone(p.Exhibitions), k, k+1)
				return nil
			})
		})
		col.Add(look.Border(nil, nil, nil, drop, look.Para(say, false)))
	}
	col.Add(container.NewHBox(look.NewButton(words.T("Enter a showing…"), look.IconPlus, d.showing)))
}

// showing adds an exhibition, known or new, in which the plate was shown.
func (d *deskPlace) showing() {
	var list []named
	for i := range d.b.Exhibitions {
		list = append(list, named{d.b.Exhibitions[i].ID, firstText(d.b.Exhibitions[i].Short, d.b.Exhibitions[i].Title)})
	}
	which, number, title := newCombo(namesOf(list)), blank(), blank()
	which.SetPlaceHolder(words.T("short form, as entries cite it"))
	title.SetPlaceHolder(words.T("for an exhibition not named before"))
	form := look.Form(120, look.Small(words.T("Exhibition")), which, look.Small(words.T("Number there")), number, look.Small(words.T("Full title")), title)
	d.f.dialog(words.T("Enter a showing"), form, fyne.NewSize(480, 260), words.T("Enter it"), func() error {
		short := strings.TrimSpace(which.Text)
		if short == "" {
			return sentence("Name the exhibition in the short form in which entries cite it.")
		}
		var records []any
		id := idOf(list, short)
		if id == "" {
			e := &catalog.Exhibition{ID: catalog.NewID(), Short: short, Title: title.Text}
			id, records = e.ID, []any{e}
		}
		p := *d.plate
		p.Exhibitions = append(slices.Clone(p.Exhibitions), catalog.Showing{ExhibitionID: id, Number: strings.TrimSpace(number.Text)})
		d.f.save(words.T("enter a showing at %s", short), append(records, &p)...)
		return nil
	})
	d.f.win.Canvas().Focus(which)
}

// cite adds a citation, of a work known or new.
func (d *deskPlace) cite() {
	var names []string
	for k := range d.b.Literature {
		names = append(names, d.b.Literature[k].Short)
	}
	work, number, pages, title := newCombo(names), blank(), blank(), blank()
	work.SetPlaceHolder(words.T("short form, as entries cite it"))
	title.SetPlaceHolder(words.T("for a work not cited before"))
	form := look.Form(120, look.Small(words.T("Work")), work, look.Small(words.T("Number there")), number, look.Small(words.T("Pages")), pages, look.Small(words.T("Full title")), title)
	d.f.dialog(words.T("Cite a work"), form, fyne.NewSize(480, 280), words.T("Cite it"), func() error {
		short := strings.TrimSpace(work.Text)
		if short == "" {
			return sentence("Name the work in the short form in which entries cite it.")
		}
		var records []any
		id := catalog.ID("")
		for k := range d.b.Literature {
			if d.b.Literature[k].Short == short {
				id = d.b.Literature[k].ID
			}
		}
		if id == "" {
			w := &catalog.Literature{ID: catalog.NewID(), Short: short, Title: title.Text}
			id = w.ID
			records = append(records, w)
		}
		p := *d.plate
		p.Literature = append(slices.Clone(p.Literature), catalog.Citation{WorkID: id, Number: number.Text, Pages: pages.Text})
		d.f.save(words.T("cite %s", short), append(records, &p)...)
		return nil
	})
}

// asked is one fact a published entry is expected to give.
type asked struct {
	field  string // JSON name, for NotKnown
	what   string
	filled bool
	goTo   int // section of the desk
}

// askedOf lists what published description standards ask of a plate (CIDOC and
// CDWA core categories) and what disclosure laws usually ask of an edition
// (California Civil Code 1742-1744, New York Arts and Cultural Affairs Law
// 15.03): artist, medium, signature, year, size of the edition, proofs, the
// fate of the plate.
func askedOf(b *book, p *catalog.Plate) []asked {
	states, editions, sheets := b.statesOf[p.ID], b.editionsOf[p.ID], b.impressionsOf[p.ID]
	described := len(states) > 0
	for _, s := range states {
		described = described && (s.Description != "" || len(states) == 1)
	}
	counted, proofs, signed, stated := len(editions) > 0, len(editions) > 0, len(editions) > 0, len(editions) > 0
	for _, e := range editions {
		counted = counted && e.Size > 0
		proofs = proofs && e.Artists+e.Printers+e.HorsComm+e.Trials > 0
		signed = signed && e.Signed != ""
		stated = stated && e.PlateAfter != ""
	}
	held, papered := len(sheets) > 0, len(sheets) > 0
	for _, i := range sheets {
		held = held && (i.HolderID != "" || i.Decision.Verdict != "")
		papered = papered && i.PaperID != ""
	}
	return []asked{
		{"titles", words.T("title"), p.Title() != "", 0},
		{"maker_id", words.T("printmaker"), p.MakerID != "" || b.Imprint.MakerID != "", 0},
		{"date", words.T("date of the plate"), !p.Date.IsZero(), 0},
		{"techniques", words.T("technique"), len(p.Techniques) > 0, 0},
		{"metal", words.T("metal of the plate"), p.Metal != "", 0},
		{"mark", words.T("size of the plate mark"), !p.Mark.IsZero(), 0},
		{"inscriptions", words.T("inscriptions in the plate"), len(p.Inscriptions) > 0, 0},
		{"fate", words.T("what became of the metal"), p.Fate != "", 0},
		{"subjects", words.T("subject"), len(p.Subjects) > 0, 0},
		{"states", words.T("every state described"), described, 1},
		{"edition_size", words.T("size of each edition"), counted, 2},
		{"edition_proofs", words.T("proofs outside the edition, counted"), proofs, 2},
		{"edition_signed", words.T("how the edition is signed"), signed, 2},
		{"plate_after", words.T("the plate after each edition"), stated, 2},
		{"papers", words.T("paper of every sheet"), papered, 3},
		{"holders", words.T("whereabouts of every sheet"), held, 3},
		{"literature", words.T("literature"), len(p.Literature) > 0, 4},
		{"reproduction", words.T("a photograph"), b.platePhoto(p.ID) != nil, 3},
	}
}

// complete shows what is given, what is missing, and what was looked for and
// is not known.
func (d *deskPlace) complete() fyne.CanvasObject {
	p := d.plate
	list := askedOf(d.b, p)
	given := 0
	var rows []fyne.CanvasObject
	for _, a := range list {
		unknown := slices.Contains(p.NotKnown, a.field)
		v, say := look.CannotTell, words.T("missing")
		switch {
		case a.filled:
			v, say = look.IsWithin, words.T("given")
			given++
		case unknown:
			v, say = look.IsRefused, words.T("not known")
			given++
		}
		act := look.Row(2)
		if !a.filled {
			label := words.T("Not known")
			if unknown {
				label = words.T("Look again")
			}
			act.Add(look.QuietButton(label, "", func() { d.toggleUnknown(a.field) }))
			act.Add(look.QuietButton(words.T("Fill in"), "", func() { d.segs.Choose(a.goTo) }))
		}
		rows = append(rows, container.New(&tall{28}, container.New(shares{[]float32{12, 4, 8}, 26},
			look.Border(nil, nil, look.InsetEach(look.NewMark(v), 0, 0, 8, 0), nil, look.Line(a.what).Giving()), look.Small(say).Giving(), act)))
	}
	gauge := look.NewGauge(look.Within)
	gauge.Set(float64(given) / float64(len(list)))
	col := look.Column(2, look.Line(words.T("%d of %d things usually asked are answered", given, len(list))), gauge, look.Space(1, 6))
	for _, r := range rows {
		col.Add(r)
	}
	col.Add(look.Space(1, 8))
	odd := look.Column(6)
	col.Add(odd)
	d.findOdd(odd)
	col.Add(look.Para(words.T("The list follows published description standards and what print disclosure laws usually ask. It does not say that an entry satisfies any law; local law decides."), true))
	return col
}

// findOdd asks the catalogue's rules what contradicts itself or is doubtful
// about the plate, and lists it.
func (d *deskPlace) findOdd(to *fyne.Container) {
	b, p := d.b, d.plate
	d.f.work(func(context.Context) func() {
		f := &catalog.Folder{Plate: *p}
		for _, s := range b.statesOf[p.ID] {
			f.States = append(f.States, *s)
		}
		for _, e := range b.editionsOf[p.ID] {
			f.Editions = append(f.Editions, *e)
		}
		for _, i := range b.impressionsOf[p.ID] {
			f.Impressions = append(f.Impressions, *i)
		}
		found := catalog.CheckFolder(f)
		return func() {
			to.RemoveAll()
			if len(found) > 0 {
				to.Add(look.Label(words.T("What does not agree")))
			}
			for _, x := range found {
				if x.Weight == catalog.Note {
					to.Add(look.Para(words.Say(x.Said), true))
				} else {
					to.Add(look.Caution(words.Say(x.Said)))
				}
			}
			d.sheet.Refresh()
			d.scroll.Refresh()
		}
	})
}

func (d *deskPlace) toggleUnknown(field string) {
	d.edit(words.T("what is not known"), func(p *catalog.Plate) error {
		if i := slices.Index(p.NotKnown, field); i >= 0 {
			p.NotKnown = slices.Delete(p.NotKnown, i, i+1)
		} else {
			p.NotKnown = append(p.NotKnown, field)
		}
		return nil
	})
}
