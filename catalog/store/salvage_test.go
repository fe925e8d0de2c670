package store

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"pullbook/catalog"
)

// damage overwrites a leaf page of the table of impressions, found by the
// remarks on it: the history has them as JSON, the search on other pages.
func damage(t *testing.T, file string) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	const size, leaf = 4096, 0x0a // of a table without rowid; SQLite file format, 1.6
	for p := len(data) - size; p > 0; p -= size {
		page := data[p : p+size]
		if page[0] == leaf && bytes.Contains(page, []byte("middle of the table")) && !bytes.Contains(page, []byte(`"remarks"`)) {
			copy(page, bytes.Repeat([]byte{0xA5}, size))
			if err := os.WriteFile(file, data, 0o644); err != nil {
				t.Fatal(err)
			}
			return
		}
	}
	t.Fatal("no page found to damage")
}

// A damaged page is noticed at opening after an unclean close, and salvage
// brings the rest over.
func TestDamageIsNoticedAndSalvaged(t *testing.T) {
	s, p, _ := stocked(t)
	const sheets = 400
	do(t, s, "many", func(tx *Tx) error {
		for n := 1; n <= sheets; n++ {
			if err := tx.PutImpression(&catalog.Impression{PlateID: p.ID, Pull: 100 + n, Remarks: fmt.Sprintf("middle of the table %d", n)}); err != nil {
				return err
			}
		}
		return nil
	})
	s.closePools() // not closed properly
	s.dropLock()
	file := filepath.Join(s.Dir(), DatabaseFile)
	damage(t, file)
	_, err := Open(s.Dir(), Options{})
	var oe *OpenError
	if !errors.As(err, &oe) || oe.Trouble != TroubleDamaged {
		t.Fatalf("damage not noticed: %v", err)
	}
	bad, _ := os.ReadFile(file)
	to := filepath.Join(t.TempDir(), "saved.pullbook")
	r, err := Salvage(ctx, s.Dir(), to, Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("salvaged %+v", r)
	if n := r.Rows["impression"]; n < sheets/2 || n >= sheets+10 || len(r.Damaged) == 0 || r.Photographs != 3 || r.Rows["plate"] != 1 {
		t.Errorf("%+v", r)
	}
	if after, _ := os.ReadFile(file); !bytes.Equal(bad, after) {
		t.Error("the damaged file was touched")
	}
	saved, err := Open(to, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer saved.Close()
	if v := verify(t, saved); !v.Clean() {
		t.Errorf("%+v", v.Findings)
	}
	if hits, err := saved.Search(ctx, "low water", 5); err != nil || len(hits) != 1 {
		t.Errorf("search in what was saved: %v, %v", hits, err)
	}
}

// Of a database whose first page is gone nothing can be read; that is said, and
// no empty catalogue is left behind.
func TestNothingToSalvage(t *testing.T) {
	s, _, _ := stocked(t)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(s.Dir(), DatabaseFile)
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	copy(data[100:], bytes.Repeat([]byte{0xA5}, 3900))
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
	var oe *OpenError
	if _, err := Open(s.Dir(), Options{}); !errors.As(err, &oe) || oe.Trouble != TroubleDamaged {
		t.Errorf("opened: %v", err)
	}
	to := filepath.Join(t.TempDir(), "saved.pullbook")
	if r, err := Salvage(ctx, s.Dir(), to, Options{}, nil); err == nil {
		t.Errorf("salvaged %+v", r)
	}
	if _, err := os.Stat(to); err == nil {
		t.Error("an empty catalogue was left")
	}
}
