package catalog

import (
	"strings"

	"pullbook/catalog/say"
)

// ofEdition sorts the sheets of a plate to its editions.
func (f *Folder) ofEdition(id ID) []*Impression {
	var sheets []*Impression
	for i := range f.Impressions {
		if f.Impressions[i].EditionID == id {
			sheets = append(sheets, &f.Impressions[i])
		}
	}
	return sheets
}

func (f *Folder) state(id ID) *State {
	for i := range f.States {
		if f.States[i].ID == id {
			return &f.States[i]
		}
	}
	return nil
}

// stateName is what to call a state of the plate, known or not.
func (f *Folder) stateName(id ID) say.Sentence {
	if s := f.state(id); s != nil {
		return s.Said()
	}
	return say.Of("a state of another plate")
}

// CheckEditions looks at the ledger of each edition: no number twice, none
// beyond the size, no more sheets than were issued, the state of a numbered
// sheet that of its edition.
func CheckEditions(f *Folder) []Breach {
	var all []Breach
	known := map[ID]bool{}
	for i := range f.Editions {
		e := &f.Editions[i]
		known[e.ID] = true
		if e.StateID != "" && f.state(e.StateID) == nil {
			all = append(all, breach("state of another plate", Contradiction, []ID{e.ID},
				"The state given for %s of %s belongs to another plate.", e.Said(), f.Plate.Said()))
		}
		sheets := f.ofEdition(e.ID)
		all = append(all, numbersTwice(f, e, sheets)...)
		all = append(all, numbersBeyond(f, e, sheets)...)
		all = append(all, statesOfSheets(f, e, sheets)...)
		all = append(all, sums(f, e, sheets)...)
	}
	for i := range f.Impressions {
		s := &f.Impressions[i]
		if s.EditionID != "" && !known[s.EditionID] {
			all = append(all, breach("edition of another plate", Contradiction, []ID{s.ID},
				"The sheet %s of %s is entered in an edition of another plate.", s.Said(), f.Plate.Said()))
		}
		if s.Kind == KindNumbered && s.EditionID == "" {
			all = append(all, breach("numbered without edition", Note, []ID{s.ID},
				"The sheet %s of %s is numbered, but in no edition.", s.Said(), f.Plate.Said()))
		}
	}
	return all
}

// series tells apart what is counted by itself within an edition: each kind,
// and roman figures beside arabic ones.
type series struct {
	kind  Kind
	roman bool
	n     int
}

func writtenRoman(s *Impression) bool {
	w := strings.ToUpper(strings.TrimSpace(s.Written))
	w, _, _ = strings.Cut(w, "/")
	w = w[strings.LastIndexAny(w, " .")+1:]
	return w != "" && strings.Trim(w, "IVXLCDM") == ""
}

func numbersTwice(f *Folder, e *Edition, sheets []*Impression) []Breach {
	var all []Breach
	first := map[series]*Impression{}
	for _, s := range sheets {
		if s.Ordinal <= 0 || s.Kind == KindUnrecorded {
			continue
		}
		key := series{s.Kind, writtenRoman(s), s.Ordinal}
		if q := first[key]; q != nil {
			all = append(all, breach("number twice", Contradiction, []ID{q.ID, s.ID},
				"Two sheets in %s of %s bear the same number: %s and %s.", e.Said(), f.Plate.Said(), q.Said(), s.Said()))
			continue
		}
		first[key] = s
	}
	return all
}

// stated is how many sheets of a kind an edition says were issued, 0 not
// recorded.
func (e *Edition) stated(k Kind) int {
	switch k {
	case KindNumbered:
		return e.Size
	case KindArtist:
		return e.Artists
	case KindPrinter:
		return e.Printers
	case KindHorsCommerce:
		return e.HorsComm
	case KindTrial:
		return e.Trials
	}
	return 0
}

func numbersBeyond(f *Folder, e *Edition, sheets []*Impression) []Breach {
	var all []Breach
	for _, s := range sheets {
		stated := e.stated(s.Kind)
		switch {
		case s.OutOf > 0 && s.Ordinal > s.OutOf:
			all = append(all, breach("number beyond its own total", Contradiction, []ID{s.ID},
				"The sheet %s of %s is number %d of only %d.", s.Said(), f.Plate.Said(), s.Ordinal, s.OutOf))
		case stated > 0 && s.Ordinal > stated:
			all = append(all, breach("number beyond the size", Contradiction, []ID{s.ID, e.ID},
				"The sheet %s of %s lies beyond %s, which has %s.", s.Said(), f.Plate.Said(), e.Said(), countOf(s.Kind, stated)))
		case stated > 0 && s.OutOf > 0 && s.OutOf != stated:
			all = append(all, breach("total differs", Doubt, []ID{s.ID, e.ID},
				"The sheet %s of %s speaks of %d, but %s has %s.", s.Said(), f.Plate.Said(), s.OutOf, e.Said(), countOf(s.Kind, stated)))
		}
		if s.Kind == KindNumbered && e.Scheme == "unnumbered" {
			all = append(all, breach("numbered in an unnumbered edition", Doubt, []ID{s.ID, e.ID},
				"The sheet %s of %s is numbered, but %s is recorded as unnumbered.", s.Said(), f.Plate.Said(), e.Said()))
		}
	}
	return all
}

func countOf(k Kind, n int) say.Sentence {
	switch k {
	case KindNumbered:
		return say.Count(n, "%d numbered impression", "%d numbered impressions")
	case KindArtist:
		return say.Count(n, "%d artist's proof", "%d artist's proofs")
	case KindPrinter:
		return say.Count(n, "%d printer's proof", "%d printer's proofs")
	case KindTrial:
		return say.Count(n, "%d trial proof", "%d trial proofs")
	case KindHorsCommerce:
		return say.Of("%d hors commerce", n)
	}
	return say.Count(n, "%d sheet", "%d sheets")
}

// statesOfSheets: a numbered sheet is of its edition's state. Proofs of an
// edition may be of the state before; then it is only asked.
func statesOfSheets(f *Folder, e *Edition, sheets []*Impression) []Breach {
	var all []Breach
	if e.StateID == "" {
		return nil
	}
	for _, s := range sheets {
		if s.StateID == "" || s.StateID == e.StateID {
			continue
		}
		weight := Doubt
		switch s.Kind {
		case KindNumbered:
			weight = Contradiction
		case KindTrial, KindState, KindCancellation:
			continue
		}
		all = append(all, breach("state differs from edition", weight, []ID{s.ID, e.ID},
			"The sheet %s of %s is recorded as %s, but %s is of %s.", s.Said(), f.Plate.Said(), f.stateName(s.StateID), e.Said(), f.stateName(e.StateID)))
	}
	return all
}

// sums: no more sheets of a kind than the edition says were issued.
func sums(f *Folder, e *Edition, sheets []*Impression) []Breach {
	var all []Breach
	for _, k := range []Kind{KindNumbered, KindArtist, KindPrinter, KindHorsCommerce, KindTrial} {
		stated := e.stated(k)
		var names []say.Sentence
		ids := []ID{e.ID}
		for _, s := range sheets {
			if s.Kind == k {
				names, ids = append(names, s.Said()), append(ids, s.ID)
			}
		}
		if stated > 0 && len(names) > stated {
			all = append(all, breach("more sheets than issued", Contradiction, ids,
				"In %s of %s are %s, but %d sheets of that kind are entered: %s.", e.Said(), f.Plate.Said(), countOf(k, stated), len(names), listed(names)))
		}
	}
	return all
}

// listed names sheets, the first eight of them.
func listed(names []say.Sentence) say.Sentence { return say.List(names, 8) }
