package main

import (
	"fmt"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/notation"
)

// sheet is one impression of the sample and how it was photographed.
type sheet struct {
	state, pull               int // pull counted from the state's first
	kind                      catalog.Kind
	written                   string
	edition                   string // "" the first
	paper, ink, holder        string
	printer, press            string
	inventory, day, condition string
	tone, overWipe            float64
	rough, reference          bool
	decision                  catalog.Decision
	provenance                []catalog.Owner
	literature                []catalog.Citation
}

func keep(why string) catalog.Decision {
	return catalog.Decision{Verdict: "keep", Reason: why, By: "Ismay Thornquay"}
}

func proof(why string) catalog.Decision {
	return catalog.Decision{Verdict: "proof", Reason: why, By: "Ismay Thornquay"}
}

func sign() catalog.Decision { return catalog.Decision{Verdict: "sign", By: "Ismay Thornquay"} }

func bought(from, when string) []catalog.Owner {
	return []catalog.Owner{{HolderID: id(from), To: year(when), How: "from the press, on sale"}, {HolderID: id("museum"), From: year(when), How: "purchased"}}
}

func gave(from, when string) []catalog.Owner {
	return []catalog.Owner{{HolderID: id(from), To: year(when)}, {Name: "the present holder", From: year(when), How: "gift"}}
}

// pullOfPlate counts a sheet's pull from the plate's first.
func (w *work) pullOfPlate(s *sheet) int { return (s.state-1)*w.proofs + s.pull }

func (w *work) stateID(n int) catalog.ID { return id(fmt.Sprintf("%s/state %d", w.key, n)) }

func (w *work) sheetID(s *sheet) catalog.ID {
	return id(fmt.Sprintf("%s/pull %d", w.key, w.pullOfPlate(s)))
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// impression is what the catalogue says of a sheet.
func (w *work) impression(s *sheet) catalog.Impression {
	pulled := at(s.day)
	i := catalog.Impression{
		ID: w.sheetID(s), PlateID: id(w.key), StateID: w.stateID(s.state), Pull: w.pullOfPlate(s), Kind: s.kind, Written: s.written,
		PaperID: id(s.paper), InkID: id(s.ink), HolderID: id(s.holder), PrinterID: id(orElse(s.printer, "askelby")),
		PressID: id(orElse(s.press, "star")), DayID: w.dayID(s), PulledAt: pulled, DryFrom: pulled.AddDate(0, 0, 2),
		Sheet: w.sheetSize(), Wiping: wiping(s.tone), Inventory: s.inventory, Condition: s.condition,
		Provenance: s.provenance, Literature: s.literature, Decision: s.decision,
	}
	if s.kind == catalog.KindNumbered || s.kind == catalog.KindArtist || s.kind == catalog.KindPrinter {
		i.EditionID = id(w.key + "/" + orElse(s.edition, "edition"))
		r := notation.ParseEdition(s.written)
		i.Ordinal, i.OutOf = r.N, r.Of
		i.Inscriptions = []catalog.Inscription{{Text: s.written + "\nI. Thornquay", Place: "lower margin", Medium: "pencil", By: "the artist"}}
		i.Signature = "in pencil, lower right"
		if s.edition == "restrike" {
			i.Inscriptions, i.Signature = nil, ""
		}
	}
	if i.Decision.Verdict != "" {
		i.Decision.At = pulled.AddDate(0, 0, 3)
		if pulled.Year() > 2019 {
			i.Decision.By = "Wren Pellowick"
		}
	}
	return i
}

func wiping(tone float64) string {
	switch {
	case tone < 0.015:
		return "wiped clean"
	case tone < 0.05:
		return "hand-wiped, light tone"
	}
	return "rag-wiped, tone left"
}

func (w *work) dayKey(s *sheet) string { return w.key + "/" + strings.Fields(s.day)[0] }

func (w *work) dayID(s *sheet) catalog.ID { return id(w.dayKey(s)) }

// days are the printing days the sheets speak of.
func (w *work) days() []catalog.PrintingDay {
	var list []catalog.PrintingDay
	seen := map[string]int{}
	for i := range w.sheets {
		s := &w.sheets[i]
		key := w.dayKey(s)
		k, ok := seen[key]
		if !ok {
			k = len(list)
			seen[key] = k
			list = append(list, catalog.PrintingDay{ID: id(key), PlateID: id(w.key), StateID: w.stateID(s.state), Began: at(strings.Fields(s.day)[0] + " 08:30")})
		}
		list[k].Ended = at(s.day).Add(40 * 60e9)
	}
	return list
}
