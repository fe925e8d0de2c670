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
	"time"

	"pullbook/catalog"
)

// takeIn puts a file into the archive and a record of it into the catalogue.
func takeIn(t testing.TB, s *Store, name string, data []byte, sheet catalog.ID) *catalog.Photograph {
	t.Helper()
	src := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(src, data, 0o644); err != nil {
		t.Fatal(err)
	}
	kept, err := s.Archive().Add(ctx, src)
	if err != nil {
		t.Fatal(err)
	}
	h := &catalog.Photograph{ImpressionID: sheet, SHA256: kept.SHA256, Ext: kept.Ext, Bytes: kept.Bytes, Name: name, View: catalog.ViewWhole}
	do(t, s, "Take in "+name, func(tx *Tx) error { return tx.PutPhotograph(h) })
	return h
}

// stocked is a catalogue with a plate, ten sheets and three photographs.
func stocked(t testing.TB) (*Store, *catalog.Plate, []*catalog.Photograph) {
	s := newStore(t)
	p := &catalog.Plate{Number: catalog.Number{N: 12}, Titles: []catalog.Title{{Text: "Low water"}}}
	var sheets []*catalog.Impression
	do(t, s, "begin", func(tx *Tx) error {
		if err := tx.PutPlate(p); err != nil {
			return err
		}
		for n := 1; n <= 10; n++ {
			i := &catalog.Impression{PlateID: p.ID, Pull: n, Kind: catalog.KindNumbered, Ordinal: n, OutOf: 10, Written: fmt.Sprintf("%d/10", n)}
			if err := tx.PutImpression(i); err != nil {
				return err
			}
			sheets = append(sheets, i)
		}
		return nil
	})
	var photos []*catalog.Photograph
	for n, name := range []string{"0012.jpg", "0013.jpg", "0014.tif"} {
		photos = append(photos, takeIn(t, s, name, bytes.Repeat([]byte{byte(n + 1)}, 5000+n), sheets[n].ID))
	}
	return s, p, photos
}

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

func verify(t testing.TB, s *Store) Report {
	t.Helper()
	r, err := s.Verify(ctx, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Damage of each kind is found, and named by the sheet and the plate.
func TestVerifyNamesWhatIsWrong(t *testing.T) {
	s, _, photos := stocked(t)
	if r := verify(t, s); !r.Clean() || len(r.Findings) != 0 || r.Photographs != 3 || r.Bytes != 15003 || r.Records != 15 {
		t.Fatalf("sound catalogue: %+v", r)
	}
	path := func(h *catalog.Photograph) string { return s.Archive().Path(h.SHA256, h.Ext) }
	if err := os.Remove(path(photos[0])); err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(os.Chmod(path(photos[1]), 0o644), os.WriteFile(path(photos[1]), bytes.Repeat([]byte{9}, 5001), 0o644)); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Archive().AddFrom(ctx, strings.NewReader("orphan"), "x.jpg", 6); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(s.Archive().Dir(), "notes.txt"), []byte("x"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, stmt := range []string{"UPDATE impression SET pull = 5 WHERE ordinal = 4", "DELETE FROM search_text WHERE noun = 'plate'",
		"UPDATE impression SET edition_id = NULL"} {
		if _, err := s.write.ExecContext(ctx, stmt); err != nil {
			t.Fatal(err)
		}
	}
	// A broken reference, as another program with references off leaves it.
	raw := openPool(filepath.Join(s.Dir(), DatabaseFile), opening{mode: "rw"})
	if _, err := raw.ExecContext(ctx, "PRAGMA foreign_keys = OFF"); err != nil {
		t.Fatal(err)
	}
	if _, err := raw.ExecContext(ctx, "UPDATE impression SET ink_id = 'gone' WHERE ordinal = 9"); err != nil {
		t.Fatal(err)
	}
	raw.Close()
	r := verify(t, s)
	var said []string
	for _, f := range r.Findings {
		said = append(said, f.Sentence)
	}
	all := strings.Join(said, "\n")
	for _, want := range []string{
		"The photograph 0012.jpg of 1/10 (pull 1) of 12, Low water: its file is missing.",
		"The photograph 0013.jpg of 2/10 (pull 2) of 12, Low water: its file is not as it was taken in.",
		"1 photographs are in the folder that no record speaks of",
		"notes.txt",
		"counted as pull 5",
		"The search would miss or misname 1 records",
		"The search index is damaged",
		"refers to one that is not there: impression",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("not found: %s\nin:\n%s", want, all)
		}
	}
	if r.Clean() {
		t.Error("called clean")
	}
	if err := s.RebuildSearch(ctx); err != nil {
		t.Fatal(err)
	}
	for _, f := range verify(t, s).Findings {
		if strings.Contains(f.Sentence, "search") {
			t.Errorf("after making the index anew: %s", f.Sentence)
		}
	}
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
	do(t, s, "edit", func(tx *Tx) error { p.Remarks = "later"; return tx.PutPlate(p) })
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
			if !errors.As(err, &oe) || oe.Trouble != c.trouble || !strings.Contains(oe.Sentence, c.says) {
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

// Packed and unpacked, a catalogue is the same; a packed file that was
// tampered with is refused and leaves nothing behind.
func TestPackAndUnpack(t *testing.T) {
	s, _, photos := stocked(t)
	dir := t.TempDir()
	packed := filepath.Join(dir, "catalogue é.zip")
	if err := s.Pack(ctx, packed, nil); err != nil {
		t.Fatal(err)
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
		if n := e.Name(); n != filepath.Base(packed) && n != "Copy.pullbook" && n != "bad.zip" {
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
