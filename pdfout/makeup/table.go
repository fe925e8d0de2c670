package makeup

import (
	"strings"

	"pullbook/pdfout/display"
	"pullbook/pdfout/typeset"
)

// Cell is one cell of a table: text in spans, or something drawn.
type Cell struct {
	Spans []typeset.Span
	Draw  func(p *display.Page, x, y, w float64) // y is the baseline
}

// Column says how a column is set. Width 0 shares what is left by Share.
type Column struct {
	Head  string
	Width float64
	Share float64
	Right bool
}

// Table is a table with a head in small capitals, hairlines, no boxes.
type Table struct {
	Columns []Column
	Rows    [][]Cell
	Total   []Cell // last row, under a light rule
	Lead    float64
	Gap     float64
	// RuleEvery draws a light rule after so many rows; 0 none.
	RuleEvery int
}

// TableBlocks makes blocks of a table of a width. Cells are broken ragged; a
// row is not divided; the head is repeated on new pages; head and first two
// rows, and the last two, keep together.
func (m *Maker) TableBlocks(t Table, width float64) []Block {
	xs, ws := m.columns(t, width)
	head := Block{Height: t.Lead + 5, Keep: true, Draw: func(p *display.Page, x, y float64) {
		for i, c := range t.Columns {
			place(p, m.Label, c, x+xs[i], ws[i], y+t.Lead*baseline)
		}
		p.Rule(x, y+t.Lead+1, width, .35, typeset.Rule)
	}}
	again := head
	head.Again = &again
	out := []Block{head}
	for r, row := range t.Rows {
		b := m.row(row, t, xs, ws)
		b.Keep = r == 0 && len(t.Rows) > 1 || r == len(t.Rows)-2 && len(t.Rows) > 2 || r == len(t.Rows)-1 && t.Total != nil
		if t.RuleEvery > 0 && r%t.RuleEvery == t.RuleEvery-1 && r < len(t.Rows)-1 {
			draw, h := b.Draw, b.Height
			b.Height += 3.2
			b.Draw = func(p *display.Page, x, y float64) {
				draw(p, x, y)
				p.Rule(x, y+h+1.2, width, .2, typeset.Hair)
			}
		}
		out = append(out, b)
	}
	if t.Total != nil {
		b := m.row(t.Total, t, xs, ws)
		draw := b.Draw
		b.Height += 2.5
		b.Draw = func(p *display.Page, x, y float64) {
			p.Rule(x, y+1.5, width, .25, typeset.Hair)
			draw(p, x, y+2.5)
		}
		out = append(out, b)
	}
	out[len(out)-1].EndAgain = true
	return out
}

// place sets a column head.
func place(p *display.Page, st typeset.Style, c Column, x, w, y float64) {
	if c.Right {
		p.TextRight(st, x+w, y, strings.ToLower(c.Head))
		return
	}
	p.Text(st, x, y, strings.ToLower(c.Head))
}

// columns returns left edges and widths.
func (m *Maker) columns(t Table, width float64) (xs, ws []float64) {
	shares, left := 0.0, width-t.Gap*float64(len(t.Columns)-1)
	for i, c := range t.Columns {
		if c.Width > 0 { // no head reaches into the next column
			c.Width = max(c.Width, m.Label.Width(strings.ToLower(c.Head)))
			t.Columns[i] = c
			left -= c.Width
		} else {
			shares += c.Share
		}
	}
	for again := true; again; { // nor beyond its own
		again = false
		for i, c := range t.Columns {
			if head := m.Label.Width(strings.ToLower(c.Head)); c.Width == 0 && left*c.Share/shares < head && shares > c.Share {
				left, shares, again = left-head, shares-c.Share, true
				t.Columns[i].Width = head
			}
		}
	}
	x := 0.0
	for _, c := range t.Columns {
		w := c.Width
		if w == 0 {
			w = left * c.Share / shares
		}
		xs, ws = append(xs, x), append(ws, w)
		x += w + t.Gap
	}
	return xs, ws
}

// row sets one row.
func (m *Maker) row(cells []Cell, t Table, xs, ws []float64) Block {
	set := make([][]typeset.Line, len(cells))
	n := 1
	for i, c := range cells {
		if len(c.Spans) == 0 {
			continue
		}
		set[i] = m.Case.Break(typeset.Paragraph{Spans: c.Spans, Width: ws[i] + .5, Ragged: true, Language: m.Language, MaxLines: 12})
		n = max(n, len(set[i]))
	}
	return Block{Height: float64(n) * t.Lead, Draw: func(p *display.Page, x, y float64) {
		for i, c := range cells {
			if c.Draw != nil {
				c.Draw(p, x+xs[i], y+t.Lead*baseline, ws[i])
			}
			for k, l := range set[i] {
				dx := 0.0
				if t.Columns[i].Right {
					dx = ws[i] - l.Width
				}
				p.Line(x+xs[i]+dx, y+(float64(k)+baseline)*t.Lead, l)
			}
		}
	}}
}

// Cells makes a row of plain cells in one style.
func Cells(st typeset.Style, texts ...string) []Cell {
	out := make([]Cell, len(texts))
	for i, s := range texts {
		if s != "" {
			out[i] = Cell{Spans: []typeset.Span{{Style: st, Text: s}}}
		}
	}
	return out
}
