package store

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// The choice of backups: the last seven days, then the last of each of four
// weeks; other files and days to come are left alone.
func TestOutdatedBackups(t *testing.T) {
	now := time.Date(2026, 3, 31, 12, 0, 0, 0, time.UTC) // a Tuesday
	var all []Backup
	for n := -3; n < 60; n++ {
		day := now.AddDate(0, 0, -n).Truncate(24 * time.Hour)
		all = append(all, Backup{Path: day.Format(dayLayout), Day: day})
	}
	all = append(all, Backup{Path: "set-aside"})
	gone := map[string]bool{}
	for _, b := range outdated(all, now) {
		gone[b.Path] = true
	}
	var kept []string
	for _, b := range all {
		if !gone[b.Path] {
			kept = append(kept, b.Path)
		}
	}
	want := "2026-04-03 2026-04-02 2026-04-01 2026-03-31 2026-03-30 2026-03-29 2026-03-28 2026-03-27 2026-03-26 2026-03-25 " +
		"2026-03-24 2026-03-22 2026-03-15 2026-03-08 set-aside"
	if got := strings.Join(kept, " "); got != want {
		t.Errorf("kept\n%s\nwant\n%s", got, want)
	}
}

// At the first change of a day a backup is made of how it was before; restored,
// it is that, byte for byte in a dump, and what was there is set aside.
func TestDailyBackupAndRestore(t *testing.T) {
	s, p, _ := stocked(t)
	day := time.Date(2024, 5, 1, 9, 0, 0, 0, time.UTC)
	s = reopen(t, s, Options{Now: func() time.Time { return day }})
	before := dumpOf(t, s)
	edit := func(text string) {
		do(t, s, "edit", func(tx *Tx) error { p.Remarks = text; return tx.PutPlate(p) })
	}
	for _, b := range backupsOf(t, s.Dir()) { // of the stocking, at the real date
		os.Remove(b.Path)
	}
	edit("first")
	edit("second")
	all, err := Backups(s.Dir())
	if err != nil || len(all) != 1 || filepath.Base(all[0].Path) != "2024-05-01.db" {
		t.Fatalf("%v, %v", all, err)
	}
	day = day.AddDate(0, 0, 1)
	edit("third")
	day = day.AddDate(0, 0, -30) // the clock is set back
	edit("fourth")
	if all, err = Backups(s.Dir()); err != nil || len(all) != 3 {
		t.Fatalf("%v, %v", all, err)
	}
	if s.BackupTrouble() != "" {
		t.Error(s.BackupTrouble())
	}
	if _, err := Restore(ctx, s.Dir(), filepath.Join(s.Dir(), BackupsDir, "2024-05-01.db"), Options{}); err == nil {
		t.Fatal("restored into an open catalogue")
	}
	late := dumpOf(t, s)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	kept, err := Restore(ctx, s.Dir(), filepath.Join(s.Dir(), BackupsDir, "2024-05-01.db"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	s, err = Open(s.Dir(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if got := dumpOf(t, s); got != before {
		t.Errorf("restored:\n%s", firstDifference(got, before))
	}
	if r := verify(t, s); !r.Clean() {
		t.Errorf("%+v", r.Findings)
	}
	s.Close()
	if _, err := Restore(ctx, s.Dir(), filepath.Join(s.Dir(), BackupsDir, kept), Options{}); err != nil {
		t.Fatal(err)
	}
	if s, err = Open(s.Dir(), Options{}); err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if got := dumpOf(t, s); got != late {
		t.Errorf("what was set aside:\n%s", firstDifference(got, late))
	}
	bad := filepath.Join(s.Dir(), BackupsDir, "bad.db")
	os.WriteFile(bad, []byte("not a database, far too short to be one"), 0o644)
	s.Close()
	if _, err := Restore(ctx, s.Dir(), bad, Options{}); err == nil {
		t.Error("a backup that is none was restored")
	}
}

func backupsOf(t *testing.T, dir string) []Backup {
	t.Helper()
	all, err := Backups(dir)
	if err != nil {
		t.Fatal(err)
	}
	return all
}
