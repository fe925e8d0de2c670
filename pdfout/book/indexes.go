package book

import (
	"sort"
	"strings"

	"pullbook/catalog"
	"pullbook/pdfout/display"
	"pullbook/pdfout/makeup"
	"pullbook/pdfout/typeset"
)

// reference is one number in an index; main ones are set heavier.
type reference struct {
	plate *catalog.Plate
	main  bool
}

// heading is one heading of an index.
type heading struct {
	text   string
	italic bool
	key    string
	refs   []reference
}

// indexer collects headings.
type indexer struct {
	order []string
	by    map[string]*heading
}

// add adds a reference under a heading, once for each plate.
func (x *indexer) add(text, key string, italic bool, pl *catalog.Plate, main bool) {
	text = strings.TrimSpace(typeset.Clean(text))
	if text == "" {
		return
	}
	if x.by == nil {
		x.by = map[string]*heading{}
	}
	h := x.by[text]
	if h == nil {
		h = &heading{text: text, italic: italic, key: key}
		x.by[text] = h
		x.order = append(x.order, text)
	}
	for i := range h.refs {
		if h.refs[i].plate == pl {
			h.refs[i].main = h.refs[i].main || main
			return
		}
	}
	h.refs = append(h.refs, reference{pl, main})
}

// indexPart makes up one index: headings in order, letters between them, in
// balanced columns. References are to catalogue numbers.
func (b *book) indexPart(p Part) {
	var x indexer
	usual := ""
	switch p.Kind {
	case TitleIndex:
		usual = b.t("Index of titles")
		for _, pl := range b.ordered {
			for i, t := range pl.Titles {
				x.add(cutText(t.Text, 160), filingKey(t.Text), true, pl, i == 0)
			}
		}
	case PersonIndex:
		usual = b.t("Index of persons")
		b.indexPersons(&x)
	case MethodIndex:
		usual = b.t("Index of techniques")
		for _, pl := range b.ordered {
			for i, t := range pl.Techniques {
				x.add(b.word(string(t)), filingKey(b.word(string(t))), false, pl, i == 0)
			}
			for _, st := range b.states[pl.ID] {
				for _, t := range st.Techniques {
					x.add(b.word(string(t)), filingKey(b.word(string(t))), false, pl, false)
				}
			}
		}
	case PaperIndex:
		usual = b.t("Index of papers")
		for _, im := range b.sheets() {
			if pp := b.papers[im.PaperID]; pp != nil {
				x.add(pp.Name, filingKey(pp.Name), false, b.plateOf(im), false)
			}
		}
	case HolderIndex:
		usual = b.t("Index of holders")
		for _, im := range b.sheets() {
			h := b.holders[im.HolderID]
			if h == nil {
				continue
			}
			name := joinNonEmpty(", ", h.Name, h.Place)
			if h.Private && !b.opt.ShowPrivate {
				name = b.t("private collections")
			}
			x.add(name, filingKey(name), false, b.plateOf(im), false)
		}
	}
	if len(x.order) == 0 {
		return
	}
	b.section(p.heading(usual))
	if strings.TrimSpace(p.Text) != "" {
		b.Flow(b.Prose(p.Text, b.proseWidth()))
		b.Flow([]makeup.Block{{Height: b.Lead}})
	}
	b.setIndex(x)
}

// sheets lists impressions in the order of their plates.
func (b *book) sheets() []*catalog.Impression {
	var out []*catalog.Impression
	for _, pl := range b.ordered {
		out = append(out, b.impressions[pl.ID]...)
	}
	return out
}

// plateOf finds the plate of an impression.
func (b *book) plateOf(im *catalog.Impression) *catalog.Plate { return b.plateWith(im.PlateID) }

// plateWith finds a plate by its ID.
func (b *book) plateWith(id catalog.ID) *catalog.Plate {
	if b.plateByID == nil {
		b.plateByID = catalog.ByID(b.snap.Plates, func(p *catalog.Plate) catalog.ID { return p.ID })
	}
	return b.plateByID[id]
}

// indexPersons collects printmakers, printers, publishers and former owners.
func (b *book) indexPersons(x *indexer) {
	add := func(id catalog.ID, pl *catalog.Plate, main bool) {
		p := b.people[id]
		if p == nil || pl == nil {
			return
		}
		name := p.Sort
		if name == "" {
			name = p.Name
		}
		x.add(name, filingKey(name), false, pl, main)
	}
	for _, pl := range b.ordered {
		if pl.MakerID != b.snap.Imprint.MakerID {
			add(pl.MakerID, pl, true)
		}
		for _, e := range b.editions[pl.ID] {
			add(e.PrinterID, pl, false)
			add(e.Publisher, pl, false)
		}
		for _, im := range b.impressions[pl.ID] {
			add(im.PrinterID, pl, false)
			for _, o := range im.Provenance {
				if o.Name != "" {
					x.add(o.Name, filingKey(o.Name), false, pl, false)
				} else if h := b.holders[o.HolderID]; h != nil && (!h.Private || b.opt.ShowPrivate) {
					x.add(h.Name, filingKey(h.Name), false, pl, false)
				}
			}
		}
	}
}

// setIndex sets the headings in columns.
func (b *book) setIndex(x indexer) {
	sort.SliceStable(x.order, func(i, j int) bool {
		a, c := x.by[x.order[i]], x.by[x.order[j]]
		if a.key != c.key {
			return a.key < c.key
		}
		return a.text < c.text
	})
	n := 3
	if b.TextWidth() < 150*makeup.MM {
		n = 2
	}
	if len(x.order) < 12 {
		n = 2
	}
	gap := 7 * makeup.MM
	width := (b.TextWidth() - float64(n-1)*gap) / float64(n)
	st := b.Body.At(b.TextSize * .91)
	lead := st.Size * 1.27
	letters := len(x.order) >= 16
	var blocks []makeup.Block
	last := ""
	for _, key := range x.order {
		h := x.by[key]
		if l := filingLetter(h.key); letters && l != last {
			last = l
			blocks = append(blocks, makeup.Block{Before: lead * .75, Height: lead, Keep: true, Draw: func(p *display.Page, x, y float64) {
				p.Text(st.In(typeset.Accent), x, y+lead*.745, l)
			}})
		}
		blocks = append(blocks, b.indexEntry(h, st, lead, width)...)
	}
	b.Columns(blocks, n, gap)
}

// indexEntry sets a heading and its numbers, turned lines hanging.
func (b *book) indexEntry(h *heading, st typeset.Style, lead, width float64) []makeup.Block {
	head := st
	if h.italic {
		head = st.With(b.Case.Italic)
	}
	sort.SliceStable(h.refs, func(i, j int) bool {
		return catalog.CompareNumbers(h.refs[i].plate.Number, h.refs[j].plate.Number) < 0
	})
	mains := 0
	for _, r := range h.refs {
		if r.main {
			mains++
		}
	}
	spans := []typeset.Span{{Style: head, Text: h.text}}
	for _, run := range numberRuns(h.refs) {
		num := st
		if run.main && mains < len(h.refs) {
			num = st.With(b.Case.SemiBold)
		}
		spans = append(spans, typeset.Span{Style: st, Text: ", "}, typeset.Span{Style: num, Text: tie(run.text)})
	}
	lines := b.Case.Break(typeset.Paragraph{Spans: spans, Width: width, Indent: -11, Ragged: true, MaxLines: 40})
	out := makeup.LineBlocks(lines, lead)
	return out
}

// numberRun is one number, or several that follow each other: "3–7".
type numberRun struct {
	text string
	main bool
}

// numberRuns draws numbers that follow each other together, four or more; those
// with letters, and main ones among others, stand by themselves.
func numberRuns(refs []reference) []numberRun {
	plain := func(r reference) int {
		n := r.plate.Number
		if n.Prefix != "" || n.Suffix != "" {
			return -1 << 40
		}
		return n.N
	}
	var out []numberRun
	for i := 0; i < len(refs); {
		j := i + 1
		for j < len(refs) && refs[j].main == refs[i].main && plain(refs[j]) == plain(refs[j-1])+1 {
			j++
		}
		if j-i >= 4 {
			out = append(out, numberRun{numberText(refs[i].plate) + "–" + numberText(refs[j-1].plate), refs[i].main})
		} else {
			for _, r := range refs[i:j] {
				out = append(out, numberRun{numberText(r.plate), r.main})
			}
		}
		i = j
	}
	return out
}
