package book

import (
	"fmt"
	"sort"
	"strings"

	"pullbook/catalog"
	"pullbook/pdfout/display"
	"pullbook/pdfout/makeup"
	"pullbook/pdfout/typeset"
)

// watermarks shows the papers with their watermarks, photographed through the
// sheet, with chain lines and the plates they were used for.
func (b *book) watermarks(p Part) {
	var papers []*catalog.Paper
	for i := range b.snap.Papers {
		pp := &b.snap.Papers[i]
		if pp.Watermark != "" || pp.WatermarkPhotoID != "" || pp.ChainLineMM > 0 {
			papers = append(papers, pp)
		}
	}
	if len(papers) == 0 {
		return
	}
	used := map[catalog.ID][]*catalog.Plate{}
	for _, pl := range b.ordered {
		seen := map[catalog.ID]bool{}
		for _, im := range b.impressions[pl.ID] {
			if !seen[im.PaperID] {
				seen[im.PaperID] = true
				used[im.PaperID] = append(used[im.PaperID], pl)
			}
		}
	}
	b.chapter(p.heading("Watermarks"), true)
	b.Flow(b.Prose(p.Text, b.proseWidth()))
	for _, pp := range papers {
		b.Flow(b.watermark(pp, used[pp.ID]))
	}
}

// watermark sets one paper: facts left, picture right, at actual size where
// its photograph is marked.
func (b *book) watermark(pp *catalog.Paper, plates []*catalog.Plate) []makeup.Block {
	picW := min(62*makeup.MM, b.TextWidth()*.4)
	pic := b.watermarkPicture(pp, picW)
	w := min(b.TextWidth(), b.proseWidth())
	if pic.Draw != nil {
		w = b.TextWidth() - picW - 9*makeup.MM
	}
	var spans []typeset.Span
	say := func(st typeset.Style, s string) { spans = append(spans, typeset.Span{Style: st, Text: s}) }
	say(b.Styles.Italic, pp.Name)
	say(b.Body, ". "+upperFirst(joinNonEmpty(", ", pp.Maker, pp.Kind)))
	if pp.WeightGSM > 0 {
		say(b.Body, fmt.Sprintf(", %s\u00a0g/m²", trimNumber(pp.WeightGSM)))
	}
	say(b.Body, ".")
	if pp.Watermark != "" {
		say(b.Body, " Watermark: "+strings.TrimSuffix(pp.Watermark, ".")+".")
	}
	if pp.ChainLineMM > 0 {
		say(b.Body, fmt.Sprintf(" Chain lines %s\u00a0mm apart.", trimNumber(pp.ChainLineMM)))
	}
	if pp.Note != "" {
		say(b.Body, " "+pp.Note)
	}
	if len(plates) > 0 {
		say(b.Body.In(typeset.Grey), " Used for ")
		var nums []string
		for _, pl := range plates {
			nums = append(nums, tie(numberText(pl)))
		}
		say(b.Body.With(b.Case.Medium), "nos. "+strings.Join(nums, ", "))
		say(b.Body, ".")
	}
	lines := makeup.LineBlocks(b.Case.Break(typeset.Paragraph{Spans: spans, Width: w, Language: b.Language, MaxLines: 36}), b.Lead)
	text := makeup.Stack(lines)
	x2 := b.TextWidth() - picW
	return []makeup.Block{{Before: b.Lead, Height: max(text.Height, pic.Height), Draw: func(p *display.Page, x, y float64) {
		text.Draw(p, x, y)
		if pic.Draw != nil {
			pic.Draw(p, x+x2, y+3)
		}
	}}}
}

// watermarkPicture shows the photograph of a watermark. Photographs of papers
// have no plate mark, so the scale is stated only where the picture's own size
// is known; here it is shown whole.
func (b *book) watermarkPicture(pp *catalog.Paper, width float64) makeup.Block {
	ph := b.photos[pp.WatermarkPhotoID]
	if ph == nil {
		return makeup.Block{}
	}
	size := markSize(b.impression[ph.ImpressionID], b.lookup)
	v, err := b.plateView(ph, size)
	if err != nil || v == nil {
		if err != nil {
			b.warn(fmt.Sprintf("Watermark of %s: no picture: %v.", pp.Name, err))
		}
		return makeup.Block{}
	}
	scale := "not to scale"
	h := width * v.aspect()
	draw := func(p *display.Page, x, y float64) { v.whole(p, display.Rect{X: x, Y: y, W: width, H: h}) }
	if v.located {
		// A part of the sheet as wide as the column, at actual size.
		wmm := min(width/makeup.MM, size.WidthMM)
		hmm := min(wmm*.9, size.HeightMM)
		x0, y0 := (size.WidthMM-wmm)/2, (size.HeightMM-hmm)/2
		h = hmm * makeup.MM
		draw = func(p *display.Page, x, y float64) {
			v.draw(p, [4]float64{x0, y0, x0 + wmm, y0 + hmm}, display.Rect{X: x, Y: y, W: wmm * makeup.MM, H: h})
		}
		scale = "actual size"
	}
	return makeup.Block{Height: h + 13, Draw: func(p *display.Page, x, y float64) {
		draw(p, x, y)
		p.TextRight(b.CaptionRoman, x+width, y+h+9.6, scale)
	}}
}

// markSize is the size of the plate printed on an impression.
func markSize(im *catalog.Impression, l *lookup) catalog.Size {
	if im == nil {
		return catalog.Size{}
	}
	for _, pl := range l.ordered {
		if pl.ID == im.PlateID {
			return pl.MeasureSize()
		}
	}
	return catalog.Size{}
}

// concordances sets numbers of this catalogue against those of earlier ones,
// and back.
func (b *book) concordances(p Part) {
	var works []*catalog.Literature
	for i := range b.snap.Literature {
		w := &b.snap.Literature[i]
		if w.Catalogue && len(b.numbersIn(w)) > 0 {
			works = append(works, w)
		}
	}
	if len(works) == 0 {
		return
	}
	b.chapter(p.heading("Concordances"), true)
	text := p.Text
	if strings.TrimSpace(text) == "" {
		text = "The numbers of this catalogue against those of earlier lists, then each earlier list against this one. A dash marks a plate the earlier list does not have."
	}
	b.Flow(b.Prose(text, b.proseWidth()))
	b.Flow([]makeup.Block{{Height: b.Lead * .8}})
	b.thisToEarlier(works)
	for _, w := range works {
		b.earlierToThis(w)
	}
}

// numbersIn lists the plates a work has numbers for.
func (b *book) numbersIn(w *catalog.Literature) map[catalog.ID][]string {
	out := map[catalog.ID][]string{}
	for _, pl := range b.ordered {
		for _, c := range pl.Literature {
			if c.WorkID == w.ID && c.Number != "" {
				out[pl.ID] = append(out[pl.ID], c.Number)
			}
		}
	}
	return out
}

// thisToEarlier sets one table with a column for each earlier list.
func (b *book) thisToEarlier(works []*catalog.Literature) {
	for most := map[bool]int{true: 3, false: 5}[b.TextWidth() < 150*makeup.MM]; len(works) > most; works = works[most:] {
		b.thisToEarlier(works[:most])
	}
	heads := []string{"no."}
	var rows [][]string
	nums := make([]map[catalog.ID][]string, len(works))
	for i, w := range works {
		heads = append(heads, strings.ToLower(shortTitle(w)))
		nums[i] = b.numbersIn(w)
	}
	for _, pl := range b.ordered {
		row := []string{numberText(pl)}
		found := false
		for i := range works {
			n := strings.Join(nums[i][pl.ID], ", ")
			found = found || n != ""
			if n == "" {
				n = "–"
			}
			row = append(row, n)
		}
		if found {
			rows = append(rows, row)
		}
	}
	b.numberTable(heads, rows)
}

// earlierToThis sets an earlier list's numbers against ours.
func (b *book) earlierToThis(w *catalog.Literature) {
	type pair struct{ theirs, ours string }
	var pairs []pair
	nums := b.numbersIn(w)
	for _, pl := range b.ordered {
		for _, n := range nums[pl.ID] {
			pairs = append(pairs, pair{n, numberText(pl)})
		}
	}
	sort.SliceStable(pairs, func(i, j int) bool { return naturalLess(pairs[i].theirs, pairs[j].theirs) })
	var rows [][]string
	for _, q := range pairs {
		rows = append(rows, []string{q.theirs, q.ours})
	}
	b.Flow([]makeup.Block{b.keepHead(shortTitle(w), 5*b.Lead), {Height: 2}})
	b.numberTable([]string{strings.ToLower(shortTitle(w)), "no."}, rows)
}

// naturalLess orders texts with figures by the figures' value.
func naturalLess(a, c string) bool {
	ka, kc := naturalKey(a), naturalKey(c)
	if ka != kc {
		return ka < kc
	}
	return a < c
}

// naturalKey pads every figure so that text order is number order.
func naturalKey(s string) string {
	var out, run strings.Builder
	flush := func() {
		if run.Len() > 0 {
			out.WriteString(strings.Repeat("0", max(0, 9-run.Len())) + run.String())
			run.Reset()
		}
	}
	for _, r := range strings.ToLower(s) {
		if r >= '0' && r <= '9' {
			run.WriteRune(r)
			continue
		}
		flush()
		out.WriteRune(r)
	}
	flush()
	return out.String()
}

// numberTable sets rows of numbers in as many narrow columns as the page has
// room for, each with its heads, a light rule after every fifth row.
func (b *book) numberTable(heads []string, rows [][]string) {
	cell := make([]float64, len(heads))
	for i, h := range heads {
		h, _ = b.Label.Cutoff(h, 70)
		heads[i] = h
		cell[i] = max(b.Label.Width(h), 24)
		for _, r := range rows {
			cell[i] = max(cell[i], min(b.Table.Width(r[i]), 70))
		}
	}
	gap, groupGap := 13.0, 9*makeup.MM
	need := -gap
	for _, c := range cell {
		need += c + gap
	}
	n := max(1, min(4, int((b.TextWidth()+groupGap)/(need+groupGap))))
	width := (b.TextWidth() - float64(n-1)*groupGap) / float64(n)
	if n == 1 {
		width = min(b.TextWidth(), need*1.5)
	}
	lead := b.Table.Size * 1.32
	ends := make([]float64, len(cell)) // right edges
	extra := max(0, (width-need)/float64(max(1, len(cell)-1)))
	x := 0.0
	for i, c := range cell {
		x += c
		ends[i] = min(x, width)
		x += gap + extra
	}
	for len(rows) > 0 {
		room := int((b.Room() - lead - 10) / (lead + .7))
		if room < 5 {
			b.Next()
			continue
		}
		per := min(room, (len(rows)+n-1)/n)
		deepest := b.Y
		for g := 0; g < n && len(rows) > 0; g++ {
			part := rows[:min(per, len(rows))]
			rows = rows[len(part):]
			deepest = max(deepest, b.numberColumn(heads, part, ends, b.Left()+float64(g)*(width+groupGap), width, lead))
		}
		b.Y = deepest
		if len(rows) > 0 {
			b.Next()
		}
	}
	b.Y += b.Lead
}

// numberColumn draws one group of rows and returns its foot.
func (b *book) numberColumn(heads []string, rows [][]string, ends []float64, x, width, lead float64) float64 {
	p, y := b.Page, b.Y
	for i, h := range heads {
		p.TextRight(b.Label, x+ends[i], y+lead*.745, h)
	}
	y += lead + 2
	p.Rule(x, y, width, .35, typeset.Rule)
	y += 2.4
	for r, row := range rows {
		for i, s := range row {
			st := b.Table
			if i == 0 {
				st = b.TableStrong
			}
			s, _ = st.Cutoff(s, 70)
			p.TextRight(st, x+ends[i], y+lead*.745, s)
		}
		y += lead
		if r%5 == 4 && r < len(rows)-1 {
			p.Rule(x, y+1.3, width, .2, typeset.Hair)
			y += 3.2
		}
	}
	p.Rule(x, y+1.6, width, .25, typeset.Hair)
	return y + 4
}

// credits lists who made the photographs.
func (b *book) credits(p Part) {
	byCredit := map[string]map[string]bool{}
	for i := range b.snap.Photographs {
		ph := &b.snap.Photographs[i]
		if ph.Credit == "" {
			continue
		}
		num := ""
		if im := b.impression[ph.ImpressionID]; im != nil {
			for _, pl := range b.ordered {
				if pl.ID == im.PlateID {
					num = numberText(pl)
				}
			}
		}
		if byCredit[ph.Credit] == nil {
			byCredit[ph.Credit] = map[string]bool{}
		}
		if num != "" {
			byCredit[ph.Credit][num] = true
		}
	}
	if len(byCredit) == 0 && strings.TrimSpace(p.Text) == "" {
		return
	}
	b.section(p.heading("Picture credits"))
	var t []string
	for c, nums := range byCredit {
		var list []string
		for n := range nums {
			list = append(list, n)
		}
		sort.Slice(list, func(i, j int) bool { return naturalLess(list[i], list[j]) })
		s := c
		if len(list) > 0 {
			s += ": nos. " + strings.Join(list, ", ")
		}
		t = append(t, s+".")
	}
	sort.Strings(t)
	b.Flow(b.Prose(joinNonEmpty("\n\n", p.Text, strings.Join(t, "\n\n")), b.proseWidth()))
}

// colophon says how the book was made; the user's own words come first.
func (b *book) colophon(p Part) {
	text := p.Text
	if strings.TrimSpace(text) == "" {
		text = joinNonEmpty("\n\n", b.snap.Imprint.Colophon,
			"Composed by Pullbook in EB Garamond, a free revival (SIL Open Font License 1.1) of a French roman and italic of the sixteenth century.")
	}
	b.EvenOut()
	b.Blank()
	b.Anchor("colophon")
	b.Bookmark(0, p.heading("Colophon"))
	b.listed = append(b.listed, listing{title: p.heading("Colophon"), page: b.Index(), key: "colophon"})
	w := min(b.TextWidth()*.66, 92*makeup.MM)
	blocks := plain(b.Prose(text, w))
	h := makeup.Stack(blocks).Height
	b.Y = max(b.Top(), b.Top()+(b.Depth()-h)*.62)
	x := (b.TextWidth() - w) / 2
	for i := range blocks {
		draw := blocks[i].Draw
		blocks[i].Draw = func(p *display.Page, left, y float64) { draw(p, left+x, y) }
	}
	b.Flow(blocks)
}
