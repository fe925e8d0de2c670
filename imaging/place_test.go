package imaging

import (
	"context"
	"path/filepath"
	"testing"
)

// stateReferences prepares one reference for each state, from the first
// photograph of each.
func stateReferences(t testing.TB, s *stateTruth, states int) []*Reference {
	t.Helper()
	ctx := context.Background()
	var out []*Reference
	for n := 1; n <= states; n++ {
		for _, ph := range s.Photos {
			if ph.State != n {
				continue
			}
			p, err := Open(ctx, filepath.Join(shared, "photos", ph.File))
			if err != nil {
				t.Fatal(err)
			}
			mark, err := FindPlate(ctx, p, s.size())
			if err != nil {
				t.Fatal(err)
			}
			r, err := Prepare(ctx, p, mark, s.size())
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, r)
			break
		}
	}
	return out
}

// Which state, none of these, and the order of wear, on the simulated plates
// (owed: 0.97 right, none wrong when sure, rank correlation 0.95; the whole
// table is made by the accuracy package).
func TestPlace(t *testing.T) {
	s := loadStates(t, "quay")
	refs := stateReferences(t, &s, 3)
	ctx := context.Background()
	all, err := NewKnownStates(ctx, refs)
	if err != nil {
		t.Fatal(err)
	}
	firstTwo := &KnownStates{refs: all.refs[:2], sheets: all.sheets[:2]}
	last := -1e9
	for _, c := range []struct {
		file  string
		state int
	}{
		{"quay-pull-008.jpg", 1}, {"quay-pull-060.jpg", 1},
		{"quay-state-2-pull-020.jpg", 2}, {"quay-state-3-pull-009.jpg", 3},
	} {
		p, err := Open(ctx, filepath.Join(shared, "photos", c.file))
		if err != nil {
			t.Fatal(err)
		}
		got, err := all.Place(ctx, p)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %d, %.3f; %s", c.file, got.State, got.Confidence, got.Reason)
		if got.State != c.state || got.Confidence < 0.9 {
			t.Errorf("%s is of state %d, said %d (%.2f)", c.file, c.state, got.State, got.Confidence)
		}
		if got.Order == nil {
			t.Fatalf("%s has no place in the order of wear", c.file)
		}
		if c.state == 1 {
			if got.Order.V <= last {
				t.Errorf("%s is worn to %.2f, less than the pull before it (%.2f)", c.file, got.Order.V, last)
			}
			last = got.Order.V
		}
		if c.state == 3 {
			none, err := firstTwo.Place(ctx, p)
			if err != nil {
				t.Fatal(err)
			}
			if none.State != 0 || none.Confidence < 0.9 {
				t.Errorf("%s is of neither of two states, said %d (%.2f): %s", c.file, none.State, none.Confidence, none.Reason)
			}
		}
	}
	ranked, err := Recognise(ctx, stateReferencesOf(t, "grove", refs[0]), openShared(t, "quay-pull-018.jpg"))
	if err != nil {
		t.Fatal(err)
	}
	if len(ranked) == 0 || ranked[0].Index != 1 || ranked[0].Correlation < 0.3 {
		t.Errorf("the photograph of quay is ranked %v", ranked)
	}
}

// stateReferencesOf is a catalogue of two plates: another one first.
func stateReferencesOf(t testing.TB, other string, r *Reference) []*Reference {
	s := loadStates(t, other)
	return append(stateReferences(t, &s, 1), r)
}
