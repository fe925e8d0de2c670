package entry

import (
	"sort"

	"pullbook/catalog"
)

// Catalogue is a snapshot with its records findable. It does not alter the
// snapshot and may be read by several goroutines.
type Catalogue struct {
	Snap        *catalog.Snapshot
	plates      map[catalog.ID]*catalog.Plate
	sheets      map[catalog.ID]*catalog.Impression
	states      map[catalog.ID]*catalog.State
	editions    map[catalog.ID]*catalog.Edition
	people      map[catalog.ID]*catalog.Person
	holders     map[catalog.ID]*catalog.Holder
	papers      map[catalog.ID]*catalog.Paper
	inks        map[catalog.ID]*catalog.Ink
	groups      map[catalog.ID]*catalog.Group
	works       map[catalog.ID]*catalog.Literature
	exhibitions map[catalog.ID]*catalog.Exhibition
	statesOf    map[catalog.ID][]*catalog.State
	editionsOf  map[catalog.ID][]*catalog.Edition
	sheetsOf    map[catalog.ID][]*catalog.Impression
	photosOf    map[catalog.ID][]*catalog.Photograph
}

// New arranges a snapshot.
func New(snap *catalog.Snapshot) *Catalogue {
	c := &Catalogue{Snap: snap,
		plates:      catalog.ByID(snap.Plates, func(r *catalog.Plate) catalog.ID { return r.ID }),
		sheets:      catalog.ByID(snap.Impressions, func(r *catalog.Impression) catalog.ID { return r.ID }),
		states:      catalog.ByID(snap.States, func(r *catalog.State) catalog.ID { return r.ID }),
		editions:    catalog.ByID(snap.Editions, func(r *catalog.Edition) catalog.ID { return r.ID }),
		people:      catalog.ByID(snap.People, func(r *catalog.Person) catalog.ID { return r.ID }),
		holders:     catalog.ByID(snap.Holders, func(r *catalog.Holder) catalog.ID { return r.ID }),
		papers:      catalog.ByID(snap.Papers, func(r *catalog.Paper) catalog.ID { return r.ID }),
		inks:        catalog.ByID(snap.Inks, func(r *catalog.Ink) catalog.ID { return r.ID }),
		groups:      catalog.ByID(snap.Groups, func(r *catalog.Group) catalog.ID { return r.ID }),
		works:       catalog.ByID(snap.Literature, func(r *catalog.Literature) catalog.ID { return r.ID }),
		exhibitions: catalog.ByID(snap.Exhibitions, func(r *catalog.Exhibition) catalog.ID { return r.ID }),
		statesOf:    map[catalog.ID][]*catalog.State{},
		editionsOf:  map[catalog.ID][]*catalog.Edition{},
		sheetsOf:    map[catalog.ID][]*catalog.Impression{},
		photosOf:    map[catalog.ID][]*catalog.Photograph{},
	}
	for i := range snap.States {
		s := &snap.States[i]
		c.statesOf[s.PlateID] = append(c.statesOf[s.PlateID], s)
	}
	for i := range snap.Editions {
		e := &snap.Editions[i]
		c.editionsOf[e.PlateID] = append(c.editionsOf[e.PlateID], e)
	}
	for i := range snap.Impressions {
		im := &snap.Impressions[i]
		c.sheetsOf[im.PlateID] = append(c.sheetsOf[im.PlateID], im)
	}
	for i := range snap.Photographs {
		if p := &snap.Photographs[i]; p.ImpressionID != "" {
			c.photosOf[p.ImpressionID] = append(c.photosOf[p.ImpressionID], p)
		}
	}
	c.order()
	return c
}

// order sorts states by number, impressions by state and pull, photographs
// with the whole sheet first.
func (c *Catalogue) order() {
	for _, list := range c.statesOf {
		sort.SliceStable(list, func(i, j int) bool { return list[i].N < list[j].N })
	}
	for _, list := range c.sheetsOf {
		sort.SliceStable(list, func(i, j int) bool {
			a, b := list[i], list[j]
			if x, y := c.stateNumber(a), c.stateNumber(b); x != y {
				return x < y
			}
			if x, y := last(a.Pull), last(b.Pull); x != y {
				return x < y
			}
			return last(a.Ordinal) < last(b.Ordinal)
		})
	}
	for _, list := range c.photosOf {
		sort.SliceStable(list, func(i, j int) bool { return viewRank(list[i].View) < viewRank(list[j].View) })
	}
}

// stateNumber is the number of an impression's state; sheets whose state is
// not told come last.
func (c *Catalogue) stateNumber(im *catalog.Impression) int {
	if s := c.states[im.StateID]; s != nil {
		return s.N
	}
	return 1 << 30
}

// last puts a count that is not recorded after those that are.
func last(n int) int {
	if n == 0 {
		return 1 << 30
	}
	return n
}

func viewRank(v catalog.View) int {
	switch v {
	case catalog.ViewWhole, "":
		return 0
	case catalog.ViewDetail:
		return 1
	}
	return 2
}

// Plate returns a plate, nil when there is none of that identifier.
func (c *Catalogue) Plate(id catalog.ID) *catalog.Plate { return c.plates[id] }

// Impression returns an impression or nil.
func (c *Catalogue) Impression(id catalog.ID) *catalog.Impression { return c.sheets[id] }

// State returns a state or nil.
func (c *Catalogue) State(id catalog.ID) *catalog.State { return c.states[id] }

// Edition returns an edition or nil.
func (c *Catalogue) Edition(id catalog.ID) *catalog.Edition { return c.editions[id] }

// Person returns a person or nil.
func (c *Catalogue) Person(id catalog.ID) *catalog.Person { return c.people[id] }

// Paper returns a paper or nil.
func (c *Catalogue) Paper(id catalog.ID) *catalog.Paper { return c.papers[id] }

// Ink returns an ink or nil.
func (c *Catalogue) Ink(id catalog.ID) *catalog.Ink { return c.inks[id] }

// Group returns a portfolio or series, or nil.
func (c *Catalogue) Group(id catalog.ID) *catalog.Group { return c.groups[id] }

// Work returns a publication or nil.
func (c *Catalogue) Work(id catalog.ID) *catalog.Literature { return c.works[id] }

// Exhibition returns an exhibition or nil.
func (c *Catalogue) Exhibition(id catalog.ID) *catalog.Exhibition { return c.exhibitions[id] }

// States returns the states of a plate, first to last.
func (c *Catalogue) States(plate catalog.ID) []*catalog.State { return c.statesOf[plate] }

// Editions returns the editions of a plate.
func (c *Catalogue) Editions(plate catalog.ID) []*catalog.Edition { return c.editionsOf[plate] }

// Impressions returns the impressions of a plate by state, then by pull.
func (c *Catalogue) Impressions(plate catalog.ID) []*catalog.Impression { return c.sheetsOf[plate] }

// Photographs returns the photographs of an impression, the whole sheet first.
// Pictures of a blank sheet or a grey wedge are left out.
func (c *Catalogue) Photographs(impression catalog.ID) []*catalog.Photograph {
	var out []*catalog.Photograph
	for _, p := range c.photosOf[impression] {
		if p.View != catalog.ViewBlank && p.View != catalog.ViewWedge {
			out = append(out, p)
		}
	}
	return out
}

// Whole returns the photograph that shows an impression as a whole, nil when
// there is none.
func (c *Catalogue) Whole(impression catalog.ID) *catalog.Photograph {
	for _, p := range c.photosOf[impression] {
		if viewRank(p.View) == 0 {
			return p
		}
	}
	return nil
}

// StatePhotograph returns the photograph by which a state is shown: the one
// chosen as its reference, else one of its reference pull, else the first
// whole sheet in that state.
func (c *Catalogue) StatePhotograph(s *catalog.State) *catalog.Photograph {
	for _, im := range c.sheetsOf[s.PlateID] {
		for _, p := range c.photosOf[im.ID] {
			if p.ID == s.ReferencePhotoID {
				return p
			}
		}
	}
	if p := c.Whole(s.ReferenceID); s.ReferenceID != "" && p != nil {
		return p
	}
	for _, im := range c.sheetsOf[s.PlateID] {
		if p := c.Whole(im.ID); im.StateID == s.ID && p != nil {
			return p
		}
	}
	return nil
}
