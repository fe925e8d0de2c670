package studio

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"image/jpeg"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pullbook/catalog"
	"pullbook/catalog/exchange/iiif"
	"pullbook/catalog/exchange/lido"
	"pullbook/catalog/exchange/linkedart"
	"pullbook/catalog/notation"
	"pullbook/catalog/store"
)

// photographed makes a catalogue with one plate and an impression for each
// photograph.
func photographed(t testing.TB, photographs ...string) *Studio {
	t.Helper()
	ctx := context.Background()
	s, err := Create(filepath.Join(t.TempDir(), "test.pullbook"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	taken, err := s.TakeIn(ctx, photographs, nil)
	if err != nil || len(taken) == 0 {
		t.Fatal(len(taken), err)
	}
	snap, err := s.store.Snapshot(ctx)
	if err != nil {
		t.Fatal(err)
	}
	err = s.store.Do(ctx, "Enter", func(tx *store.Tx) error {
		p := catalog.Plate{Number: catalog.Number{N: 1}, Titles: []catalog.Title{{Text: "The Weir"}}}
		if err := tx.PutPlate(&p); err != nil {
			return err
		}
		for i := range snap.Photographs {
			im := catalog.Impression{PlateID: p.ID, Pull: i + 1}
			if err := tx.PutImpression(&im); err != nil {
				return err
			}
			photo := snap.Photographs[i]
			photo.ImpressionID = im.ID
			if err := tx.PutPhotograph(&photo); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// sharedPhotograph is a photograph of the shared set.
func sharedPhotograph(t testing.TB, name string) string {
	t.Helper()
	path := filepath.Join("..", "..", "..", "shared", "photos", name)
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		t.Skip("the shared photographs are not here; nothing was checked")
	}
	return path
}

// BenchmarkTiles writes the IIIF export of one photograph.
func BenchmarkTiles(b *testing.B) {
	s := photographed(b, sharedPhotograph(b, "grove-reference.jpg"))
	for b.Loop() {
		if err := s.Export(context.Background(), "iiif", b.TempDir(), nil); err != nil {
			b.Fatal(err)
		}
	}
}

// originals are the hashes of the files in the photographs' folder.
func originals(t *testing.T, s *Studio) map[string][32]byte {
	t.Helper()
	out := map[string][32]byte{}
	for _, name := range glob(t, s.dir, store.PhotographsDir, "*", "*") {
		b := readFile(t, name)
		if bytes.Contains(b, []byte("ArtworkOrObject")) {
			t.Errorf("%s, an original, says what it shows", filepath.Base(name))
		}
		out[name] = sha256.Sum256(b)
	}
	return out
}

func glob(t *testing.T, parts ...string) []string {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(parts...))
	check(t, err)
	if len(names) == 0 {
		t.Fatalf("there is no %s", filepath.Join(parts[1:]...))
	}
	return names
}

func readFile(t *testing.T, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(name)
	check(t, err)
	return b
}

// The sample catalogue in every format: progress rises to its end, every
// document keeps to the rules of its standard, sizes and states are worded as
// they are kept, whole pictures say what they show, and no original changes.
func TestSampleExports(t *testing.T) {
	if testing.Short() {
		t.Skip("the pictures of the sample's exports are left out of a short run")
	}
	ctx := context.Background()
	s, err := WriteSample(ctx, filepath.Join(t.TempDir(), "sample.pullbook"), Options{}, nil)
	check(t, err)
	defer func() { check(t, s.Close()) }()
	before := originals(t, s)
	dirs := map[string]string{}
	for _, as := range Exports() {
		dir, last, steps := filepath.Join(t.TempDir(), as), 0.0, 0
		check(t, s.Export(ctx, as, dir, func(done float64, _ string) {
			if done < last || done > 1 {
				t.Errorf("%s: progress goes from %v to %v", as, last, done)
			}
			last = done
			steps++
		}))
		if last < 0.9 || steps < 5 {
			t.Errorf("%s: progress ended at %v after %d steps", as, last, steps)
		}
		dirs[as] = dir
	}
	for _, name := range glob(t, dirs["linked-art"], "*", "*.json") {
		for _, f := range linkedart.Check(readFile(t, name)) {
			t.Errorf("%s: %s", filepath.Base(name), f)
		}
	}
	found, records := lido.Check(bytes.NewReader(readFile(t, filepath.Join(dirs["lido"], lido.FileName))))
	for _, f := range found {
		t.Error(f)
	}
	snap, err := s.store.Snapshot(ctx)
	check(t, err)
	if records != len(snap.Plates)+len(snap.Impressions) {
		t.Errorf("%d LIDO records of %d plates and %d impressions", records, len(snap.Plates), len(snap.Impressions))
	}
	manifests := glob(t, dirs["iiif"], "plates", "*", "manifest.json")
	for _, name := range manifests {
		for _, f := range iiif.Check(readFile(t, name)) {
			t.Errorf("%s: %s", name, f)
		}
	}
	for _, f := range iiif.CheckCollection(readFile(t, filepath.Join(dirs["iiif"], "collection.json"))) {
		t.Error(f)
	}
	wholes := glob(t, dirs["iiif"], "images", "*", "full", "max", "0", "default.jpg")
	if len(wholes) != len(before) || len(manifests) != len(snap.Plates) {
		t.Errorf("%d pictures of %d photographs, %d manifests of %d plates", len(wholes), len(before), len(manifests), len(snap.Plates))
	}
	for _, name := range append(wholes, glob(t, dirs["web"], "pictures", "*large.jpg")...) {
		b := readFile(t, name)
		if _, err := jpeg.Decode(bytes.NewReader(b)); err != nil || !bytes.Contains(b, []byte("Iptc4xmpExt:ArtworkOrObject")) {
			t.Errorf("%s does not say what it shows, or cannot be seen: %v", name, err)
		}
	}
	wordedAsKept(t, dirs["linked-art"], snap)
	after := originals(t, s)
	if len(after) != len(before) || len(before) != len(snap.Photographs) {
		t.Errorf("%d originals became %d", len(before), len(after))
	}
	for name, hash := range before {
		if after[name] != hash {
			t.Errorf("the original %s was altered", filepath.Base(name))
		}
	}
}

// wordedAsKept reads the statements on size and state of every impression and
// compares them with what the catalogue keeps: height before width in
// millimetres (STANDARDS.md 6.1), the state by the notation's own reader.
func wordedAsKept(t *testing.T, dir string, snap *catalog.Snapshot) {
	t.Helper()
	plates, states, many := map[catalog.ID]*catalog.Plate{}, map[catalog.ID]*catalog.State{}, map[catalog.ID]int{}
	for i := range snap.Plates {
		plates[snap.Plates[i].ID] = &snap.Plates[i]
	}
	for i := range snap.States {
		states[snap.States[i].ID] = &snap.States[i]
		many[snap.States[i].PlateID]++
	}
	sizes, told := 0, 0
	for i := range snap.Impressions {
		im := &snap.Impressions[i]
		var doc struct {
			Said []struct {
				Content string
				Kind    []struct {
					Label string `json:"_label"`
				} `json:"classified_as"`
			} `json:"referred_to_by"`
		}
		check(t, json.Unmarshal(readFile(t, filepath.Join(dir, "object", strings.ToLower(string(im.ID))+".json")), &doc))
		p, st := plates[im.PlateID], states[im.StateID]
		size := func(s catalog.Size) string { return fmt.Sprintf("%v x %v mm", s.HeightMM, s.WidthMM) }
		for _, s := range doc.Said {
			if strings.HasPrefix(s.Content, "Plate ") && strings.HasSuffix(s.Content, " mm") {
				sizes++
				want := "Plate " + size(p.Mark)
				if !im.Sheet.IsZero() {
					want += "; sheet " + size(im.Sheet)
				}
				if s.Content != want {
					t.Errorf("impression %s: the size is worded %q, want %q", im.ID, s.Content, want)
				}
			}
			if st != nil && s.Content == notation.FormatState(st.N, many[p.ID]) {
				told++
				if r := notation.ParseState(s.Content); r.From != st.N || many[p.ID] > 1 && r.Total != many[p.ID] {
					t.Errorf("impression %s: the state %q is read as %d of %d, want %d of %d", im.ID, s.Content, r.From, r.Total, st.N, many[p.ID])
				}
			}
		}
	}
	if sizes != len(snap.Impressions) || told != len(snap.Impressions) {
		t.Errorf("of %d impressions %d say their size and %d their state", len(snap.Impressions), sizes, told)
	}
}

// Every export can be stopped on its way; then what lists the others, written
// last, is not there.
func TestExportsStop(t *testing.T) {
	dir := t.TempDir()
	pictures(t, dir, 8)
	s := photographed(t, dir)
	for as, last := range map[string]string{"linked-art": "index.json", "lido": lido.FileName, "iiif": "collection.json", "csv": "dictionary.csv", "web": "index.html"} {
		ctx, stop := context.WithCancel(context.Background())
		to := filepath.Join(t.TempDir(), as)
		err := s.Export(ctx, as, to, func(float64, string) { stop() })
		stop()
		if !errors.Is(err, context.Canceled) {
			t.Errorf("%s: stopped, it ends with %v", as, err)
		}
		if _, err := os.Stat(filepath.Join(to, last)); err == nil {
			t.Errorf("%s: stopped, it has its %s all the same", as, last)
		}
	}
	if len(Exports()) != 5 {
		t.Errorf("there are %d formats", len(Exports()))
	}
}
