package store

import (
	"bytes"
	"compress/gzip"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// update writes the fixture of the present form anew. Do so only while a form
// has not been released; a fixture of a released form is never changed.
var update = flag.Bool("update", false, "write the fixture of the present form of the database anew")

// updateDumps writes what the fixtures of earlier forms say in the present
// form. Read the difference before it is committed: only what the migration
// adds may be new.
var updateDumps = flag.Bool("update-dumps", false, "write anew what the fixtures of earlier forms say in the present form")

func fixture(form int, name string) string {
	return filepath.Join("testdata", fmt.Sprintf("form-%d", form), name)
}

func TestWriteFixture(t *testing.T) {
	if !*update {
		t.Skip("only with -update")
	}
	s := newStore(t)
	e := makeEverything()
	do(t, s, "everything", e.put)
	e.plate.Remarks = "changed once, for the history"
	do(t, s, "edit", func(tx *Tx) error { return tx.PutPlate(e.plate) })
	dump := dumpOf(t, s)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(filepath.Join(s.Dir(), DatabaseFile))
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	z, _ := gzip.NewWriterLevel(&b, gzip.BestCompression)
	z.Write(data)
	z.Close()
	os.MkdirAll(filepath.Dir(fixture(SchemaVersion, "dump.txt")), 0o755)
	for name, data := range map[string][]byte{"catalogue.db.gz": b.Bytes(), "dump.txt": []byte(dump)} {
		if err := os.WriteFile(fixture(SchemaVersion, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// unpackFixture lays a catalogue of an earlier form into a folder.
func unpackFixture(t *testing.T, form int) (dir string) {
	t.Helper()
	f, err := os.Open(fixture(form, "catalogue.db.gz"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	dir = filepath.Join(t.TempDir(), "old.pullbook")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, DatabaseFile), data, 0o644); err != nil {
		t.Fatal(err)
	}
	return dir
}

// Every form that was ever released opens, is sound, and says what it said.
// For an earlier form, dump.txt is what it says in the present form, written by
// -update-dumps and reviewed by hand when a migration is added.
func TestEveryReleasedFormOpens(t *testing.T) {
	for form := 1; form <= SchemaVersion; form++ {
		dir := unpackFixture(t, form)
		s, err := Open(dir, Options{})
		if err != nil {
			t.Fatalf("form %d: %v", form, err)
		}
		if *updateDumps && form < SchemaVersion {
			if err := os.WriteFile(fixture(form, "dump.txt"), []byte(dumpOf(t, s)), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(fixture(form, "dump.txt"))
		if err != nil {
			t.Fatal(err)
		}
		if got := dumpOf(t, s); got != string(want) {
			t.Errorf("form %d: %s", form, firstDifference(got, string(want)))
		}
		for _, f := range verify(t, s).Findings {
			if f.Grave && !strings.Contains(f.Sentence, "its file") { // fixtures have no photographs
				t.Errorf("form %d: %s", form, f.Sentence)
			}
		}
		s.Close()
	}
}

// laterForm is a migration as a later version might have: a new column, and a
// table rebuilt for a new rule, by the steps of SQLite's ALTER TABLE page.
const laterForm = `
ALTER TABLE plate ADD COLUMN tint TEXT NOT NULL DEFAULT '';
CREATE TABLE new_ink (id TEXT NOT NULL PRIMARY KEY, name TEXT NOT NULL CHECK (name <> ''), maker TEXT NOT NULL, colour TEXT NOT NULL,
  note TEXT NOT NULL, oil TEXT NOT NULL DEFAULT 'linseed') STRICT, WITHOUT ROWID;
INSERT INTO new_ink (id, name, maker, colour, note) SELECT id, name, maker, colour, note FROM ink;
DROP TABLE ink;
ALTER TABLE new_ink RENAME TO ink;
`

func TestMigrationRunsWholeAfterABackup(t *testing.T) {
	s, err := Open(unpackFixture(t, 1), Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	before := dumpOf(t, s)
	later := SchemaVersion + 1
	steps := []migration{{SchemaVersion, "SELECT no such thing"}, {later, laterForm}} // those done already are passed over
	if err := s.bringUpToDate(ctx, SchemaVersion, steps, later); err != nil {
		t.Fatal(err)
	}
	var version, inks int
	var oil string
	if err := s.write.QueryRowContext(ctx, "SELECT (SELECT user_version FROM pragma_user_version), count(*), max(oil) FROM ink").Scan(&version, &inks, &oil); err != nil {
		t.Fatal(err)
	}
	if version != later || inks != 1 || oil != "linseed" {
		t.Errorf("form %d, %d inks, oil %q", version, inks, oil)
	}
	if broken, err := findings(ctx, s.write, "PRAGMA foreign_key_check"); err != nil || len(broken) > 0 {
		t.Errorf("%v, %v", broken, err)
	}
	var on int
	if err := s.write.QueryRowContext(ctx, "PRAGMA foreign_keys").Scan(&on); err != nil || on != 1 {
		t.Errorf("references are not enforced after a migration: %d, %v", on, err)
	}
	if !strings.Contains(s.Notice(), "brought up to date") {
		t.Errorf("notice %q", s.Notice())
	}
	all := backupsOf(t, s.Dir())
	name := fmt.Sprintf("before-form-%d-", later)
	at := slices.IndexFunc(all, func(b Backup) bool { return strings.Contains(b.Path, name) })
	if at < 0 {
		t.Fatalf("backups %v", all)
	}
	old := openPool(all[at].Path, opening{mode: "ro", readers: true})
	defer old.Close()
	var b bytes.Buffer
	if err := dump(ctx, old, &b); err != nil || b.String() != before {
		t.Errorf("the backup is not how it was: %v", err)
	}
}

// A migration that fails on the way, or would break references, leaves the
// catalogue as it was.
func TestFailedMigrationChangesNothing(t *testing.T) {
	for name, sql := range map[string]string{
		"error half-way":    laterForm + "INSERT INTO nowhere VALUES (1);",
		"breaks references": "DELETE FROM paper;",
		"rule not met":      strings.Replace(laterForm, "name <> ''", "name = 'x'", 1),
	} {
		s, err := Open(unpackFixture(t, 1), Options{})
		if err != nil {
			t.Fatal(err)
		}
		before := dumpOf(t, s)
		if err := s.bringUpToDate(ctx, SchemaVersion, []migration{{SchemaVersion + 1, sql}}, SchemaVersion+1); err == nil {
			t.Errorf("%s: no error", name)
		}
		var version int
		if err := s.write.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version); err != nil || version != SchemaVersion {
			t.Errorf("%s: form %d, %v", name, version, err)
		}
		if got := dumpOf(t, s); got != before {
			t.Errorf("%s: %s", name, firstDifference(got, before))
		}
		s.Close()
	}
}
