package sheet

import (
	"slices"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/notation"
)

// person finds or makes a person. A name with a comma is taken as the form to
// sort by.
func (p *preparation) person(name, role string) *catalog.Person {
	return p.people.get(name, func() catalog.Person {
		person := catalog.Person{ID: catalog.NewID(), Name: name, Roles: role}
		if strings.Contains(name, ",") {
			person.Sort = name
		}
		return person
	})
}

// fillPlate enters what a row says of its plate. What a later row says
// differently of a plate stays as written in the remarks of its sheet.
func (p *preparation) fillPlate(d *draft, pl *plate, isNew bool) {
	if isNew {
		pl.Techniques, pl.Mark, pl.Metal = d.methods, d.mark, d.first(Metal)
		for _, c := range d.cells[Maker] {
			m := p.person(c.text, "printmaker")
			pl.MakerID = m.ID
			d.keepUnless(m.Name == c.text, c)
		}
	} else {
		p.differences(d, pl)
	}
	changed := false
	for _, c := range d.cells[OtherTitle] {
		if !hasTitle(pl, c.text) {
			pl.Titles, changed = append(slices.Clip(pl.Titles), catalog.Title{Text: c.text, Given: "other"}), true
		}
	}
	for _, c := range d.cells[Subject] {
		if !slices.Contains(pl.Subjects, c.text) {
			pl.Subjects, changed = append(slices.Clip(pl.Subjects), c.text), true
		}
	}
	for _, c := range d.cells[Group] {
		g := p.groups.get(c.text, func() catalog.Group { return catalog.Group{ID: catalog.NewID(), Title: c.text} })
		if g.Title != c.text {
			d.keep(c)
		}
		if !slices.Contains(pl.GroupIDs, g.ID) {
			pl.GroupIDs, changed = append(slices.Clip(pl.GroupIDs), g.ID), true
		}
	}
	for _, ref := range d.works {
		w := p.works.get(ref.Work, func() catalog.Literature {
			return catalog.Literature{ID: catalog.NewID(), Short: ref.Work, Catalogue: ref.Number != ""}
		})
		c := catalog.Citation{WorkID: w.ID, Number: ref.Number}
		if !slices.Contains(pl.Literature, c) {
			pl.Literature, changed = append(slices.Clip(pl.Literature), c), true
		}
	}
	if p.matching.Each == EachPlate {
		for _, c := range d.cells[Inscription] {
			pl.Inscriptions = append(slices.Clip(pl.Inscriptions), catalog.Inscription{Text: c.text, Medium: "in the plate"})
		}
		for _, c := range d.cells[Remarks] {
			pl.Remarks = joinLines(pl.Remarks, []string{c.text})
		}
		for _, f := range Fields() {
			if ofImpression[f] {
				p.keepForPlate(d, f)
			}
		}
		p.keepForPlate(d, Publisher)
	}
	if changed && pl.known {
		p.plan.Changed = append(slices.DeleteFunc(p.plan.Changed, func(x catalog.Plate) bool { return x.ID == pl.ID }), pl.Plate)
	}
}

// keepForPlate keeps in a plate's remarks what only a sheet has a place for.
func (p *preparation) keepForPlate(d *draft, f Field) {
	if f == State {
		return // states hang on the plate
	}
	for _, c := range d.cells[f] {
		d.keep(c)
	}
}

func hasTitle(pl *plate, text string) bool {
	for _, t := range pl.Titles {
		if t.Text == text {
			return true
		}
	}
	return false
}

// differences keeps what a row says otherwise of a plate than is known of it.
func (p *preparation) differences(d *draft, pl *plate) {
	for _, c := range d.cells[Title] {
		if !hasTitle(pl, c.text) {
			d.keep(c) // equal but for capitals and accents
		}
	}
	for _, c := range d.cells[Date] {
		if pl.Date.Text != c.text {
			d.keep(c)
		}
	}
	for _, c := range d.cells[Metal] {
		if pl.Metal != c.text {
			d.keep(c)
		}
	}
	if !slices.Equal(d.methods, pl.Techniques) {
		for _, c := range d.cells[Technique] {
			d.keep(c)
		}
	}
	for _, c := range d.cells[Maker] {
		switch r := p.people.byName[fold(c.text)]; {
		case fold(c.text) == pl.madeBy:
			d.keepUnless(r != nil && r.Name == c.text, c)
		default:
			d.keep(c)
			d.notes = append(d.notes, c.heading+" “"+shorten(c.text)+"” is not the printmaker of this plate; it is kept in the remarks.")
		}
	}
	if pl.Mark.IsZero() && !pl.known {
		pl.Mark = d.mark
	}
	if d.mark != pl.Mark {
		for _, f := range []Field{Dimensions, PlateSize} {
			for _, c := range d.cells[f] {
				d.keep(c)
			}
		}
	}
}

// addStates makes the states a row speaks of, with those before them: a third
// state says that there are a first and a second.
func (p *preparation) addStates(d *draft, pl *plate) *catalog.State {
	if d.state.From == 0 {
		return nil
	}
	for n := 1; n <= max(d.state.From, d.state.Total); n++ {
		if pl.states[n] == nil {
			s := &catalog.State{ID: catalog.NewID(), PlateID: pl.ID, N: n}
			pl.states[n] = s
			p.plan.New.States = append(p.plan.New.States, *s)
		}
	}
	return pl.states[d.state.From]
}

// editionFor finds the plate's edition that a row belongs to: the one of its
// size. Proofs with a number of their own belong to the only edition there is.
func (pl *plate) editionFor(d *draft) *edition {
	numbered := d.edition.Kind == catalog.KindNumbered || d.edition.Kind == ""
	for _, e := range pl.editions {
		if numbered && d.edition.Of > 0 && e.Size == d.edition.Of {
			return e
		}
	}
	if !numbered && len(pl.editions) == 1 {
		return pl.editions[0]
	}
	return nil
}

// sizeOfEdition finds or makes the edition of a row.
func (p *preparation) sizeOfEdition(d *draft, pl *plate) *edition {
	if e := pl.editionFor(d); e != nil {
		return e
	}
	numbered := d.edition.Kind == catalog.KindNumbered || (d.edition.Kind == "" && d.edition.Script == notation.Arabic)
	if d.edition.Of == 0 || !numbered {
		return nil
	}
	e := &edition{Edition: catalog.Edition{ID: catalog.NewID(), PlateID: pl.ID, Kind: "edition", Size: d.edition.Of,
		Artists: d.edition.Proofs, Scheme: "arabic"}, numbers: map[string]int{}}
	if s := p.addStates(d, pl); s != nil {
		e.StateID = s.ID
	}
	for _, c := range d.cells[Publisher] {
		e.Publisher = p.person(c.text, "publisher").ID
	}
	pl.editions = append(pl.editions, e)
	return e
}

// addImpression makes the sheet of a row.
func (p *preparation) addImpression(d *draft, pl *plate, at int) catalog.ID {
	im := catalog.Impression{ID: catalog.NewID(), PlateID: pl.ID, Pull: d.pull, Sheet: d.sheet,
		Kind: d.edition.Kind, Written: d.edition.Matched, Ordinal: d.edition.N, Watermark: d.first(Watermark),
		Signature: d.first(Signature), Condition: d.first(Condition), Inventory: d.first(Inventory), Printed: d.printed.Date}
	if d.edition.N > 0 {
		im.OutOf = d.edition.Of
	} else if d.edition.Kind == "" {
		im.Written = "" // a size alone is not written on the sheet
		if d.edition.Matched != "" {
			for _, c := range d.cells[Edition] {
				if c.text == d.edition.Matched {
					d.keep(c)
				}
			}
		}
	}
	if s := p.addStates(d, pl); s != nil {
		im.StateID = s.ID
	}
	if e := p.sizeOfEdition(d, pl); e != nil {
		im.EditionID = e.ID
		if im.StateID == "" {
			im.StateID = e.StateID
		}
		if d.edition.N > 0 {
			e.numbers[numberKey(d.edition.Kind, d.edition.N)] = at
		}
	}
	if d.pull > 0 {
		pl.pulls[d.pull] = at
	}
	p.addNamed(d, &im)
	for _, c := range d.cells[Inscription] {
		im.Inscriptions = append(im.Inscriptions, catalog.Inscription{Text: c.text})
	}
	for _, c := range d.cells[Provenance] {
		im.Provenance = append(im.Provenance, catalog.Owner{Name: c.text})
	}
	for _, ref := range d.works {
		if ref.State > 0 {
			im.Literature = append(im.Literature, catalog.Citation{WorkID: p.works.byName[workKey(ref.Work)].ID, Number: ref.Number, State: ref.State})
		}
	}
	for _, c := range d.cells[Remarks] {
		im.Remarks = joinLines(im.Remarks, []string{c.text})
	}
	im.Remarks = joinLines(im.Remarks, d.kept)
	for _, c := range d.cells[State] {
		if d.state.Total > 0 {
			p.totals = append(p.totals, total{len(p.plan.New.Impressions), c, d.state.Total, pl})
		}
	}
	p.plan.New.Impressions = append(p.plan.New.Impressions, im)
	return im.ID
}

// total is how many states a row says there are of its plate.
type total struct {
	sheet  int // in New.Impressions
	cell   cell
	states int
	plate  *plate
}

// keepTotals keeps a state as written where another row, or the catalogue,
// knows more states of the plate than it says: "II/III" of four.
func (p *preparation) keepTotals() {
	for _, t := range p.totals {
		im := &p.plan.New.Impressions[t.sheet]
		if line := t.cell.heading + ": " + t.cell.text; len(t.plate.states) != t.states && !slices.Contains(strings.Split(im.Remarks, "\n"), line) {
			im.Remarks = joinLines(im.Remarks, []string{line})
		}
	}
}

func workKey(name string) string {
	if k := fold(name); k != "" {
		return k
	}
	return name
}

// addNamed finds or makes paper, ink, printer and holder. A name that is found
// in another spelling is kept as written besides.
func (p *preparation) addNamed(d *draft, im *catalog.Impression) {
	for _, c := range d.cells[Paper] {
		r := p.papers.get(c.text, func() catalog.Paper { return catalog.Paper{ID: catalog.NewID(), Name: c.text} })
		im.PaperID = r.ID
		d.keepUnless(r.Name == c.text, c)
	}
	for _, c := range d.cells[Ink] {
		r := p.inks.get(c.text, func() catalog.Ink { return catalog.Ink{ID: catalog.NewID(), Name: c.text} })
		im.InkID = r.ID
		d.keepUnless(r.Name == c.text, c)
	}
	for _, c := range d.cells[Printer] {
		r := p.person(c.text, "printer")
		im.PrinterID = r.ID
		d.keepUnless(r.Name == c.text, c)
	}
	for _, c := range d.cells[Publisher] {
		r := p.person(c.text, "publisher")
		d.keepUnless(r.Name == c.text, c)
	}
	for _, c := range d.cells[Holder] {
		r := p.holders.get(c.text, func() catalog.Holder { return catalog.Holder{ID: catalog.NewID(), Name: c.text} })
		im.HolderID = r.ID
		d.keepUnless(r.Name == c.text, c)
	}
}

func (d *draft) keepUnless(same bool, c cell) {
	if !same {
		d.keep(c)
	}
}

// joinLines adds lines to a text, each on its own.
func joinLines(text string, lines []string) string {
	for _, l := range lines {
		if text != "" {
			text += "\n"
		}
		text += l
	}
	return text
}
