package places

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// defers is the sentence every caution ends in.
func defers() string {
	return words.T("The maker's data sheet, local rules and trained practice come first.")
}

// The usual cautions (common practice; the gases and limits behind them are
// those of the NIOSH Pocket Guide entries for nitric acid, hydrogen chloride
// and chlorine).
func pressCaution() string {
	return words.T("Press: keep fingers, hair, cord and sleeves from the rollers and the bed; one person turns.")
}
func inkCaution() string {
	return words.T("Ink and solvents: gloves, moving air, no flame; oily rags into a closed metal bin.")
}
func plateCaution() string {
	return words.T("Hot plate: it burns without glowing; no solvent near it, off when you leave.")
}
func biteCaution(mordant string) string {
	m := strings.ToLower(mordant)
	switch {
	case strings.Contains(m, "nitric"):
		return words.T("Nitric acid gives off brown nitrogen dioxide that harms the lungs hours later: extraction, goggles, gloves; acid into water, never water into acid.")
	case strings.Contains(m, "dutch"), strings.Contains(m, "hydrochloric"), strings.Contains(m, "chlorate"):
		return words.T("Dutch mordant gives off chlorine when it is mixed: extraction, goggles, gloves; never mix it with other acids.")
	case strings.Contains(m, "ferric"), strings.Contains(m, "perchloride"), strings.Contains(m, "chloride"):
		return words.T("Ferric chloride eats skin, eyes and metal fittings: goggles and gloves; spent baths are hazardous waste.")
	}
	return words.T("Mordants: goggles, gloves, extraction, running water within reach.")
}

// cautionsFor is what the work on a plate calls for: always the press and the
// ink; the hot plate; the mordants of its bites; rosin dust with aquatint.
func cautionsFor(b *book, plate *catalog.Plate) []string {
	list := []string{pressCaution(), inkCaution(), plateCaution()}
	add := func(s string) {
		if !slices.Contains(list, s) {
			list = append(list, s)
		}
	}
	for _, s := range b.statesOf[plate.ID] {
		for _, w := range s.Work {
			switch w.Kind {
			case catalog.WorkBite:
				add(biteCaution(w.Mordant))
			case catalog.WorkAquatint:
				add(words.T("Rosin dust can explode and makes lungs sensitive: mask, closed box, no spark or flame."))
			}
		}
	}
	return list
}

func (p *pressPlace) showCautions(b *book, plate *catalog.Plate) {
	p.cautions.RemoveAll()
	p.cautions.Add(look.HRule())
	p.cautions.Add(look.Row(8, look.NewDrawn(look.IconWarn, look.Unsure, 15), look.Label(words.T("Working safely"))))
	l := look.Para(strings.Join(cautionsFor(b, plate)[:2], " ")+" "+defers(), true)
	p.cautions.Add(l)
	p.cautions.Add(look.QuietButton(words.T("All cautions for this plate"), "", p.f.showCautions))
}

// showCautions lists every caution for the plate in hand, or all there are.
func (f *Frame) showCautions() {
	list := []string{pressCaution(), inkCaution(), plateCaution(), biteCaution(""), biteCaution("nitric"), biteCaution("dutch"), biteCaution("ferric"),
		words.T("Rosin dust can explode and makes lungs sensitive: mask, closed box, no spark or flame.")}
	if f.book != nil {
		if p := f.book.plates[f.plate]; p != nil {
			list = cautionsFor(f.book, p)
		}
	}
	col := look.Column(8)
	for _, s := range list {
		col.Add(look.Caution(s))
	}
	col.Add(look.Para(defers(), false))
	f.dialog(words.T("Working safely"), look.Wide(460, col), fyne.NewSize(520, 480), "", nil)
}
