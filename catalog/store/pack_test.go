package store

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Packed and unpacked, a catalogue is the same; a packed file that was
// tampered with is refused and leaves nothing behind.
func TestPackAndUnpack(t *testing.T) {
	s, _, photos := stocked(t)
	dir := t.TempDir()
	packed := filepath.Join(dir, "catalogue é.zip")
	if err := s.Pack(ctx, packed, nil); err != nil {
		t.Fatal(err)
	}
	// The desktop knows a packed catalogue by the name of its first file, which
	// stands at 30 in a ZIP archive (APPNOTE 4.3.7).
	begin, err := os.ReadFile(packed)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.HasPrefix(begin, []byte("PK\x03\x04")) || !bytes.HasPrefix(begin[30:], []byte(DatabaseFile)) {
		t.Errorf("a packed catalogue begins with %q", begin[:48])
	}
	to := filepath.Join(dir, "Copy.pullbook")
	if err := Unpack(ctx, packed, to, nil); err != nil {
		t.Fatal(err)
	}
	c, err := Open(to, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	if got, want := dumpOf(t, c), dumpOf(t, s); got != want {
		t.Error(firstDifference(got, want))
	}
	if r := verify(t, c); !r.Clean() || r.Photographs != 3 {
		t.Errorf("%+v", r)
	}
	if err := Unpack(ctx, packed, to, nil); err == nil {
		t.Error("unpacked over an existing catalogue")
	}
	t.Chdir(dir)
	if err := Unpack(ctx, filepath.Base(packed), "Beside.pullbook", nil); err != nil {
		t.Errorf("with names relative to the working folder: %v", err)
	}
	photo := "photographs/" + photos[0].SHA256[:2] + "/" + photos[0].SHA256 + ".jpg"
	for name, change := range map[string]func(map[string][]byte){
		"a path out of the folder": func(f map[string][]byte) { f["../evil.txt"] = []byte("x") },
		"an absolute path":         func(f map[string][]byte) { f["/tmp/evil.txt"] = []byte("x") },
		"backslashes":              func(f map[string][]byte) { f[`photographs\..\..\evil.txt`] = []byte("x") },
		"a stranger":               func(f map[string][]byte) { f["photographs/run.exe"] = []byte("x") },
		"an altered photograph":    func(f map[string][]byte) { f[photo][7]++ },
		"altered with its list":    func(f map[string][]byte) { f[photo][7]++; relist(f) },
		"a missing photograph":     func(f map[string][]byte) { delete(f, photo) },
		"an unlisted photograph":   func(f map[string][]byte) { f["photographs/"+hashName("new")] = []byte("new") },
		"no list":                  func(f map[string][]byte) { delete(f, ContentsFile) },
		"no database":              func(f map[string][]byte) { delete(f, DatabaseFile); relist(f) },
		"a database that is none":  func(f map[string][]byte) { f[DatabaseFile] = []byte("x"); relist(f) },
		"a damaged database (listed)": func(f map[string][]byte) {
			copy(f[DatabaseFile][4096*3:], bytes.Repeat([]byte{0xEE}, 4096*20))
			relist(f)
		},
	} {
		files := unzip(t, packed)
		change(files)
		bad := filepath.Join(dir, "bad.zip")
		zipTo(t, bad, files)
		target := filepath.Join(dir, "bad.pullbook")
		if err := Unpack(ctx, bad, target, nil); err == nil {
			t.Errorf("%s was accepted", name)
			os.RemoveAll(target)
		}
	}
	// A database with an action of its own.
	files := unzip(t, packed)
	armed := filepath.Join(t.TempDir(), DatabaseFile)
	os.WriteFile(armed, files[DatabaseFile], 0o644)
	db := openPool(armed, opening{mode: "rw"})
	if _, err := db.ExecContext(ctx, "CREATE TRIGGER t AFTER INSERT ON ink BEGIN DELETE FROM plate; END"); err != nil {
		t.Fatal(err)
	}
	findings(ctx, db, "PRAGMA wal_checkpoint(TRUNCATE)")
	db.Close()
	files[DatabaseFile], _ = os.ReadFile(armed)
	relist(files)
	zipTo(t, filepath.Join(dir, "bad.zip"), files)
	if err := Unpack(ctx, filepath.Join(dir, "bad.zip"), filepath.Join(dir, "armed.pullbook"), nil); err == nil || !strings.Contains(err.Error(), "trigger") {
		t.Errorf("a database with a trigger: %v", err)
	}
	if err := Unpack(ctx, photosFile(t), filepath.Join(dir, "n.pullbook"), nil); err == nil {
		t.Error("something that is no ZIP file was unpacked")
	}
	stopped, stop := context.WithCancel(ctx)
	stop()
	if err := Unpack(stopped, packed, filepath.Join(dir, "s.pullbook"), nil); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		if n := e.Name(); n != filepath.Base(packed) && n != "Copy.pullbook" && n != "Beside.pullbook" && n != "bad.zip" {
			t.Errorf("left behind: %s", n)
		}
	}
	if _, err := os.Stat(filepath.Join(dir, "..", "evil.txt")); err == nil {
		t.Error("a file was written outside")
	}
}

func photosFile(t *testing.T) string {
	f := filepath.Join(t.TempDir(), "no.zip")
	os.WriteFile(f, []byte("no zip"), 0o644)
	return f
}

func hashName(data string) string {
	sum := sha256.Sum256([]byte(data))
	h := hex.EncodeToString(sum[:])
	return h[:2] + "/" + h + ".jpg"
}

func unzip(t *testing.T, path string) map[string][]byte {
	t.Helper()
	z, err := zip.OpenReader(path)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	files := map[string][]byte{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if _, err := b.ReadFrom(r); err != nil {
			t.Fatal(err)
		}
		files[f.Name] = b.Bytes()
	}
	return files
}

func zipTo(t *testing.T, path string, files map[string][]byte) {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, data := range files {
		w, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		w.Write(data)
	}
	if err := errors.Join(z.Close(), os.WriteFile(path, b.Bytes(), 0o644)); err != nil {
		t.Fatal(err)
	}
}

// relist makes the list of hashes fit, as somebody clever would.
func relist(files map[string][]byte) {
	var b strings.Builder
	for name, data := range files {
		if name != ContentsFile {
			sum := sha256.Sum256(data)
			fmt.Fprintf(&b, "%x  %s\n", sum, name)
		}
	}
	files[ContentsFile] = []byte(b.String())
}
