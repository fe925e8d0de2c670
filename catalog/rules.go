package catalog

import (
	"fmt"

	"pullbook/catalog/say"
)

// Weight says how much a breach of a rule matters.
type Weight int

// Weights.
const (
	// Note: unusual, may be right as it is.
	Note Weight = iota
	// Doubt: probably something is wrong; the user is asked.
	Doubt
	// Contradiction: two things the catalogue says cannot both be true. The
	// store refuses an action that brings one in.
	Contradiction
)

// String names the weight.
func (w Weight) String() string {
	return [...]string{"note", "doubt", "contradiction"}[w]
}

// A Breach is one rule not kept: a sentence for the user that names the
// sheets, and the records concerned.
type Breach struct {
	Rule     string // short name of the rule, the same in every version
	Weight   Weight
	Records  []ID
	Sentence string       // in English
	Said     say.Sentence // the same, to be said in other languages
}

// breach makes a breach whose sentence is a text with blanks.
func breach(rule string, w Weight, records []ID, key string, args ...any) Breach {
	s := say.Of(key, args...)
	return Breach{rule, w, records, s.String(), s}
}

// Key tells breaches apart: the same rule broken by the same records.
func (b Breach) Key() string { return fmt.Sprint(b.Rule, b.Records) }

// Folder is all that belongs to one plate. Order does not matter.
type Folder struct {
	Plate       Plate
	States      []State
	Editions    []Edition
	Impressions []Impression
}

// CheckFolder looks at everything within one plate.
func CheckFolder(f *Folder) []Breach {
	var all []Breach
	all = append(all, CheckQuantities(f)...)
	all = append(all, CheckSizes(f)...)
	all = append(all, CheckStates(f)...)
	all = append(all, CheckPulls(f)...)
	all = append(all, CheckEditions(f)...)
	all = append(all, CheckProofs(f)...)
	all = append(all, CheckTimes(f)...)
	all = append(all, CheckFate(f)...)
	return all
}

// Folders sorts a snapshot's records to their plates, in catalogue order.
func (s *Snapshot) Folders() []Folder {
	folders := make([]Folder, len(s.Plates))
	place := make(map[ID]*Folder, len(s.Plates))
	for i := range s.Plates {
		folders[i].Plate = s.Plates[i]
		place[s.Plates[i].ID] = &folders[i]
	}
	for _, x := range s.States {
		if f := place[x.PlateID]; f != nil {
			f.States = append(f.States, x)
		}
	}
	for _, x := range s.Editions {
		if f := place[x.PlateID]; f != nil {
			f.Editions = append(f.Editions, x)
		}
	}
	for _, x := range s.Impressions {
		if f := place[x.PlateID]; f != nil {
			f.Impressions = append(f.Impressions, x)
		}
	}
	return folders
}

// CheckSnapshot looks at a whole catalogue.
func CheckSnapshot(s *Snapshot) []Breach {
	all := CheckNumbers(s.Plates)
	for _, f := range s.Folders() {
		all = append(all, CheckFolder(&f)...)
	}
	all = append(all, CheckPhotographs(s)...)
	return append(all, CheckLives(s)...)
}

// CheckNumbers looks for catalogue numbers given twice.
func CheckNumbers(plates []Plate) []Breach {
	var all []Breach
	first := map[Number]*Plate{}
	for i := range plates {
		p := &plates[i]
		if p.Number.IsZero() {
			continue
		}
		if q := first[p.Number]; q != nil {
			all = append(all, breach("catalogue number twice", Contradiction, []ID{q.ID, p.ID},
				"The catalogue number %s is given twice: to %s and to %s.", p.Number, titled(q), titled(p)))
			continue
		}
		first[p.Number] = p
	}
	return all
}

func titled(p *Plate) say.Sentence {
	if t := p.Title(); t != "" {
		return say.Of("“%s”", t)
	}
	return say.Of("a plate without a title")
}

// CheckQuantities refuses quantities that cannot be.
func CheckQuantities(f *Folder) []Breach {
	var all []Breach
	bad := func(id ID, key string, args ...any) {
		all = append(all, breach("impossible quantity", Contradiction, []ID{id}, key, args...))
	}
	p := &f.Plate
	for _, q := range []struct {
		word string
		v    float64
	}{{"height of the copper", p.Copper.HeightMM}, {"width of the copper", p.Copper.WidthMM},
		{"height of the plate mark", p.Mark.HeightMM}, {"width of the plate mark", p.Mark.WidthMM},
		{"thickness", p.ThicknessMM}, {"bevel", p.BevelMM}} {
		if q.v < 0 {
			bad(p.ID, "The %s of %s is %g mm; it cannot be less than nothing.", say.Word(q.word), p.Said(), q.v)
		}
	}
	if p.LossLimit < 0 || p.LossLimit > 1 {
		bad(p.ID, "The limit of ink loss of %s is %g; it lies between 0 and 1.", p.Said(), p.LossLimit)
	}
	for i := range f.Editions {
		e := &f.Editions[i]
		for _, n := range []int{e.Size, e.Artists, e.Printers, e.HorsComm, e.Trials, e.Others} {
			if n < 0 {
				bad(e.ID, "A count in %s of %s is %d; it cannot be less than nothing.", e.Said(), p.Said(), n)
			}
		}
	}
	for i := range f.Impressions {
		s := &f.Impressions[i]
		if s.Pull < 0 || s.Ordinal < 0 || s.OutOf < 0 || s.Sheet.HeightMM < 0 || s.Sheet.WidthMM < 0 {
			bad(s.ID, "The sheet %s of %s has a number or a size less than nothing.", s.Said(), p.Said())
		}
	}
	return all
}
