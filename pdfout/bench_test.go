package pdfout

import (
	"context"
	"fmt"
	"math/rand"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"pullbook/catalog"
)

// bigBook makes a catalogue of n entries with four photographs of about 300 KB
// each, all different files, and prose that repeats no paragraph.
func bigBook(t testing.TB, dir string, n int) (*catalog.Snapshot, func(catalog.ID) (string, error)) {
	t.Helper()
	base := filepath.Join(dir, "base.jpg")
	size := catalog.Size{HeightMM: 150, WidthMM: 200}
	w, h, mark := sheetPicture(t, base, size, 2, 0, 4)
	data, err := os.ReadFile(base)
	if err != nil {
		t.Fatal(err)
	}
	var pad []byte // comments, up to 300 KB
	for len(data)+len(pad) < 300_000 {
		pad = append(append(pad, 0xFF, 0xFE, 0xEA, 0x60), make([]byte, 60_000-2)...)
	}
	rng := rand.New(rand.NewSource(7))
	s := &catalog.Snapshot{Imprint: catalog.Imprint{Title: "Five hundred plates", LossLimit: .12},
		Papers:     []catalog.Paper{{ID: "pa1", Name: "Saltings wove"}, {ID: "pa2", Name: "Reedbed laid"}, {ID: "pa3", Name: "Kozo thin"}},
		Holders:    []catalog.Holder{{ID: "h1", Name: "Museum of the Estuary"}, {ID: "h2", Name: "Town Print Room"}, {ID: "h3", Name: "A"}, {ID: "h4", Name: "B"}},
		Literature: []catalog.Literature{{ID: "l1", Short: "Pell 2016", Catalogue: true}, {ID: "l2", Short: "Ledger", Catalogue: true}}}
	for i := range n {
		id := func(kind string, k int) catalog.ID { return catalog.ID(fmt.Sprintf("%s%d-%d", kind, i, k)) }
		pl := catalog.Plate{ID: id("plate", 0), Number: catalog.Number{N: i + 1}, Titles: []catalog.Title{{Text: fmt.Sprintf("Plate of the %d tides", i)}},
			Techniques: []catalog.Technique{catalog.Etching}, Metal: "zinc", Mark: size, Date: date("2011"), Remarks: shuffled(rng, sampleRemarks),
			Literature: []catalog.Citation{{WorkID: "l1", Number: fmt.Sprint(i + 3)}, {WorkID: "l2", Number: fmt.Sprint(2 * i)}}}
		for k := 1; k <= 4; k++ {
			photo := id("photo", k)
			note := fmt.Sprintf("\xff\xfe\x00\x12%016d", i*4+k)
			if err := os.WriteFile(filepath.Join(dir, string(photo)+".jpg"), slices.Concat(data[:2], []byte(note), pad, data[2:]), 0o644); err != nil {
				t.Fatal(err)
			}
			s.Photographs = append(s.Photographs, catalog.Photograph{ID: photo, ImpressionID: id("sheet", k), View: catalog.ViewWhole, WidthPX: w, HeightPX: h, Mark: mark})
			s.States = append(s.States, catalog.State{ID: id("state", k), PlateID: pl.ID, N: k, Description: shuffled(rng, sampleStates[k%3]), ReferenceID: id("sheet", k), ReferencePhotoID: photo})
		}
		addSheets(s, pl.ID, id, 4)
		s.Plates = append(s.Plates, pl)
	}
	return s, func(id catalog.ID) (string, error) { return filepath.Join(dir, string(id)+".jpg"), nil }
}

// shuffled makes new prose of old words, with endings that make many of them
// new, so that nothing is set from memory.
func shuffled(rng *rand.Rand, text string) string {
	w := strings.Fields(text)
	rng.Shuffle(len(w), func(i, j int) { w[i], w[j] = w[j], w[i] })
	for i := range w {
		if rng.Intn(3) == 0 {
			w[i] += []string{"ing", "ation", "ment", "er", "ly"}[rng.Intn(5)] + string(rune('a'+rng.Intn(26)))
		}
	}
	return strings.Join(w, " ")
}

// peakMB is the greatest memory the process has held, in MB (Linux).
func peakMB() float64 {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return float64(u.Maxrss) / 1024
}

// cpuSeconds is the processor time used so far: on a busy machine the truer
// measure.
func cpuSeconds() float64 {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
}

// BenchmarkBook writes books of growing size: 500 entries with 2,000
// photographs of 300 KB take under 10 s and 400 MB on two cores.
func BenchmarkBook(b *testing.B) {
	for _, n := range []int{50, 100, 500} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			dir := b.TempDir()
			snap, pic := bigBook(b, dir, n)
			for b.Loop() {
				start, cpu := time.Now(), cpuSeconds()
				rep, err := WriteBook(context.Background(), filepath.Join(dir, "book.pdf"), snap, BookOptions{Picture: pic})
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(time.Since(start).Seconds(), "s/book")
				b.ReportMetric(cpuSeconds()-cpu, "cpu-s")
				b.ReportMetric(float64(rep.Pages), "pages")
				b.ReportMetric(float64(rep.Bytes)/1e6, "MB")
				b.ReportMetric(peakMB(), "peak-MB")
			}
		})
	}
}
