package book

import (
	"sort"
	"strings"

	"pullbook/catalog"
	"pullbook/pdfout/makeup"
	"pullbook/pdfout/typeset"
)

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
	b.chapter(p.heading(b.t("Concordances")), false)
	text := p.Text
	if strings.TrimSpace(text) == "" {
		text = b.t("The numbers of this catalogue against those of earlier lists, then each earlier list against this one. A dash marks a plate the earlier list does not have.")
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
	heads := []string{b.t("no.")}
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
	b.numberTable([]string{strings.ToLower(shortTitle(w)), b.t("no.")}, rows)
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
		per := min(room, max((len(rows)+n-1)/n, 12)) // columns of a few rows look lost
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
