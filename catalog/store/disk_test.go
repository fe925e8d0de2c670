package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"pullbook/catalog"
	"pullbook/catalog/archive"
)

// everyFailure runs work again and again, each time on a disk of which the
// next operation fails, in two ways, until it runs through. look is told what
// failed and what work said.
func everyFailure(t *testing.T, atLeast int, work func(d archive.Disk) error, look func(failed string, err error)) {
	t.Helper()
	made := 0
	for _, w := range []archive.FailingDisk{{Err: syscall.ENOSPC, Short: true}, {Err: syscall.EIO}} {
		for at := 1; ; at++ {
			d := w
			d.Disk, d.At = archive.OS{}, at
			err := work(&d)
			if d.Failed == "" {
				if err != nil {
					t.Fatalf("without a fault: %v", err)
				}
				break
			}
			made++
			look(d.Failed, err)
			if t.Failed() {
				t.Fatalf("operation %d (%s) failed with %v; the work said: %v", at, d.Failed, w.Err, err)
			}
		}
	}
	t.Logf("%d faults made", made)
	if made < atLeast {
		t.Errorf("only %d faults made", made)
	}
}

// soundBackups fails when a file that looks like a backup is none.
func soundBackups(t *testing.T, dir string) {
	t.Helper()
	for _, b := range backupsOf(t, dir) {
		if err := checkCopy(ctx, b.Path); err != nil && !strings.Contains(b.Path, "set-aside") {
			t.Errorf("%s: %v", b.Path, err)
		}
	}
}

func TestBackupFaults(t *testing.T) {
	s, _, _ := stocked(t)
	before := dumpOf(t, s)
	n := len(backupsOf(t, s.Dir()))
	everyFailure(t, 8, func(d archive.Disk) error {
		s.options.Disk = d
		_, err := s.Backup(ctx)
		return err
	}, func(failed string, err error) {
		s.options.Disk = nil
		soundBackups(t, s.Dir())
		// Looking whether a name is taken, and removing what is not there,
		// may fail without harm.
		if err == nil && failed != "stat" {
			t.Error("nobody was told")
		}
		if dumpOf(t, s) != before {
			t.Error("the catalogue changed")
		}
	})
	s.options.Disk = nil
	if len(backupsOf(t, s.Dir())) <= n {
		t.Error("no backup was made in the end")
	}
}

// A backup that is reported outlasts a power cut, and so does one that was
// brought back: the database then has its old contents whole.
func TestBackupsOutlastAPowerCut(t *testing.T) {
	s, _, _ := stocked(t)
	d := archive.NewLastingDisk()
	s.options.Disk = d
	path, err := s.Backup(ctx)
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Lost(path); err != nil {
		t.Error(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	kept, err := Restore(ctx, s.Dir(), path, Options{Disk: d})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range []string{filepath.Join(s.Dir(), DatabaseFile), filepath.Join(s.Dir(), BackupsDir, kept)} {
		if err := d.Lost(p); err != nil {
			t.Error(err)
		}
	}
}

// A failing day's backup does not keep anybody from entering, and is told.
func TestDailyBackupThatFails(t *testing.T) {
	s, _, _ := stocked(t)
	for _, b := range backupsOf(t, s.Dir()) {
		os.Remove(b.Path)
	}
	s = reopen(t, s, Options{})
	s.options.Disk = &archive.FailingDisk{Disk: archive.OS{}, At: 2, Err: syscall.ENOSPC}
	do(t, s, "edit", func(tx *Tx) error { return tx.PutInk(&catalog.Ink{Name: "black"}) })
	if s.BackupTrouble() == "" || !strings.Contains(s.BackupTrouble(), "disk is full") {
		t.Errorf("trouble %q", s.BackupTrouble())
	}
}

func TestRestoreFaults(t *testing.T) {
	s, p, _ := stocked(t)
	backup, err := s.Backup(ctx)
	if err != nil {
		t.Fatal(err)
	}
	old := dumpOf(t, s)
	do(t, s, "edit", func(tx *Tx) error { p.Remarks = "later"; return tx.PutPlate(p) })
	late := dumpOf(t, s)
	dir := s.Dir()
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	final := ""
	everyFailure(t, 20, func(d archive.Disk) error {
		_, err := Restore(ctx, dir, backup, Options{Disk: d})
		return err
	}, func(failed string, err error) {
		s, err2 := Open(dir, Options{})
		if err2 != nil {
			t.Errorf("does not open: %v", err2)
			return
		}
		defer s.Close()
		final = dumpOf(t, s)
		if final != old && final != late {
			t.Error("neither the old nor the restored catalogue")
		}
		if r := verify(t, s); !r.Clean() {
			t.Errorf("%+v", r.Findings)
		}
		soundBackups(t, dir)
	})
}

func TestPackFaults(t *testing.T) {
	s, _, _ := stocked(t)
	path := filepath.Join(t.TempDir(), "packed.zip")
	everyFailure(t, 8, func(d archive.Disk) error {
		s.options.Disk = d
		os.Remove(path)
		return s.Pack(ctx, path, nil)
	}, func(failed string, err error) {
		if err == nil {
			t.Error("nobody was told")
		}
		if _, err := os.Stat(path); err == nil && failed != "sync folder" {
			t.Error("half a file was left")
		}
	})
}

// An action that panics leaves the catalogue as it was and open for others.
func TestPanicInAnAction(t *testing.T) {
	s := newStore(t)
	func() {
		defer func() { recover() }()
		s.Do(ctx, "panics", func(tx *Tx) error {
			if err := tx.PutInk(&catalog.Ink{Name: "lost"}); err != nil {
				t.Fatal(err)
			}
			panic("in the middle")
		})
	}()
	do(t, s, "next", func(tx *Tx) error { return tx.PutInk(&catalog.Ink{Name: "kept"}) })
	if inks, err := s.Inks(ctx); err != nil || len(inks) != 1 || inks[0].Name != "kept" {
		t.Errorf("%v, %v", inks, err)
	}
}

// A closed catalogue answers with errors, not with a crash; somebody told of a
// change may act.
func TestAfterClosingAndWithinOnChange(t *testing.T) {
	s := newStore(t)
	acted := false
	s.OnChange(func() {
		if !acted {
			acted = true
			do(t, s, "answer", func(tx *Tx) error { return tx.PutInk(&catalog.Ink{Name: "b"}) })
		}
	})
	do(t, s, "one", func(tx *Tx) error { return tx.PutInk(&catalog.Ink{Name: "a"}) })
	if inks, err := s.Inks(ctx); err != nil || len(inks) != 2 {
		t.Errorf("%v, %v", inks, err)
	}
	if err := errors.Join(s.Close(), s.Close()); err != nil {
		t.Fatal(err)
	}
	_, errs := s.Inks(ctx)
	_, snap := s.Snapshot(ctx)
	_, undo := s.Undo(ctx)
	_, backup := s.Backup(ctx)
	for i, err := range []error{errs, snap, undo, backup, s.Pack(ctx, filepath.Join(t.TempDir(), "x"), nil),
		s.Do(ctx, "x", func(*Tx) error { return nil }), s.RebuildSearch(ctx)} {
		if err == nil && i != 4 { // packing opens the file by itself
			t.Errorf("%d: a closed catalogue did as if it were open", i)
		}
	}
}

// In a folder that cannot be written to, the catalogue opens for reading; when
// it was not closed before, a sentence says what to do. As root nothing is
// forbidden, so the test runs a child as nobody.
func TestReadOnlyFolder(t *testing.T) {
	if runtime.GOOS != "linux" || os.Geteuid() != 0 {
		t.Skip("needs to be root on Linux, to become somebody who may not write")
	}
	for _, c := range []struct {
		name   string
		closed bool
		says   string
	}{{"closed", true, "read-only true plates 1"}, {"not closed", false, "Copy the whole folder"}} {
		s, _, _ := stocked(t)
		dir := s.Dir()
		if c.closed {
			s.Close()
		} else {
			// What a killed program leaves: a log, and no shared memory.
			data := map[string][]byte{}
			for _, n := range []string{DatabaseFile, DatabaseFile + "-wal"} {
				b, err := os.ReadFile(filepath.Join(dir, n))
				if err != nil {
					t.Fatal(err)
				}
				data[n] = b
			}
			s.Close()
			for n, b := range data {
				if err := os.WriteFile(filepath.Join(dir, n), b, 0o444); err != nil {
					t.Fatal(err)
				}
			}
		}
		if err := filepath.WalkDir(dir, func(p string, e fs.DirEntry, err error) error {
			return errors.Join(err, os.Chmod(p, map[bool]fs.FileMode{true: 0o555, false: 0o444}[e.IsDir()]))
		}); err != nil {
			t.Fatal(err)
		}
		out := asNobody(t, "read", dir)
		if !strings.Contains(out, c.says) {
			t.Errorf("%s: %s", c.name, out)
		}
		if err := os.Chmod(dir, 0o755); err != nil { // for the removal
			t.Fatal(err)
		}
	}
}

// asNobody runs this program as a child with no rights.
func asNobody(t *testing.T, kind, dir string) string {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(exe)
	if err != nil {
		t.Fatal(err)
	}
	temp, err := os.MkdirTemp("", "pullbook-child-") // those of the test are closed to others
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(temp)
	copied := filepath.Join(temp, "child")
	if err := errors.Join(os.Chmod(temp, 0o755), os.WriteFile(copied, data, 0o755)); err != nil {
		t.Fatal(err)
	}
	for d := dir; len(d) > len(os.TempDir()); d = filepath.Dir(d) {
		if info, err := os.Stat(d); err == nil && d != dir {
			os.Chmod(d, info.Mode().Perm()|0o055)
		}
	}
	c := exec.Command(copied, "-test.run=^$")
	c.Dir = "/"
	c.Env = append(os.Environ(), "PULLBOOK_CHILD="+kind, "PULLBOOK_CHILD_DIR="+dir)
	becomeNobody(c)
	out, err := c.CombinedOutput()
	if err != nil {
		t.Logf("child: %v", err)
	}
	return string(out)
}

// childRead opens a catalogue and says what it sees.
func childRead(dir string) {
	s, err := Open(dir, Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	defer s.Close()
	rows, err := s.Plates(ctx, PlateFilter{Text: "low"})
	fmt.Println("read-only", s.ReadOnly(), "plates", len(rows), err, s.Notice())
	fmt.Println("write:", s.Do(ctx, "x", func(*Tx) error { return nil }))
	r, err := s.Verify(ctx, nil)
	fmt.Println("clean", r.Clean(), err)
}
