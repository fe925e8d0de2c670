package linkedart

import (
	"pullbook/catalog"
	"pullbook/catalog/exchange/entry"
)

// Context is the JSON-LD context of every document.
const Context = "https://linked.art/ns/v1/linked-art.json"

// node is one resource. Lists stay lists even with one member, and what is
// empty is left out: the published schema refuses unknown properties.
type node struct {
	Context      string   `json:"@context,omitempty"`
	ID           string   `json:"id,omitempty"`
	Type         string   `json:"type"`
	Label        string   `json:"_label,omitempty"`
	ClassifiedAs []node   `json:"classified_as,omitempty"`
	IdentifiedBy []node   `json:"identified_by,omitempty"`
	ReferredToBy []node   `json:"referred_to_by,omitempty"`
	Dimension    []node   `json:"dimension,omitempty"`
	MadeOf       []node   `json:"made_of,omitempty"`
	Custodian    []node   `json:"current_custodian,omitempty"`
	Owner        []node   `json:"current_owner,omitempty"`
	Shows        []node   `json:"shows,omitempty"`
	MemberOf     []node   `json:"member_of,omitempty"`
	ProducedBy   *node    `json:"produced_by,omitempty"`
	CreatedBy    *node    `json:"created_by,omitempty"`
	Born         *node    `json:"born,omitempty"`
	Died         *node    `json:"died,omitempty"`
	Timespan     *node    `json:"timespan,omitempty"`
	Technique    []node   `json:"technique,omitempty"`
	CarriedOutBy []node   `json:"carried_out_by,omitempty"`
	Used         []node   `json:"used_specific_object,omitempty"`
	Content      string   `json:"content,omitempty"`
	Value        *float64 `json:"value,omitempty"`
	Unit         *node    `json:"unit,omitempty"`
	Begin        string   `json:"begin_of_the_begin,omitempty"`
	End          string   `json:"end_of_the_end,omitempty"`
}

// term makes a Type, Material or MeasurementUnit of a word. A word without a
// confirmed identifier gets a local one, never one of the thesaurus.
func (w *writer) term(kind string, t entry.Term) node {
	id := t.URI()
	if id == "" {
		id = entry.Address(w.base, "type", slug(t.Label))
	}
	return node{ID: id, Type: kind, Label: t.Label}
}

// typed is a word that is itself classified, as work types and statements are.
func (w *writer) typed(t, meta entry.Term) node {
	n := w.term("Type", t)
	n.ClassifiedAs = []node{w.term("Type", meta)}
	return n
}

// statement is a text about a thing; ok is false for an empty text.
func (w *writer) statement(text string, about entry.Term) (n node, ok bool) {
	if text == "" {
		return n, false
	}
	return node{Type: "LinguisticObject", Content: text, ClassifiedAs: []node{w.typed(about, entry.BriefText)}}, true
}

// say adds statements, leaving out empty ones.
func (w *writer) say(to *node, text string, about entry.Term) {
	if s, ok := w.statement(text, about); ok {
		to.ReferredToBy = append(to.ReferredToBy, s)
	}
}

// name adds a name; the first is the primary one.
func (w *writer) name(to *node, text string) {
	if text == "" {
		return
	}
	n := node{Type: "Name", Content: text}
	if len(to.IdentifiedBy) == 0 {
		n.ClassifiedAs = []node{w.term("Type", entry.PrimaryName)}
	}
	to.IdentifiedBy = append(to.IdentifiedBy, n)
}

// identifier adds an identifier of a kind.
func (w *writer) identifier(to *node, text string, kind entry.Term) {
	if text != "" {
		to.IdentifiedBy = append(to.IdentifiedBy, node{Type: "Identifier", Content: text, ClassifiedAs: []node{w.term("Type", kind)}})
	}
}

// size adds height and width in millimetres; what they are the size of is
// said in a statement beside.
func (w *writer) size(to *node, s catalog.Size) {
	for _, d := range []struct {
		mm float64
		of entry.Term
	}{{s.HeightMM, entry.Height}, {s.WidthMM, entry.Width}} {
		if d.mm > 0 {
			mm, unit := d.mm, w.term("MeasurementUnit", entry.Millimetres)
			to.Dimension = append(to.Dimension, node{Type: "Dimension", Value: &mm, Unit: &unit, ClassifiedAs: []node{w.term("Type", d.of)}})
		}
	}
}

// timespan gives a date with its first and last moment as full date-times, in
// the style of the specification. A date that could not be read is its words.
func timespan(d catalog.Date) *node {
	if d.IsZero() {
		return nil
	}
	t := &node{Type: "TimeSpan"}
	if words := entry.DateText(d); words != "" {
		t.IdentifiedBy = []node{{Type: "Name", Content: words}}
	}
	lo, hi := entry.Days(d)
	// xsd:dateTime with years of four figures; others are only in the words.
	if len(lo) == 10 {
		t.Begin = lo + "T00:00:00Z"
	}
	if len(hi) == 10 {
		t.End = hi + "T23:59:59Z"
	}
	return t
}
