package book

import (
	"slices"
	"sort"
	"strings"

	"pullbook/catalog"
	"pullbook/pdfout/display"
	"pullbook/pdfout/makeup"
)

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
	b.section(p.heading(b.t("Picture credits")))
	sort.Strings(order)
	var t []string
	for _, c := range order {
		refs := plates[c]
		sort.SliceStable(refs, func(i, j int) bool { return catalog.CompareNumbers(refs[i].plate.Number, refs[j].plate.Number) < 0 })
		var nums []string
		for _, r := range numberRuns(refs) {
			nums = append(nums, tie(r.text))
		}
		s := strings.ReplaceAll(c, "*", "")
		if len(nums) > 0 {
			s += b.t(": nos.\u00a0%s", strings.Join(nums, ", "))
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
			b.t("Composed by Pullbook in EB Garamond, a free revival (SIL Open Font License 1.1) of a French roman and italic of the sixteenth century."))
	}
	b.EvenOut()
	b.Blank()
	b.Anchor("colophon")
	b.Bookmark(0, p.heading(b.t("Colophon")))
	b.listed = append(b.listed, listing{title: p.heading(b.t("Colophon")), page: b.Index(), key: "colophon"})
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
