package catalog

import "fmt"

// CheckProofs looks at the proofs: one bon à tirer, artist's proofs about a
// tenth of the edition, roman figures that say nothing of the kind.
func CheckProofs(f *Folder) []Breach {
	var all []Breach
	for i := range f.Editions {
		e := &f.Editions[i]
		all = append(all, artistsShare(f, e)...)
		all = append(all, onlyBAT(f, e.Called(), func(s *Impression) bool { return s.EditionID == e.ID })...)
	}
	for i := range f.States {
		st := &f.States[i]
		all = append(all, onlyBAT(f, st.Name(), func(s *Impression) bool { return s.EditionID == "" && s.StateID == st.ID })...)
	}
	for i := range f.Impressions {
		s := &f.Impressions[i]
		if s.Kind == KindUnrecorded && s.Written != "" && writtenRoman(s) {
			all = append(all, Breach{"roman figures without kind", Doubt, []ID{s.ID},
				fmt.Sprintf("The sheet %s of %s is numbered in roman figures, which may be an artist's proof, a second series or a restrike. Say which kind it is.", s.Name(), f.Plate.Name())})
		}
		if s.Kind == KindUnnumbered && s.Ordinal > 0 {
			all = append(all, Breach{"unnumbered with a number", Contradiction, []ID{s.ID},
				fmt.Sprintf("The sheet %s of %s is recorded as unnumbered and has a number.", s.Name(), f.Plate.Name())})
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
	b := Breach{"artist's proofs", Note, []ID{e.ID}, fmt.Sprintf("%s of %s has %s to %d numbered impressions; about one in ten is usual.",
		capital(e.Called()), f.Plate.Name(), one(n, "artist's proof", "artist's proofs"), e.Size)}
	if n*5 > e.Size {
		b.Weight = Doubt
		b.Sentence = fmt.Sprintf("%s of %s has %s to %d numbered impressions, more than one in five; about one in ten is usual. Is that right?",
			capital(e.Called()), f.Plate.Name(), one(n, "artist's proof", "artist's proofs"), e.Size)
	}
	return []Breach{b}
}

// onlyBAT: the impression the printer prints to is one (common practice).
func onlyBAT(f *Folder, where string, in func(*Impression) bool) []Breach {
	var names []string
	var ids []ID
	for i := range f.Impressions {
		if s := &f.Impressions[i]; s.Kind == KindBAT && in(s) {
			names, ids = append(names, s.Name()), append(ids, s.ID)
		}
	}
	if len(ids) < 2 {
		return nil
	}
	return []Breach{{"more than one bon à tirer", Doubt, ids,
		fmt.Sprintf("In %s of %s are %d bons à tirer, where one is usual: %s.", where, f.Plate.Name(), len(ids), listed(names))}}
}

func capital(s string) string {
	for i, r := range s {
		if i > 0 {
			break
		}
		if r >= 'a' && r <= 'z' {
			return string(r-'a'+'A') + s[1:]
		}
	}
	return s
}
