package entry

import (
	"fmt"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/notation"
)

// PrivateCollection stands for every holder whose name is kept private.
const PrivateCollection = "private collection"

// Title is the title to show for a plate, never empty.
func (c *Catalogue) Title(p *catalog.Plate) string {
	if t := p.Title(); t != "" {
		return t
	}
	if n := p.Number.String(); n != "" {
		return "Plate " + n
	}
	return "Untitled"
}

// Total is the number of states known of a plate.
func (c *Catalogue) Total(plate catalog.ID) int {
	total := 0
	for _, s := range c.statesOf[plate] {
		total = max(total, s.N)
	}
	return total
}

// StateText words a state: "II/IV", "only state"; "" for nil.
func (c *Catalogue) StateText(s *catalog.State) string {
	if s == nil {
		return ""
	}
	return notation.FormatState(s.N, c.Total(s.PlateID))
}

// NumberText words a sheet's place in its edition: as written, else in the
// customary form.
func (c *Catalogue) NumberText(im *catalog.Impression) string {
	if im.Written != "" {
		return im.Written
	}
	if im.Ordinal > 0 {
		return notation.FormatEdition(im.Kind, im.Ordinal, im.OutOf)
	}
	if im.Kind != catalog.KindNumbered {
		return string(im.Kind)
	}
	return ""
}

// EditionText words an edition: "edition of 30, plus 3 artist's proofs".
func EditionText(e *catalog.Edition) string {
	if e == nil {
		return ""
	}
	s := "edition"
	if e.Kind != "" {
		s = e.Kind
	}
	if e.Size > 0 {
		s += fmt.Sprintf(" of %d", e.Size)
	}
	var plus []string
	for _, p := range []struct {
		n    int
		word string
	}{{e.Artists, "artist's proof"}, {e.Printers, "printer's proof"}, {e.HorsComm, "hors commerce"}, {e.Trials, "trial proof"}, {e.Others, "other impression"}} {
		switch {
		case p.n == 1 || (p.n > 1 && p.word == "hors commerce"):
			plus = append(plus, fmt.Sprintf("%d %s", p.n, p.word))
		case p.n > 1:
			plus = append(plus, fmt.Sprintf("%d %ss", p.n, p.word))
		}
	}
	if len(plus) > 0 {
		s += ", plus " + strings.Join(plus, ", ")
	}
	return s
}

// SheetEditionText words a sheet's number with its edition: "7/30 (edition of
// 30, plus 3 artist's proofs)".
func (c *Catalogue) SheetEditionText(im *catalog.Impression) string {
	number, edition := c.NumberText(im), EditionText(c.editions[im.EditionID])
	if number != "" && edition != "" {
		return number + " (" + edition + ")"
	}
	return number + edition
}

// DimensionsText words the sizes of a sheet, or of a plate when im is nil:
// "Plate 150 x 100 mm; sheet 280 x 190 mm". Height stands first.
func DimensionsText(p *catalog.Plate, im *catalog.Impression) string {
	var parts []string
	if s := notation.FormatSize(p.MeasureSize()); s != "" {
		parts = append(parts, "Plate "+s)
	}
	if im != nil {
		if s := notation.FormatSize(im.Sheet); s != "" {
			parts = append(parts, "sheet "+s)
		}
	}
	return capital(strings.Join(parts, "; "))
}

func capital(s string) string {
	if s == "" {
		return ""
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// Techniques are those of a plate, with what its state added.
func (c *Catalogue) Techniques(p *catalog.Plate, s *catalog.State) []catalog.Technique {
	out := append([]catalog.Technique(nil), p.Techniques...)
	if s == nil {
		return out
	}
	for _, t := range s.Techniques {
		if !has(out, t) {
			out = append(out, t)
		}
	}
	return out
}

func has(list []catalog.Technique, t catalog.Technique) bool {
	for _, x := range list {
		if x == t {
			return true
		}
	}
	return false
}

// TechniqueText words techniques: "Etching and drypoint".
func TechniqueText(ts []catalog.Technique) string {
	words := make([]string, len(ts))
	for i, t := range ts {
		words[i] = string(t)
	}
	switch len(words) {
	case 0:
		return ""
	case 1:
		return capital(words[0])
	}
	return capital(strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1])
}

// SheetLabel names a sheet within its plate: "II/III, 7/30", "pull 4".
func (c *Catalogue) SheetLabel(im *catalog.Impression) string {
	var parts []string
	if s := c.StateText(c.states[im.StateID]); s != "" {
		parts = append(parts, s)
	}
	switch n := c.NumberText(im); {
	case n != "":
		parts = append(parts, n)
	case im.Pull > 0:
		parts = append(parts, fmt.Sprintf("pull %d", im.Pull))
	}
	if len(parts) == 0 {
		return "impression"
	}
	return strings.Join(parts, ", ")
}

// HolderText names the holder of a sheet; a private one is not named.
func (c *Catalogue) HolderText(id catalog.ID) string {
	h := c.holders[id]
	switch {
	case h == nil:
		return ""
	case h.Private:
		return PrivateCollection
	case h.Place != "" && !strings.Contains(h.Name, h.Place):
		return h.Name + ", " + h.Place
	}
	return h.Name
}

// Public reports whether a holder's name may be given away.
func (c *Catalogue) Public(id catalog.ID) bool {
	h := c.holders[id]
	return h != nil && !h.Private
}

// OwnerText names one link of a provenance: "purchased 1962 by ...".
func (c *Catalogue) OwnerText(o catalog.Owner) string {
	name := c.HolderText(o.HolderID)
	if name == "" {
		name = o.Name
	}
	for _, d := range []catalog.Date{o.From, o.To} {
		if t := DateText(d); t != "" {
			name += ", " + t
		}
	}
	if o.How != "" {
		name += " (" + o.How + ")"
	}
	return name
}

// DateText words a date: as written, else from its reading.
func DateText(d catalog.Date) string {
	if d.Text != "" && d.Text != d.EDTF {
		return d.Text
	}
	return notation.DateWords(d.EDTF)
}

// Made is when a sheet was printed: the day it was pulled, else the date
// recorded, else that of its edition.
func (c *Catalogue) Made(im *catalog.Impression) catalog.Date {
	if !im.PulledAt.IsZero() {
		day := im.PulledAt.UTC().Format("2006-01-02")
		return catalog.Date{EDTF: day}
	}
	if !im.Printed.IsZero() {
		return im.Printed
	}
	if e := c.editions[im.EditionID]; e != nil {
		return e.Date
	}
	return catalog.Date{}
}

// Days gives the earliest and latest day of a date as yyyy-mm-dd, "" where
// there is no limit or it is not known.
func Days(d catalog.Date) (earliest, latest string) {
	e, err := notation.ParseEDTF(d.EDTF)
	if err != nil {
		return "", ""
	}
	lo, hi := e.Span()
	if lo.Kind == notation.BoundKnown {
		earliest = lo.Day.String()
	}
	if hi.Kind == notation.BoundKnown {
		latest = hi.Day.String()
	}
	return earliest, latest
}
