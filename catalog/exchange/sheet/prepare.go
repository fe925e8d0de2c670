package sheet

import (
	"fmt"
	"sort"
	"strings"

	"pullbook/catalog"
)

// preparation gathers the records of a plan, by what they are told apart by.
type preparation struct {
	matching Matching
	plan     *Plan
	plates   map[string]*plate // by number, or by title where there is none
	byTitle  map[string]*plate
	order    []*plate
	people   index[catalog.Person]
	holders  index[catalog.Holder]
	papers   index[catalog.Paper]
	inks     index[catalog.Ink]
	groups   index[catalog.Group]
	works    index[catalog.Literature]
	totals   []total // what rows say of the number of states
}

// plate is a plate of the plan or of the catalogue with what hangs on it.
type plate struct {
	catalog.Plate
	known    bool // stands in the catalogue already
	states   map[int]*catalog.State
	editions []*edition
	pulls    map[int]int // count of pull -> row
	madeBy   string      // name of the printmaker, folded
	titleRow int
}

// edition is an edition with the numbers given out.
type edition struct {
	catalog.Edition
	known   bool
	numbers map[string]int // kind and number -> row, 0 for the catalogue
}

// index finds records by a folded name and remembers which are new.
type index[T any] struct {
	byName map[string]*T
	made   []*T
}

func newIndex[T any](known []T, name func(*T) string) index[T] {
	ix := index[T]{byName: map[string]*T{}}
	for i := range known {
		r := known[i]
		if n := fold(name(&r)); n != "" && ix.byName[n] == nil {
			ix.byName[n] = &r
		}
	}
	return ix
}

// get finds a record by name, making it with build when there is none.
func (ix *index[T]) get(name string, build func() T) *T {
	key := fold(name)
	if key == "" {
		key = name
	}
	if r := ix.byName[key]; r != nil {
		return r
	}
	r := build()
	ix.byName[key] = &r
	ix.made = append(ix.made, &r)
	return &r
}

func newPreparation(m Matching, known *catalog.Snapshot) *preparation {
	if known == nil {
		known = &catalog.Snapshot{}
	}
	p := &preparation{matching: m, plan: &Plan{}, plates: map[string]*plate{}, byTitle: map[string]*plate{},
		people:  newIndex(known.People, func(r *catalog.Person) string { return r.Name }),
		holders: newIndex(known.Holders, func(r *catalog.Holder) string { return r.Name }),
		papers:  newIndex(known.Papers, func(r *catalog.Paper) string { return r.Name }),
		inks:    newIndex(known.Inks, func(r *catalog.Ink) string { return r.Name }),
		groups:  newIndex(known.Groups, func(r *catalog.Group) string { return r.Title }),
		works:   newIndex(known.Literature, func(r *catalog.Literature) string { return r.Short }),
	}
	p.takeKnown(known)
	return p
}

// takeKnown enters what the catalogue holds already.
func (p *preparation) takeKnown(known *catalog.Snapshot) {
	byID := map[catalog.ID]*plate{}
	names := map[catalog.ID]string{}
	for i := range known.People {
		names[known.People[i].ID] = fold(known.People[i].Name)
	}
	for i := range known.Plates {
		pl := &plate{Plate: known.Plates[i], known: true, states: map[int]*catalog.State{}, pulls: map[int]int{}}
		pl.madeBy = names[pl.MakerID]
		byID[pl.ID] = pl
		p.enter(pl)
	}
	for i := range known.States {
		if pl := byID[known.States[i].PlateID]; pl != nil {
			pl.states[known.States[i].N] = &known.States[i]
		}
	}
	editions := map[catalog.ID]*edition{}
	for i := range known.Editions {
		if pl := byID[known.Editions[i].PlateID]; pl != nil {
			e := &edition{Edition: known.Editions[i], known: true, numbers: map[string]int{}}
			editions[e.ID] = e
			pl.editions = append(pl.editions, e)
		}
	}
	for i := range known.Impressions {
		im := &known.Impressions[i]
		if e := editions[im.EditionID]; e != nil && im.Ordinal > 0 {
			e.numbers[numberKey(im.Kind, im.Ordinal)] = 0
		}
		if pl := byID[im.PlateID]; pl != nil && im.Pull > 0 {
			pl.pulls[im.Pull] = 0
		}
	}
}

func numberKey(k catalog.Kind, n int) string { return fmt.Sprintf("%s %d", k, n) }

// enter makes a plate findable.
func (p *preparation) enter(pl *plate) {
	if pl.Number.N > 0 {
		p.plates[numberOf(pl.Number)] = pl
	}
	if t := titleKey(pl); t != "" && p.byTitle[t] == nil {
		p.byTitle[t] = pl
	}
}

func numberOf(n catalog.Number) string { return strings.ToLower(n.String()) }

// titleKey tells plates without a number apart: title, date and printmaker.
func titleKey(pl *plate) string {
	if pl.Title() == "" {
		return ""
	}
	return fold(pl.Title()) + "|" + pl.Date.Text + "|" + pl.madeBy
}

// row reads one row and, when nothing speaks against it, adds its records.
func (p *preparation) row(heading, text []string, at int) Row {
	line := Row{At: at}
	d, refused := p.read(heading, text)
	line.Notes = d.notes
	if refused != "" {
		line.Refused = refused
		return line
	}
	pl, isNew := p.findPlate(d)
	if refused := p.objections(d, pl, isNew); refused != "" {
		line.Refused = refused
		return line
	}
	if isNew {
		p.order = append(p.order, pl)
		pl.titleRow = at
		p.enter(pl)
	}
	p.fillPlate(d, pl, isNew)
	line.PlateID = pl.ID
	if p.matching.Each == EachImpression {
		line.ImpressionID = p.addImpression(d, pl, at)
	} else {
		p.addStates(d, pl)
		p.sizeOfEdition(d, pl)
		pl.Remarks = joinLines(pl.Remarks, d.kept)
	}
	line.Notes = d.notes
	return line
}

// findPlate returns the plate a row speaks of, or a new one not yet entered.
func (p *preparation) findPlate(d *draft) (pl *plate, isNew bool) {
	fresh := &plate{states: map[int]*catalog.State{}, pulls: map[int]int{}}
	fresh.Number, fresh.Date = d.number, d.date.Date
	fresh.Standing = catalog.Accepted
	if t := d.first(Title); t != "" {
		fresh.Titles = []catalog.Title{{Text: t}}
	}
	fresh.madeBy = fold(d.first(Maker))
	if d.number.N > 0 {
		if known := p.plates[numberOf(d.number)]; known != nil {
			return known, false
		}
	} else if known := p.byTitle[titleKey(fresh)]; known != nil && p.matching.Each == EachImpression {
		return known, false
	}
	fresh.ID = catalog.NewID()
	return fresh, true
}

// objections returns why a row cannot be added, "" when it can.
func (p *preparation) objections(d *draft, pl *plate, isNew bool) string {
	if !isNew {
		if p.matching.Each == EachPlate {
			where := "in the catalogue already"
			if !pl.known {
				where = fmt.Sprintf("in row %d already", pl.titleRow)
			}
			return fmt.Sprintf("Plate %s stands %s.", pl.Number.String(), where)
		}
		if t := d.first(Title); t != "" && pl.Title() != "" && fold(t) != fold(pl.Title()) {
			return fmt.Sprintf("Plate %s is called “%s”, this row says “%s”.", pl.Number.String(), shorten(pl.Title()), shorten(t))
		}
	}
	if p.matching.Each != EachImpression {
		return ""
	}
	if d.pull > 0 {
		if row, taken := pl.pulls[d.pull]; taken {
			return fmt.Sprintf("Pull %d of this plate %s.", d.pull, already(row))
		}
	}
	if e := pl.editionFor(d); e != nil && d.edition.N > 0 {
		if row, taken := e.numbers[numberKey(d.edition.Kind, d.edition.N)]; taken {
			return fmt.Sprintf("The number %s of this edition %s.", strings.TrimSpace(d.edition.Matched), already(row))
		}
	}
	return ""
}

func already(row int) string {
	if row == 0 {
		return "stands in the catalogue already"
	}
	return fmt.Sprintf("stands in row %d already", row)
}

// finish moves the records into the plan, in catalogue order.
func (p *preparation) finish() {
	p.keepTotals()
	s := &p.plan.New
	for _, pl := range p.order {
		s.Plates = append(s.Plates, pl.Plate)
	}
	sort.SliceStable(s.Plates, func(i, j int) bool {
		return catalog.CompareNumbers(s.Plates[i].Number, s.Plates[j].Number) < 0
	})
	place := map[catalog.ID]int{}
	for i := range s.Plates {
		place[s.Plates[i].ID] = i
	}
	sort.SliceStable(s.States, func(i, j int) bool {
		a, b := s.States[i], s.States[j]
		if place[a.PlateID] != place[b.PlateID] {
			return place[a.PlateID] < place[b.PlateID]
		}
		return a.N < b.N
	})
	sort.SliceStable(s.Impressions, func(i, j int) bool { return place[s.Impressions[i].PlateID] < place[s.Impressions[j].PlateID] })
	for _, e := range p.allEditions() {
		if !e.known {
			s.Editions = append(s.Editions, e.Edition)
		}
	}
	s.People, s.Holders, s.Papers = values(p.people.made), values(p.holders.made), values(p.papers.made)
	s.Inks, s.Groups, s.Literature = values(p.inks.made), values(p.groups.made), values(p.works.made)
}

// allEditions lists editions plate by plate.
func (p *preparation) allEditions() []*edition {
	var out []*edition
	for _, pl := range p.plates {
		if pl.known {
			out = append(out, pl.editions...)
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].ID < out[j].ID })
	for _, pl := range p.order {
		out = append(out, pl.editions...)
	}
	return out
}

func values[T any](ps []*T) []T {
	var out []T
	for _, p := range ps {
		out = append(out, *p)
	}
	return out
}
