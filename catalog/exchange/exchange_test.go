//go:build unix

package exchange_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"pullbook/assets/sample"
	"pullbook/catalog"
	"pullbook/catalog/exchange"
	"pullbook/catalog/exchange/cells"
	"pullbook/catalog/exchange/iiif"
	"pullbook/catalog/exchange/internal/specimen"
	"pullbook/catalog/exchange/literature"
	"pullbook/catalog/exchange/sheet"
	"pullbook/catalog/exchange/tables"
	"pullbook/catalog/store"
)

// kept is a catalogue read back from disk: as a snapshot, and as the dump of
// every table of records, to the last column.
type kept struct {
	snap *catalog.Snapshot
	dump string
}

// fill makes a new catalogue on disk that holds a snapshot.
func fill(t *testing.T, snap *catalog.Snapshot) kept {
	t.Helper()
	s, err := store.Create(filepath.Join(t.TempDir(), "test.pullbook"))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	ctx := context.Background()
	if err := s.Do(ctx, "Take in", func(tx *store.Tx) error { return tables.Put(tx, snap) }); err != nil {
		t.Fatal(err)
	}
	out, err := s.Snapshot(ctx)
	if err != nil {
		t.Fatal(err)
	}
	var dump strings.Builder
	if err := s.Dump(ctx, &dump); err != nil {
		t.Fatal(err)
	}
	return kept{out, dump.String()}
}

// differ names the first part in which two snapshots differ, "" when they are
// the same. A list with nothing in it and no list are the same.
func differ(a, b *catalog.Snapshot) string {
	x, y := reflect.ValueOf(*a), reflect.ValueOf(*b)
	for i := range x.NumField() {
		if x.Field(i).Kind() == reflect.Slice && x.Field(i).Len() == 0 && y.Field(i).Len() == 0 {
			continue
		}
		p, q := fmt.Sprintf("%#v", x.Field(i).Interface()), fmt.Sprintf("%#v", y.Field(i).Interface())
		if !reflect.DeepEqual(x.Field(i).Interface(), y.Field(i).Interface()) && p != q {
			return x.Type().Field(i).Name + ":\n" + p + "\n" + q
		}
	}
	return ""
}

// roundTrip writes a catalogue as tables and reads them into an empty one on
// disk: the two must be the same, in what they give back and in every table of
// their databases.
func roundTrip(t *testing.T, snap *catalog.Snapshot) {
	t.Helper()
	first := fill(t, snap)
	dir := t.TempDir()
	if err := exchange.Write(context.Background(), exchange.AsCSV, dir, first.snap, nil, nil); err != nil {
		t.Fatal(err)
	}
	back, err := tables.Read(context.Background(), dir)
	if err != nil {
		t.Fatal(err)
	}
	if d := differ(first.snap, back); d != "" {
		t.Fatalf("the tables changed %.2000s", d)
	}
	second := fill(t, back)
	if d := differ(first.snap, second.snap); d != "" {
		t.Fatalf("the catalogue changed %.2000s", d)
	}
	lines := strings.Split(first.dump, "\n")
	for i, line := range strings.Split(second.dump, "\n") {
		if i >= len(lines) || line != lines[i] {
			t.Fatalf("the databases differ from line %d of their dumps on: %.500s", i+1, line)
		}
	}
	if first.dump != second.dump || len(lines) < len(snap.Plates)+len(snap.Impressions) {
		t.Fatalf("dumps of %d and %d bytes", len(first.dump), len(second.dump))
	}
	t.Logf("%d plates, %d impressions, %d photographs, %d scores: %d lines of dump are the same", len(snap.Plates), len(snap.Impressions), len(snap.Photographs), len(snap.Scores), len(lines))
}

func TestRoundTripOfSpecimen(t *testing.T) { roundTrip(t, specimen.Snapshot()) }

// sampled is the sample catalogue that the program carries.
func sampled(t *testing.T) *catalog.Snapshot {
	t.Helper()
	var snap catalog.Snapshot
	if err := json.Unmarshal(sample.Catalogue, &snap); err != nil {
		t.Fatal(err)
	}
	return &snap
}

func TestRoundTripOfSample(t *testing.T) { roundTrip(t, sampled(t)) }

// Literature taken in from lists of either kind makes the round as well.
func TestRoundTripOfLiterature(t *testing.T) {
	snap := specimen.Snapshot()
	bib, err := literature.ReadBibTeX(strings.NewReader("@book{h, author = {Hollis, R. and {The Saltgate Society}}, title = {Tides {\\\"u}ber \\& under}, year = {c. 1987}, note = {\"quoted\", = and +}}\n@article{m, title = {Ebb}, journal = {Estuary Papers}, volume = 4, pages = {1--9}, date = {1990/1991}}"))
	if err != nil || len(bib.Works) != 2 {
		t.Fatal(bib, err)
	}
	csl, err := literature.ReadCSL(strings.NewReader(`[{"id":1,"title":"=Flood","author":[{"family":"Meer","given":"Ana","non-dropping-particle":"van der"}],"issued":{"date-parts":[[1911,3]],"circa":true},"note":"two\nlines"}]`))
	if err != nil || len(csl.Works) != 1 {
		t.Fatal(csl, err)
	}
	snap.Literature = append(snap.Literature, append(bib.Works, csl.Works...)...)
	roundTrip(t, snap)
}

// 2,000 rows of museum records, taken in as a spreadsheet, stored, exported as
// tables and taken in again, are the same catalogue.
func TestRoundTripOfRecords(t *testing.T) {
	path := filepath.Join("..", "..", "..", "shared", "records", "moma_prints.csv")
	if _, err := os.Stat(path); os.IsNotExist(err) {
		t.Skip("the museum records are not here; nothing was checked")
	}
	sheets, err := cells.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	s := sheets[0]
	s.Rows, s.At = s.Rows[:2000], s.At[:2000]
	plan, err := sheet.Prepare(s, sheet.Guess(s), nil)
	if err != nil {
		t.Fatal(err)
	}
	if plan.Accepted() != 2000 {
		t.Errorf("%d of 2000 rows accepted", plan.Accepted())
	}
	roundTrip(t, &plan.New)
}

// A plan is taken in as one step that can be undone, beside what is there.
func TestPlanIntoCatalogue(t *testing.T) {
	s, err := store.Create(filepath.Join(t.TempDir(), "test.pullbook"))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	ctx := context.Background()
	if err := s.Do(ctx, "Begin", func(tx *store.Tx) error { return tables.Put(tx, specimen.Snapshot()) }); err != nil {
		t.Fatal(err)
	}
	before, err := s.Snapshot(ctx)
	if err != nil {
		t.Fatal(err)
	}
	rows := cells.Sheet{Heading: []string{"No.", "Title", "Number", "Holder", "Reference", "Dimensions"}, At: []int{2, 3, 4},
		Rows: [][]string{{"12", "The Weir", "9/30", "Saltgate Town Museum", "Hollis 31, II/II", ""},
			{"13", "Sandbar", "1/10", "", "", "plate: 10 x 15 cm (4 x 6 in.)"}, {"12", "The Weir", "7/30", "", "", ""}}}
	m := sheet.Guess(rows)
	m.Columns[2] = sheet.Edition
	plan, err := sheet.Prepare(rows, m, before)
	if err != nil {
		t.Fatal(err)
	}
	if plan.Accepted() != 2 || !strings.Contains(plan.Rows[2].Refused, "stands in the catalogue already") {
		t.Fatalf("%s %+v", plan.Summary(), plan.Rows)
	}
	if err := s.Do(ctx, "Take in a table", func(tx *store.Tx) error { return plan.Put(tx) }); err != nil {
		t.Fatal(err)
	}
	after, err := s.Snapshot(ctx)
	if err != nil {
		t.Fatal(err)
	}
	if len(after.Plates) != len(before.Plates)+1 || len(after.Impressions) != len(before.Impressions)+2 || len(after.Holders) != len(before.Holders) {
		t.Errorf("%d plates, %d impressions, %d holders", len(after.Plates), len(after.Impressions), len(after.Holders))
	}
	if label, err := s.Undo(ctx); err != nil || label != "Take in a table" {
		t.Fatalf("undoing %q: %v", label, err)
	}
	undone, err := s.Snapshot(ctx)
	if err != nil {
		t.Fatal(err)
	}
	if d := differ(before, undone); d != "" {
		t.Errorf("undoing left %.800s", d)
	}
}

// 20,000 impressions of 1,000 plates, a photograph of each plate, are written in
// under 60 seconds in every format, and memory stays flat: it does not grow by
// more than a small share of the catalogue itself. The making of pictures is
// timed apart, by BenchmarkTiles of app/studio.
func TestLargeExports(t *testing.T) {
	if testing.Short() {
		t.Skip("large exports are left out of a short run")
	}
	snap := specimen.Large(1000)
	if len(snap.Impressions) != 20_000 {
		t.Fatal(len(snap.Impressions))
	}
	snap.Photographs = onePhotographEach(snap)
	for _, as := range exchange.Formats() {
		runtime.GC()
		var before, now runtime.MemStats
		runtime.ReadMemStats(&before)
		peak := uint64(0)
		start, worked := time.Now(), processorTime(t)
		calls := 0
		err := exchange.Write(context.Background(), as, t.TempDir(), snap, speck(jpegOfOnePixel(t)), func(float64) {
			if calls++; calls%200 == 0 {
				runtime.GC()
				runtime.ReadMemStats(&now)
				peak = max(peak, now.HeapAlloc)
			}
		})
		if err != nil {
			t.Fatal(err)
		}
		took, work := time.Since(start), processorTime(t)-worked
		grown := int64(peak) - int64(before.HeapAlloc)
		t.Logf("%s: 20,000 impressions in %.1f s (%.1f s of processor), heap grown by %.1f MB (limit 60 s, 64 MB)", as, took.Seconds(), work.Seconds(), float64(max(grown, 0))/1e6)
		// The machine may be busy with other work, so the work done counts.
		if work > 60*time.Second {
			t.Errorf("%s took %v of processor", as, work)
		}
		if grown > 64<<20 {
			t.Errorf("%s: the heap grew by %d bytes", as, grown)
		}
	}
}

// onePhotographEach gives every plate one photograph, of its first impression.
func onePhotographEach(snap *catalog.Snapshot) []catalog.Photograph {
	var out []catalog.Photograph
	done := map[catalog.ID]bool{}
	for i := range snap.Impressions {
		im := &snap.Impressions[i]
		if !done[im.PlateID] {
			done[im.PlateID] = true
			out = append(out, catalog.Photograph{ID: "photo" + im.ID, ImpressionID: im.ID, View: catalog.ViewWhole, SHA256: fmt.Sprintf("%064d", i), Ext: ".jpg", WidthPX: 1, HeightPX: 1})
		}
	}
	return out
}

// speck stands in for photographs where only the writing is to be timed: it
// writes the same small file for every picture.
type speck []byte

func (s speck) Size(context.Context, *catalog.Photograph) (int, int, error) { return 1, 1, nil }

func (s speck) Write(_ context.Context, _ *catalog.Photograph, pieces []exchange.Piece) error {
	for _, p := range pieces {
		if err := os.WriteFile(p.Path, s, 0o644); err != nil {
			return err
		}
	}
	return nil
}

func jpegOfOnePixel(t *testing.T) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 1, 1)), nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// processorTime is what this process has used of the processor.
func processorTime(t *testing.T) time.Duration {
	t.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		t.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

func TestWriteRefusesUnknownFormats(t *testing.T) {
	err := exchange.Write(context.Background(), "papyrus", t.TempDir(), specimen.Snapshot(), nil, nil)
	if err == nil || !strings.Contains(err.Error(), "linked-art") {
		t.Errorf("got %v", err)
	}
}

// The folder stands at its address: every address in a manifest that is meant
// to be fetched is that of a file, below the address given.
func TestBaseOfManifests(t *testing.T) {
	const base = "https://prints.example/saltgate"
	dir := t.TempDir()
	if err := exchange.WriteWith(context.Background(), exchange.AsIIIF, dir, specimen.Snapshot(), &specimen.Pictures{}, exchange.Options{Base: base + "/"}); err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(dir, "plates", "*", "*.json"))
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	address := regexp.MustCompile(`"(?:@?id|profile)": *"(https?://[^"]*)"`)
	fetched := 0
	for _, f := range append(files, filepath.Join(dir, "collection.json")) {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(text), iiif.DefaultBase) {
			t.Errorf("%s still names %s", filepath.Base(f), iiif.DefaultBase)
		}
		for _, m := range address.FindAllStringSubmatch(string(text), -1) {
			at, below := strings.CutPrefix(m[1], base+"/")
			if !below {
				continue // of the world: rights, other services
			}
			switch {
			case strings.HasSuffix(at, ".json"), strings.HasSuffix(at, ".jpg"):
			case strings.HasPrefix(at, "images/") && !strings.Contains(strings.TrimPrefix(at, "images/"), "/"):
				at += "/info.json" // an image service
			default:
				continue // names something within a manifest
			}
			fetched++
			if _, err := os.Stat(filepath.Join(dir, filepath.FromSlash(at))); err != nil {
				t.Errorf("%s: %s is not there", filepath.Base(f), m[1])
			}
		}
	}
	if fetched < 10 {
		t.Errorf("only %d addresses were tried", fetched)
	}
}

func TestBaseIsAnAddress(t *testing.T) {
	for as, bad := range map[string][]string{
		exchange.AsIIIF:      {"ftp://prints.example", "prints.example", "https://", "https://prints.example/?q=1", "https://prints.example/#x", "https://prints .example"},
		exchange.AsLinkedArt: {"saltgate"},
		exchange.AsCSV:       {"https://prints.example"},
		exchange.AsWeb:       {"https://prints.example"},
	} {
		for _, base := range bad {
			dir := filepath.Join(t.TempDir(), "none")
			err := exchange.WriteWith(context.Background(), as, dir, specimen.Snapshot(), &specimen.Pictures{}, exchange.Options{Base: base})
			if err == nil {
				t.Errorf("%s at %q is written", as, base)
			}
			if _, err := os.Stat(dir); err == nil {
				t.Errorf("%s at %q: a folder was made nevertheless", as, base)
			}
		}
	}
}
