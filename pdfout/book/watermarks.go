package book

import (
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
	b.chapter(p.heading(b.t("Watermarks")), false)
	b.Flow(b.Prose(p.Text, b.proseWidth()))
	for _, pp := range papers {
		b.Flow(b.watermark(pp, used[pp.ID]))
	}
}

// watermark sets one paper: its facts, the plates it was used for, and its
// watermark, at actual size where that is known and fits.
func (b *book) watermark(pp *catalog.Paper, plates []*catalog.Plate) []makeup.Block {
	var spans []typeset.Span
	add := func(st typeset.Style, s string) { spans = append(spans, typeset.Span{Style: st, Text: s}) }
	add(b.Styles.Italic, pp.Name)
	add(b.Body, ". "+upperFirst(joinNonEmpty(", ", pp.Maker, b.word(pp.Kind))))
	if pp.WeightGSM > 0 {
		add(b.Body, b.t(", %s\u00a0g/m²", b.trimNumber(pp.WeightGSM)))
	}
	add(b.Body, ".")
	if pp.Watermark != "" {
		add(b.Body, " "+b.t("Watermark: %s.", strings.TrimSuffix(pp.Watermark, ".")))
	}
	if pp.ChainLineMM > 0 {
		add(b.Body, " "+b.t("Chain lines %s\u00a0mm apart.", b.trimNumber(pp.ChainLineMM)))
	}
	if pp.Note != "" {
		add(b.Body, " "+pp.Note)
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
		add(b.Body.In(typeset.Grey), " "+b.t("Used for")+" ")
		add(b.Body.With(b.Case.Medium), b.t("nos. %s", strings.Join(nums, ", ")))
		add(b.Body, ".")
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
			b.warn(b.t("Watermark of %s: no picture: %v.", pp.Name, err))
		}
		return watermarkPic{}
	}
	w := min(62*makeup.MM, b.TextWidth()*.4)
	scale := b.t("not to scale")
	if v.located {
		across := float64(v.info.Width)
		if v.info.Turned() {
			across = float64(v.info.Height)
		}
		full := across / v.pixelsPerMM() * makeup.MM
		w = min(full, b.TextWidth(), b.Depth()*.62/v.aspect())
		scale = b.scaleWords(w / full)
		b.checkPPI(v, w/full, b.t("Watermark of %s", pp.Name))
	} else {
		b.warn(b.t("Watermark of %s: its picture has no scale and cannot be printed at actual size; mark the corners of the plate on it.", pp.Name))
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
