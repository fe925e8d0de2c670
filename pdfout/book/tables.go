package book

import (
	"fmt"
	"strconv"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/notation"
	"pullbook/pdfout/display"
	"pullbook/pdfout/makeup"
	"pullbook/pdfout/typeset"
)

// tableLead is the leading of tables.
func (b *book) tableLead() float64 { return b.Table.Size * 1.4 }

// editionBlocks sets the table of editions.
func (b *book) editionBlocks(pl *catalog.Plate) []makeup.Block {
	list := b.editions[pl.ID]
	if len(list) == 0 {
		return nil
	}
	narrow := b.TextWidth() < 150*makeup.MM
	t := makeup.Table{Lead: b.tableLead(), Gap: 9, Columns: []makeup.Column{
		{Head: b.t("state"), Width: 26}, {Head: b.t("edition"), Share: 1.15}, {Head: b.t("date"), Width: 44}, {Head: b.t("paper"), Share: 1.1},
		{Head: b.t("number"), Width: 36, Right: true}, {Width: 4}, {Head: b.t("outside it"), Share: .95}, {Head: b.t("signed, stamped"), Share: 1.1}}}
	if narrow {
		t.Columns = append(t.Columns[:3:3], t.Columns[4:]...)
	}
	total := 0
	for _, e := range list {
		st := ""
		if s := b.state[e.StateID]; s != nil {
			st = notation.Roman(s.N)
		}
		paper := ""
		if p := b.papers[e.PaperID]; p != nil {
			paper = p.Name
		}
		total += e.Size
		cells := []string{st, b.editionName(e), b.dateText(e.Date), paper, zeroDash(e.Size), "", b.outside(e), joinNonEmpty("; ", e.Signed, e.Stamps)}
		if narrow {
			cells = append(cells[:3:3], cells[4:]...)
		}
		t.Rows = append(t.Rows, makeup.Cells(b.Table, cells...))
	}
	if len(list) > 1 && total > 0 {
		t.Total = make([]makeup.Cell, len(t.Columns))
		t.Total[1] = makeup.Cell{Spans: []typeset.Span{{Style: b.TableItalic, Text: b.t("numbered, in all")}}}
		n := 4
		if narrow {
			n = 3
		}
		t.Total[n] = makeup.Cell{Spans: []typeset.Span{{Style: b.Table, Text: strconv.Itoa(total)}}}
	}
	out := []makeup.Block{b.sectionHead(b.t("Editions"), b.TextWidth())}
	out = append(out, b.TableBlocks(t, b.TextWidth())...)
	for _, e := range list {
		if s := joinNonEmpty(" ", e.Statement, e.Remarks); s != "" {
			out[len(out)-1].Keep = true
			out = append(out, b.note(upperFirst(b.editionName(e))+": "+s, b.TextWidth())...)
		}
	}
	return append(out, makeup.Block{Height: b.Lead * .5})
}

// note sets small text under a table.
func (b *book) note(text string, width float64) []makeup.Block {
	lead := b.Small.Size * 1.32
	lines := makeup.LineBlocks(b.Case.Break(typeset.Paragraph{Spans: makeup.Emphasis(text, b.Small.In(typeset.Grey), b.SmallItalic.In(typeset.Grey), b.Small.With(b.Case.SemiBold)),
		Width: width, Ragged: true, Language: b.Language}), lead)
	if len(lines) > 0 {
		lines[0].Before = 3
	}
	return lines
}

// editionName is how an edition is called.
func (b *book) editionName(e *catalog.Edition) string {
	if e.Name != "" {
		return e.Name
	}
	if e.Kind != "" {
		return b.word(e.Kind)
	}
	return b.t("edition")
}

// outside lists proofs outside the numbering.
func (b *book) outside(e *catalog.Edition) string {
	var out []string
	for _, p := range []struct {
		n    int
		mark string
	}{{e.Artists, "A.P."}, {e.Printers, "P.P."}, {e.HorsComm, "H.C."}, {e.Trials, "T.P."}, {e.Others, b.t("others")}} {
		if p.n > 0 {
			out = append(out, fmt.Sprintf("%d\u00a0%s", p.n, p.mark))
		}
	}
	return strings.Join(out, ", ")
}

// zeroDash writes a number, or a dash where none is recorded.
func zeroDash(n int) string {
	if n == 0 {
		return "–"
	}
	return strconv.Itoa(n)
}

// impressionBlocks sets the table of impressions with their scores.
func (b *book) impressionBlocks(pl *catalog.Plate) []makeup.Block {
	list := b.impressions[pl.ID]
	if len(list) == 0 {
		return nil
	}
	scored := false
	for _, im := range list {
		scored = scored || b.scores[im.ID] != nil
	}
	t := makeup.Table{Lead: b.tableLead(), Gap: 8, Columns: []makeup.Column{
		{Head: b.t("pull"), Width: 20, Right: true}, {Head: b.t("state"), Width: 24}, {Head: b.t("impression"), Share: 1.1}, {Head: b.t("paper"), Share: 1},
		{Head: b.t("holder"), Share: 1.25}}}
	if scored {
		t.Columns = append(t.Columns,
			makeup.Column{Head: b.t("ink loss"), Width: 84}, makeup.Column{Head: b.t("tone"), Width: 46, Right: true})
	}
	var refused []string
	scale := b.lossScale(pl)
	for _, im := range list {
		t.Rows = append(t.Rows, b.impressionRow(im, scored, scale, &refused))
	}
	out := []makeup.Block{b.sectionHead(b.t("Impressions"), b.TextWidth())}
	out = append(out, b.TableBlocks(t, b.TextWidth())...)
	if scored {
		out[len(out)-1].Keep = true
		s := b.t("Ink loss: the share of the reference pull’s line ink that is missing, with its standard uncertainty.")
		if scale.limit > 0 {
			s += " " + b.t("The stroke across the bars is the printer’s limit, %s.", b.percentPlain(scale.limit))
		}
		s += " " + b.t("Tone: mean density of the plate tone.")
		if ref := b.referenceWords(pl); ref != "" {
			s += " " + ref
		}
		out = append(out, b.note(s, b.TextWidth())...)
	}
	for _, s := range refused {
		out = append(out, b.note(s, b.TextWidth())...)
	}
	return append(out, makeup.Block{Height: b.Lead * .5})
}

// referenceWords names the reference pulls.
func (b *book) referenceWords(pl *catalog.Plate) string {
	var out []string
	for _, st := range b.states[pl.ID] {
		if im := b.impression[st.ReferenceID]; im != nil {
			name := b.sheetName(im)
			if im.Pull > 0 {
				name = joinNonEmpty(", ", name, b.t("pull %d", im.Pull))
			}
			if name != "" {
				out = append(out, b.t("state %s, %s", notation.Roman(st.N), name))
			}
		}
	}
	if len(out) == 0 {
		return ""
	}
	return b.t("Reference: %s.", strings.Join(out, "; "))
}

// impressionRow sets one impression.
func (b *book) impressionRow(im *catalog.Impression, scored bool, scale lossScale, refused *[]string) []makeup.Cell {
	st := ""
	if s := b.state[im.StateID]; s != nil {
		st = notation.Roman(s.N)
	}
	pull := ""
	if im.Pull > 0 {
		pull = strconv.Itoa(im.Pull)
	}
	paper := ""
	if p := b.papers[im.PaperID]; p != nil {
		paper = p.Name
	}
	holder := joinNonEmpty(", ", b.holderName(im.HolderID), im.Inventory)
	cells := makeup.Cells(b.Table, pull, st, b.sheetName(im), paper, holder)
	if !scored {
		return cells
	}
	sc := b.scores[im.ID]
	isRef := b.state[im.StateID] != nil && b.state[im.StateID].ReferenceID == im.ID
	switch {
	case isRef:
		cells = append(cells, makeup.Cells(b.TableItalic, b.t("reference"), "")...)
	case sc == nil:
		cells = append(cells, makeup.Cells(b.Table.In(typeset.Grey), b.t("not measured"), "")...)
	case sc.Verdict == "refused" || sc.InkLoss == nil:
		cells = append(cells, makeup.Cells(b.Table.In(typeset.Grey), b.t("cannot tell"), "")...)
		if sc.Reason != "" {
			*refused = append(*refused, upperFirst(joinNonEmpty(", ", b.sheetName(im), b.t("pull %s", zeroDash(im.Pull))))+": "+b.lang.Say(sc.Why()))
		}
	default:
		cells = append(cells, b.lossCell(sc, scale))
	}
	if sc != nil && sc.PlateTone != nil && len(cells) < 7 {
		cells = append(cells, makeup.Cells(b.Table, b.t("%.2f", sc.PlateTone.V))...)
	} else if len(cells) < 7 {
		cells = append(cells, makeup.Cell{})
	} else if sc != nil && sc.PlateTone != nil {
		cells[6] = makeup.Cells(b.Table, b.t("%.2f", sc.PlateTone.V))[0]
	}
	return cells
}

// lossCell draws ink loss as a bar on one scale for the whole table, a stroke
// where the printer's limit lies, and the figure.
func (b *book) lossCell(sc *catalog.Score, scale lossScale) makeup.Cell {
	text := b.percentWords(*sc.InkLoss)
	share := func(v float64) float64 { return max(0, min(1, v/scale.top)) }
	return makeup.Cell{Draw: func(p *display.Page, x, y, w float64) {
		const bar = 36.0
		p.Add(&display.Box{X: x, Y: y - 3.1, W: bar, H: .5, Ink: typeset.Hair})
		p.Add(&display.Box{X: x, Y: y - 4.2, W: max(.5, bar*share(sc.InkLoss.V)), H: 2.7, Ink: typeset.Bar})
		if scale.limit > 0 {
			p.Add(&display.Box{X: x + bar*share(scale.limit), Y: y - 5.6, W: .6, H: 5.5, Ink: typeset.Accent})
		}
		p.TextRight(b.Table, x+w, y, text)
	}}
}

// lossScale is the common scale of the bars of a table.
type lossScale struct{ top, limit float64 }

// lossScale finds the scale that holds every loss of a plate and its limit.
func (b *book) lossScale(pl *catalog.Plate) lossScale {
	s := lossScale{limit: pl.LossLimit}
	if s.limit == 0 {
		s.limit = b.snap.Imprint.LossLimit
	}
	s.top = max(1.5*s.limit, .05)
	for _, im := range b.impressions[pl.ID] {
		if sc := b.scores[im.ID]; sc != nil && sc.InkLoss != nil {
			s.top = max(s.top, sc.InkLoss.V)
		}
	}
	return s
}

// percentWords writes a fraction and its uncertainty as percentages, to the
// digits the uncertainty allows: one decimal where it is below two per cent.
func (b *book) percentWords(v catalog.Value) string {
	decimals := 0
	if v.U*100 < 1.95 {
		decimals = 1
	}
	value := fmt.Sprintf("%.*f", decimals, v.V*100)
	if rest, ok := strings.CutPrefix(value, "-"); ok {
		if strings.Trim(rest, "0.") == "" {
			value = rest // no negative zero
		} else {
			value = "−" + rest
		}
	}
	return b.lang.Figure(value) + " ± " + b.lang.Figure(fmt.Sprintf("%.*f", decimals, v.U*100)) + "\u00a0%"
}
