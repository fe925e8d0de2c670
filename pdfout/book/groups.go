package book

import (
	"slices"
	"strings"

	"pullbook/catalog"
	"pullbook/pdfout/display"
	"pullbook/pdfout/makeup"
	"pullbook/pdfout/typeset"
)

// groupsPart lists portfolios, series and sets with the plates in them, in the
// order of their numbers.
func (b *book) groupsPart(p Part) {
	var groups []*catalog.Group
	for i := range b.snap.Groups {
		if len(b.platesOf(b.snap.Groups[i].ID)) > 0 {
			groups = append(groups, &b.snap.Groups[i])
		}
	}
	if len(groups) == 0 {
		return
	}
	sortBy(groups, func(g *catalog.Group) string { return dateKey(g.Date.EDTF) + filingKey(g.Title) })
	b.chapter(p.heading(b.t("Portfolios and series")), false)
	b.Flow(b.Prose(p.Text, b.proseWidth()))
	for _, g := range groups {
		b.Flow(b.groupBlocks(g))
	}
}

// platesOf lists the plates of a group.
func (b *book) platesOf(group catalog.ID) []*catalog.Plate {
	var out []*catalog.Plate
	for _, pl := range b.ordered {
		if slices.Contains(pl.GroupIDs, group) {
			out = append(out, pl)
		}
	}
	return out
}

// groupBlocks sets one group: title, kind and date, note, and its plates.
func (b *book) groupBlocks(g *catalog.Group) []makeup.Block {
	width := min(b.TextWidth(), b.proseWidth())
	spans := []typeset.Span{{Style: b.Styles.Italic.At(b.TextSize * 1.25), Text: g.Title}}
	if s := joinNonEmpty(", ", b.word(g.Kind), b.dateText(g.Date)); s != "" {
		spans = append(spans, typeset.Span{Style: b.Body.In(typeset.Grey), Text: "\u2002 " + s})
	}
	out := makeup.LineBlocks(b.Case.Break(typeset.Paragraph{Spans: spans, Width: width, Ragged: true, MaxLines: 4}), b.Lead*1.2)
	for i := range out {
		out[i].Keep = true
	}
	if len(out) > 0 {
		out[0].Before = 1.4 * b.Lead
	}
	if s := strings.TrimSpace(g.Note); s != "" {
		note := plain(b.Prose(s, width))
		if len(note) > 0 {
			note[len(note)-1].Keep = true
		}
		out = append(out, note...)
	}
	for _, pl := range b.platesOf(g.ID) {
		num := numberText(pl)
		lines := b.Case.Break(typeset.Paragraph{Spans: []typeset.Span{{Style: b.Styles.Italic, Text: b.titleText(pl)},
			{Style: b.Body.In(typeset.Grey), Text: "\u2002 " + b.dateText(pl.Date)}}, Width: width - 34, Ragged: true, MaxLines: 3})
		out = append(out, makeup.Block{Height: float64(len(lines)) * b.Lead, Draw: func(p *display.Page, x, y float64) {
			p.TextRight(b.Table.In(typeset.Accent), x+24, y+b.Lead*.745, num)
			p.Lines(x+34, y+b.Lead*.745, b.Lead, lines)
		}})
	}
	return out
}
