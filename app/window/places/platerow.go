package places

import (
	"cmp"
	"slices"
	"strings"

	"pullbook/app/window/words"
	"pullbook/catalog"
	"pullbook/catalog/life"
)

// plateRow is a plate as the list shows it.
type plateRow struct {
	id     catalog.ID
	number catalog.Number
	photo  catalog.ID
	title  string
	second string // technique
	third  string // states, impressions
	states int
	sheets int
	year   string
	last   int64 // last pull, Unix seconds
	search string
	techs  []catalog.Technique
	has    [facets][]catalog.ID // what it can be narrowed down by, besides its techniques
	open   int                  // sheets without a decision
	unread int                  // sheets with a photograph but without a score
	ended  bool                 // the plate prints no more
}

// rowsOf shapes every plate for the list.
func rowsOf(b *book) []plateRow {
	rows := make([]plateRow, 0, len(b.Plates))
	for i := range b.Plates {
		p := &b.Plates[i]
		states, sheets := b.statesOf[p.ID], b.impressionsOf[p.ID]
		r := plateRow{id: p.ID, number: p.Number, title: p.Title(), states: len(states), sheets: len(sheets), techs: p.Techniques, year: p.Date.EDTF, ended: fateWords(p) != ""}
		if r.title == "" {
			r.title = words.T("untitled plate")
		}
		if ph := b.platePhoto(p.ID); ph != nil {
			r.photo = ph.ID
		}
		r.second = techniqueWords(p)
		r.third = words.N("%d states", len(states)) + " · " + words.N("%d impressions", len(sheets))
		for _, s := range sheets {
			r.last = max(r.last, s.PulledAt.Unix())
			if s.Decision.Verdict == "" {
				r.open++
			}
			if b.scoreOf[s.ID] == nil && len(b.photosOf[s.ID]) > 0 {
				r.unread++
			}
		}
		r.facets(b, p, sheets)
		all := []string{numberWords(p.Number), p.Metal, p.Date.Text}
		for _, t := range p.Titles {
			all = append(all, t.Text)
		}
		for _, t := range p.Techniques {
			all = append(all, string(t), words.T(string(t)))
		}
		r.search = fold(strings.Join(append(all, p.Subjects...), " "))
		rows = append(rows, r)
	}
	return rows
}

// fold makes text comparable whatever its case.
func fold(s string) string { return strings.ToLower(s) }

// plateOrder is how the list is sorted.
type plateOrder int

const (
	byNumber plateOrder = iota
	byTitle
	byYear
	byLast
	byLife
)

// plateWish is what of the list is wanted.
type plateWish struct {
	text      string
	technique catalog.Technique
	only      [facets]catalog.ID // "" any
	undecided bool
	unread    bool
	order     plateOrder
}

// narrowed reports whether not every plate is wanted.
func (w plateWish) narrowed() bool {
	all := plateWish{order: w.order}
	return w != all
}

// choose filters and sorts. hits are plates found by words of their
// impressions, from the store.
func choose(rows []plateRow, w plateWish, hits map[catalog.ID]bool, left func(plateRow) float64) []plateRow {
	terms := strings.Fields(fold(w.text))
	var out []plateRow
	for _, r := range rows {
		if w.technique != "" && !slices.Contains(r.techs, w.technique) || w.undecided && r.open == 0 || w.unread && r.unread == 0 {
			continue
		}
		found := true
		for k, id := range w.only {
			found = found && (id == "" || slices.Contains(r.has[k], id))
		}
		if !found {
			continue
		}
		for _, t := range terms {
			found = found && strings.Contains(r.search, t)
		}
		if !found && !hits[r.id] {
			continue
		}
		out = append(out, r)
	}
	slices.SortStableFunc(out, func(x, y plateRow) int {
		switch w.order {
		case byTitle:
			return cmp.Compare(fold(x.title), fold(y.title))
		case byYear:
			return cmp.Compare(x.year, y.year)
		case byLast:
			return cmp.Compare(y.last, x.last)
		case byLife:
			return cmp.Compare(left(x), left(y))
		}
		return catalog.CompareNumbers(x.number, y.number)
	})
	return out
}

// lifeLeft is the share of a plate's working life left and the words for it;
// less than nought when it cannot be told.
func lifeLeft(f *life.Forecast) (float64, string) {
	switch {
	case f == nil || f.Readings == 0:
		return -1, words.T("life not yet measured")
	case f.Past:
		return 0, words.T("past its limit")
	case f.Borrowed():
		return -1, words.T("too early to tell")
	case f.TooEarly:
		return -1, words.T("at least %d pulls left", f.Least())
	}
	return f.Left50 / (f.Left50 + float64(f.Pulled)), words.T("about %d pulls left", int(f.Left50+0.5))
}
