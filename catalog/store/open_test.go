package store

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pullbook/catalog"
)

func reopen(t testing.TB, s *Store, o Options) *Store {
	t.Helper()
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	n, err := Open(s.Dir(), o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { n.Close() })
	return n
}

func TestSecondOpenerReads(t *testing.T) {
	s, p, _ := stocked(t)
	second, err := Open(s.Dir(), Options{Who: "other"})
	if err != nil {
		t.Fatal(err)
	}
	defer second.Close()
	if !second.ReadOnly() || !strings.Contains(second.Notice(), "by tester on the computer") || !strings.Contains(second.Notice(), fmt.Sprint(os.Getpid())) {
		t.Errorf("notice %q, read-only %v", second.Notice(), second.ReadOnly())
	}
	if err := second.Do(ctx, "x", func(tx *Tx) error { return nil }); !errors.Is(err, ErrReadOnly) {
		t.Errorf("a second opener may write: %v", err)
	}
	before, err := second.LastAction(ctx)
	if err != nil {
		t.Fatal(err)
	}
	do(t, s, "edit", func(tx *Tx) error { p.Remarks = "later"; return tx.PutPlate(p) })
	if after, err := second.LastAction(ctx); err != nil || after != before+1 {
		t.Errorf("the second opener sees %d actions, then %d, %v", before, after, err)
	}
	if got, err := second.Plate(ctx, p.ID); err != nil || got.Remarks != "later" {
		t.Errorf("the second opener does not see what the first entered: %+v, %v", got, err)
	}
	if r := verify(t, second); !r.Clean() {
		t.Errorf("%+v", r.Findings)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	third, err := Open(s.Dir(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer third.Close()
	if third.ReadOnly() {
		t.Errorf("still locked: %s", third.Notice())
	}
}

// What is no sound catalogue of ours is refused with a sentence and not
// touched.
func TestOpenRefuses(t *testing.T) {
	make := func(t *testing.T, f func(file string)) string {
		dir := filepath.Join(t.TempDir(), "x.pullbook")
		if err := os.Mkdir(dir, 0o755); err != nil {
			t.Fatal(err)
		}
		f(filepath.Join(dir, DatabaseFile))
		return dir
	}
	sqlFile := func(stmts ...string) func(string) {
		return func(file string) {
			db := openPool(file, opening{mode: "rwc"})
			defer db.Close()
			for _, s := range stmts {
				if _, err := db.ExecContext(ctx, s); err != nil {
					t.Fatal(err)
				}
			}
			if _, err := findings(ctx, db, "PRAGMA wal_checkpoint(TRUNCATE)"); err != nil {
				t.Fatal(err)
			}
		}
	}
	for name, c := range map[string]struct {
		file    func(string)
		trouble Trouble
		says    string
	}{
		"nothing":     {func(string) {}, TroubleMissing, "no catalogue in"},
		"zero length": {func(f string) { os.WriteFile(f, nil, 0o644) }, TroubleDamaged, "is empty"},
		"text":        {func(f string) { os.WriteFile(f, bytes.Repeat([]byte("plates and states\n"), 500), 0o644) }, TroubleForeign, "not a catalogue"},
		"foreign":     {sqlFile("CREATE TABLE t (x)", "PRAGMA application_id = 77"), TroubleForeign, "not a catalogue"},
		"unmarked":    {sqlFile("CREATE TABLE t (x)"), TroubleForeign, "not a catalogue"},
		"unfinished":  {sqlFile("PRAGMA user_version = 0"), TroubleForeign, "never finished"},
		"newer": {sqlFile(schema1, fmt.Sprintf("PRAGMA application_id = %d", ApplicationID), "PRAGMA user_version = 900",
			"INSERT INTO keeping VALUES ('written_by', 'Pullbook 9')"), TroubleNewer, "later version of this program, Pullbook 9"},
	} {
		t.Run(name, func(t *testing.T) {
			dir := make(t, c.file)
			before, _ := os.ReadFile(filepath.Join(dir, DatabaseFile))
			_, err := Open(dir, Options{})
			var oe *OpenError
			if !errors.As(err, &oe) || oe.Trouble != c.trouble || !strings.Contains(oe.Error(), c.says) {
				t.Errorf("%+v (%v)", oe, err)
			}
			if after, _ := os.ReadFile(filepath.Join(dir, DatabaseFile)); !bytes.Equal(before, after) {
				t.Error("the file was touched")
			}
			if _, err := os.Stat(filepath.Join(dir, DatabaseFile+"-wal")); err == nil {
				t.Error("a log was left beside the file")
			}
		})
	}
	// A folder that is not there at all, and one with something in it.
	if _, err := Open(filepath.Join(t.TempDir(), "no", "such"), Options{}); err == nil {
		t.Error("opened nothing")
	}
	dir := t.TempDir()
	os.WriteFile(filepath.Join(dir, "letter.txt"), []byte("x"), 0o644)
	if _, err := Create(dir); err == nil {
		t.Error("made a catalogue among somebody's files")
	}
}

func TestOddPaths(t *testing.T) {
	for _, name := range []string{"a?b.pullbook", "a#b.pullbook", "50%.pullbook", "%3f%23.pullbook", "with space.pullbook", "Müller’s Œuvre.pullbook", "a&b=c;d.pullbook", "file:x?mode=memory.pullbook"} {
		dir := filepath.Join(t.TempDir(), name)
		s, err := Create(dir)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		do(t, s, "x", func(tx *Tx) error { return tx.PutInk(&catalog.Ink{Name: "black"}) })
		s = reopen(t, s, Options{})
		if inks, err := s.Inks(ctx); err != nil || len(inks) != 1 {
			t.Errorf("%s: %v, %v", name, inks, err)
		}
		if info, err := os.Stat(filepath.Join(dir, DatabaseFile)); err != nil || info.Size() == 0 {
			t.Errorf("%s: the database is elsewhere: %v", name, err)
		}
	}
}

func TestFolderGone(t *testing.T) {
	s, _, _ := stocked(t)
	away := s.Dir() + " away"
	if err := os.Rename(s.Dir(), away); err != nil {
		t.Fatal(err)
	}
	err := s.Do(ctx, "x", func(tx *Tx) error { return tx.PutInk(&catalog.Ink{Name: "black"}) })
	if err == nil || !strings.Contains(err.Error(), "not there any more") {
		t.Errorf("entering into a folder that is gone: %v", err)
	}
	if err := os.Rename(away, s.Dir()); err != nil {
		t.Fatal(err)
	}
	do(t, s, "back", func(tx *Tx) error { return tx.PutInk(&catalog.Ink{Name: "black"}) })
}
