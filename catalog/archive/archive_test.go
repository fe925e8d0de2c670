package archive

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

var ctx = context.Background()

func write(t *testing.T, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestAddNamesByHash(t *testing.T) {
	dir := t.TempDir()
	src := filepath.Join(dir, "DSC 1? #é.JPG")
	data := []byte("not much of a photograph")
	write(t, src, data)
	a := New(filepath.Join(dir, "photographs"))
	s, err := a.Add(ctx, src)
	if err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(data)
	if want := hex.EncodeToString(sum[:]); s.SHA256 != want || s.Ext != ".jpg" || s.Bytes != int64(len(data)) {
		t.Fatalf("%+v, want hash %s", s, want)
	}
	got, err := os.ReadFile(filepath.Join(dir, "photographs", s.SHA256[:2], s.SHA256+".jpg"))
	if err != nil || !bytes.Equal(got, data) {
		t.Fatalf("kept %q, %v", got, err)
	}
	if info, _ := os.Stat(a.Path(s.SHA256, s.Ext)); info.Mode().Perm()&0o222 != 0 {
		t.Errorf("the original may be written to: %v", info.Mode())
	}
	again, err := a.Add(ctx, src)
	if err != nil || again != s {
		t.Fatalf("again: %+v, %v", again, err)
	}
	kept, strangers, err := a.Kept()
	if err != nil || len(kept) != 1 || len(strangers) != 0 {
		t.Fatalf("kept %v, strangers %v, %v", kept, strangers, err)
	}
}

func TestAddHealsDamage(t *testing.T) {
	dir := t.TempDir()
	src := filepath.Join(dir, "a.png")
	write(t, src, []byte("whole"))
	a := New(filepath.Join(dir, "p"))
	s, err := a.Add(ctx, src)
	if err != nil {
		t.Fatal(err)
	}
	kept := a.Path(s.SHA256, s.Ext)
	if err := os.Chmod(kept, 0o644); err != nil {
		t.Fatal(err)
	}
	write(t, kept, []byte("wh0le"))
	if err := a.Check(ctx, s); !errors.Is(err, ErrAltered) {
		t.Fatalf("damage not seen: %v", err)
	}
	if _, err := a.Add(ctx, src); err != nil {
		t.Fatal(err)
	}
	if err := a.Check(ctx, s); err != nil {
		t.Fatalf("after taking in again: %v", err)
	}
	if err := a.Check(ctx, Stored{SHA256: strings.Repeat("0", 64), Ext: ".png", Bytes: 5}); !errors.Is(err, ErrMissing) {
		t.Fatalf("missing file: %v", err)
	}
}

func TestAddRefuses(t *testing.T) {
	dir := t.TempDir()
	a := New(filepath.Join(dir, "p"))
	write(t, filepath.Join(dir, "empty.jpg"), nil)
	for _, path := range []string{dir, filepath.Join(dir, "empty.jpg"), filepath.Join(dir, "nowhere.jpg")} {
		if _, err := a.Add(ctx, path); err == nil {
			t.Errorf("%s was taken in", path)
		}
	}
	if _, err := a.AddFrom(ctx, strings.NewReader("short"), "x.jpg", 99); err == nil {
		t.Error("a file whose length changed was taken in")
	}
	stopped, stop := context.WithCancel(ctx)
	stop()
	write(t, filepath.Join(dir, "a.jpg"), []byte("a"))
	if _, err := a.Add(stopped, filepath.Join(dir, "a.jpg")); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
	if entries, _ := os.ReadDir(a.Dir()); len(entries) != 0 {
		t.Errorf("%d files left behind", len(entries))
	}
}

func TestPathStaysInside(t *testing.T) {
	a := New("p")
	for _, bad := range [][2]string{{"../../etc/passwd", ""}, {strings.Repeat("a", 64), "/../../x"}, {strings.Repeat("A", 64), ".jpg"}, {"", ""},
		{strings.Repeat("a", 64), ".JPG"}, {"../" + strings.Repeat("a", 61), ".jpg"}} {
		if p := a.Path(bad[0], bad[1]); p != filepath.Join("p", "00", "no-such-photograph") {
			t.Errorf("%q gives %s", bad, p)
		}
	}
}

// Every operation of a taking-in is made to fail once, in three ways. Each
// time what is in the archive is whole: the photograph is not there, or it is
// there and right; and taking it in again succeeds.
func TestEveryOperationFailsOnce(t *testing.T) {
	faults := 0
	for _, way := range []struct {
		err   error
		short bool
	}{{syscall.ENOSPC, true}, {syscall.EIO, false}, {syscall.EACCES, false}} {
		for at := 1; ; at++ {
			dir := t.TempDir()
			src := filepath.Join(dir, "a.jpg")
			write(t, src, bytes.Repeat([]byte("0123456789abcdef"), 10000)) // more than one buffer
			b := &FailingDisk{Disk: OS{}, At: at, Err: way.err, Short: way.short}
			a := NewOn(b, filepath.Join(dir, "p"))
			s, err := a.Add(ctx, src)
			if b.Failed == "" {
				if err != nil {
					t.Fatal(err)
				}
				break
			}
			faults++
			name := fmt.Sprintf("%v of operation %d (%s)", way.err, at, b.Failed)
			// Only the look for an earlier copy may fail unnoticed.
			if err == nil && a.Check(ctx, s) != nil {
				t.Errorf("%s: success, but the photograph is not there", name)
			}
			kept, strangers, err2 := New(a.Dir()).Kept()
			if err2 != nil || len(strangers) > 0 {
				t.Errorf("%s: %v, %v", name, strangers, err2)
			}
			sound := New(a.Dir())
			for file, size := range kept {
				if err := sound.Check(ctx, Stored{strings.TrimSuffix(file, ".jpg"), ".jpg", size}); err != nil {
					t.Errorf("%s: %s: %v", name, file, err)
				}
			}
			if s, err = sound.Add(ctx, src); err != nil || sound.Check(ctx, s) != nil {
				t.Errorf("%s: taking in again: %v", name, err)
			}
			if _, err := sound.Sweep(time.Now().Add(2 * time.Hour)); err != nil {
				t.Errorf("%s: sweep: %v", name, err)
			}
			if entries, _ := os.ReadDir(a.Dir()); len(entries) != 1 {
				t.Errorf("%s: %d entries after the sweep, want the one folder", name, len(entries))
			}
		}
	}
	if faults < 30 {
		t.Errorf("only %d faults were made", faults)
	}
	t.Logf("%d faults made", faults)
}

// When a photograph is reported as taken in, a power cut no longer loses it,
// whether its folder was there before or not; a file written whole likewise.
func TestWhatIsReportedOutlastsAPowerCut(t *testing.T) {
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "p"), 0o755); err != nil {
		t.Fatal(err)
	}
	d := NewLastingDisk()
	a := NewOn(d, filepath.Join(dir, "p"))
	for i := range 300 { // more than there are folders
		src := filepath.Join(dir, "a.jpg")
		os.Remove(src)
		write(t, src, []byte{byte(i), byte(i >> 8), 1})
		s, err := a.Add(ctx, src)
		if err != nil {
			t.Fatal(err)
		}
		if err := d.Lost(a.Path(s.SHA256, s.Ext)); err != nil {
			t.Fatalf("photograph %d: %v", i, err)
		}
	}
	path := filepath.Join(dir, "list")
	if err := WriteFile(d, path, func(w io.Writer) error { _, err := io.WriteString(w, "text"); return err }); err != nil {
		t.Fatal(err)
	}
	if err := d.Lost(path); err != nil {
		t.Error(err)
	}
}

func TestSweepSparesTheYoungAndTheForeign(t *testing.T) {
	a := New(t.TempDir())
	for _, name := range []string{tempPrefix + "old", tempPrefix + "new", "somebody's.txt"} {
		write(t, filepath.Join(a.Dir(), name), []byte("x"))
	}
	now := time.Now()
	if err := os.Chtimes(filepath.Join(a.Dir(), tempPrefix+"old"), now, now.Add(-2*time.Hour)); err != nil {
		t.Fatal(err)
	}
	// The clock set back: everything looks newer than now.
	if n, err := a.Sweep(now.Add(-48 * time.Hour)); n != 0 || err != nil {
		t.Fatalf("with the clock set back %d swept, %v", n, err)
	}
	if n, err := a.Sweep(now); n != 1 || err != nil {
		t.Fatalf("%d swept, %v", n, err)
	}
	if entries, _ := os.ReadDir(a.Dir()); len(entries) != 2 {
		t.Errorf("%d files left, want 2", len(entries))
	}
}

func TestWriteFileIsWholeOrNotThere(t *testing.T) {
	for at := 1; ; at++ {
		dir := t.TempDir()
		path := filepath.Join(dir, "f")
		write(t, path, []byte("old"))
		b := &FailingDisk{Disk: OS{}, At: at, Err: syscall.ENOSPC, Short: true}
		err := WriteFile(b, path, func(w io.Writer) error { _, err := w.Write([]byte("newer")); return err })
		got, _ := os.ReadFile(path)
		if b.Failed == "" {
			if err != nil || string(got) != "newer" {
				t.Fatalf("%q, %v", got, err)
			}
			return
		}
		if err == nil {
			t.Errorf("%s failed unnoticed", b.Failed)
		}
		if string(got) != "old" && string(got) != "newer" {
			t.Errorf("after %s: %q", b.Failed, got)
		}
	}
}
