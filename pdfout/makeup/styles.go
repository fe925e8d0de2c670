package makeup

import "pullbook/pdfout/typeset"

// Styles are the few styles of the book, for one format.
type Styles struct {
	Body, Italic, Strong  typeset.Style
	Small, SmallItalic    typeset.Style // notes, literature
	Table, TableItalic    typeset.Style // tabular figures
	TableStrong           typeset.Style
	Label                 typeset.Style // small-capital labels and column heads
	Running               typeset.Style // running heads
	Folio                 typeset.Style
	Section               typeset.Style // heads within an entry
	Number                typeset.Style // the large number of an entry
	Title                 typeset.Style // the title of an entry
	Sub                   typeset.Style // the line below it
	Chapter               typeset.Style // heads of parts
	Heading               typeset.Style // heads within prose
	Caption, CaptionRoman typeset.Style
	State                 typeset.Style // the roman figure of a state
}

// NewStyles cuts the styles for a format.
func NewStyles(c *typeset.Case, f Format) Styles {
	b := f.TextSize
	k := b / 10.4
	st := func(cut *typeset.Cut, size float64, ink typeset.Ink, track float64) typeset.Style {
		return typeset.Style{Cut: cut, Size: size, Ink: ink, Track: track}
	}
	small := max(8.8*k, 8.4)
	return Styles{
		Body: st(c.Roman, b, typeset.Text, 0), Italic: st(c.Italic, b, typeset.Text, 0), Strong: st(c.SemiBold, b, typeset.Text, 0),
		Small: st(c.Roman, small, typeset.Text, 0), SmallItalic: st(c.Italic, small, typeset.Text, 0),
		Table: st(c.Tabular, small, typeset.Text, 0), TableItalic: st(c.TabularItalic, small, typeset.Text, 0),
		TableStrong: st(c.MediumTabular, small, typeset.Text, 0),
		Label:       st(c.SmallCaps, small, typeset.Grey, 45),
		Running:     st(c.SmallCaps, 8.8*k, typeset.Grey, 80),
		Folio:       st(c.Roman, 9.6*k, typeset.Text, 0),
		Section:     st(c.SmallCaps, 10.4*k, typeset.Accent, 100),
		Number:      st(c.Roman, 38*k, typeset.Accent, 0),
		Title:       st(c.Italic, 25*k, typeset.Text, 0),
		Sub:         st(c.Roman, 11.6*k, typeset.Text, 0),
		Chapter:     st(c.Italic, 24*k, typeset.Text, 0),
		Heading:     st(c.SmallCaps, 10.8*k, typeset.Text, 70),
		Caption:     st(c.Italic, small, typeset.Grey, 0), CaptionRoman: st(c.Roman, small, typeset.Grey, 0),
		State: st(c.Roman, 12*k, typeset.Text, 0),
	}
}
