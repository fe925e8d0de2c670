package places

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
	"pullbook/catalog/hazard"
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
	switch hazard.BathOf(mordant) {
	case hazard.Nitric:
		return words.T("Nitric acid gives off brown nitrogen dioxide that harms the lungs hours later: extraction, goggles, gloves; acid into water, never water into acid.")
	case hazard.Dutch:
		return words.T("Dutch mordant gives off chlorine when it is mixed: extraction, goggles, gloves; never mix it with other acids.")
	case hazard.Ferric:
		return words.T("Ferric chloride eats skin, eyes and metal fittings: goggles and gloves; spent baths are hazardous waste.")
	}
	return words.T("Mordants: goggles, gloves, extraction, running water within reach.")
}

// workCaution is the caution for one kind of work on the metal, "" where the
// table of hazards has none.
func workCaution(kind catalog.WorkKind, mordant string) string {
	switch kind {
	case catalog.WorkBite:
		return biteCaution(mordant)
	case catalog.WorkAquatint:
		return words.T("Rosin dust can explode and makes lungs sensitive: mask, closed box, no spark or flame.")
	case catalog.WorkClean:
		return words.T("Solvents: moving air, gloves, no flame or hot plate near; their vapour can explode and dulls the mind.")
	case catalog.WorkScrape, catalog.WorkBurnish, catalog.WorkRecut:
		return words.T("Metal dust and slivers: wipe them up damp, do not blow; file edges that cut.")
	}
	return ""
}

// airLimits writes the published limits of what can hurt in a kind of work, a
// line each, with their source.
func airLimits(kind catalog.WorkKind, mordant string) string {
	var out []string
	for _, a := range hazard.Of(kind, mordant) {
		var l []string
		for _, x := range [][2]string{{"NIOSH", a.NIOSH}, {"OSHA", a.OSHA}, {"", a.Other}} {
			if x[1] != "" && x[1] != "none" {
				l = append(l, strings.TrimSpace(x[0]+" "+x[1]))
			}
		}
		out = append(out, a.Name+": "+strings.Join(l, "; ")+". "+words.T("Source: %s (%s).", a.Source, a.Basis))
	}
	return strings.Join(out, "\n")
}

// cautionKey names a kind of work among the cautions that were shown.
func cautionKey(kind catalog.WorkKind, mordant string) string {
	if kind == catalog.WorkBite {
		return "cautioned " + string(kind) + " " + string(hazard.BathOf(mordant))
	}
	return "cautioned " + string(kind)
}

// cautionFor is the caution for a piece of work as it is entered: in full the
// first time for each kind of work, afterwards behind a button; nil where there
// is none.
func (f *Frame) cautionFor(kind catalog.WorkKind, mordant string) fyne.CanvasObject {
	say := workCaution(kind, mordant)
	if say == "" {
		return nil
	}
	full := func() *fyne.Container {
		return look.Column(6, look.Caution(say+" "+defers()), look.Label(words.T("Published limits in the air of workplaces")), look.Para(airLimits(kind, mordant), true))
	}
	if !f.prefs.p.Bool(cautionKey(kind, mordant)) {
		return full()
	}
	return container.NewHBox(look.QuietButton(words.T("Cautions for this work"), look.IconWarn, func() {
		f.dialog(words.T("Working safely"), full(), fyne.NewSize(560, 420), "", nil)
	}))
}

// cautioned notes that the caution for a kind of work was shown in full.
func (f *Frame) cautioned(kind catalog.WorkKind, mordant string) {
	f.prefs.p.SetBool(cautionKey(kind, mordant), true)
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
			if c := workCaution(w.Kind, w.Mordant); c != "" {
				add(c)
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
		workCaution(catalog.WorkAquatint, ""), workCaution(catalog.WorkClean, ""), workCaution(catalog.WorkScrape, "")}
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
