package book

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/notation"
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

// watermark sets one paper: its facts, the plates it was used for, and its
// watermark, at actual size where that is known and fits.
func (b *book) watermark(pp *catalog.Paper, plates []*catalog.Plate) []makeup.Block {
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
		var refs []reference
		for _, pl := range plates {
			refs = append(refs, reference{plate: pl})
		}
		var nums []string
		for _, r := range numberRuns(refs) {
			nums = append(nums, tie(r.text))
		}
		say(b.Body.In(typeset.Grey), " Used for ")
		say(b.Body.With(b.Case.Medium), "nos. "+strings.Join(nums, ", "))
		say(b.Body, ".")
	}
	pic := b.watermarkPicture(pp)
	gap := 9 * makeup.MM
	w := min(b.TextWidth(), b.proseWidth())
	beside := pic.block.Draw != nil && pic.width < b.TextWidth()*.55
	if beside {
		w = b.TextWidth() - pic.width - gap
	}
	lines := makeup.LineBlocks(b.Case.Break(typeset.Paragraph{Spans: spans, Width: w, Language: b.Language, MaxLines: 36}), b.Lead)
	text := makeup.Stack(lines)
	switch {
	case pic.block.Draw == nil:
		return []makeup.Block{{Before: b.Lead, Height: text.Height, Draw: text.Draw}}
	case beside:
		return []makeup.Block{{Before: b.Lead, Height: max(text.Height, pic.block.Height+3), Draw: func(p *display.Page, x, y float64) {
			text.Draw(p, x, y)
			pic.block.Draw(p, x+b.TextWidth()-pic.width, y+3)
		}}}
	}
	pic.block.Before = b.Lead * .5
	return []makeup.Block{{Before: b.Lead, Height: text.Height, Keep: true, Draw: text.Draw}, pic.block}
}

// watermarkPic is the picture of a watermark as it will be placed.
type watermarkPic struct {
	block makeup.Block
	width float64
}

// watermarkPicture shows the whole photograph of a watermark. Its scale is
// known where the plate mark is marked on it; it is then printed at actual
// size, or as near as the page allows.
func (b *book) watermarkPicture(pp *catalog.Paper) watermarkPic {
	ph := b.photos[pp.WatermarkPhotoID]
	if ph == nil {
		return watermarkPic{}
	}
	v, err := b.photoView(ph, markSize(b.impression[ph.ImpressionID], b.lookup))
	if err != nil || v == nil {
		if err != nil {
			b.warn(fmt.Sprintf("Watermark of %s: no picture: %v.", pp.Name, err))
		}
		return watermarkPic{}
	}
	w := min(62*makeup.MM, b.TextWidth()*.4)
	scale := "not to scale"
	if v.located {
		across := float64(v.info.Width)
		if v.info.Turned() {
			across = float64(v.info.Height)
		}
		full := across / v.pixelsPerMM() * makeup.MM
		w = min(full, b.TextWidth(), b.Depth()*.62/v.aspect())
		scale = scaleWords(w / full)
		b.checkPPI(v, w/full, "Watermark of "+pp.Name)
	} else {
		b.warn(fmt.Sprintf("Watermark of %s: its picture has no scale and cannot be printed at actual size; mark the corners of the plate on it.", pp.Name))
	}
	h := w * v.aspect()
	return watermarkPic{width: w, block: makeup.Block{Height: h + 13, Draw: func(p *display.Page, x, y float64) {
		v.whole(p, display.Rect{X: x, Y: y, W: w, H: h})
		p.TextRight(b.CaptionRoman, x+w, y+h+9.6, scale)
	}}}
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
		per := min(room, max((len(rows)+n-1)/n, 8)) // columns of fewer than eight rows look lost
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

// credits lists who made the photographs, and of which plates.
func (b *book) credits(p Part) {
	var order []string
	plates := map[string][]reference{}
	for i := range b.snap.Photographs {
		ph := &b.snap.Photographs[i]
		if strings.TrimSpace(ph.Credit) == "" {
			continue
		}
		if _, ok := plates[ph.Credit]; !ok {
			order = append(order, ph.Credit)
			plates[ph.Credit] = nil
		}
		im := b.impression[ph.ImpressionID]
		if im == nil {
			continue
		}
		pl := b.plateOf(im)
		if pl == nil || slices.Contains(plates[ph.Credit], reference{plate: pl}) {
			continue
		}
		plates[ph.Credit] = append(plates[ph.Credit], reference{plate: pl})
	}
	if len(order) == 0 && strings.TrimSpace(p.Text) == "" {
		return
	}
	b.section(p.heading("Picture credits"))
	sort.Strings(order)
	var t []string
	for _, c := range order {
		refs := plates[c]
		sort.SliceStable(refs, func(i, j int) bool { return notation.CompareNumbers(refs[i].plate.Number, refs[j].plate.Number) < 0 })
		var nums []string
		for _, r := range numberRuns(refs) {
			nums = append(nums, tie(r.text))
		}
		s := strings.ReplaceAll(c, "*", "")
		if len(nums) > 0 {
			s += ": nos.\u00a0" + strings.Join(nums, ", ")
		}
		t = append(t, s+".")
	}
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
