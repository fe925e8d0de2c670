package catalog

import (
	"fmt"
	"sort"
	"strconv"
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
			all = append(all, Breach{"state below one", Contradiction, []ID{s.ID},
				fmt.Sprintf("A state of %s has the number %d; states are counted from I.", f.Plate.Name(), s.N)})
		case i > 0 && states[i-1].N == s.N:
			all = append(all, Breach{"state twice", Contradiction, []ID{states[i-1].ID, s.ID},
				fmt.Sprintf("There are two states %s of %s.", romanFigure(s.N), f.Plate.Name())})
		case i == 0 && s.N > 1 || i > 0 && states[i-1].N >= 1 && s.N > states[i-1].N+1:
			all = append(all, Breach{"state left out", Doubt, []ID{s.ID},
				fmt.Sprintf("%s of %s is recorded, but not %s.", capital(s.Name()), f.Plate.Name(), "state "+romanFigure(s.N-1))})
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
			all = append(all, Breach{"reference of another plate", Contradiction, []ID{s.ID},
				fmt.Sprintf("The reference pull of %s of %s is a sheet of another plate.", s.Name(), f.Plate.Name())})
		case ref.StateID != "" && ref.StateID != s.ID:
			all = append(all, Breach{"reference of another state", Contradiction, []ID{s.ID, ref.ID},
				fmt.Sprintf("The reference pull of %s of %s is %s, which is recorded as %s.", s.Name(), f.Plate.Name(), ref.Name(), f.stateName(ref.StateID))})
		}
	}
	for i := range f.Impressions {
		if s := &f.Impressions[i]; s.StateID != "" && f.state(s.StateID) == nil {
			all = append(all, Breach{"state of another plate", Contradiction, []ID{s.ID},
				fmt.Sprintf("The state given for the sheet %s of %s belongs to another plate.", s.Name(), f.Plate.Name())})
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
			all = append(all, Breach{"pull twice", Contradiction, []ID{sheets[i-1].ID, s.ID},
				fmt.Sprintf("Two sheets of %s are counted as pull %d: %s and %s.", f.Plate.Name(), s.Pull, sheets[i-1].Name(), s.Name())})
		}
		if i > 0 && !s.PulledAt.IsZero() && !sheets[i-1].PulledAt.IsZero() && s.PulledAt.Before(sheets[i-1].PulledAt) {
			all = append(all, Breach{"pulls out of time", Doubt, []ID{sheets[i-1].ID, s.ID},
				fmt.Sprintf("Of %s, %s was pulled before %s, though its count of pull is higher.", f.Plate.Name(), s.Name(), sheets[i-1].Name())})
		}
		n := 0
		if st := f.state(s.StateID); st != nil {
			n = st.N
		}
		if n > 0 && n < lastN {
			all = append(all, Breach{"earlier state after a later", Doubt, []ID{last.ID, s.ID},
				fmt.Sprintf("Of %s, %s is of state %s, though the earlier %s is of state %s.", f.Plate.Name(), s.Name(), romanFigure(n), last.Name(), romanFigure(lastN))})
		}
		if n > lastN {
			last, lastN = s, n
		}
	}
	if n := f.Plate.SteelFacedAtPull; n > 0 && !f.Plate.SteelFaced {
		all = append(all, Breach{"steel-facing", Doubt, []ID{f.Plate.ID},
			"The plate " + f.Plate.Name() + " was steel-faced at pull " + strconv.Itoa(n) + ", but is not marked as steel-faced. Was the facing taken off again?"})
	}
	return all
}
