package store

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
)

// shim builds the library that makes system calls fail.
func shim(t *testing.T) string {
	t.Helper()
	if runtime.GOOS != "linux" {
		t.Skip("faults of the database's system calls are made on Linux only")
	}
	lib := filepath.Join(t.TempDir(), "fault.so")
	cc := os.Getenv("CC")
	if cc == "" {
		cc = "cc"
	}
	if out, err := exec.Command(cc, "-shared", "-fPIC", "-O1", "-o", lib, filepath.Join("testdata", "fault", "fault.c")).CombinedOutput(); err != nil {
		t.Skipf("no C compiler to build the fault library with: %v %s", err, out)
	}
	return lib
}

// A way is how a fault shows itself.
type way struct {
	name         string
	errno        syscall.Errno
	short, stays bool
}

var ways = []way{
	{"disk full, half written", syscall.ENOSPC, true, false},
	{"disk full from then on", syscall.ENOSPC, true, true},
	{"input/output error", syscall.EIO, false, false},
	{"read-only from then on", syscall.EROFS, false, true},
}

func (w way) env(lib, log string, at int) []string {
	flag := map[bool]string{false: "0", true: "1"}
	return []string{"LD_PRELOAD=" + lib, fmt.Sprintf("FAULT_AT=%d", at), fmt.Sprintf("FAULT_ERRNO=%d", int(w.errno)),
		"FAULT_SHORT=" + flag[w.short], "FAULT_STAYS=" + flag[w.stays], "FAULT_LOG=" + log}
}

// chosen gives the calls that are made to fail: all of n, or -faults of them
// spread evenly, others for each way.
func chosen(n, offset int) []int {
	step := 1
	if *faults > 0 && n > *faults {
		step = n / *faults
	}
	var at []int
	for k := 1 + offset%step; k <= n; k += step {
		at = append(at, k)
	}
	return at
}

// Every write, sync, truncation, opening and removal that SQLite makes during
// taking-in, entering, undo, redo, backup and closing is made to fail once in
// turn, in four ways (run with -faults 0 for all of them). Each time the
// catalogue is whole and holds what was acknowledged.
func TestDatabaseFaults(t *testing.T) {
	lib := shim(t)
	start := t.TempDir()
	s, err := Create(filepath.Join(start, "victim.pullbook"))
	if err != nil {
		t.Fatal(err)
	}
	if err := childAction(s, "0"); err != nil {
		t.Fatal(err)
	}
	s.Close()
	run := func(w way, at int) (calls string, out []byte, dir string) {
		temp := t.TempDir()
		dir = filepath.Join(temp, "victim.pullbook")
		if err := os.CopyFS(dir, os.DirFS(filepath.Join(start, "victim.pullbook"))); err != nil {
			t.Fatal(err)
		}
		log := filepath.Join(temp, "calls")
		c := child(t, "faults", dir, 0, w.env(lib, log, at)...)
		if out, err = c.Output(); err != nil {
			t.Fatalf("%s at %d: the child ended badly: %v\n%s", w.name, at, err, out)
		}
		b, _ := os.ReadFile(log)
		return string(b), out, dir
	}
	calls, out, dir := run(ways[0], 0)
	if bytes.Contains(out, []byte("failed")) || !strings.ContainsAny(calls, "s") {
		t.Fatalf("without a fault: %s (calls %s)", out, calls)
	}
	os.RemoveAll(filepath.Dir(dir))
	made, failed := 0, 0
	for i, w := range ways {
		for _, at := range chosen(len(calls), i) {
			_, out, dir := run(w, at)
			made++
			if bytes.Contains(out, []byte("failed")) || bytes.Contains(out, []byte("not opened")) || bytes.Contains(out, []byte("no backup")) {
				failed++
			}
			m := &model{there: map[string]bool{"0": true}}
			for _, line := range strings.Split(string(out), "\n") {
				m.hear(line)
				// An action that failed may have reached the log all the
				// same; it is one under way, whole or not there.
				if strings.HasPrefix(line, "failed") {
					m.unclear = true
				}
			}
			m.check(t, dir, fmt.Sprintf("%s at call %d of %d (%c)\n%s", w.name, at, len(calls), calls[min(at, len(calls))-1], out))
			os.RemoveAll(filepath.Dir(dir))
			if t.Failed() {
				return
			}
		}
	}
	t.Logf("%d system calls; %d faults made, %d of them noticed by the work", len(calls), made, failed)
	if failed == 0 {
		t.Error("no fault was ever noticed: are they made at all?")
	}
}

// The same for a migration: afterwards the catalogue has the old form or the
// new one, whole.
func TestMigrationFaults(t *testing.T) {
	lib := shim(t)
	run := func(w way, at int) (calls string, out []byte, dir string) {
		old := unpackFixture(t, SchemaVersion)
		dir = filepath.Join(filepath.Dir(old), "victim.pullbook")
		if err := os.Rename(old, dir); err != nil {
			t.Fatal(err)
		}
		log := filepath.Join(filepath.Dir(old), "calls")
		out, err := child(t, "migrate", dir, 0, w.env(lib, log, at)...).Output()
		if err != nil {
			t.Fatalf("%s at %d: the child ended badly: %v\n%s", w.name, at, err, out)
		}
		b, _ := os.ReadFile(log)
		return string(b), out, dir
	}
	calls, out, _ := run(ways[0], 0)
	if !bytes.Contains(out, []byte("did 2")) {
		t.Fatalf("without a fault: %s", out)
	}
	want, err := os.ReadFile(fixture(SchemaVersion, "dump.txt"))
	if err != nil {
		t.Fatal(err)
	}
	made, failed, old := 0, 0, 0
	for i, w := range ways {
		for _, at := range chosen(len(calls), i) {
			_, out, dir := run(w, at)
			made++
			if !bytes.Contains(out, []byte("did 2")) {
				failed++
			}
			if isOldForm(t, dir, string(want), fmt.Sprintf("%s at call %d (%c): %s", w.name, at, calls[at-1], out)) {
				old++
			}
		}
	}
	t.Logf("%d system calls; %d faults made, %d migrations failed, %d catalogues are of the old form", len(calls), made, failed, old)
	if failed == 0 {
		t.Error("no migration ever failed: are faults made at all?")
	}
}

// isOldForm looks whether a catalogue after a migration is whole and of the old
// form.
func isOldForm(t *testing.T, dir, want, when string) bool {
	t.Helper()
	db := openPool(filepath.Join(dir, DatabaseFile), opening{mode: "rw"})
	defer db.Close()
	if err := quickCheck(ctx, db); err != nil {
		t.Errorf("%s: %v", when, err)
	}
	var version, columns int
	if err := db.QueryRowContext(ctx, "SELECT (SELECT user_version FROM pragma_user_version), (SELECT count(*) FROM pragma_table_info('ink'))").Scan(&version, &columns); err != nil {
		t.Errorf("%s: %v", when, err)
	}
	switch version {
	case SchemaVersion:
		var b bytes.Buffer
		if err := dump(ctx, db, &b); err != nil || b.String() != want {
			t.Errorf("%s: the old form is not as it was: %v", when, err)
		}
	case SchemaVersion + 1:
		if columns != 6 {
			t.Errorf("%s: the later form with %d columns", when, columns)
		}
	default:
		t.Errorf("%s: form %d", when, version)
	}
	return version == SchemaVersion
}
