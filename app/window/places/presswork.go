package places

import (
	"fmt"
	"slices"
	"time"

	"pullbook/app/window/words"
	"pullbook/catalog"
)

// printing is what a pull is for: an edition's numbers, its artist's proofs,
// or proofs outside any edition.
type printing struct {
	label   string
	kind    catalog.Kind
	edition catalog.ID
	of      int // how many there are to be; 0 no fixed count
}

// printingsOf lists what can be printed of a state: proofs first, then each
// edition of the state with its proofs.
func printingsOf(b *book, plate, state catalog.ID) []printing {
	list := []printing{
		{label: words.T("trial proofs"), kind: catalog.KindTrial},
		{label: words.T("state proofs"), kind: catalog.KindState},
	}
	for _, e := range b.editionsOf[plate] {
		if e.StateID != "" && e.StateID != state {
			continue
		}
		name := e.Name
		if name == "" {
			name = words.T("edition")
		}
		if e.Size > 0 {
			list = append(list, printing{words.T("%s, numbered 1 to %d", name, e.Size), catalog.KindNumbered, e.ID, e.Size})
		}
		if e.Artists > 0 {
			list = append(list, printing{words.T("%s, artist's proofs", name), catalog.KindArtist, e.ID, e.Artists})
		}
		if e.Printers > 0 {
			list = append(list, printing{words.T("%s, printer's proofs", name), catalog.KindPrinter, e.ID, e.Printers})
		}
		if e.HorsComm > 0 {
			list = append(list, printing{words.T("%s, hors commerce", name), catalog.KindHorsCommerce, e.ID, e.HorsComm})
		}
	}
	return list
}

// pullWork is a printing day in hand: what is carried from pull to pull.
type pullWork struct {
	state              catalog.ID
	printing           int
	paper, ink, wiping string
	// ahead are pulls written but not yet read back from the catalogue.
	ahead []*catalog.Impression
	made  map[string]catalog.ID // papers and inks made along with a pull
}

func (w *pullWork) madeNames() map[string]catalog.ID {
	if w.made == nil {
		w.made = map[string]catalog.ID{}
	}
	return w.made
}

// settle drops from ahead what the catalogue now holds.
func (w *pullWork) settle(b *book) {
	w.ahead = slices.DeleteFunc(w.ahead, func(i *catalog.Impression) bool { return b.impressions[i.ID] != nil })
}

// carryFrom takes paper, ink and wiping over from the plate's last pull.
func (w *pullWork) carryFrom(b *book, plate catalog.ID) {
	var last *catalog.Impression
	for _, i := range b.impressionsOf[plate] {
		if last == nil || i.PulledAt.After(last.PulledAt) || i.PulledAt.Equal(last.PulledAt) && i.Pull > last.Pull {
			last = i
		}
	}
	if last == nil {
		return
	}
	if p := b.papers[last.PaperID]; p != nil {
		w.paper = p.Name
	}
	if p := b.inks[last.InkID]; p != nil {
		w.ink = p.Name
	}
	w.wiping = last.Wiping
}

// count is how many sheets of a printing there are, and the highest number
// given out.
func (w *pullWork) count(b *book, plate catalog.ID, p printing) (n, highest int) {
	tally := func(i *catalog.Impression) {
		if i.Kind == p.kind && i.EditionID == p.edition && (p.edition != "" || i.StateID == w.state) {
			n++
			highest = max(highest, i.Ordinal)
		}
	}
	for _, i := range b.impressionsOf[plate] {
		tally(i)
	}
	for _, i := range w.ahead {
		tally(i)
	}
	return n, highest
}

// given is how many of a printing have been given out: numbers go up one by
// one, so the highest counts sheets that are not recorded.
func (w *pullWork) given(b *book, plate catalog.ID, p printing) int {
	n, highest := w.count(b, plate, p)
	return max(n, highest)
}

// nextNumber is what the next sheet is called.
func (w *pullWork) nextNumber(b *book, plate catalog.ID, p printing) string {
	given := w.given(b, plate, p)
	if p.of > 0 && given >= p.of {
		return words.T("unnumbered")
	}
	return numberFor(p, given+1)
}

// toBegin is the printing a day begins with: the first edition that is not
// full, else state proofs.
func (w *pullWork) toBegin(b *book, plate catalog.ID) int {
	for k, p := range printingsOf(b, plate, w.state) {
		if p.of > 0 && w.given(b, plate, p) < p.of {
			return k
		}
	}
	return 1
}

// nextPull is the count of pull the next sheet gets.
func (w *pullWork) nextPull(b *book, plate catalog.ID) int {
	n := b.lastPull(plate)
	for _, i := range w.ahead {
		n = max(n, i.Pull)
	}
	return n + 1
}

// abbreviations customary on sheets.
var abbreviations = map[catalog.Kind]string{
	catalog.KindTrial: "T.P.", catalog.KindState: "S.P.", catalog.KindArtist: "A.P.", catalog.KindPrinter: "P.P.", catalog.KindHorsCommerce: "H.C.",
}

// numberFor is the number the next sheet of a printing gets, as written on it.
func numberFor(p printing, ordinal int) string {
	switch {
	case p.kind == catalog.KindNumbered:
		return fmt.Sprintf("%d/%d", ordinal, p.of)
	case p.of > 0:
		return fmt.Sprintf("%s %d/%d", abbreviations[p.kind], ordinal, p.of)
	}
	return fmt.Sprintf("%s %d", abbreviations[p.kind], ordinal)
}

// pull is the next impression and the records that must be kept with it: a new
// paper or ink when its name is new, and the day when it has just begun.
func (w *pullWork) pull(b *book, plate *catalog.Plate, now time.Time) (*catalog.Impression, []any) {
	list := printingsOf(b, plate.ID, w.state)
	p := list[min(w.printing, len(list)-1)]
	i := &catalog.Impression{ID: catalog.NewID(), PlateID: plate.ID, StateID: w.state, Pull: w.nextPull(b, plate.ID),
		Wiping: w.wiping, PulledAt: now.UTC().Truncate(time.Second)}
	if given := w.given(b, plate.ID, p); p.of > 0 && given >= p.of { // outside the edition
		i.Kind = catalog.KindUnnumbered
	} else {
		i.Kind, i.EditionID, i.Ordinal, i.OutOf = p.kind, p.edition, given+1, p.of
		i.Written = numberFor(p, i.Ordinal)
	}
	i.DryFrom = catalog.DryAt(i.PulledAt, b.Imprint.DryHours)
	var records []any
	i.PaperID = w.named("paper "+w.paper, w.paper, idsOf(b.Papers, func(p *catalog.Paper) (catalog.ID, string) { return p.ID, p.Name }),
		func(id catalog.ID) { records = append(records, &catalog.Paper{ID: id, Name: w.paper}) })
	i.InkID = w.named("ink "+w.ink, w.ink, idsOf(b.Inks, func(p *catalog.Ink) (catalog.ID, string) { return p.ID, p.Name }),
		func(id catalog.ID) { records = append(records, &catalog.Ink{ID: id, Name: w.ink}) })
	day := w.dayOf(b, plate.ID, now)
	if day == "" {
		d := &catalog.PrintingDay{ID: catalog.NewID(), PlateID: plate.ID, StateID: w.state, Began: i.PulledAt}
		records = append(records, d)
		day = d.ID
	}
	i.DayID = day
	return i, append(records, i)
}

// named finds the record of a name, or has one made to be kept along. A name
// made by a pull that is not read back yet is not made twice.
func (w *pullWork) named(key, name string, have map[string]catalog.ID, make func(catalog.ID)) catalog.ID {
	if name == "" {
		return ""
	}
	if id, ok := have[name]; ok {
		return id
	}
	if id, ok := w.madeNames()[key]; ok {
		return id
	}
	id := catalog.NewID()
	w.madeNames()[key] = id
	make(id)
	return id
}

func idsOf[T any](have []T, of func(*T) (catalog.ID, string)) map[string]catalog.ID {
	m := map[string]catalog.ID{}
	for k := range have {
		id, n := of(&have[k])
		m[n] = id
	}
	return m
}

// dayOf is the printing day under way for the state: begun today and not ended.
func (w *pullWork) dayOf(b *book, plate catalog.ID, now time.Time) catalog.ID {
	same := func(t time.Time) bool {
		y, m, d := t.Local().Date()
		y2, m2, d2 := now.Local().Date()
		return y == y2 && m == m2 && d == d2
	}
	for k := len(b.Days) - 1; k >= 0; k-- {
		d := &b.Days[k]
		if d.PlateID == plate && d.StateID == w.state && d.Ended.IsZero() && same(d.Began) {
			return d.ID
		}
	}
	for k := len(w.ahead) - 1; k >= 0; k-- {
		if i := w.ahead[k]; i.StateID == w.state && same(i.PulledAt) {
			return i.DayID
		}
	}
	return ""
}

// dayRow is one pull of the day as the log shows it.
type dayRow struct {
	imp                *catalog.Impression
	number, pull, time string
	paper, ink, wiping string
	dry                string
}

// today is the pulls of the last printing day of the plate, the last first.
func (w *pullWork) today(b *book, plate catalog.ID) []dayRow {
	all := append(slices.Clone(b.impressionsOf[plate]), w.ahead...)
	var day catalog.ID
	var when time.Time
	for _, i := range all {
		if i.DayID != "" && i.PulledAt.After(when) {
			day, when = i.DayID, i.PulledAt
		}
	}
	var rows []dayRow
	for _, i := range all {
		if day == "" || i.DayID != day {
			continue
		}
		r := dayRow{imp: i, number: sheetName(i), pull: fmt.Sprint(i.Pull), time: words.Clock(i.PulledAt), wiping: i.Wiping, dry: words.DayClock(i.DryFrom)}
		if p := b.papers[i.PaperID]; p != nil {
			r.paper = p.Name
		} else if i.PaperID != "" {
			r.paper = w.paper
		}
		if p := b.inks[i.InkID]; p != nil {
			r.ink = p.Name
		} else if i.InkID != "" {
			r.ink = w.ink
		}
		rows = append(rows, r)
	}
	slices.SortStableFunc(rows, func(x, y dayRow) int { return y.imp.Pull - x.imp.Pull })
	return rows
}

// dayWords heads the pulls of the last printing day: with its date where it is
// not today.
func dayWords(rows []dayRow, now time.Time) string {
	if len(rows) > 0 {
		if day := words.Day(rows[0].imp.PulledAt); day != "" && day != words.Day(now) {
			return words.T("Last printing day, %s", day)
		}
	}
	return words.T("This printing day")
}

// hanging is the sheets of all plates that are not dry yet, the first to dry
// first.
func hanging(b *book, ahead []*catalog.Impression, now time.Time) []*catalog.Impression {
	var out []*catalog.Impression
	for k := range b.Impressions {
		if i := &b.Impressions[k]; i.DryFrom.After(now) {
			out = append(out, i)
		}
	}
	for _, i := range ahead {
		if b.impressions[i.ID] == nil && i.DryFrom.After(now) {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(x, y *catalog.Impression) int { return x.DryFrom.Compare(y.DryFrom) })
	return out
}

// warning is what should be said before the next pull, "" nothing.
func (w *pullWork) warning(b *book, plate *catalog.Plate, v lifeView) string {
	list := printingsOf(b, plate.ID, w.state)
	p := list[min(w.printing, len(list)-1)]
	n := w.given(b, plate.ID, p)
	switch {
	case plate.Fate == catalog.FateCancelled || plate.Fate == catalog.FateDestroyed || plate.Fate == catalog.FateLost:
		return words.T("This plate is recorded as %s: a further pull would be a restrike or an error.", words.T(string(plate.Fate)))
	case p.of > 0 && n >= p.of:
		return words.T("All %d of this edition have been given out. The next would be outside it.", p.of)
	case v.forecast != nil && v.forecast.Past:
		return words.T("The plate has more likely than not passed the limit of ink loss set for it. Measure the last sheets before going on.")
	case v.forecast != nil && !v.forecast.TooEarly && p.of > 0 && float64(p.of-n) > v.forecast.Left50:
		return words.T("%d are still to be pulled, but the plate is expected to give about %d more good ones.", p.of-n, int(v.forecast.Left50+0.5))
	}
	return ""
}
