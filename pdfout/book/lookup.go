package book

import (
	"math"
	"sort"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/notation"
	"pullbook/pdfout/typeset"
)

// lookup finds records of a snapshot by what they belong to.
type lookup struct {
	snap        *catalog.Snapshot
	people      map[catalog.ID]*catalog.Person
	holders     map[catalog.ID]*catalog.Holder
	papers      map[catalog.ID]*catalog.Paper
	inks        map[catalog.ID]*catalog.Ink
	literature  map[catalog.ID]*catalog.Literature
	exhibitions map[catalog.ID]*catalog.Exhibition
	groups      map[catalog.ID]*catalog.Group
	photos      map[catalog.ID]*catalog.Photograph
	state       map[catalog.ID]*catalog.State
	edition     map[catalog.ID]*catalog.Edition
	impression  map[catalog.ID]*catalog.Impression
	states      map[catalog.ID][]*catalog.State      // by plate
	impressions map[catalog.ID][]*catalog.Impression // by plate
	editions    map[catalog.ID][]*catalog.Edition    // by plate
	ofSheet     map[catalog.ID][]*catalog.Photograph // by impression
	scores      map[catalog.ID]*catalog.Score        // newest, by impression
	ordered     []*catalog.Plate
	plateByID   map[catalog.ID]*catalog.Plate
}

// newLookup sorts a snapshot's records.
func newLookup(s *catalog.Snapshot) *lookup {
	l := &lookup{snap: s,
		people:      catalog.ByID(s.People, func(r *catalog.Person) catalog.ID { return r.ID }),
		holders:     catalog.ByID(s.Holders, func(r *catalog.Holder) catalog.ID { return r.ID }),
		papers:      catalog.ByID(s.Papers, func(r *catalog.Paper) catalog.ID { return r.ID }),
		inks:        catalog.ByID(s.Inks, func(r *catalog.Ink) catalog.ID { return r.ID }),
		literature:  catalog.ByID(s.Literature, func(r *catalog.Literature) catalog.ID { return r.ID }),
		exhibitions: catalog.ByID(s.Exhibitions, func(r *catalog.Exhibition) catalog.ID { return r.ID }),
		groups:      catalog.ByID(s.Groups, func(r *catalog.Group) catalog.ID { return r.ID }),
		photos:      catalog.ByID(s.Photographs, func(r *catalog.Photograph) catalog.ID { return r.ID }),
		state:       catalog.ByID(s.States, func(r *catalog.State) catalog.ID { return r.ID }),
		edition:     catalog.ByID(s.Editions, func(r *catalog.Edition) catalog.ID { return r.ID }),
		impression:  catalog.ByID(s.Impressions, func(r *catalog.Impression) catalog.ID { return r.ID }),
		states:      map[catalog.ID][]*catalog.State{}, impressions: map[catalog.ID][]*catalog.Impression{},
		editions: map[catalog.ID][]*catalog.Edition{}, ofSheet: map[catalog.ID][]*catalog.Photograph{},
		scores: map[catalog.ID]*catalog.Score{},
	}
	for i := range s.States {
		l.states[s.States[i].PlateID] = append(l.states[s.States[i].PlateID], &s.States[i])
	}
	for i := range s.Impressions {
		l.impressions[s.Impressions[i].PlateID] = append(l.impressions[s.Impressions[i].PlateID], &s.Impressions[i])
	}
	for i := range s.Editions {
		l.editions[s.Editions[i].PlateID] = append(l.editions[s.Editions[i].PlateID], &s.Editions[i])
	}
	for i := range s.Photographs {
		p := &s.Photographs[i]
		l.ofSheet[p.ImpressionID] = append(l.ofSheet[p.ImpressionID], p)
	}
	for i := range s.Scores {
		sc := finite(&s.Scores[i])
		if old := l.scores[sc.ImpressionID]; old == nil || sc.At.After(old.At) {
			l.scores[sc.ImpressionID] = sc
		}
	}
	for i := range s.Plates {
		l.ordered = append(l.ordered, &s.Plates[i])
	}
	sort.SliceStable(l.ordered, func(i, j int) bool {
		return catalog.CompareNumbers(l.ordered[i].Number, l.ordered[j].Number) < 0
	})
	for _, st := range l.states {
		sort.SliceStable(st, func(i, j int) bool { return st[i].N < st[j].N })
	}
	for _, im := range l.impressions {
		l.sortSheets(im)
	}
	return l
}

// finite returns a score without the values that are no numbers, which a
// damaged record can hold: what cannot be printed was not measured.
func finite(sc *catalog.Score) *catalog.Score {
	bad := func(v *catalog.Value) bool {
		return v != nil && (math.IsNaN(v.V+v.U) || math.IsInf(v.V+v.U, 0))
	}
	out := *sc
	for _, v := range []**catalog.Value{&out.InkLoss, &out.WearLoss, &out.PlateTone, &out.ToneUnevenness, &out.BurrLoss, &out.LinesLostMM, &out.LinesLost, &out.OverInking} {
		if bad(*v) {
			*v = nil
		}
	}
	return &out
}

// sortSheets orders impressions by state, then pull (those without last), then
// number.
func (l *lookup) sortSheets(im []*catalog.Impression) {
	rank := func(i *catalog.Impression) (int, int) {
		n := 1 << 30
		if s := l.state[i.StateID]; s != nil {
			n = s.N
		}
		pull := i.Pull
		if pull == 0 {
			pull = 1 << 30
		}
		return n, pull
	}
	sort.SliceStable(im, func(a, b int) bool {
		s1, p1 := rank(im[a])
		s2, p2 := rank(im[b])
		if s1 != s2 {
			return s1 < s2
		}
		if p1 != p2 {
			return p1 < p2
		}
		return im[a].Ordinal < im[b].Ordinal
	})
}

// bestPhoto returns the photograph that shows a state best: that of its
// reference pull, else a whole view of the sheet with the least ink loss, else
// any whole view.
func (l *lookup) bestPhoto(st *catalog.State) *catalog.Photograph {
	if p := l.photos[st.ReferencePhotoID]; p != nil {
		return p
	}
	var best *catalog.Photograph
	bestLoss := 2.0
	for _, im := range l.impressions[st.PlateID] {
		if im.StateID != st.ID {
			continue
		}
		loss := 1.5
		if sc := l.scores[im.ID]; sc != nil && sc.InkLoss != nil {
			loss = sc.InkLoss.V
		}
		if im.ID == st.ReferenceID {
			loss = -1
		}
		for _, p := range l.ofSheet[im.ID] {
			if (p.View == catalog.ViewWhole || p.View == "") && loss < bestLoss {
				best, bestLoss = p, loss
			}
		}
	}
	return best
}

// personName returns a person's name as printed.
func (l *lookup) personName(id catalog.ID) string {
	if p := l.people[id]; p != nil {
		return p.Name
	}
	return ""
}

// holderName returns how a holder is printed.
func (b *book) holderName(id catalog.ID) string {
	h := b.holders[id]
	switch {
	case h == nil:
		return ""
	case h.Private && !b.opt.ShowPrivate:
		return b.t("private collection")
	case h.Short != "":
		return h.Short
	}
	return h.Name
}

// dateText writes a date as the book prints it: its reading in words, else as
// it was written.
func (b *book) dateText(d catalog.Date) string {
	if d.EDTF != "" {
		if w := notation.DateWordsIn(b.lang, d.EDTF); w != "" {
			return w
		}
	}
	return d.Text
}

// sizeText writes a size with the multiplication sign.
func (b *book) sizeText(s catalog.Size) string {
	sides := strings.Split(strings.TrimSuffix(notation.FormatSize(s), " mm"), " x ")
	for i := range sides {
		sides[i] = b.lang.Figure(sides[i])
	}
	if sides[0] == "" {
		return ""
	}
	return strings.Join(sides, "\u00a0×\u00a0") + "\u00a0mm"
}

// numberText writes a catalogue number.
func numberText(p *catalog.Plate) string {
	return cutText(typeset.Clean(p.Number.String()), 12)
}

// titleText is the title used; plates without one are called so.
func (b *book) titleText(p *catalog.Plate) string {
	if t := strings.TrimSpace(p.Title()); t != "" {
		return t
	}
	return b.t("Untitled")
}

// techniqueText joins techniques: "engraving, with drypoint and roulette".
func (b *book) techniqueText(ts []catalog.Technique) string {
	var w []string
	for _, t := range ts {
		w = append(w, b.word(string(t)))
	}
	switch len(w) {
	case 0:
		return ""
	case 1:
		return w[0]
	case 2:
		return b.t("%s and %s", w[0], w[1])
	}
	return b.t("%s and %s", strings.Join(w[:len(w)-1], ", "), w[len(w)-1])
}

// upperFirst makes the first letter a capital.
func upperFirst(s string) string {
	for i, r := range s {
		return strings.ToUpper(string(r)) + s[i+len(string(r)):]
	}
	return s
}

// PartOf is the part of the book a plate stands in, by its standing and the
// prefix of its number.
func PartOf(p *catalog.Plate) Kind {
	switch {
	case p.Standing == catalog.Rejected:
		return RejectedPart
	case p.Standing == catalog.Doubtful:
		return DoubtfulPart
	case strings.EqualFold(p.Number.Prefix, "A"):
		return Addenda
	}
	return Plates
}

// platesIn returns the plates of a part, in order.
func (l *lookup) platesIn(k Kind) []*catalog.Plate {
	var out []*catalog.Plate
	for _, p := range l.ordered {
		if PartOf(p) == k {
			out = append(out, p)
		}
	}
	return out
}
