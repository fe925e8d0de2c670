package catalog

import "pullbook/catalog/say"

// CheckProofs looks at the proofs: one bon à tirer, artist's proofs about a
// tenth of the edition, roman figures that say nothing of the kind.
func CheckProofs(f *Folder) []Breach {
	var all []Breach
	for i := range f.Editions {
		e := &f.Editions[i]
		all = append(all, artistsShare(f, e)...)
		all = append(all, onlyBAT(f, e.Said(), func(s *Impression) bool { return s.EditionID == e.ID })...)
	}
	for i := range f.States {
		st := &f.States[i]
		all = append(all, onlyBAT(f, st.Said(), func(s *Impression) bool { return s.EditionID == "" && s.StateID == st.ID })...)
	}
	for i := range f.Impressions {
		s := &f.Impressions[i]
		if s.Kind == KindUnrecorded && s.Written != "" && writtenRoman(s) {
			all = append(all, breach("roman figures without kind", Doubt, []ID{s.ID},
				"The sheet %s of %s is numbered in roman figures, which may be an artist's proof, a second series or a restrike. Say which kind it is.", s.Said(), f.Plate.Said()))
		}
		if s.Kind == KindUnnumbered && s.Ordinal > 0 {
			all = append(all, breach("unnumbered with a number", Contradiction, []ID{s.ID},
				"The sheet %s of %s is recorded as unnumbered and has a number.", s.Said(), f.Plate.Said()))
		}
	}
	return all
}

// artistsShare: artist's proofs above about 10 % of the edition are noted, and
// above 20 % more strongly (common practice; one at least is always usual).
func artistsShare(f *Folder, e *Edition) []Breach {
	n := e.Artists
	counted := 0
	for _, s := range f.ofEdition(e.ID) {
		if s.Kind == KindArtist {
			counted++
		}
	}
	n = max(n, counted)
	if e.Size <= 0 || n <= 1 || n*10 <= e.Size {
		return nil
	}
	proofs := countOf(KindArtist, n)
	if n*5 > e.Size {
		return []Breach{breach("artist's proofs", Doubt, []ID{e.ID},
			"%s of %s has %s to %d numbered impressions, more than one in five; about one in ten is usual. Is that right?", e.Said(), f.Plate.Said(), proofs, e.Size)}
	}
	return []Breach{breach("artist's proofs", Note, []ID{e.ID},
		"%s of %s has %s to %d numbered impressions; about one in ten is usual.", e.Said(), f.Plate.Said(), proofs, e.Size)}
}

// onlyBAT: the impression the printer prints to is one (common practice).
func onlyBAT(f *Folder, where say.Sentence, in func(*Impression) bool) []Breach {
	var names []say.Sentence
	var ids []ID
	for i := range f.Impressions {
		if s := &f.Impressions[i]; s.Kind == KindBAT && in(s) {
			names, ids = append(names, s.Said()), append(ids, s.ID)
		}
	}
	if len(ids) < 2 {
		return nil
	}
	return []Breach{breach("more than one bon à tirer", Doubt, ids,
		"In %s of %s are %d bons à tirer, where one is usual: %s.", where, f.Plate.Said(), len(ids), listed(names))}
}
