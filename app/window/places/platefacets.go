package places

import (
	"cmp"
	"slices"

	"pullbook/app/window/words"
	"pullbook/catalog"
)

// What the list of plates can be narrowed down by, besides techniques. Several
// hold together.
const (
	byStanding = iota
	byFate
	byEdition
	byGroup
	byPaper
	byHolder
	facets
)

func facetName(k int) string {
	return []string{words.T("Standing"), words.T("Fate of the metal"), words.T("Editions"), words.T("Portfolios and series"), words.T("Papers"), words.T("Holders")}[k]
}

// facets notes what a plate, its sheets and its editions have. Words the
// catalogue keeps stand for themselves.
func (r *plateRow) facets(b *book, p *catalog.Plate, sheets []*catalog.Impression) {
	add := func(k int, id catalog.ID) {
		if id != "" && !slices.Contains(r.has[k], id) {
			r.has[k] = append(r.has[k], id)
		}
	}
	add(byStanding, catalog.ID(p.Standing))
	add(byFate, catalog.ID(p.Fate))
	for _, e := range b.editionsOf[p.ID] {
		add(byEdition, catalog.ID(e.Kind))
	}
	for _, id := range p.GroupIDs {
		add(byGroup, id)
	}
	for _, s := range sheets {
		add(byPaper, s.PaperID)
		add(byHolder, s.HolderID)
	}
}

// mostFacets is how many values are offered: those that most plates have.
const mostFacets = 24

// facetValues are the values the plates have, by name.
func (f *Frame) facetValues(rows []plateRow, k int) []named {
	count := map[catalog.ID]int{}
	for _, r := range rows {
		for _, id := range r.has[k] {
			count[id]++
		}
	}
	name := func(id catalog.ID) string {
		switch k {
		case byGroup:
			return nameOf(f.book.groupNames(), id)
		case byPaper:
			return nameOf(f.book.paperNames(), id)
		case byHolder:
			return nameOf(f.book.holderNames(), id)
		}
		return words.T(string(id))
	}
	var l []named
	for id := range count {
		l = append(l, named{id, name(id)})
	}
	slices.SortFunc(l, func(x, y named) int {
		return cmp.Or(cmp.Compare(count[y.id], count[x.id]), cmp.Compare(x.name, y.name))
	})
	l = l[:min(len(l), mostFacets)]
	slices.SortFunc(l, func(x, y named) int { return cmp.Compare(fold(x.name), fold(y.name)) })
	return l
}
