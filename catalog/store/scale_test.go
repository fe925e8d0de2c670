package store

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"pullbook/catalog"
)

// The size a catalogue is measured at: a long life's work.
const (
	scalePlates = 1000
	scaleSheets = 20 // of each plate
)

// invented words for titles and remarks
var scaleWords = strings.Fields(`estuary low water mud gull withy dyke ferry steps evening étang sluice heron reed tide
 morning wreck groyne saltmarsh pier lantern warehouse rope anchor storm windmill causeway bridge oyster smack harbour`)

// bigFolder holds the large catalogue once it was made.
var bigFolder string

// big makes the large catalogue once for all tests of a run.
var big = sync.OnceValues(func() (string, error) {
	temp, err := os.MkdirTemp("", "pullbook-scale-")
	if err != nil {
		return "", err
	}
	bigFolder = temp
	dir := filepath.Join(temp, "large.pullbook")
	s, err := Create(dir)
	if err != nil {
		return "", err
	}
	r := rand.New(rand.NewPCG(1, 2))
	words := func(n int) string {
		w := make([]string, n)
		for i := range w {
			w[i] = scaleWords[r.IntN(len(scaleWords))]
		}
		return strings.Join(w, " ")
	}
	holders := make([]catalog.Holder, 60)
	if err := s.Do(ctx, "holders", func(tx *Tx) error {
		for i := range holders {
			holders[i].Name, holders[i].Place = fmt.Sprintf("Collection %d", i), words(1)
			if err := tx.PutHolder(&holders[i]); err != nil {
				return err
			}
		}
		return nil
	}); err != nil {
		return "", err
	}
	if err := s.Do(ctx, "plates", func(tx *Tx) error {
		for n := range scalePlates / copies {
			if err := scalePlate(tx, r, words, n+1, holders); err != nil {
				return err
			}
		}
		return nil
	}); err != nil {
		return "", err
	}
	if err := multiply(s); err != nil {
		return "", err
	}
	return dir, errors.Join(s.RebuildSearch(ctx), s.Close())
})

// copies is how many of each plate there are: a tenth is entered in the
// ordinary way, the rest is copied by SQL under other ids, to save time.
const copies = 10

func multiply(s *Store) error {
	copied := map[string]bool{"plate": true, "state": true, "edition": true, "impression": true, "photograph": true, "score": true}
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	names, err := recordTables(ctx, s.read)
	if err != nil {
		return err
	}
	for _, name := range append(names, "change") {
		to := map[string]string{"id": "copy(id)"} // how each column is copied
		own := copied[name]
		for target := range copied {
			for _, p := range s.pointers[target] {
				if p.table == name {
					to[p.column] = "copy(" + p.column + ")"
					own = own || isListOf(name, target)
				}
			}
		}
		if name == "plate" {
			to["number_n"] = fmt.Sprintf("number_n + K * %d", scalePlates/copies)
		}
		if name == "change" {
			own, to["record_id"], to["seq"] = true, "copy(record_id)", "seq + K * 1000000"
		}
		if !own {
			continue
		}
		columns, err := findings(ctx, tx, "SELECT name FROM pragma_table_info('"+name+"')")
		if err != nil {
			return err
		}
		values := make([]string, len(columns))
		for i, c := range columns {
			values[i] = c
			if to[c] != "" {
				values[i] = to[c]
			}
		}
		for k := 1; k < copies; k++ {
			v := strings.ReplaceAll(strings.Join(values, ", "), "K", fmt.Sprint(k))
			v = regexp.MustCompile(`copy\((\w+)\)`).ReplaceAllString(v, fmt.Sprintf("substr($1, 1, 8) || '%c' || substr($1, 10)", 'A'+k))
			where := ""
			if name == "change" {
				where = " WHERE seq < 1000000"
			} else {
				where = " WHERE substr(" + columns[0] + ", 9, 1) NOT BETWEEN 'A' AND 'Z'"
			}
			_, err := tx.ExecContext(ctx, "INSERT INTO "+name+" ("+strings.Join(columns, ", ")+") SELECT "+v+" FROM "+name+where)
			if err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
		}
	}
	return tx.Commit()
}

func scalePlate(tx *Tx, r *rand.Rand, words func(int) string, n int, holders []catalog.Holder) error {
	p := &catalog.Plate{Number: catalog.Number{N: n}, Titles: []catalog.Title{{Text: words(4)}, {Text: words(3), Language: "fr"}},
		Techniques: []catalog.Technique{catalog.Etching, catalog.Drypoint}, Date: catalog.Date{Text: "1931", EDTF: "1931"},
		Mark: catalog.Size{HeightMM: 150, WidthMM: 210}, Subjects: []string{words(1), words(2)}, Remarks: words(40)}
	if err := tx.PutPlate(p); err != nil {
		return err
	}
	st := &catalog.State{PlateID: p.ID, N: 1, Description: words(12)}
	if err := tx.PutState(st); err != nil {
		return err
	}
	e := &catalog.Edition{PlateID: p.ID, StateID: st.ID, Name: "first edition", Size: scaleSheets}
	if err := tx.PutEdition(e); err != nil {
		return err
	}
	at := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, n)
	for k := 1; k <= scaleSheets; k++ {
		i := &catalog.Impression{PlateID: p.ID, StateID: st.ID, EditionID: e.ID, Pull: k, Kind: catalog.KindNumbered, Ordinal: k, OutOf: scaleSheets,
			Written: fmt.Sprintf("%d/%d", k, scaleSheets), Sheet: catalog.Size{HeightMM: 300, WidthMM: 400}, Signature: "pencil, lower right",
			Condition: words(5), HolderID: holders[r.IntN(len(holders))].ID, Remarks: words(10), PulledAt: at.Add(time.Duration(k) * time.Hour),
			Provenance: []catalog.Owner{{Name: words(2), How: "gift"}, {HolderID: holders[r.IntN(len(holders))].ID, How: "purchased"}}}
		if err := tx.PutImpression(i); err != nil {
			return err
		}
		h := &catalog.Photograph{ImpressionID: i.ID, View: catalog.ViewWhole, SHA256: fmt.Sprintf("%064x", r.Uint64()), Ext: ".jpg",
			Bytes: 8e6, Name: fmt.Sprintf("%04d-%02d.jpg", n, k), WidthPX: 6000, HeightPX: 4000, TakenAt: at}
		if err := tx.PutPhotograph(h); err != nil {
			return err
		}
		if err := tx.PutScore(&catalog.Score{ImpressionID: i.ID, PhotoID: h.ID, StateID: st.ID, Method: "1", Verdict: "within",
			InkLoss: &catalog.Value{V: r.Float64() / 5, U: 0.004}, PlateTone: &catalog.Value{V: 0.1, U: 0.002}, At: at}); err != nil {
			return err
		}
	}
	return nil
}

// TestMain removes the large catalogue, if it was made.
func TestMain(m *testing.M) {
	childMain()
	code := m.Run()
	if bigFolder != "" { // never another run's
		os.RemoveAll(bigFolder)
	}
	os.Exit(code)
}

func openBig(t testing.TB) *Store {
	t.Helper()
	dir, err := big()
	if err != nil {
		t.Fatal(err)
	}
	s, err := Open(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

// scaleQueries are what somebody might type, letter by letter.
var scaleQueries = []string{"e", "es", "est", "estu", "estuary", "estuary l", "estuary low", "etang", "o", "oyster sm", "collection 5", "gift",
	"pencil", "first", "lantern pier", "w", "wi", "win", "windmill", "nowhere"}

// A timing is the median of some runs: by the clock, and of processor time.
type timing struct{ clock, processor time.Duration }

// median times n calls of f, in order.
func median(n int, f func(i int)) timing {
	clock, processor := make([]time.Duration, n), make([]time.Duration, n)
	for i := range n {
		start, used := time.Now(), processorTime()
		f(i)
		clock[i], processor[i] = time.Since(start), processorTime()-used
	}
	slices.Sort(clock)
	slices.Sort(processor)
	return timing{clock[n/2], processor[n/2]}
}

// A catalogue of 1,000 plates and 20,000 impressions opens in under half a
// second, is searched in under 30 ms, gives a page of 200 impressions in under
// 50 ms, and takes under 400 MB (the requirement of the project).
func TestScale(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	dir, err := big()
	if err != nil {
		t.Fatal(err)
	}
	// Processor time is judged, so that a busy machine does not fail the
	// test; the clock's is reported. The race detector makes all of it slow.
	check := func(what string, got timing, limit time.Duration) {
		t.Logf("%s: %v by the clock, %v of processor (limit %v)", what, got.clock.Round(10*time.Microsecond), got.processor.Round(10*time.Microsecond), limit)
		if min(got.clock, got.processor) > limit && !underRace {
			t.Errorf("%s took %v, limit %v", what, got, limit)
		}
	}
	check("open", median(5, func(int) {
		s, err := Open(dir, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if rows, err := s.Plates(ctx, PlateFilter{Limit: 50}); err != nil || len(rows) != 50 {
			t.Fatal(len(rows), err)
		}
		s.Close()
	}), 500*time.Millisecond)
	s := openBig(t)
	found := 0
	check("search, median", median(3*len(scaleQueries), func(i int) {
		hits, err := s.Search(ctx, scaleQueries[i%len(scaleQueries)], 50)
		if err != nil {
			t.Fatal(err)
		}
		found += len(hits)
	}), 30*time.Millisecond)
	if found < 1000 {
		t.Errorf("only %d found in all searches", found)
	}
	slowest := time.Duration(0)
	for _, q := range scaleQueries {
		d := median(5, func(int) {
			if _, err := s.Search(ctx, q, 50); err != nil {
				t.Fatal(err)
			}
		})
		slowest = max(slowest, d.processor)
	}
	t.Logf("slowest search of %d: %v", len(scaleQueries), slowest)
	check("search without the index, median", median(len(scaleQueries), func(i int) {
		if _, err := (Reader{q: s.read}).Search(ctx, scaleQueries[i], 50); err != nil {
			t.Fatal(err)
		}
	}), 200*time.Millisecond)
	for _, f := range []ImpressionFilter{{Limit: 200, Offset: 10000}, {Limit: 200, Order: "newest", Offset: 5000}, {Limit: 200, Text: "oyster"}, {Limit: 200, Order: "plate", Offset: 10000}} {
		check(fmt.Sprintf("page of 200 impressions (order %q, text %q)", f.Order, f.Text), median(9, func(int) {
			sheets, err := s.Impressions(ctx, f)
			if err != nil || len(sheets) != 200 {
				t.Fatal(len(sheets), err)
			}
		}), 50*time.Millisecond)
	}
	check("list of all plates", median(5, func(int) {
		if rows, err := s.Plates(ctx, PlateFilter{}); err != nil || len(rows) != scalePlates {
			t.Fatal(len(rows), err)
		}
	}), 250*time.Millisecond)
	var snap *catalog.Snapshot
	check("snapshot of everything", median(1, func(int) {
		if snap, err = s.Snapshot(ctx); err != nil || len(snap.Impressions) != scalePlates*scaleSheets {
			t.Fatal(err)
		}
	}), 5*time.Second)
	edit := &snap.Impressions[0]
	check("one entry", median(9, func(i int) {
		if err := s.Do(ctx, "edit", func(tx *Tx) error { edit.Remarks = fmt.Sprint("edit", i); return tx.PutImpression(edit) }); err != nil {
			t.Fatal(err)
		}
	}), 100*time.Millisecond)
	if mb := residentMB(); mb > 0 {
		t.Logf("memory of the process, all of it: %d MB (limit 400)", mb)
		if mb > 400 {
			t.Errorf("%d MB", mb)
		}
	}
	info, _ := os.Stat(filepath.Join(dir, DatabaseFile))
	t.Logf("database %d MB", info.Size()>>20)
	runtime.KeepAlive(snap)
}

// residentMB is the memory the process holds, 0 where that cannot be told.
func residentMB() int {
	b, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0
	}
	for _, line := range strings.Split(string(b), "\n") {
		var kb int
		if _, err := fmt.Sscanf(line, "VmRSS: %d kB", &kb); err == nil {
			return kb / 1024
		}
	}
	return 0
}

func BenchmarkOpen(b *testing.B) {
	dir, err := big()
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		s, err := Open(dir, Options{})
		if err != nil {
			b.Fatal(err)
		}
		if _, err := s.Plates(ctx, PlateFilter{Limit: 50}); err != nil {
			b.Fatal(err)
		}
		s.Close()
	}
}

func BenchmarkSearch(b *testing.B) {
	s := openBig(b)
	i := 0
	for b.Loop() {
		if _, err := s.Search(ctx, scaleQueries[i%len(scaleQueries)], 50); err != nil {
			b.Fatal(err)
		}
		i++
	}
}

func BenchmarkImpressionsPage(b *testing.B) {
	s := openBig(b)
	for b.Loop() {
		if _, err := s.Impressions(ctx, ImpressionFilter{Limit: 200, Offset: 10000}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPlates(b *testing.B) {
	s := openBig(b)
	for b.Loop() {
		if _, err := s.Plates(ctx, PlateFilter{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkEntry(b *testing.B) {
	s := openBig(b)
	sheets, err := s.Impressions(ctx, ImpressionFilter{Limit: 1})
	if err != nil {
		b.Fatal(err)
	}
	n := 0
	for b.Loop() {
		n++
		if err := s.Do(ctx, "edit", func(tx *Tx) error { sheets[0].Remarks = fmt.Sprint(n); return tx.PutImpression(&sheets[0]) }); err != nil {
			b.Fatal(err)
		}
	}
}
