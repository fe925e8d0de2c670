package catalog

import (
	"sort"

	"pullbook/catalog/say"
)

// CheckStates looks at the count of states: from I, none twice, none left out,
// and at their reference pulls.
func CheckStates(f *Folder) []Breach {
	var all []Breach
	states := append([]State(nil), f.States...)
	sort.SliceStable(states, func(a, b int) bool { return states[a].N < states[b].N })
	for i := range states {
		s := &states[i]
		switch {
		case s.N < 1:
			all = append(all, breach("state below one", Contradiction, []ID{s.ID},
				"A state of %s has the number %d; states are counted from I.", f.Plate.Said(), s.N))
		case i > 0 && states[i-1].N == s.N:
			all = append(all, breach("state twice", Contradiction, []ID{states[i-1].ID, s.ID},
				"There are two states %s of %s.", romanFigure(s.N), f.Plate.Said()))
		case i == 0 && s.N > 1 || i > 0 && states[i-1].N >= 1 && s.N > states[i-1].N+1:
			all = append(all, breach("state left out", Doubt, []ID{s.ID},
				"%s of %s is recorded, but not %s.", s.Said(), f.Plate.Said(), say.Of("state %s", romanFigure(s.N-1))))
		}
	}
	sheets := map[ID]*Impression{}
	for i := range f.Impressions {
		sheets[f.Impressions[i].ID] = &f.Impressions[i]
	}
	for i := range f.States {
		s := &f.States[i]
		if s.ReferenceID == "" {
			continue
		}
		ref := sheets[s.ReferenceID]
		switch {
		case ref == nil:
			all = append(all, breach("reference of another plate", Contradiction, []ID{s.ID},
				"The reference pull of %s of %s is a sheet of another plate.", s.Said(), f.Plate.Said()))
		case ref.StateID != "" && ref.StateID != s.ID:
			all = append(all, breach("reference of another state", Contradiction, []ID{s.ID, ref.ID},
				"The reference pull of %s of %s is %s, which is recorded as %s.", s.Said(), f.Plate.Said(), ref.Said(), f.stateName(ref.StateID)))
		}
	}
	for i := range f.Impressions {
		if s := &f.Impressions[i]; s.StateID != "" && f.state(s.StateID) == nil {
			all = append(all, breach("state of another plate", Contradiction, []ID{s.ID},
				"The state given for the sheet %s of %s belongs to another plate.", s.Said(), f.Plate.Said()))
		}
	}
	return all
}

// CheckPulls looks at the count of pulls: none twice, and none of an earlier
// state after one of a later: metal that was cut does not grow back.
func CheckPulls(f *Folder) []Breach {
	var all []Breach
	var sheets []*Impression
	for i := range f.Impressions {
		if f.Impressions[i].Pull > 0 {
			sheets = append(sheets, &f.Impressions[i])
		}
	}
	sort.SliceStable(sheets, func(a, b int) bool { return sheets[a].Pull < sheets[b].Pull })
	var last *Impression // the sheet of the latest state so far
	lastN := 0
	for i, s := range sheets {
		if i > 0 && sheets[i-1].Pull == s.Pull {
			all = append(all, breach("pull twice", Contradiction, []ID{sheets[i-1].ID, s.ID},
				"Two sheets of %s are counted as pull %d: %s and %s.", f.Plate.Said(), s.Pull, sheets[i-1].Said(), s.Said()))
		}
		if i > 0 && !s.PulledAt.IsZero() && !sheets[i-1].PulledAt.IsZero() && s.PulledAt.Before(sheets[i-1].PulledAt) {
			all = append(all, breach("pulls out of time", Doubt, []ID{sheets[i-1].ID, s.ID},
				"Of %s, %s was pulled before %s, though its count of pull is higher.", f.Plate.Said(), s.Said(), sheets[i-1].Said()))
		}
		n := 0
		if st := f.state(s.StateID); st != nil {
			n = st.N
		}
		if n > 0 && n < lastN {
			all = append(all, breach("earlier state after a later", Doubt, []ID{last.ID, s.ID},
				"Of %s, %s is of state %s, though the earlier %s is of state %s.", f.Plate.Said(), s.Said(), romanFigure(n), last.Said(), romanFigure(lastN)))
		}
		if n > lastN {
			last, lastN = s, n
		}
	}
	if n := f.Plate.SteelFacedAtPull; n > 0 && !f.Plate.SteelFaced {
		all = append(all, breach("steel-facing", Doubt, []ID{f.Plate.ID},
			"The plate %s was steel-faced at pull %d, but is not marked as steel-faced. Was the facing taken off again?", f.Plate.Said(), n))
	}
	return all
}
