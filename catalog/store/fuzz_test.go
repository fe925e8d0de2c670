package store

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"pullbook/catalog"
)

// A packed catalogue from elsewhere, however mangled, is unpacked whole or
// refused; nothing is written outside its folder.
func FuzzUnpack(f *testing.F) {
	s, err := Create(filepath.Join(f.TempDir(), "f.pullbook"))
	if err != nil {
		f.Fatal(err)
	}
	packed := filepath.Join(f.TempDir(), "p.zip")
	if err := s.Pack(ctx, packed, nil); err != nil {
		f.Fatal(err)
	}
	s.Close()
	data, err := os.ReadFile(packed)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(data)
	f.Add(bytes.ReplaceAll(data, []byte("contents.sha256"), []byte("../../../../x23")))
	f.Add(data[:len(data)/2])
	f.Fuzz(func(t *testing.T, data []byte) {
		top := t.TempDir()
		dir := filepath.Join(top, "in", "deep")
		if err := os.MkdirAll(dir, 0o755); err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(dir, "p.zip")
		if err := os.WriteFile(file, data, 0o644); err != nil {
			t.Fatal(err)
		}
		to := filepath.Join(dir, "out.pullbook")
		if err := Unpack(ctx, file, to, nil); err == nil {
			s, err := Open(to, Options{})
			if err != nil {
				t.Fatalf("unpacked, but does not open: %v", err)
			}
			if _, err := s.Snapshot(ctx); err != nil {
				t.Errorf("unpacked, but cannot be read: %v", err)
			}
			s.Close()
			os.RemoveAll(to)
		}
		for d, want := range map[string]int{top: 1, filepath.Dir(dir): 1, dir: 1} {
			if entries, _ := os.ReadDir(d); len(entries) != want {
				t.Errorf("%s has %d entries", d, len(entries))
			}
		}
	})
}

// A database with any byte altered opens or is refused; reading it all gives an
// answer or an error.
func FuzzDamagedDatabase(f *testing.F) {
	dir := filepath.Join(f.TempDir(), "f.pullbook")
	s, err := Create(dir)
	if err != nil {
		f.Fatal(err)
	}
	e := makeEverything()
	if err := s.Do(ctx, "everything", e.put); err != nil {
		f.Fatal(err)
	}
	if err := s.Do(ctx, "more", func(tx *Tx) error { return tx.PutInk(&catalog.Ink{Name: "black"}) }); err != nil {
		f.Fatal(err)
	}
	s.Close()
	whole, err := os.ReadFile(filepath.Join(dir, DatabaseFile))
	if err != nil {
		f.Fatal(err)
	}
	f.Add(100, []byte{0xff})
	f.Add(18, []byte{9, 9})
	f.Add(len(whole)/2, bytes.Repeat([]byte{0xa5}, 5000))
	f.Add(4096, []byte{0, 0, 0, 0})
	f.Fuzz(func(t *testing.T, at int, with []byte) {
		data := bytes.Clone(whole)
		if at < 0 || at >= len(data) {
			return
		}
		copy(data[at:], with)
		dir := filepath.Join(t.TempDir(), "d.pullbook")
		if err := os.Mkdir(dir, 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, DatabaseFile), data, 0o644); err != nil {
			t.Fatal(err)
		}
		s, err := Open(dir, Options{})
		if err != nil {
			return
		}
		defer s.Close()
		_, _ = s.Verify(ctx, nil)
		_, _ = s.Undo(ctx)
		_, _ = s.Search(ctx, "été", 10)
		_ = s.Do(ctx, "try", func(tx *Tx) error { return tx.PutInk(&catalog.Ink{Name: "umber"}) })
	})
}
