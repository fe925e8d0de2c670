package imaging

import (
	"context"
	"math"
	"path/filepath"
	"testing"
)

// overlap is the intersection of two boxes over their union.
func overlap(a, b [4]float64) float64 {
	w, h := min(a[2], b[2])-max(a[0], b[0]), min(a[3], b[3])-max(a[1], b[1])
	if w <= 0 || h <= 0 {
		return 0
	}
	i := w * h
	return i / ((a[2]-a[0])*(a[3]-a[1]) + (b[2]-b[0])*(b[3]-b[1]) - i)
}

// boxTally counts true boxes found and boxes that are none.
type boxTally struct{ truth, found, false int }

// count matches boxes one to one where they overlap by 0.4 of their union.
func (c *boxTally) count(t testing.TB, what string, got []Change, kind string, truth [][4]float64) {
	t.Helper()
	used := make([]bool, len(truth))
	c.truth += len(truth)
	for _, g := range got {
		if g.Kind != kind {
			continue
		}
		best, at := 0.4, -1
		for i, b := range truth {
			if o := overlap(g.Box, b); !used[i] && o >= best {
				best, at = o, i
			}
		}
		if at < 0 {
			c.false++
			t.Logf("%s: %s at %.1f is none (sure %.2f)", what, kind, g.Box, g.Sure)
			continue
		}
		used[at] = true
		c.found++
	}
	for i, u := range used {
		if !u {
			t.Logf("%s: %s at %.1f not found", what, kind, truth[i])
		}
	}
}

func comparePhotos(t testing.TB, size Size, a, b string) ([]Change, *Result) {
	t.Helper()
	ctx := context.Background()
	before, err := Open(ctx, filepath.Join(shared, "photos", a))
	if err != nil {
		t.Fatal(err)
	}
	after, err := Open(ctx, filepath.Join(shared, "photos", b))
	if err != nil {
		t.Fatal(err)
	}
	ch, res, err := Compare(ctx, before, after, size)
	if err != nil {
		t.Fatal(err)
	}
	if res.Verdict != Measured {
		t.Fatalf("%s, %s: %s", a, b, res.Reason)
	}
	return ch, res
}

// Recall and precision owed: 0.95 each; none on two pulls of one state with
// very different wiping and wear (MEASURES.md 2). Truth: the boxes of the
// simulated plates, written independently of this program.
func TestChangesBetweenStates(t *testing.T) {
	var c boxTally
	for _, p := range []struct {
		plate, before, after string
		a, b                 int
	}{
		{"quay", "quay-reference.jpg", "quay-state-2-pull-009.jpg", 1, 2},
		{"quay", "quay-pull-060.jpg", "quay-state-2-pull-020.jpg", 1, 2},
		{"quay", "quay-state-2-pull-002.jpg", "quay-state-3-pull-020.jpg", 2, 3},
		{"grove", "grove-reference.jpg", "grove-state-2-pull-002.jpg", 1, 2},
	} {
		s := loadStates(t, p.plate)
		added, removed := s.between(p.a, p.b)
		got, _ := comparePhotos(t, s.size(), p.before, p.after)
		c.count(t, p.before+" "+p.after, got, Added, added)
		c.count(t, p.before+" "+p.after, got, Removed, removed)
	}
	recall, precision := float64(c.found)/float64(c.truth), float64(c.found)/math.Max(1, float64(c.found+c.false))
	t.Logf("recall %.3f, precision %.3f of %d patches", recall, precision, c.truth)
	if recall < 0.95 || precision < 0.95 {
		t.Errorf("recall %.3f and precision %.3f, owed 0.95 each", recall, precision)
	}
}

func TestNoChangesWithinOneState(t *testing.T) {
	for _, p := range [][3]string{
		{"quay", "quay-pull-060.jpg", "quay-pull-003.jpg"},
		{"quay", "quay-state-3-pull-020.jpg", "quay-state-3-pull-002.jpg"},
		{"grove", "grove-pull-060.jpg", "grove-pull-003.jpg"},
	} {
		s := loadStates(t, p[0])
		got, _ := comparePhotos(t, s.size(), p[1], p[2])
		for _, g := range got {
			if g.Kind == Added || g.Kind == Removed {
				t.Errorf("%s and %s are of one state, yet %s at %.1f (sure %.2f)", p[1], p[2], g.Kind, g.Box, g.Sure)
			}
		}
	}
}
