package book

import (
	"fmt"
	"slices"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/notation"
	"pullbook/catalog/say"
	"pullbook/pdfout/makeup"
)

// notKnown stands where a fact is asked and the catalogue has none.
const notKnown = "not known"

// disclosed is one fact that laws on the sale of prints usually ask, and what
// the catalogue says.
type disclosed struct{ asked, answer string }

// disclosureBlocks sets the list, every unknown fact said to be so, and the
// words that local law decides.
func (b *book) disclosureBlocks(pl *catalog.Plate, im *catalog.Impression) []makeup.Block {
	t := makeup.Table{Lead: b.tableLead(), Gap: 12, Columns: []makeup.Column{{Head: b.t("fact"), Share: 1}, {Head: b.t("this impression"), Share: 1.3}}}
	for _, d := range b.disclosure(pl, im) {
		answer := d.answer
		if answer == notKnown {
			answer = b.t("not known")
		}
		cells := makeup.Cells(b.Table, b.word(d.asked), answer)
		if d.answer == notKnown {
			cells[1].Spans[0].Style = b.TableItalic
		}
		t.Rows = append(t.Rows, cells)
	}
	out := []makeup.Block{b.sectionHead(b.t("Facts usually asked when prints are sold"), b.TextWidth())}
	out = append(out, b.TableBlocks(t, b.TextWidth())...)
	return append(out, b.note(b.t("These are facts that laws on the sale of prints usually ask; which are asked, and in what form, differs from place to place. Local law decides. This list is drawn from the catalogue’s records and is no legal statement."), b.TextWidth())...)
}

// disclosure answers each fact from the records; the facts are those of
// testdata/disclosure_fields.csv.
func (b *book) disclosure(pl *catalog.Plate, im *catalog.Impression) []disclosed {
	ed := b.edition[im.EditionID]
	if ed == nil {
		ed = &catalog.Edition{}
	}
	or := func(s string) string {
		if strings.TrimSpace(s) == "" {
			return notKnown
		}
		return s
	}
	number := func(n int, field string) string {
		switch {
		case n > 0:
			return fmt.Sprint(n)
		case ed.ID != "" && !slices.Contains(ed.NotKnown, field):
			return b.t("none recorded")
		}
		return notKnown
	}
	numbered := ""
	if ed.Size > 0 {
		numbered = joinNonEmpty(", ", fmt.Sprint(ed.Size), b.word(ed.Scheme), ed.Signed)
	}
	return []disclosed{
		{"name of the artist", or(b.personName(pl.MakerID))},
		{"signature", or(joinNonEmpty("; ", im.Signature, b.inscriptionText(im.Inscriptions)))},
		{"artist’s approval", b.approval(im)},
		{"medium or process", or(joinNonEmpty(", ", b.techniqueText(pl.Techniques), b.word(pl.Metal)))},
		{"photomechanical reproduction of another work", b.photomechanical(pl)},
		{"who made the image on the plate", or(b.personName(pl.MakerID))},
		{"made or printed after the artist’s death", b.posthumous(pl, ed)},
		{"restrike, later edition or reworked plate", b.restrike(pl, im, ed)},
		{"year printed", or(b.yearPrinted(im, ed))},
		{"limited edition", b.limited(ed)},
		{"number signed or numbered", or(numbered)},
		{"number unsigned or unnumbered", number(ed.Others, "others")},
		{"proofs outside the edition", or(b.outside(&catalog.Edition{Artists: ed.Artists, Printers: ed.Printers, Trials: ed.Trials}))},
		{"hors commerce", number(ed.HorsComm, "hors_commerce")},
		{"total size of the edition", b.totalSize(ed)},
		{"what became of the plate", b.plateFate(pl, ed)},
		{"other plates of the same image", notKnown},
		{"other editions from this plate", b.otherEditions(pl, ed)},
		{"workshop", or(b.personName(firstID(im.PrinterID, ed.PrinterID)))},
	}
}

// firstID is the first ID that is set.
func firstID(ids ...catalog.ID) catalog.ID {
	for _, id := range ids {
		if id != "" {
			return id
		}
	}
	return ""
}

// approval says how the artist passed the print.
func (b *book) approval(im *catalog.Impression) string {
	st := b.state[im.StateID]
	switch {
	case im.Kind == catalog.KindBAT:
		return b.t("this sheet is the bon à tirer")
	case im.Decision.Verdict == "sign":
		return joinNonEmpty(", ", b.t("passed for signing"), im.Decision.By)
	case st != nil && b.impression[st.ReferenceID] != nil && b.impression[st.ReferenceID].Kind == catalog.KindBAT:
		return b.t("printed to a bon à tirer")
	}
	return notKnown
}

// photomechanical says whether a technique recorded is one of camera and
// light.
func (b *book) photomechanical(pl *catalog.Plate) string {
	if len(pl.Techniques) == 0 {
		return notKnown
	}
	for _, t := range pl.Techniques {
		if w := strings.ToLower(string(t)); strings.Contains(w, "photo") || strings.Contains(w, "heliograv") {
			return b.t("yes: %s", say.Word(t))
		}
	}
	return b.t("none recorded")
}

// posthumous compares the artist’s death with the year of the plate and of
// printing.
func (b *book) posthumous(pl *catalog.Plate, ed *catalog.Edition) string {
	if ed.Kind == "posthumous" {
		return b.t("yes, printed after the artist’s death")
	}
	p := b.people[pl.MakerID]
	if p == nil {
		return notKnown
	}
	if p.Died.IsZero() {
		return b.t("no death recorded")
	}
	died, ok1 := lastYear(p.Died)
	made, ok2 := lastYear(ed.Date)
	switch {
	case !ok1 || !ok2:
		return notKnown
	case made > died:
		return b.t("yes: the artist died in %d", died)
	case made < died:
		return b.t("no")
	}
	return notKnown
}

// lastYear is the latest year a date may mean.
func lastYear(d catalog.Date) (int64, bool) {
	e, err := notation.ParseEDTF(d.EDTF)
	if err != nil || d.EDTF == "" {
		return 0, false
	}
	_, last, _, known := e.Years()
	return last, known
}

// restrike says whether the sheet is of a later printing or a reworked plate.
func (b *book) restrike(pl *catalog.Plate, im *catalog.Impression, ed *catalog.Edition) string {
	var out []string
	if ed.Kind == "restrike" {
		out = append(out, b.t("restrike"))
	}
	if st := b.state[im.StateID]; st != nil && st.N > 1 {
		out = append(out, b.t("plate reworked: state %s", notation.Roman(st.N)))
	}
	switch {
	case len(out) > 0:
		return strings.Join(out, "; ")
	case ed.ID == "":
		return notKnown
	}
	return b.t("none recorded")
}

// yearPrinted is the year of printing as well as it is known.
func (b *book) yearPrinted(im *catalog.Impression, ed *catalog.Edition) string {
	switch {
	case !im.PulledAt.IsZero():
		return fmt.Sprint(im.PulledAt.UTC().Year())
	case !im.Printed.IsZero():
		return b.dateText(im.Printed)
	}
	return b.dateText(ed.Date)
}

// limited says whether the edition is limited.
func (b *book) limited(ed *catalog.Edition) string {
	if ed.Size > 0 {
		return b.t("yes, to %d", ed.Size)
	}
	return notKnown
}

// totalSize adds up all impressions of the edition.
func (b *book) totalSize(ed *catalog.Edition) string {
	n := ed.Size + ed.Artists + ed.Printers + ed.HorsComm + ed.Trials + ed.Others
	if n == 0 {
		return notKnown
	}
	return fmt.Sprint(n)
}

// plateFate says what became of the plate after the edition.
func (b *book) plateFate(pl *catalog.Plate, ed *catalog.Edition) string {
	fate := ed.PlateAfter
	if fate == "" {
		fate = pl.Fate
	}
	if fate == "" || fate == catalog.FateUnknown {
		return notKnown
	}
	return joinNonEmpty(" ", b.word(string(fate)), b.dateText(pl.FateDate))
}

// otherEditions lists the other editions from the plate.
func (b *book) otherEditions(pl *catalog.Plate, ed *catalog.Edition) string {
	var out []string
	for _, e := range b.editions[pl.ID] {
		if e.ID != ed.ID {
			out = append(out, joinNonEmpty(", ", b.editionName(e), b.dateText(e.Date), b.editionCount(e)))
		}
	}
	switch {
	case len(out) > 0:
		return strings.Join(out, "; ")
	case len(b.editions[pl.ID]) > 0:
		return b.t("none recorded")
	}
	return notKnown
}
