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

// fact is one line of the list under the reproduction.
type fact struct{ label, text string }

// factBlocks sets the facts of a plate, each over a hairline.
func (b *book) factBlocks(pl *catalog.Plate) []makeup.Block { return b.twoColumns(b.facts(pl)) }

// twoColumns sets facts in two columns, their labels of one width; where they
// are too long for that, one below the other over the whole width.
func (b *book) twoColumns(facts []fact) []makeup.Block {
	if len(facts) == 0 {
		return nil
	}
	gap := 8 * makeup.MM
	w := (b.TextWidth() - gap) / 2
	label := 0.0
	for i := range facts {
		facts[i].label = strings.ToLower(facts[i].label) // set in small capitals
	}
	for _, f := range facts {
		label = max(label, b.Label.Width(f.label)+9)
	}
	var rows []makeup.Block
	for _, f := range facts {
		rows = append(rows, b.factRow(f, w, label))
	}
	if makeup.Stack(rows).Height > b.Depth() {
		rows = rows[:0]
		for _, f := range facts {
			rows = append(rows, b.factRow(f, b.TextWidth(), label))
		}
		return rows
	}
	split := bestSplit(rows)
	left, right := makeup.Stack(rows[:split]), makeup.Stack(rows[split:])
	return []makeup.Block{{Before: b.Lead * .4, Height: max(left.Height, right.Height), Draw: func(p *display.Page, x, y float64) {
		left.Draw(p, x, y)
		right.Draw(p, x+w+gap, y)
	}}}
}

// bestSplit divides rows in two columns, the first the higher where they
// cannot be equal.
func bestSplit(rows []makeup.Block) int {
	total := 0.0
	for _, r := range rows {
		total += r.Height
	}
	sum, n := 0.0, 0
	for n < len(rows) && sum < total/2-.1 {
		sum += rows[n].Height
		n++
	}
	return n
}

// factRow sets one fact.
func (b *book) factRow(f fact, w, label float64) makeup.Block {
	st := b.Body.At(b.TextSize * .95)
	lead := b.Lead * .96
	lines := b.Case.Break(typeset.Paragraph{Spans: makeup.Emphasis(f.text, st, st.With(b.Case.Italic), st.With(b.Case.SemiBold)),
		Width: w - label, Ragged: true, MaxLines: 14})
	h := float64(len(lines))*lead + 4.2
	return makeup.Block{Height: h, Draw: func(p *display.Page, x, y float64) {
		p.Text(b.Label, x, y+lead*.745, f.label)
		p.Lines(x+label, y+lead*.745, lead, lines)
		p.Rule(x, y+h-2.6, w, .25, typeset.Hair)
	}}
}

// facts lists what is known of a plate; what was looked for and not found is
// said.
func (b *book) facts(pl *catalog.Plate) []fact {
	var out []fact
	add := func(label, text string) {
		if text = strings.TrimSpace(text); text != "" {
			out = append(out, fact{label, text})
		}
	}
	add(b.t("titles"), b.otherTitles(pl))
	add(b.t("by"), b.makerNote(pl))
	add(b.t("plate"), b.plateFacts(pl))
	add(b.t("lettering"), b.inscriptionText(pl.Inscriptions))
	add(b.t("sheets"), b.sheetRange(pl))
	add(b.t("papers"), b.papersOf(pl))
	add(b.t("printing inks"), b.inksOf(pl))
	add(b.t("wiping"), b.wipingOf(pl))
	add(b.t("printed by"), b.printersOf(pl))
	add(b.t("in"), b.groupsOf(pl))
	add(b.t("earlier lists"), b.earlier(pl))
	add(b.t("subjects"), strings.Join(pl.Subjects, ", "))
	var unknown []string
	for _, f := range pl.NotKnown {
		unknown = append(unknown, b.word(b.fieldWords(f)))
	}
	add(b.t("not known"), strings.Join(unknown, ", "))
	return out
}

// fieldWords names a field of a record in words.
func (b *book) fieldWords(name string) string {
	if w, ok := map[string]string{"mark": "size of the plate mark", "copper": "size of the metal", "metal": "metal", "date": "date",
		"fate": "fate of the plate", "fate_date": "date of its fate", "maker_id": "printmaker", "thickness_mm": "thickness",
		"paper_id": "paper", "printer_id": "printer", "publisher_id": "publisher", "size": "size of the edition",
		"sheet": "size of the sheet", "pull": "count of the pull", "ink_id": "printing ink"}[name]; ok {
		return w
	}
	return strings.ReplaceAll(strings.TrimSuffix(name, "_id"), "_", " ")
}

// otherTitles lists titles besides the one used, and a long title whole.
func (b *book) otherTitles(pl *catalog.Plate) string {
	var out []string
	for i, t := range pl.Titles {
		if i == 0 {
			if len([]rune(t.Text)) > 120 {
				out = append(out, "*"+cutText(strings.ReplaceAll(t.Text, "*", ""), 500)+"*")
			} else if t.Given == "supplied" {
				out = append(out, b.t("the title is supplied"))
			}
			continue
		}
		w := "*" + strings.ReplaceAll(cutText(t.Text, 300), "*", "") + "*"
		if t.Given == "supplied" {
			w = "[" + w + "]"
		}
		out = append(out, w)
	}
	return strings.Join(out, "; ")
}

// makerNote names the printmaker where it is not the one of the whole book.
func (b *book) makerNote(pl *catalog.Plate) string {
	if pl.MakerID == "" || pl.MakerID == b.snap.Imprint.MakerID {
		return ""
	}
	return b.personName(pl.MakerID)
}

// plateFacts describes the metal and what became of it.
func (b *book) plateFacts(pl *catalog.Plate) string {
	var out []string
	if pl.Metal != "" {
		out = append(out, b.word(pl.Metal))
	}
	if !pl.Copper.IsZero() {
		out = append(out, b.sizeText(pl.Copper))
	}
	if pl.ThicknessMM > 0 {
		out = append(out, b.t("%s\u00a0mm thick", b.trimNumber(pl.ThicknessMM)))
	}
	if pl.BevelMM > 0 {
		out = append(out, b.t("bevel\u00a0%s\u00a0mm", b.trimNumber(pl.BevelMM)))
	}
	if pl.SteelFaced {
		s := b.t("steel-faced")
		if pl.SteelFacedAtPull > 0 {
			s = b.t("steel-faced at pull %d", pl.SteelFacedAtPull)
		}
		out = append(out, s)
	}
	text := strings.Join(out, ", ")
	fate := ""
	if pl.Fate != "" {
		fate = joinNonEmpty(" ", b.word(string(pl.Fate)), b.dateText(pl.FateDate))
		if pl.Fate == catalog.FateUnknown {
			fate = b.t("its fate is not known")
		}
	}
	return joinNonEmpty(". ", joinNonEmpty("; ", text, fate), strings.TrimSuffix(pl.FateNote, "."))
}

// trimNumber writes a number to the tenth, without a needless zero.
func (b *book) trimNumber(v float64) string {
	return b.lang.Figure(strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0"))
}

// inscriptionText transcribes inscriptions: line ends as strokes, place after
// the text.
func (b *book) inscriptionText(list []catalog.Inscription) string {
	var out []string
	for _, in := range list {
		text := strings.Join(strings.FieldsFunc(in.Text, func(r rune) bool { return r == '\n' || r == '\r' }), " | ")
		s := b.t("‘%s’", text)
		if w := joinNonEmpty(", ", b.word(in.Medium), in.Place); w != "" {
			s += " " + w
		}
		if in.By != "" {
			s += b.t(", by %s", in.By)
		}
		out = append(out, s)
	}
	return strings.Join(out, "; ")
}

// sheetRange states the sizes of the sheets seen.
func (b *book) sheetRange(pl *catalog.Plate) string {
	var sizes []catalog.Size
	for _, im := range b.impressions[pl.ID] {
		if !im.Sheet.IsZero() {
			sizes = append(sizes, im.Sheet)
		}
	}
	if len(sizes) == 0 {
		return ""
	}
	sort.Slice(sizes, func(i, j int) bool { return sizes[i].HeightMM*sizes[i].WidthMM < sizes[j].HeightMM*sizes[j].WidthMM })
	first, last := b.sizeText(sizes[0]), b.sizeText(sizes[len(sizes)-1])
	if first == last {
		return first
	}
	return b.t("%s to %s", strings.TrimSuffix(first, "\u00a0mm"), last)
}

// papersOf lists the papers its impressions are on, most used first.
func (b *book) papersOf(pl *catalog.Plate) string {
	return b.mostUsed(pl, func(im *catalog.Impression) string {
		if p := b.papers[im.PaperID]; p != nil {
			return b.paperWords(p)
		}
		return ""
	})
}

// inksOf lists the inks its impressions are printed with, most used first.
func (b *book) inksOf(pl *catalog.Plate) string {
	return b.mostUsed(pl, func(im *catalog.Impression) string {
		if ink := b.inks[im.InkID]; ink != nil {
			return inkWords(ink)
		}
		return ""
	})
}

// wipingOf lists how it was wiped for its impressions, most often first.
func (b *book) wipingOf(pl *catalog.Plate) string {
	return b.mostUsed(pl, func(im *catalog.Impression) string { return strings.TrimSpace(im.Wiping) })
}

// mostUsed lists what is said of a plate's impressions, what is said most
// often first; an impression of which nothing is said does not count.
func (b *book) mostUsed(pl *catalog.Plate, of func(*catalog.Impression) string) string {
	count := map[string]int{}
	var out []string
	for _, im := range b.impressions[pl.ID] {
		s := of(im)
		if s == "" {
			continue
		}
		if count[s] == 0 {
			out = append(out, s)
		}
		count[s]++
	}
	sort.SliceStable(out, func(i, j int) bool { return count[out[i]] > count[out[j]] })
	return strings.Join(out, "; ")
}

// inkWords names an ink: "Bone black, Quay works, warm black".
func inkWords(k *catalog.Ink) string {
	return joinNonEmpty(", ", k.Name, k.Maker, k.Colour)
}

// paperWords names a paper: "estuary wove, 250 g/m²".
func (b *book) paperWords(p *catalog.Paper) string {
	s := p.Name
	if p.Kind != "" && !strings.Contains(strings.ToLower(p.Name), strings.ToLower(p.Kind)) {
		s += ", " + b.word(p.Kind)
	}
	if p.WeightGSM > 0 {
		s += b.t(", %s\u00a0g/m²", b.trimNumber(p.WeightGSM))
	}
	return s
}

// printersOf names who printed it, with publishers.
func (b *book) printersOf(pl *catalog.Plate) string {
	var out []string
	seen := map[string]bool{}
	add := func(s string) {
		if s != "" && !seen[s] {
			seen[s] = true
			out = append(out, s)
		}
	}
	for _, im := range b.impressions[pl.ID] {
		add(b.personName(im.PrinterID))
	}
	for _, e := range b.editions[pl.ID] {
		add(b.personName(e.PrinterID))
		if n := b.personName(e.Publisher); n != "" {
			add(b.t("published by %s", n))
		}
	}
	return strings.Join(out, "; ")
}

// groupsOf names the portfolios and series it belongs to.
func (b *book) groupsOf(pl *catalog.Plate) string {
	var out []string
	for _, id := range pl.GroupIDs {
		if g := b.groups[id]; g != nil {
			out = append(out, joinNonEmpty(", ", joinNonEmpty(" ", b.word(g.Kind), "*"+strings.ReplaceAll(g.Title, "*", "")+"*"), b.dateText(g.Date)))
		}
	}
	return strings.Join(out, "; ")
}

// earlier lists its numbers in earlier catalogues.
func (b *book) earlier(pl *catalog.Plate) string {
	var out []string
	for _, c := range pl.Literature {
		w := b.literature[c.WorkID]
		if w == nil || !w.Catalogue || c.Number == "" {
			continue
		}
		out = append(out, shortTitle(w)+" "+tie(c.Number))
	}
	return strings.Join(out, "; ")
}

// shortTitle is how a work is cited.
func shortTitle(w *catalog.Literature) string {
	if w.Short != "" {
		return w.Short
	}
	return joinNonEmpty(", ", w.Authors, w.Title)
}
