package book

import (
	"sort"
	"strings"

	"pullbook/catalog"
	"pullbook/pdfout/makeup"
	"pullbook/pdfout/typeset"
)

// remarkBlocks sets the remarks: in two columns where the page is wide and the
// text of a handy length, else in one.
func (b *book) remarkBlocks(pl *catalog.Plate) []makeup.Block {
	text := strings.TrimSpace(pl.Remarks)
	if text == "" {
		return nil
	}
	out := []makeup.Block{b.sectionHead(b.t("Remarks"), b.TextWidth())}
	gap := 7 * makeup.MM
	if b.TextWidth() >= 150*makeup.MM && len(text) > 500 {
		columns := b.Balanced(plain(b.Prose(text, (b.TextWidth()-gap)/2)), 2, gap)
		if columns.Height < b.Depth()*.55 {
			return append(out, columns, makeup.Block{Height: b.Lead * .5})
		}
	}
	out = append(out, plain(b.Prose(text, min(b.TextWidth(), b.proseWidth())))...)
	return append(out, makeup.Block{Height: b.Lead * .5})
}

// plain takes blocks off the grid: columns have their own.
func plain(blocks []makeup.Block) []makeup.Block {
	for i := range blocks {
		blocks[i].OnGrid = false
	}
	return blocks
}

// keepHead is a section head that goes to the next page where less than room
// would follow it.
func (b *book) keepHead(text string, room float64) makeup.Block {
	head := b.sectionHead(text, b.TextWidth())
	head.Keep = false
	if b.Room() < head.Height+head.Before+room {
		b.Next()
	}
	return head
}

// sourceBlocks sets exhibitions and literature, oldest first, in small type.
func (b *book) sourceBlocks(pl *catalog.Plate) []makeup.Block {
	var out []makeup.Block
	if spans := b.exhibitionSpans(pl.Exhibitions); len(spans) > 0 {
		out = append(out, b.source(b.t("exhibitions"), spans)...)
	}
	if spans := b.literatureSpans(pl.Literature); len(spans) > 0 {
		out = append(out, b.source(b.t("literature"), spans)...)
	}
	return out
}

// source sets one paragraph with its label.
func (b *book) source(label string, spans []typeset.Span) []makeup.Block {
	lead := b.Small.Size * 1.34
	spans = append([]typeset.Span{{Style: b.Label, Text: strings.ToLower(label)}, {Style: b.Small, Text: "\u2002 "}}, spans...)
	lines := makeup.LineBlocks(b.Case.Break(typeset.Paragraph{Spans: spans, Width: b.TextWidth(), Ragged: true, Language: b.Language}), lead)
	if len(lines) > 0 {
		lines[0].Before = 6
	}
	return lines
}

// exhibitionSpans cites exhibitions.
func (b *book) exhibitionSpans(list []catalog.Showing) []typeset.Span {
	var spans []typeset.Span
	for _, s := range list {
		e := b.exhibitions[s.ExhibitionID]
		if e == nil {
			continue
		}
		name := e.Short
		if name == "" {
			name = joinNonEmpty(", ", e.Title, e.Place, b.dateText(e.Date))
		}
		if len(spans) > 0 {
			spans = append(spans, typeset.Span{Style: b.Small, Text: "; "})
		}
		spans = append(spans, typeset.Span{Style: b.SmallItalic, Text: name})
		if s.Number != "" {
			spans = append(spans, typeset.Span{Style: b.Small, Text: b.t(", no.\u00a0%s", s.Number)})
		}
		if s.Note != "" {
			spans = append(spans, typeset.Span{Style: b.Small, Text: " (" + s.Note + ")"})
		}
	}
	return endStop(spans, b.Small)
}

// literatureSpans cites literature, oldest first.
func (b *book) literatureSpans(list []catalog.Citation) []typeset.Span {
	list = append([]catalog.Citation(nil), list...)
	sort.SliceStable(list, func(i, j int) bool { return b.yearKey(list[i]) < b.yearKey(list[j]) })
	var spans []typeset.Span
	for _, c := range list {
		w := b.literature[c.WorkID]
		if w == nil {
			continue
		}
		if len(spans) > 0 {
			spans = append(spans, typeset.Span{Style: b.Small, Text: "; "})
		}
		spans = append(spans, typeset.Span{Style: b.SmallItalic, Text: shortTitle(w)})
		text := ""
		if c.Number != "" {
			text += " " + tie(c.Number)
		}
		if c.Pages != "" {
			label := b.t(", p.\u00a0")
			if c.Pages[0] < '0' || c.Pages[0] > '9' {
				label = ", " // "book 9, 3-8" says itself what it counts
			} else if strings.ContainsAny(c.Pages, "–-,") {
				label = b.t(", pp.\u00a0")
			}
			text += label + strings.ReplaceAll(c.Pages, "-", "–")
		}
		if c.Note != "" {
			text += " (" + c.Note + ")"
		}
		spans = append(spans, typeset.Span{Style: b.Small, Text: text})
	}
	return endStop(spans, b.Small)
}

// endStop ends a list of sources with a full stop.
func endStop(spans []typeset.Span, st typeset.Style) []typeset.Span {
	if len(spans) == 0 {
		return nil
	}
	return append(spans, typeset.Span{Style: st, Text: "."})
}

// yearKey orders citations by the year of the work.
func (b *book) yearKey(c catalog.Citation) string {
	if w := b.literature[c.WorkID]; w != nil {
		return dateKey(w.Year.EDTF)
	}
	return "~"
}
