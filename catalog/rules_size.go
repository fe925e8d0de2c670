package catalog

import (
	"math"

	"pullbook/catalog/say"
)

// Damp paper shrinks as it dries, and the plate mark with it. Paper stretches
// by up to 3 % across its grain when wet and hardly along it; so a mark is
// from 3.5 % smaller to 0.5 % larger than the copper, and its two sides differ
// by no more than 3.5 points (common practice; derived from wet expansions
// reported by binders and paper scientists, see checks/STANDARDS.md 8.2).
const (
	shrinkMost  = -0.035
	growMost    = 0.005
	sidesDiffer = 0.035
)

// CheckSizes asks about a plate mark that does not fit its copper, and sheets
// smaller than the plate mark.
func CheckSizes(f *Folder) []Breach {
	var all []Breach
	p := &f.Plate
	if whole(p.Copper) && whole(p.Mark) {
		if s := markFitsCopper(p.Copper, p.Mark); !s.IsZero() {
			all = append(all, breach("plate mark and copper", Doubt, []ID{p.ID}, "The plate mark of %s, %s, does not fit the copper, %s. %s",
				p.Said(), sizeWords(p.Mark), sizeWords(p.Copper), s))
		}
	}
	mark := p.MeasureSize()
	if !whole(mark) {
		return all
	}
	for i := range f.Impressions {
		s := &f.Impressions[i]
		// Half a millimetre is the finest anybody measures a sheet.
		if whole(s.Sheet) && (s.Sheet.HeightMM < mark.HeightMM-0.5 || s.Sheet.WidthMM < mark.WidthMM-0.5) {
			all = append(all, breach("sheet smaller than plate", Doubt, []ID{s.ID},
				"The sheet %s of %s, %s, is smaller than the plate mark, %s. Was it trimmed within the mark, or are height and width exchanged?",
				s.Said(), p.Said(), sizeWords(s.Sheet), sizeWords(mark)))
		}
	}
	return all
}

// markFitsCopper gives a sentence when a plate mark cannot well come from the
// copper, else none.
func markFitsCopper(copper, mark Size) say.Sentence {
	h, w := mark.HeightMM/copper.HeightMM-1, mark.WidthMM/copper.WidthMM-1
	fits := func(x float64) bool { return x >= shrinkMost-1e-9 && x <= growMost+1e-9 }
	if fits(h) && fits(w) && math.Abs(h-w) <= sidesDiffer+1e-9 {
		return say.Sentence{}
	}
	if fits(mark.WidthMM/copper.HeightMM-1) && fits(mark.HeightMM/copper.WidthMM-1) {
		return say.Of("Height and width seem to be exchanged in one of them.")
	}
	return say.Of("It differs by %+.1f %% in height and %+.1f %% in width; drying paper takes off up to 3.5 %%. Measure again?", h*100, w*100)
}

func whole(s Size) bool { return s.HeightMM > 0 && s.WidthMM > 0 }

func sizeWords(s Size) say.Sentence { return say.Of("%g x %g mm", s.HeightMM, s.WidthMM) }
