package studio

import (
	"cmp"
	"context"
	"slices"

	"pullbook/catalog"
	"pullbook/catalog/say"
	"pullbook/catalog/store"
)

// byTime looks for the very sheet of photographs whose plate and state were
// recognised, by the order of time: sheets are photographed as they were
// pulled. Sheets named by slips hold the order in place. Where the counts do
// not agree nothing is guessed, and the photograph waits for the user.
func (s *Studio) byTime(ctx context.Context, list []Proposal) error {
	order := make([]*Proposal, len(list))
	for i := range list {
		order[i] = &list[i]
	}
	slices.SortStableFunc(order, func(a, b *Proposal) int {
		if c := a.Photo.TakenAt.Compare(b.Photo.TakenAt); c != 0 {
			return c
		}
		return cmp.Compare(a.Photo.Name, b.Photo.Name)
	})
	states := map[catalog.ID]bool{}
	for _, a := range order {
		if a.How == ByRecognised && a.isOther() {
			// Another view of a sheet that stands for itself: never a sheet of its own.
			a.Sure = min(a.Sure, 0.5)
			a.rest(say.Of("Say of which sheet it is."))
			continue
		}
		if a.How == ByRecognised && a.StateID != "" && !states[a.StateID] {
			states[a.StateID] = true
			if err := s.fillState(ctx, a.PlateID, a.StateID, order); err != nil {
				return err
			}
		}
	}
	return nil
}

// slot is a photograph of one state, or one that may be of it.
type slot struct {
	p     *Proposal
	sheet catalog.ID // named by a slip
	loose bool       // nothing was recognised: it may belong here
}

// fillState assigns the unnamed photographs of one state to its sheets.
func (s *Studio) fillState(ctx context.Context, plate, state catalog.ID, order []*Proposal) error {
	sheets, err := s.store.Impressions(ctx, store.ImpressionFilter{PlateID: plate, StateID: state})
	if err != nil {
		return err
	}
	var pending []catalog.Impression // in order of pull: no photograph yet, or named by a slip here
	named := map[catalog.ID]bool{}
	for _, a := range order {
		if a.How == BySlip && a.StateID == state && !a.isOther() {
			named[a.ImpressionID] = true
		}
	}
	for _, i := range sheets {
		had, err := s.store.Photographs(ctx, i.ID)
		if err != nil {
			return err
		}
		had = slices.DeleteFunc(had, func(p catalog.Photograph) bool { return p.View != catalog.ViewWhole && p.View != "" })
		if len(had) == 0 || named[i.ID] {
			pending = append(pending, i)
		}
	}
	if len(pending) == len(named) {
		return nil // none waits for its photograph: these are new sheets
	}
	slots := slotsOf(state, order)
	if !inStep(slots, pending) {
		for _, k := range slots {
			if k.sheet == "" && !k.loose {
				k.p.Sure = min(k.p.Sure, 0.5)
				k.p.rest(say.Of("Which sheet it is cannot be told: the slips are not in the order of the pulls."))
			}
		}
		return nil
	}
	assignBetween(slots, pending)
	return nil
}

// isWhole reports whether a photograph is sure to show the whole sheet, isOther
// that it is sure to show something else: such a one, by raking light or of a
// detail, takes no place in the order of the sheets.
func (a *Proposal) isWhole() bool { return a.View == catalog.ViewWhole }
func (a *Proposal) isOther() bool { return a.View != "" && !a.isWhole() }

// slotsOf takes from all photographs, in order of time, those of the state and
// the unrecognised ones between them.
func slotsOf(state catalog.ID, order []*Proposal) []slot {
	var list []slot
	first, last := -1, -1
	for i, a := range order {
		if a.StateID == state {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	for _, a := range order[first : last+1] {
		switch {
		case a.isOther():
		case a.StateID == state && a.How == BySlip:
			list = append(list, slot{p: a, sheet: a.ImpressionID})
		case a.StateID == state && !a.isWhole():
			list = append(list, slot{p: a, loose: true})
		case a.StateID == state:
			list = append(list, slot{p: a})
		case a.PlateID == "":
			list = append(list, slot{p: a, loose: true})
		}
	}
	return list
}

// inStep reports whether the sheets named by slips come in the order of pulls.
func inStep(slots []slot, pending []catalog.Impression) bool {
	last := -1
	for _, k := range slots {
		if k.sheet == "" {
			continue
		}
		at := slices.IndexFunc(pending, func(i catalog.Impression) bool { return i.ID == k.sheet })
		if at <= last {
			return false
		}
		last = at
	}
	return true
}

// assignBetween gives the photographs between two slips the sheets between
// them, when there are as many of one as of the other.
func assignBetween(slots []slot, pending []catalog.Impression) {
	from, sheet := 0, 0
	for i := 0; i <= len(slots); i++ {
		if i < len(slots) && slots[i].sheet == "" {
			continue
		}
		end := len(pending)
		if i < len(slots) {
			end = slices.IndexFunc(pending, func(x catalog.Impression) bool { return x.ID == slots[i].sheet })
		}
		assign(slots[from:i], pending[sheet:end], from > 0 && i < len(slots))
		from, sheet = i+1, end+1
	}
}

// Surety of the order of time: between two slips, and where one end is open,
// where a sheet more or fewer would not be noticed so easily. What stands
// beside a photograph that was not recognised is less sure.
const (
	sureBetween = 0.95
	sureOpen    = 0.92
	sureBeside  = 0.90
)

// assign gives photographs their sheets one by one.
func assign(slots []slot, sheets []catalog.Impression, closed bool) {
	plain := slices.DeleteFunc(slices.Clone(slots), func(k slot) bool { return k.loose })
	sure := sureOpen
	if closed {
		sure = sureBetween
	}
	take := plain
	if len(slots) != len(plain) && len(slots) == len(sheets) {
		take, sure = slots, sureBeside
	}
	if len(take) != len(sheets) {
		for _, k := range plain {
			if len(sheets) == 0 {
				continue // no sheet waits here: a new one
			}
			k.p.Sure = min(k.p.Sure, 0.5)
			k.p.rest(say.Of("Which sheet it is cannot be told: the photographs and the sheets between the slips are not as many."))
		}
		return
	}
	for i, k := range take {
		if k.loose {
			k.p.rest(say.Of("By the order of time it would be %s.", sheets[i].Said()))
			continue
		}
		k.p.How, k.p.ImpressionID, k.p.Sure = ByTimeOrder, sheets[i].ID, min(k.p.Sure, sure)
		k.p.rest(say.Of("By the order of time it is %s.", sheets[i].Said()))
	}
}
