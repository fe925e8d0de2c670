// Package makeup arranges set type into pages: the type area, running heads
// and folios, blocks that flow from page to page without widows, tables whose
// heads are repeated, balanced columns.
//
// Lengths are points; formats are given in millimetres.
package makeup

// MM is a millimetre in points.
const MM = 72 / 25.4

// Format is a page: its trimmed size and margins in millimetres, and the size
// and leading of its running text in points.
type Format struct {
	Name                     string
	Width, Height            float64
	Inner, Outer, Head, Foot float64
	TextSize, Lead           float64
}

// Formats of the book. Two are common sheet sizes, two are book sizes.
var (
	Large  = Format{"230 x 300 mm", 230, 300, 22, 28, 27, 29, 10.4, 13.2}
	Small  = Format{"170 x 240 mm", 170, 240, 17, 21, 22, 23, 9.8, 12.3}
	A4     = Format{"A4", 210, 297, 21, 25, 27, 29, 10.3, 13.1}
	Letter = Format{"Letter", 215.9, 279.4, 21, 26, 26, 27, 10.3, 13.1}
)

// Formats lists the formats a book can have.
func Formats() []Format { return []Format{Large, Small, A4, Letter} }
