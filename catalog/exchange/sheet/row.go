package sheet

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/notation"
)

// draft is one row as it is being read: what it says of its plate and of its
// sheet, and what could not be placed.
type draft struct {
	heading []string
	cells   map[Field][]cell
	notes   []string
	kept    []string // lines for the remarks
	number  catalog.Number
	state   notation.StateReading
	edition notation.EditionReading
	date    notation.DateReading
	printed notation.DateReading
	mark    catalog.Size
	sheet   catalog.Size
	pull    int
	works   []notation.Reference
	methods []catalog.Technique
}

// cell is one cell with its heading.
type cell struct{ heading, text string }

// first returns the first cell matched with a field, "" when there is none.
func (d *draft) first(f Field) string {
	if c := d.cells[f]; len(c) > 0 {
		return c[0].text
	}
	return ""
}

// note adds a remark on a cell.
func (d *draft) note(c cell, flags notation.Flags) {
	for _, f := range flags {
		d.notes = append(d.notes, fmt.Sprintf("%s “%s”: %s", c.heading, shorten(c.text), f))
	}
}

// keep puts a text as written into the remarks, once.
func (d *draft) keep(c cell) {
	if line := c.heading + ": " + c.text; !slices.Contains(d.kept, line) {
		d.kept = append(d.kept, line)
	}
}

func shorten(s string) string {
	r := []rune(strings.Join(strings.Fields(s), " "))
	if len(r) > 60 {
		return string(r[:57]) + "…"
	}
	return string(r)
}

// read interprets the cells of a row. refused is the reason the row cannot be
// taken, "" mostly.
func (p *preparation) read(heading, row []string) (d *draft, refused string) {
	d = &draft{heading: heading, cells: map[Field][]cell{}}
	for i, text := range row {
		if strings.TrimSpace(text) == "" {
			continue
		}
		if i >= len(p.matching.Columns) {
			return d, fmt.Sprintf("There are more cells than headings; “%s” has none.", shorten(text))
		}
		f := p.matching.Columns[i]
		if f != LeaveOut {
			h := strings.TrimSpace(heading[i])
			if h == "" {
				h = fmt.Sprintf("column %d", i+1)
			}
			d.cells[f] = append(d.cells[f], cell{h, text})
		}
	}
	if c := d.cells[Number]; len(c) > 0 {
		r := notation.ParseNumber(c[0].text)
		if !r.Certain() {
			return d, fmt.Sprintf("“%s” is no catalogue number.", shorten(c[0].text))
		}
		d.number = r.Number
		if r.Number.String() != c[0].text {
			d.keep(c[0])
		}
	} else if strings.TrimSpace(d.first(Title)) == "" {
		return d, "There is neither a catalogue number nor a title."
	}
	d.readDates()
	d.readSizes(p.matching.UnitMM)
	d.readState()
	d.readEdition()
	d.readRest()
	return d, ""
}

func (d *draft) readDates() {
	for f, to := range map[Field]*notation.DateReading{Date: &d.date, Printed: &d.printed} {
		for _, c := range d.cells[f] {
			*to = notation.ParseDate(c.text)
			d.note(c, to.Flags)
		}
	}
}

// readSizes reads size texts and columns of single figures.
func (d *draft) readSizes(unitMM float64) {
	for _, f := range []Field{Dimensions, PlateSize, SheetSize} {
		for _, c := range d.cells[f] {
			r := notation.ParseSize(c.text)
			if word := unitWord(unitMM); word != "" && len(r.Parts) == 1 && r.Parts[0].Flags.Has(notation.FlagNoUnit) {
				r = notation.ParseSize(c.text + " " + word) // the heading names the unit
			}
			d.note(c, r.Flags)
			for _, part := range r.Parts {
				d.note(c, part.Flags)
				if part.Flags.Doubtful() {
					continue
				}
				switch {
				case f == PlateSize || (f == Dimensions && part.Label == "plate"):
					setOnce(&d.mark, part.Size)
				case f == SheetSize || (f == Dimensions && part.Label == "sheet"):
					setOnce(&d.sheet, part.Size)
				}
			}
			if len(r.Parts) != 1 || notation.FormatSize(r.Parts[0].Size) != c.text || (d.mark.IsZero() && d.sheet.IsZero()) {
				d.keep(c)
			}
		}
	}
	d.readSides(PlateHeight, PlateWidth, &d.mark, unitMM)
	d.readSides(SheetHeight, SheetWidth, &d.sheet, unitMM)
}

// unitWord is the word for the unit of bare figures, "" when it is not known.
func unitWord(unitMM float64) string {
	return map[float64]string{1: "mm", 10: "cm", 25.4: "in."}[unitMM]
}

func setOnce(to *catalog.Size, s catalog.Size) {
	if to.IsZero() {
		*to = s
	}
}

// readSides reads height and width from columns of their own.
func (d *draft) readSides(height, width Field, to *catalog.Size, unitMM float64) {
	h, w := d.cells[height], d.cells[width]
	if len(h) == 0 && len(w) == 0 {
		return
	}
	var mm [2]float64
	for i, side := range [][]cell{h, w} {
		if len(side) == 0 {
			continue
		}
		v, ok := length(side[0].text, unitMM)
		if !ok {
			d.note(side[0], notation.Flags{notation.FlagNoUnit})
		}
		mm[i] = v
	}
	if mm[0] > 0 && mm[1] > 0 && to.IsZero() {
		*to = catalog.Size{HeightMM: mm[0], WidthMM: mm[1]}
	}
	for _, side := range [][]cell{h, w} {
		for _, c := range side {
			d.keep(c)
		}
	}
}

// length reads one side, with its own unit or the column's.
func length(s string, unitMM float64) (float64, bool) {
	t := strings.ToLower(strings.TrimSpace(s))
	for _, u := range []struct {
		word string
		mm   float64
	}{{"mm", 1}, {"cm", 10}, {"in.", 25.4}, {"in", 25.4}, {`"`, 25.4}} {
		if rest, ok := strings.CutSuffix(t, u.word); ok {
			t, unitMM = strings.TrimSpace(rest), u.mm
			break
		}
	}
	v, err := strconv.ParseFloat(strings.Replace(t, ",", ".", 1), 64)
	if err != nil || unitMM == 0 || v <= 0 || v*unitMM > 10_000 {
		return 0, false
	}
	return float64(int64(v*unitMM*1000+0.5)) / 1000, true
}

func (d *draft) readState() {
	for _, c := range d.cells[State] {
		r := notation.ParseState(c.text)
		d.note(c, r.Flags)
		if r.Certain() {
			d.state = r
		}
		if !r.Certain() || notation.FormatState(r.From, r.Total) != c.text {
			d.keep(c)
		}
	}
}

func (d *draft) readEdition() {
	for _, c := range d.cells[Edition] {
		r := notation.ParseEdition(c.text)
		d.note(c, r.Flags)
		// A size alone is a fact about the edition; roman figures are kept
		// without a kind. Anything else in doubt stays in the remarks.
		if r.Certain() || (r.Found() && onlyThese(r.Flags, notation.FlagSizeOnly, notation.FlagRomanKind)) {
			d.edition = r
		}
		if d.edition.Matched != c.text {
			d.keep(c)
		}
	}
}

func onlyThese(flags notation.Flags, allowed ...notation.Flag) bool {
	for _, f := range flags {
		if f.Doubtful() && !notation.Flags(allowed).Has(f) {
			return false
		}
	}
	return true
}

func (d *draft) readRest() {
	for _, c := range d.cells[Pull] {
		if n, err := strconv.Atoi(strings.TrimSpace(c.text)); err == nil && n > 0 {
			d.pull = n
		} else {
			d.notes = append(d.notes, fmt.Sprintf("%s “%s” is no count of pulls; it is kept as written.", c.heading, shorten(c.text)))
		}
		if strconv.Itoa(d.pull) != c.text {
			d.keep(c)
		}
	}
	for _, c := range d.cells[Reference] {
		r := notation.ParseReferences(c.text)
		d.note(c, r.Flags)
		d.works = append(d.works, r.References...)
		d.keep(c)
	}
	for _, c := range d.cells[Technique] {
		found, all := techniques(c.text)
		d.methods = append(d.methods, found...)
		if !all {
			d.keep(c)
		}
	}
	for _, c := range d.cells[Keep] {
		d.keep(c)
	}
}
