package linkedart

import (
	"fmt"

	"pullbook/catalog"
	"pullbook/catalog/exchange/entry"
)

// plate is the worked metal as an object.
func (w *writer) plate(p *catalog.Plate) node {
	n := node{Type: "HumanMadeObject", Label: "Plate of " + w.label(p), ClassifiedAs: []node{w.typed(entry.PrintingPlates, entry.TypeOfWork)}}
	w.titles(&n, p)
	w.identifier(&n, p.Number.String(), entry.CatalogueNumber)
	size := p.Copper
	if size.IsZero() {
		size = p.Mark
	}
	w.size(&n, size)
	w.say(&n, entry.DimensionsText(&catalog.Plate{Copper: size}, nil), entry.DimensionsNote)
	for _, i := range p.Inscriptions {
		w.say(&n, i.Text, entry.InscriptionNote)
	}
	w.say(&n, p.Remarks, entry.RemarksNote)
	if p.Metal != "" {
		n.MadeOf = []node{w.term("Material", entry.MetalTerm(p.Metal))}
	}
	n.ProducedBy = w.production(p.Date, p.Techniques, p.MakerID)
	for _, g := range p.GroupIDs {
		if r := w.Group(g); r != nil {
			n.MemberOf = append(n.MemberOf, w.ref("set", string(g), "Set", r.Title))
		}
	}
	for _, s := range w.States(p.ID) {
		n.Shows = append(n.Shows, w.ref("visual", string(s.ID), "VisualItem", w.imageLabel(p, s)))
	}
	return n
}

// impression is one printed sheet as an object.
func (w *writer) impression(p *catalog.Plate, im *catalog.Impression) node {
	s := w.State(im.StateID)
	techniques := w.Techniques(p, s)
	n := node{Type: "HumanMadeObject", Label: w.label(p) + ", " + w.SheetLabel(im)}
	for _, t := range techniques {
		if term := entry.Print(t); term.ID != "" {
			n.ClassifiedAs = append(n.ClassifiedAs, w.typed(term, entry.TypeOfWork))
		}
	}
	if len(n.ClassifiedAs) == 0 {
		n.ClassifiedAs = []node{w.typed(entry.Prints, entry.TypeOfWork)}
	}
	if k := entry.KindTerm(im.Kind); k.Label != "" {
		n.ClassifiedAs = append(n.ClassifiedAs, w.term("Type", entry.Proofs), w.term("Type", k))
	}
	w.titles(&n, p)
	w.identifier(&n, p.Number.String(), entry.CatalogueNumber)
	if w.Public(im.HolderID) {
		w.identifier(&n, im.Inventory, entry.InventoryNumber)
	}
	w.say(&n, w.StateText(s), entry.StateStatement)
	w.say(&n, w.SheetEditionText(im), entry.EditionStatement)
	w.say(&n, im.Watermark, entry.WatermarkNote)
	w.say(&n, entry.DimensionsText(p, im), entry.DimensionsNote)
	w.say(&n, entry.TechniqueText(techniques), entry.TechniqueNote)
	w.say(&n, im.Signature, entry.SignatureNote)
	for _, i := range im.Inscriptions {
		w.say(&n, i.Text, entry.InscriptionNote)
	}
	w.say(&n, im.Condition, entry.ConditionNote)
	for _, o := range im.Provenance {
		w.say(&n, w.OwnerText(o), entry.ProvenanceNote)
	}
	w.size(&n, im.Sheet)
	if paper := w.Paper(im.PaperID); paper != nil {
		n.MadeOf = []node{w.term("Material", entry.PaperTerm(paper))}
	}
	if s != nil {
		n.Shows = []node{w.ref("visual", string(s.ID), "VisualItem", w.imageLabel(p, s))}
	}
	if e := w.Edition(im.EditionID); e != nil {
		n.MemberOf = []node{w.ref("set", string(e.ID), "Set", entry.EditionText(e))}
	}
	printer := im.PrinterID
	if printer == "" {
		printer = p.MakerID
	}
	n.ProducedBy = w.production(w.Made(im), techniques, printer)
	n.ProducedBy.Used = []node{w.ref("object", string(p.ID), "HumanMadeObject", "Plate of "+w.label(p))}
	if h := w.HolderText(im.HolderID); h != "" && w.Public(im.HolderID) {
		n.Owner = []node{w.ref("group", string(im.HolderID), "Group", h)}
	}
	return n
}

// production says when, how and by whom a thing was made.
func (w *writer) production(d catalog.Date, ts []catalog.Technique, by catalog.ID) *node {
	n := &node{Type: "Production", Timespan: timespan(d)}
	for _, t := range ts {
		n.Technique = append(n.Technique, w.term("Type", entry.Process(t)))
	}
	if r := w.Person(by); r != nil {
		n.CarriedOutBy = []node{w.ref("person", string(r.ID), "Person", r.Name)}
	}
	return n
}

// image is what the plate shows in one state.
func (w *writer) image(p *catalog.Plate, s *catalog.State) node {
	n := node{Type: "VisualItem", Label: w.imageLabel(p, s)}
	w.titles(&n, p)
	w.say(&n, w.StateText(s), entry.StateStatement)
	w.say(&n, s.Description, entry.RemarksNote)
	return n
}

// edition is the impressions of one issue as a set.
func (w *writer) edition(p *catalog.Plate, e *catalog.Edition) node {
	label := w.label(p) + ", " + entry.EditionText(e)
	n := node{Type: "Set", Label: label, ClassifiedAs: []node{w.term("Type", entry.Editions)}}
	name := e.Name
	if name == "" {
		name = label
	}
	w.name(&n, name)
	w.say(&n, entry.EditionText(e), entry.EditionStatement)
	w.say(&n, e.Statement, entry.EditionStatement)
	if t := timespan(e.Date); t != nil {
		n.CreatedBy = &node{Type: "Creation", Timespan: t}
	}
	return n
}

// group is a portfolio or series as a set.
func (w *writer) group(g *catalog.Group) node {
	n := node{Type: "Set", Label: g.Title}
	if g.Title == "" {
		n.Label = "Untitled " + g.Kind
	}
	if g.Kind == "portfolio" {
		n.ClassifiedAs = []node{w.term("Type", entry.Portfolios)}
	}
	w.name(&n, g.Title)
	w.say(&n, g.Note, entry.RemarksNote)
	if t := timespan(g.Date); t != nil {
		n.CreatedBy = &node{Type: "Creation", Timespan: t}
	}
	return n
}

// person is a printmaker, printer or publisher.
func (w *writer) person(p *catalog.Person) node {
	n := node{Type: "Person", Label: p.Name}
	if p.Name == "" {
		n.Label = "Unnamed person"
	}
	w.name(&n, p.Name)
	if t := timespan(p.Born); t != nil {
		n.Born = &node{Type: "Birth", Timespan: t}
	}
	if t := timespan(p.Died); t != nil {
		n.Died = &node{Type: "Death", Timespan: t}
	}
	return n
}

// holder is a collection whose name may be given away.
func (w *writer) holder(h *catalog.Holder) node {
	n := node{Type: "Group", Label: w.HolderText(h.ID)}
	if n.Label == "" {
		n.Label = "Unnamed collection"
	}
	w.name(&n, h.Name)
	return n
}

// titles adds every title of a plate as a name.
func (w *writer) titles(n *node, p *catalog.Plate) {
	w.name(n, w.Title(p))
	for i, t := range p.Titles {
		if i > 0 {
			w.name(n, t.Text)
		}
	}
}

// label names a plate in one line.
func (w *writer) label(p *catalog.Plate) string {
	if n := p.Number.String(); n != "" && p.Title() != "" {
		return n + ", " + p.Title()
	}
	return w.Title(p)
}

func (w *writer) imageLabel(p *catalog.Plate, s *catalog.State) string {
	return fmt.Sprintf("Image of %s, state %s", w.Title(p), w.StateText(s))
}
