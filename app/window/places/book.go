package places

import (
	"cmp"
	"encoding/json"
	"math"
	"slices"
	"strings"

	"pullbook/app/window/look"
	"pullbook/app/window/sheetview"
	"pullbook/app/window/words"
	"pullbook/catalog"
	"pullbook/catalog/notation"
)

// book is a snapshot with its cross references, made on a worker goroutine and
// never altered.
type book struct {
	*catalog.Snapshot
	plates      map[catalog.ID]*catalog.Plate
	states      map[catalog.ID]*catalog.State
	impressions map[catalog.ID]*catalog.Impression
	photos      map[catalog.ID]*catalog.Photograph
	editions    map[catalog.ID]*catalog.Edition
	papers      map[catalog.ID]*catalog.Paper
	inks        map[catalog.ID]*catalog.Ink
	holders     map[catalog.ID]*catalog.Holder
	works       map[catalog.ID]*catalog.Literature

	statesOf      map[catalog.ID][]*catalog.State      // by plate
	impressionsOf map[catalog.ID][]*catalog.Impression // by plate, pull order
	editionsOf    map[catalog.ID][]*catalog.Edition    // by plate
	photosOf      map[catalog.ID][]*catalog.Photograph // by impression
	scoreOf       map[catalog.ID]*catalog.Score        // latest, by impression
}

func newBook(s *catalog.Snapshot) *book {
	b := &book{Snapshot: s,
		plates:      byID(s.Plates, func(p *catalog.Plate) catalog.ID { return p.ID }),
		states:      byID(s.States, func(p *catalog.State) catalog.ID { return p.ID }),
		impressions: byID(s.Impressions, func(p *catalog.Impression) catalog.ID { return p.ID }),
		photos:      byID(s.Photographs, func(p *catalog.Photograph) catalog.ID { return p.ID }),
		editions:    byID(s.Editions, func(p *catalog.Edition) catalog.ID { return p.ID }),
		papers:      byID(s.Papers, func(p *catalog.Paper) catalog.ID { return p.ID }),
		inks:        byID(s.Inks, func(p *catalog.Ink) catalog.ID { return p.ID }),
		holders:     byID(s.Holders, func(p *catalog.Holder) catalog.ID { return p.ID }),
		works:       byID(s.Literature, func(p *catalog.Literature) catalog.ID { return p.ID }),

		statesOf:      grouped(s.States, func(p *catalog.State) catalog.ID { return p.PlateID }),
		impressionsOf: grouped(s.Impressions, func(p *catalog.Impression) catalog.ID { return p.PlateID }),
		editionsOf:    grouped(s.Editions, func(p *catalog.Edition) catalog.ID { return p.PlateID }),
		photosOf:      grouped(s.Photographs, func(p *catalog.Photograph) catalog.ID { return p.ImpressionID }),
		scoreOf:       map[catalog.ID]*catalog.Score{},
	}
	for _, l := range b.statesOf {
		slices.SortStableFunc(l, func(x, y *catalog.State) int { return cmp.Compare(x.N, y.N) })
	}
	for _, l := range b.impressionsOf {
		slices.SortStableFunc(l, func(x, y *catalog.Impression) int { return cmp.Compare(pullKey(x), pullKey(y)) })
	}
	for i := range s.Scores {
		sc := &s.Scores[i]
		if old := b.scoreOf[sc.ImpressionID]; old == nil || !sc.At.Before(old.At) {
			b.scoreOf[sc.ImpressionID] = sc
		}
	}
	return b
}

// pullKey puts unrecorded pulls last.
func pullKey(i *catalog.Impression) int {
	if i.Pull == 0 {
		return math.MaxInt32
	}
	return i.Pull
}

func byID[T any](s []T, id func(*T) catalog.ID) map[catalog.ID]*T {
	m := make(map[catalog.ID]*T, len(s))
	for i := range s {
		m[id(&s[i])] = &s[i]
	}
	return m
}

func grouped[T any](s []T, by func(*T) catalog.ID) map[catalog.ID][]*T {
	m := map[catalog.ID][]*T{}
	for i := range s {
		k := by(&s[i])
		if k != "" {
			m[k] = append(m[k], &s[i])
		}
	}
	return m
}

// photoOf is the photograph an impression is shown by: the first of the whole
// sheet, else the first there is.
func (b *book) photoOf(impression catalog.ID) *catalog.Photograph {
	l := b.photosOf[impression]
	for _, p := range l {
		if p.View == catalog.ViewWhole || p.View == "" {
			return p
		}
	}
	if len(l) > 0 {
		return l[0]
	}
	return nil
}

// statePhoto is the photograph a state is shown by: that of its reference
// pull, else of its first impression that has one.
func (b *book) statePhoto(s *catalog.State) *catalog.Photograph {
	if p := b.photos[s.ReferencePhotoID]; p != nil {
		return p
	}
	if p := b.photoOf(s.ReferenceID); p != nil && s.ReferenceID != "" {
		return p
	}
	for _, i := range b.impressionsOf[s.PlateID] {
		if i.StateID == s.ID {
			if p := b.photoOf(i.ID); p != nil {
				return p
			}
		}
	}
	return nil
}

// platePhoto is the photograph of the latest state that has one.
func (b *book) platePhoto(plate catalog.ID) *catalog.Photograph {
	l := b.statesOf[plate]
	for i := len(l) - 1; i >= 0; i-- {
		if p := b.statePhoto(l[i]); p != nil {
			return p
		}
	}
	for _, i := range b.impressionsOf[plate] {
		if p := b.photoOf(i.ID); p != nil {
			return p
		}
	}
	return nil
}

// inState is the impressions of a state in pull order; an empty state is all
// of the plate's.
func (b *book) inState(plate, state catalog.ID) []*catalog.Impression {
	var out []*catalog.Impression
	for _, i := range b.impressionsOf[plate] {
		if state == "" || i.StateID == state {
			out = append(out, i)
		}
	}
	return out
}

// lastPull is the highest count of pull recorded of a plate.
func (b *book) lastPull(plate catalog.ID) int {
	n := 0
	for _, i := range b.impressionsOf[plate] {
		n = max(n, i.Pull)
	}
	return n
}

// stateWords is "II of III", "only state".
func (b *book) stateWords(s *catalog.State) string {
	if s == nil {
		return words.T("state not told")
	}
	all := b.statesOf[s.PlateID]
	if len(all) == 1 {
		return words.T("only state")
	}
	return words.T("state %s of %s", notation.Roman(s.N), notation.Roman(all[len(all)-1].N))
}

// stateShort is "I/III".
func (b *book) stateShort(s *catalog.State) string {
	if s == nil {
		return "?"
	}
	all := b.statesOf[s.PlateID]
	if len(all) == 1 {
		return "I"
	}
	return notation.Roman(s.N) + "/" + notation.Roman(all[len(all)-1].N)
}

// sheetName is what an impression is called on a screen: its number as
// written, else its kind, else its pull.
func sheetName(i *catalog.Impression) string {
	switch {
	case i.Written != "":
		return i.Written
	case i.Kind != "" && i.Pull > 0:
		return words.T("%s, pull %d", words.T(string(i.Kind)), i.Pull)
	case i.Kind != "":
		return words.T(string(i.Kind))
	case i.Pull > 0:
		return words.T("pull %d", i.Pull)
	}
	return words.T("unnumbered sheet")
}

// pulledName names a sheet with its count of pull, once.
func pulledName(i *catalog.Impression) string {
	if i.Written == "" || i.Pull == 0 {
		return sheetName(i)
	}
	return words.T("%s, pull %d", i.Written, i.Pull)
}

// techniqueWords is "Etching and drypoint".
func techniqueWords(p *catalog.Plate) string {
	var l []string
	for _, t := range p.Techniques {
		l = append(l, words.T(string(t)))
	}
	s := strings.Join(l, ", ")
	if n := len(l); n > 1 {
		s = strings.Join(l[:n-1], ", ") + " " + words.T("and") + " " + l[n-1]
	}
	if r := []rune(s); len(r) > 0 {
		return strings.ToUpper(string(r[:1])) + string(r[1:])
	}
	return s
}

// sizeWords is "180 × 240 mm", height first.
func sizeWords(s catalog.Size) string {
	if s.IsZero() {
		return words.T("not recorded")
	}
	return trim(s.HeightMM) + " × " + trim(s.WidthMM) + " mm"
}

func trim(v float64) string {
	if v == math.Trunc(v) {
		return words.Num(v, 0)
	}
	return words.Num(v, 1)
}

// verdictOf is the shape a score's verdict is shown by.
func verdictOf(s *catalog.Score) look.Verdict {
	if s == nil {
		return look.NoVerdict
	}
	switch s.Verdict {
	case "within":
		return look.IsWithin
	case "outside":
		return look.IsOutside
	case "refused":
		return look.IsRefused
	case "cannot tell":
		return look.CannotTell
	}
	return look.NoVerdict
}

// verdictWords is the verdict in the user's language.
func verdictWords(s *catalog.Score) string {
	switch verdictOf(s) {
	case look.IsWithin:
		return words.T("within the limit")
	case look.IsOutside:
		return words.T("outside the limit")
	case look.IsRefused:
		return words.T("could not be measured")
	case look.CannotTell:
		return words.T("cannot tell")
	}
	return words.T("not measured yet")
}

// tilesOf reads the map kept with a score; nil when there is none.
func tilesOf(s *catalog.Score, size catalog.Size) *sheetview.Tiles {
	if s == nil || s.Tiles == "" || s.TileMM <= 0 || size.IsZero() {
		return nil
	}
	var flat []*float64
	cols := int(math.Ceil(size.WidthMM/s.TileMM - 1e-9))
	if json.Unmarshal([]byte(s.Tiles), &flat) != nil {
		var rows [][]*float64
		if json.Unmarshal([]byte(s.Tiles), &rows) != nil || len(rows) == 0 {
			return nil
		}
		cols = len(rows[0])
		for _, r := range rows {
			flat = append(flat, r...)
		}
	}
	if cols < 1 || len(flat) < cols {
		return nil
	}
	t := &sheetview.Tiles{StepMM: s.TileMM, Rows: len(flat) / cols, Cols: cols, Low: 0.03, High: 0.5}
	for _, v := range flat {
		if v == nil {
			t.V = append(t.V, math.NaN())
		} else {
			t.V = append(t.V, *v)
		}
	}
	return t
}

func numberWords(n catalog.Number) string { return n.String() }
