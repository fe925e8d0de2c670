package store

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pullbook/catalog/say"
)

// another gives a sign of life as a program in another computer would.
func another(t *testing.T, dir, host string, at time.Time) {
	t.Helper()
	b, err := json.Marshal(sign{Sitting: "another", Who: "the printer", Host: host, At: at})
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, AliveFile), b, 0o644); err != nil {
		t.Fatal(err)
	}
}

// Where locks cannot be relied on, a sign of life from another computer keeps
// us from writing; one that is old, unreadable or left behind in this computer
// does not.
func TestSignOfLife(t *testing.T) {
	s, _, _ := stocked(t)
	dir := s.Dir()
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	here, err := os.Hostname()
	if err != nil {
		t.Fatal(err)
	}
	now := time.Now()
	for _, c := range []struct {
		name     string
		leave    func()
		readOnly bool
	}{
		{"nobody", func() {}, false},
		{"another computer, just now", func() { another(t, dir, "attic", now) }, true},
		{"another computer, its clock a minute ahead", func() { another(t, dir, "attic", now.Add(time.Minute)) }, true},
		{"another computer, long ago", func() { another(t, dir, "attic", now.Add(-3*time.Minute)) }, false},
		{"a program killed in this computer", func() { another(t, dir, here, now) }, false},
		{"half a file", func() { os.WriteFile(filepath.Join(dir, AliveFile), []byte(`{"sitting":"x`), 0o644) }, false},
	} {
		c.leave()
		s, err := Open(dir, Options{noLocks: true})
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if s.ReadOnly() != c.readOnly {
			t.Errorf("%s: read-only %v: %s", c.name, s.ReadOnly(), s.Notice())
		}
		if c.readOnly {
			for _, l := range []*say.Language{say.English, say.German} {
				if n := s.NoticeIn(l); !strings.Contains(n, "the printer") || !strings.Contains(n, "attic") {
					t.Errorf("%s: the notice does not say who has it open: %s", c.name, n)
				}
			}
		} else if got := s.signOf(); got != nil {
			t.Errorf("%s: while open, the sign of life is another's: %+v", c.name, got)
		}
		if _, err := os.Stat(filepath.Join(dir, AliveFile)); err != nil {
			t.Errorf("%s: while open there is no sign of life: %v", c.name, err)
		}
		if err := s.Close(); err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if _, err := os.Stat(filepath.Join(dir, AliveFile)); (err == nil) != c.readOnly {
			t.Errorf("%s: after closing, the sign of life: %v", c.name, err)
		}
	}
}

// Somebody who comes in from another computer later, in spite of our signs, has
// our actions refused until they are gone.
func TestSomebodyComesIn(t *testing.T) {
	s, p, _ := stocked(t)
	s = reopen(t, s, Options{noLocks: true})
	another(t, s.Dir(), "attic", time.Now())
	err := s.Do(ctx, "edit", func(tx *Tx) error { p.Remarks = "later"; return tx.PutPlate(p) })
	if err == nil || !strings.Contains(err.Error(), "the printer on the computer attic") {
		t.Errorf("beside somebody else: %v", err)
	}
	if got, err := s.Plate(ctx, p.ID); err != nil || got.Remarks == "later" {
		t.Errorf("what was refused is kept: %v, %v", got, err)
	}
	if err := os.Remove(filepath.Join(s.Dir(), AliveFile)); err != nil {
		t.Fatal(err)
	}
	do(t, s, "edit", func(tx *Tx) error { return tx.PutPlate(p) })
}

// On a disk of this computer no sign of life is given.
func TestNoSignWhereLocksHold(t *testing.T) {
	s, _, _ := stocked(t)
	if _, err := os.Stat(filepath.Join(s.Dir(), AliveFile)); err == nil {
		t.Error("a sign of life stands beside a lock that holds")
	}
}
