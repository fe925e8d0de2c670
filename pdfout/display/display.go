// Package display is the drawn page, before any output has a say: text already
// shaped, rules, pictures, links, each at its place. The PDF writer and the
// window's preview draw from the same list, so that what is seen is what is
// printed.
//
// Lengths are points, origin at the top-left corner of the trimmed page, x to
// the right, y down.
package display

import (
	"pullbook/pdfout/jpegfile"
	"pullbook/pdfout/typeset"
)

// Page is one page. Items are drawn in order.
type Page struct {
	Width, Height float64 // trimmed size
	Label         string  // folio as printed: "ix", "38"; empty where none stands
	Items         []Item
	Anchors       []Anchor
	Links         []Link
}

// Item is something drawn: *Text, *Rule, *Box, *Curve or *Picture.
type Item interface{ item() }

// Text is a run of words on one baseline.
type Text struct {
	X, Y  float64 // left end of the baseline
	Words []typeset.Placed
}

// Rule is a straight line.
type Rule struct {
	X1, Y1, X2, Y2 float64
	Width          float64
	Ink            typeset.Ink
	Dash           float64 // length of dash and gap; 0 solid
}

// Box is a filled rectangle.
type Box struct {
	X, Y, W, H float64
	Ink        typeset.Ink
}

// Curve is a polyline, drawn or filled; a Dot is a filled circle.
type Curve struct {
	Points [][2]float64
	Width  float64
	Ink    typeset.Ink
	Fill   bool
}

// Dot is a filled circle.
type Dot struct {
	X, Y, R float64
	Ink     typeset.Ink
}

// Picture is a JPEG file on the page. To maps the unit square of the picture
// as stored (0,0 its top-left pixel corner, 1,1 its bottom-right) to the page:
// x' = To[0]x + To[2]y + To[4], y' = To[1]x + To[3]y + To[5]. Where Clip has a
// size, only that part of the page is painted.
type Picture struct {
	Path string
	To   [6]float64
	Clip Rect
	Info jpegfile.Info // its head; read when the page was laid out
}

// Rect is a rectangle on the page.
type Rect struct{ X, Y, W, H float64 }

// Anchor is a place links lead to.
type Anchor struct {
	Key string
	Y   float64
}

// Link is an area that leads to an anchor.
type Link struct {
	Area Rect
	Key  string
}

func (*Text) item()    {}
func (*Rule) item()    {}
func (*Box) item()     {}
func (*Curve) item()   {}
func (*Dot) item()     {}
func (*Picture) item() {}

// Bookmark is one line of the outline beside the pages.
type Bookmark struct {
	Title string
	Level int // from 0
	Page  int // index of the page
	Y     float64
}

// Document is a laid-out job: pages in order, their outline, and the case the
// type came from.
type Document struct {
	Pages    []*Page
	Outline  []Bookmark
	Case     *typeset.Case
	Title    string
	Author   string
	Subject  string
	Language string // BCP 47
}

// Text places a string with its left end at x.
func (p *Page) Text(st typeset.Style, x, y float64, s string) float64 {
	if s == "" {
		return 0
	}
	run := st.Shape(s)
	p.Items = append(p.Items, &Text{X: x, Y: y, Words: []typeset.Placed{{Style: st, Run: run}}})
	return st.RunWidth(run)
}

// TextRight places a string with its right end at x.
func (p *Page) TextRight(st typeset.Style, x, y float64, s string) {
	p.Text(st, x-st.Width(s), y, s)
}

// TextCentre places a string about x.
func (p *Page) TextCentre(st typeset.Style, x, y float64, s string) {
	p.Text(st, x-st.Width(s)/2, y, s)
}

// Line places a set line.
func (p *Page) Line(x, y float64, l typeset.Line) {
	if len(l.Words) > 0 {
		p.Items = append(p.Items, &Text{X: x, Y: y, Words: l.Words})
	}
}

// Lines places set lines one below the other and returns the next baseline.
func (p *Page) Lines(x, y, lead float64, ls []typeset.Line) float64 {
	for _, l := range ls {
		p.Line(x, y, l)
		y += lead
	}
	return y
}

// Rule draws a horizontal rule.
func (p *Page) Rule(x, y, w, width float64, k typeset.Ink) {
	p.Items = append(p.Items, &Rule{X1: x, Y1: y, X2: x + w, Y2: y, Width: width, Ink: k})
}

// Add appends an item.
func (p *Page) Add(i Item) { p.Items = append(p.Items, i) }
