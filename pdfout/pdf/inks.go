package pdf

import (
	"fmt"

	"pullbook/pdfout/typeset"
)

// Palette gives each ink of the page its printing colour as PDF operands.
type Palette struct{ colours map[typeset.Ink][]float64 }

// Screen is the palette for the screen and the archive: sRGB, a warm near
// black, one dark red.
func Screen() Palette {
	rgb := func(r, g, b float64) []float64 { return []float64{r / 255, g / 255, b / 255} }
	return Palette{map[typeset.Ink][]float64{
		typeset.Text: rgb(28, 26, 24), typeset.Grey: rgb(99, 94, 88), typeset.Accent: rgb(122, 38, 30),
		typeset.Hair: rgb(196, 191, 184), typeset.Rule: rgb(120, 115, 109), typeset.Bar: rgb(92, 84, 76),
		typeset.Tint: rgb(240, 237, 231), typeset.White: rgb(255, 255, 255), typeset.Mark: rgb(0, 0, 0),
	}}
}

// Press is the palette for the printer: text on the black plate alone, so that
// nothing can be out of register; the accent one mix of inks.
func Press() Palette {
	k := func(v float64) []float64 { return []float64{0, 0, 0, v} }
	return Palette{map[typeset.Ink][]float64{
		typeset.Text: k(1), typeset.Grey: k(.68), typeset.Accent: {.2, .95, .9, .35},
		typeset.Hair: k(.28), typeset.Rule: k(.6), typeset.Bar: k(.72),
		typeset.Tint: k(.06), typeset.White: k(0), typeset.Mark: {1, 1, 1, 1},
	}}
}

// operator returns the operator that sets the fill or the line colour.
func (p Palette) operator(k typeset.Ink, line bool) string {
	c := p.colours[k]
	ops := map[int][2]string{3: {"rg", "RG"}, 4: {"k", "K"}}[len(c)]
	op := ops[0]
	if line {
		op = ops[1]
	}
	s := ""
	for _, v := range c {
		s += fmt.Sprintf("%.3f ", v)
	}
	return s + op
}
