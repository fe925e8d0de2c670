package imaging

import (
	"context"
	"path/filepath"
	"testing"
)

// Another plate and a mirrored picture are refused in words, never compared.
func TestCompareRefuses(t *testing.T) {
	s := loadStates(t, "quay")
	ctx := context.Background()
	before := openShared(t, "quay-reference.jpg")
	for _, f := range []string{"another-plate.jpg", "mirrored.jpg"} {
		after, err := Open(ctx, filepath.Join(shared, "photos", "awkward", f))
		if err != nil {
			t.Fatal(err)
		}
		got, res, err := Compare(ctx, before, after, s.size())
		if err != nil {
			t.Fatal(err)
		}
		if len(got) > 0 || res.Verdict != Refused || res.Reason == "" {
			t.Errorf("%s: %d changes, %s %q", f, len(got), res.Verdict, res.Reason)
		}
		t.Logf("%s: %s", f, res.Reason)
	}
}
