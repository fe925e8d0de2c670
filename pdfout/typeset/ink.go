package typeset

// Ink names the part a colour plays on the page. What it is printed with, a
// screen colour or a press ink, is the output's choice.
type Ink uint8

// Inks of the book.
const (
	Text   Ink = iota // running text
	Grey              // labels, captions, what stands back
	Accent            // catalogue numbers, section heads, points of a curve
	Hair              // light rules
	Rule              // rules above sections
	Bar               // bars and curves
	Tint              // a pale ground behind a missing picture
	White             // paper
	Mark              // crop and cut marks: on every plate of the press
)
