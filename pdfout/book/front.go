package book

import (
	"fmt"
	"strings"

	"pullbook/catalog"
	"pullbook/pdfout/display"
	"pullbook/pdfout/makeup"
	"pullbook/pdfout/typeset"
)

// halfTitle is the first page: the title alone.
func (b *book) halfTitle() {
	b.EvenOut()
	b.Blank()
	lines := b.Case.Break(typeset.Paragraph{Spans: []typeset.Span{{Style: b.Sub.With(b.Case.Italic).At(b.TextSize * 1.5), Text: b.title()}},
		Width: b.TextWidth() * .8, Ragged: true, MaxLines: 6})
	b.Page.Lines(b.Left(), b.Height*makeup.MM*.3, b.TextSize*1.9, lines)
}

// titlePage sets title, subtitle, author, and the imprint at the foot, all from
// one left edge.
func (b *book) titlePage() {
	b.EvenOut()
	b.Blank()
	b.Bookmark(0, b.t("Title page"))
	im := b.snap.Imprint
	w := b.TextWidth() * .92
	y := b.Height * makeup.MM * .22
	set := func(st typeset.Style, text string, lead float64, max int) {
		lines := b.Case.Break(typeset.Paragraph{Spans: []typeset.Span{{Style: st, Text: text}}, Width: w, Ragged: true, MaxLines: max})
		if len(lines) > 0 && lines[len(lines)-1].Cut {
			b.warn(b.t("The title page: a text is too long for it and was cut."))
		}
		y = b.Page.Lines(b.Left(), y, lead, lines)
	}
	if n := b.personName(im.MakerID); n != "" && n != b.title() {
		set(b.Sub.With(b.Case.SmallCaps).At(b.TextSize*1.5).In(typeset.Grey), n, b.TextSize*2, 3)
		y += b.TextSize * .4
	}
	size := b.titleSize(b.title(), b.TextSize*4.1, w, 4)
	y += size * .62
	set(b.Styles.Title.At(size), b.title(), size*1.12, 6)
	if s := strings.TrimSpace(im.Subtitle); s != "" {
		y += b.TextSize * .7
		set(b.Sub.At(b.TextSize*1.45), s, b.TextSize*1.9, 5)
	}
	if s := strings.TrimSpace(im.Author); s != "" {
		y += b.TextSize * 2.4
		set(b.Sub.At(b.TextSize*1.3), s, b.TextSize*1.7, 3)
	}
	foot := joinNonEmpty(" ", im.Publisher)
	place := joinNonEmpty("\u2002", im.Place, im.Year)
	y = b.Bottom() - b.TextSize*1.6
	b.Page.Rule(b.Left(), y-b.TextSize*1.9, 12*makeup.MM, .5, typeset.Accent)
	set(b.Sub.At(b.TextSize*1.15), foot, b.TextSize*1.6, 1)
	set(b.Sub.With(b.Case.SmallCaps).At(b.TextSize*1.15).In(typeset.Grey), strings.ToLower(place), b.TextSize*1.6, 1)
}

// titleSize steps a display size down until the text takes few enough lines.
func (b *book) titleSize(text string, size, width float64, lines int) float64 {
	if len(text) > 2000 {
		return size * .42
	}
	for _, k := range []float64{1, .82, .68, .55} {
		set := b.Case.Break(typeset.Paragraph{Spans: []typeset.Span{{Style: b.Styles.Title.At(size * k), Text: text}}, Width: width, Ragged: true})
		if len(set) <= lines {
			return size * k
		}
	}
	return size * .42
}

// imprintPage is the back of the title page: publication, rights, at its foot.
func (b *book) imprintPage(p Part) {
	b.Blank()
	im := b.snap.Imprint
	text := p.Text
	if strings.TrimSpace(text) == "" {
		var parts []string
		if s := joinNonEmpty(", ", im.Publisher, im.Place, im.Year); s != "" {
			parts = append(parts, b.t("Published by %s.", s))
		}
		if im.Rights != "" {
			parts = append(parts, im.Rights)
		}
		parts = append(parts, b.t("Facts, measurements and photographs are those of the catalogue on the day this book was made. Statements of edition do not replace what local law may ask to be disclosed when prints are sold."))
		text = strings.Join(parts, "\n\n")
	}
	var blocks []makeup.Block
	lead := b.Small.Size * 1.36
	for _, par := range makeup.Paragraphs(text) {
		lines := makeup.LineBlocks(b.Case.Break(typeset.Paragraph{Spans: makeup.Emphasis(par, b.Small, b.SmallItalic, b.Small.With(b.Case.SemiBold)),
			Width: b.TextWidth() * .62, Ragged: true, Language: b.Language}), lead)
		if len(lines) > 0 {
			lines[0].Before = lead * .6
		}
		blocks = append(blocks, lines...)
	}
	if len(blocks) > 0 {
		blocks[0].Before = 0
	}
	stack := makeup.Stack(blocks)
	b.Y = max(b.Top(), b.Bottom()-stack.Height)
	b.Flow(blocks)
}

// joinNonEmpty joins the texts that are not empty.
func joinNonEmpty(sep string, texts ...string) string {
	var out []string
	for _, t := range texts {
		if t = strings.TrimSpace(t); t != "" {
			out = append(out, t)
		}
	}
	return strings.Join(out, sep)
}

// keepContents keeps pages for the contents, which are known when all else is
// made up.
func (b *book) keepContents(p Part) {
	b.EvenOut()
	lines := 0
	for _, q := range b.opt.Parts {
		if !q.Off {
			lines++
		}
	}
	lines += len(b.snap.Plates)
	perPage := int(b.Depth() / b.Lead)
	n := 1
	if first := perPage - 4; lines > first {
		n += (lines - first + perPage - 1) / perPage
	}
	b.standIns = append(b.standIns, standIn{len(b.Doc.Pages), n})
	key := fmt.Sprintf("part-%d", len(b.listed))
	b.listed = append(b.listed, listing{kind: -1, title: p.heading(b.t("Contents")), page: len(b.Doc.Pages), key: key})
	b.Recto = strings.ToLower(p.heading(b.t("Contents")))
	for i := range n {
		if i == 0 {
			b.Open()
			b.Anchor(key)
			b.Bookmark(0, p.heading(b.t("Contents")))
		} else {
			b.Next()
		}
	}
}

// contents fills the pages kept for it.
func (b *book) contents() {
	for _, s := range b.standIns {
		var heading string
		var lines []listing
		for _, l := range b.listed {
			if l.kind < 0 {
				heading = l.title
			} else if l.page >= s.first+s.n {
				lines = append(lines, l)
			}
		}
		at := 0
		for i := range s.n {
			page := b.Doc.Pages[s.first+i]
			x := b.Outer * makeup.MM
			if (s.first+i)%2 == 0 {
				x = b.Inner * makeup.MM
			}
			y := b.Top()
			if i == 0 {
				page.Text(b.Chapter, x, y+b.Lead+b.Chapter.Size*.9, heading)
				y += 4 * b.Lead
			}
			for at < len(lines) && y+b.Lead <= b.Bottom()+.1 {
				b.contentsLine(page, x, y, lines[at])
				y += b.Lead
				at++
			}
		}
	}
}

// contentsLine sets one line of the contents: number, title, page, with a quiet
// leader between.
func (b *book) contentsLine(page *display.Page, x, y float64, l listing) {
	w := min(b.TextWidth(), b.proseWidth())
	base := y + b.Lead*.745
	label := b.Doc.Pages[l.page].Label
	st, left := b.Body, x
	if l.kind == 1 {
		st = b.Styles.Italic
		page.TextRight(b.Table.In(typeset.Accent), x+22, base, l.number)
		left = x + 30
	}
	pageWidth := b.Body.With(b.Case.Tabular).Width(label)
	title, _ := st.Cutoff(l.title, w-(left-x)-pageWidth-24)
	end := left + page.Text(st, left, base, title)
	page.TextRight(b.Body.With(b.Case.Tabular), x+w, base, label)
	dot := b.Body.In(typeset.Hair)
	step := b.TextSize * .62
	// Dots stand on a grid of the page, so that they align from line to line.
	for k := int((x+w-pageWidth-8-x)/step) - 1; k > 0; k-- {
		px := x + float64(k)*step
		if px < end+6 {
			break
		}
		page.Items = append(page.Items, &display.Dot{X: px, Y: base - 1, R: .42, Ink: dot.Ink})
	}
	page.Links = append(page.Links, display.Link{Area: display.Rect{X: x, Y: y, W: w, H: b.Lead}, Key: l.key})
}

// abbreviations lists short titles, holders and the trade's abbreviations.
func (b *book) abbreviations(p Part) {
	var rows [][2]string
	for _, l := range b.snap.Literature {
		if l.Short != "" {
			rows = append(rows, [2]string{l.Short, joinNonEmpty(", ", l.Authors, "*"+l.Title+"*", l.Published, b.dateText(l.Year))})
		}
	}
	for _, e := range b.snap.Exhibitions {
		if e.Short != "" {
			rows = append(rows, [2]string{e.Short, joinNonEmpty(", ", b.t("exhibition *%s*", e.Title), e.Venue, e.Place, b.dateText(e.Date))})
		}
	}
	for _, h := range b.snap.Holders {
		if h.Short != "" && (!h.Private || b.opt.ShowPrivate) {
			rows = append(rows, [2]string{h.Short, joinNonEmpty(", ", h.Name, h.Place)})
		}
	}
	trade := [][2]string{{"A.P.", b.t("artist’s proof, outside the numbered edition")}, {"B.A.T.", b.t("bon à tirer: the pull passed for printing, against which the edition is measured")},
		{"C.P.", b.t("cancellation proof, from the defaced plate")}, {"H.C.", b.t("hors commerce: not for sale")}, {"P.P.", b.t("printer’s proof")},
		{"T.P.", b.t("trial proof")}, {"wm", b.t("watermark")}}
	if len(rows) == 0 && len(b.snap.Impressions) == 0 && p.Text == "" {
		return
	}
	b.chapter(p.heading(b.t("Abbreviations")), false)
	b.Flow(b.Prose(p.Text, b.proseWidth()))
	if len(rows) > 0 {
		b.Flow(b.terms(b.t("Literature, exhibitions, collections"), rows))
	}
	b.Flow(b.terms(b.t("Impressions"), trade))
}

// terms sets a list of short forms and what they stand for.
func (b *book) terms(heading string, rows [][2]string) []makeup.Block {
	out := []makeup.Block{b.sectionHead(heading, b.TextWidth())}
	left := min(38*makeup.MM, b.TextWidth()*.26)
	for _, r := range rows {
		key := b.Case.Break(typeset.Paragraph{Spans: []typeset.Span{{Style: b.Body, Text: r[0]}}, Width: left - 8, Ragged: true, MaxLines: 4})
		val := b.Case.Break(typeset.Paragraph{Spans: makeup.Emphasis(r[1], b.Body, b.Styles.Italic, b.Strong), Width: min(b.TextWidth(), b.proseWidth()+left) - left, Ragged: true, MaxLines: 10})
		n := max(len(key), len(val))
		out = append(out, makeup.Block{Height: float64(n) * b.Lead, Draw: func(p *display.Page, x, y float64) {
			p.Lines(x, y+b.Lead*.745, b.Lead, key)
			p.Lines(x+left, y+b.Lead*.745, b.Lead, val)
		}})
	}
	return append(out, makeup.Block{Height: b.Lead})
}

// sectionHead is a rule with a small-capital head under it; it stays with what
// follows.
func (b *book) sectionHead(text string, width float64) makeup.Block {
	text, _ = b.Section.Cutoff(strings.ToLower(text), width)
	return makeup.Block{Height: 22, Before: 13, Keep: true, Draw: func(p *display.Page, x, y float64) {
		p.Rule(x, y+.2, width, .35, typeset.Rule)
		p.Text(b.Section, x, y+12.5, text)
	}}
}

// chronology lists the plates year by year, as the dates can be ordered.
func (b *book) chronology(p Part) {
	type line struct {
		key, when string
		plates    []*catalog.Plate
	}
	var lines []line
	at := map[string]int{}
	for _, pl := range b.ordered {
		if pl.Date.IsZero() || pl.Standing == catalog.Rejected {
			continue
		}
		key, when := pl.Date.EDTF, b.dateText(pl.Date)
		if key == "" {
			key = "~" + when
		}
		k := dateKey(key) + "\x00" + when
		i, ok := at[k]
		if !ok {
			i = len(lines)
			at[k] = i
			lines = append(lines, line{key: k, when: when})
		}
		lines[i].plates = append(lines[i].plates, pl)
	}
	if len(lines) == 0 && p.Text == "" {
		return
	}
	sortBy(lines, func(l line) string { return l.key })
	b.chapter(p.heading(b.t("Chronology")), false)
	b.Flow(b.Prose(p.Text, b.proseWidth()))
	left := 30 * makeup.MM
	width := min(b.TextWidth(), b.proseWidth()) - left
	var out []makeup.Block
	for _, l := range lines {
		var spans []typeset.Span
		for i, pl := range l.plates {
			if i > 0 {
				spans = append(spans, typeset.Span{Style: b.Body, Text: "; "})
			}
			spans = append(spans, typeset.Span{Style: b.Styles.Italic, Text: b.titleText(pl)}, typeset.Span{Style: b.Body.In(typeset.Grey), Text: " " + tie(numberText(pl))})
		}
		set := b.Case.Break(typeset.Paragraph{Spans: spans, Width: width, Ragged: true, MaxLines: 40})
		when := b.Case.Break(typeset.Paragraph{Spans: []typeset.Span{{Style: b.Body, Text: l.when}}, Width: left - 10, Ragged: true, MaxLines: 4})
		out = append(out, makeup.Block{Height: float64(max(len(set), len(when))) * b.Lead, Draw: func(p *display.Page, x, y float64) {
			p.Lines(x, y+b.Lead*.745, b.Lead, when)
			p.Lines(x+left, y+b.Lead*.745, b.Lead, set)
		}})
	}
	b.Flow(out)
}

// tie puts no-break spaces into a short text; long ones are left free.
func tie(s string) string {
	if len(s) > 24 {
		return s
	}
	return strings.ReplaceAll(s, " ", "\u00a0")
}
