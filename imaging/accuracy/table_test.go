package accuracy

import (
	"context"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

var (
	amount = flag.String("accuracy", "small", "small: two fresh plates; full: the shared and eight fresh plates")
	seed   = flag.Uint64("accuracy-seed", 20261, "seed of the fresh plates")
	plates = flag.Int("accuracy-plates", 8, "number of fresh plates of the full table")
	write  = flag.String("accuracy-out", "", "file to write the tables to as Markdown, for the developers' document")
	parts  = flag.String("accuracy-parts", "changes,states", "what to measure besides single photographs")
	which  = flag.String("accuracy-sets", "shared,fresh", "sets of the full table")
	keep   = flag.String("accuracy-dir", "", "folder to keep the fresh photographs in; default: none are kept")
)

// shared is the folder of simulated photographs with truth beside the project.
const shared = "../../../shared/photos"

// TestTable measures and compares with what is owed. Full, it prints the table
// for the developers' document:
//
//	go test ./imaging/accuracy -run TestTable -v -accuracy=full -accuracy-out table.md -timeout 60m
func TestTable(t *testing.T) {
	if *amount == "full" && strings.Contains(*which, "shared") {
		if _, err := os.Stat(filepath.Join(shared, "quay.json")); err == nil {
			ours, err := LoadShared(shared)
			if err != nil {
				t.Fatal(err)
			}
			report(t, "the shared plates", ours)
		} else {
			t.Log("the shared photographs are not beside the project: their half of the table is left out")
		}
	}
	if *amount != "full" || strings.Contains(*which, "fresh") {
		report(t, "fresh plates", fresh(t))
	}
}

// fresh simulates the plates asked for.
func fresh(t *testing.T) []Plate {
	t.Helper()
	dir := *keep
	if dir == "" {
		dir = t.TempDir()
	}
	specs := Specs(*seed, *plates)
	if *amount != "full" {
		specs = Specs(*seed, 2)
		for i := range specs {
			specs[i].Pulls, specs[i].States, specs[i].Side = []int{30}, 1, 2100
		}
	}
	var set []Plate
	for _, s := range specs {
		p, err := Simulate(dir, s)
		if err != nil {
			t.Fatal(err)
		}
		set = append(set, p)
	}
	return set
}

func report(t *testing.T, name string, set []Plate) {
	t.Helper()
	p := Parts{Changes: strings.Contains(*parts, "changes"), States: strings.Contains(*parts, "states")}
	figures, err := Run(context.Background(), set, p, testLog{t})
	if err != nil {
		t.Fatal(err)
	}
	rows := Rows(figures)
	table := Markdown(rows, figures)
	t.Logf("%s\n\n%s", name, table)
	if *write != "" {
		f, err := os.OpenFile(*write, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o644)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		if _, err := fmt.Fprintf(f, "### Accuracy on %s\n\n%s\n", name, table); err != nil {
			t.Fatal(err)
		}
	}
	for _, r := range rows {
		for kind, word := range []Kind{Even, Rough} {
			if r.Short(kind) && !r.Told {
				t.Errorf("%s, %s, %s: %s, owed %s", name, word, r.What, number(r.Format, r.Got[kind]), number(r.Format, r.Owed[kind]))
			}
		}
	}
	for _, k := range []Kind{Even, Rough} {
		for _, why := range figures[k].Reasons {
			t.Logf("%s: %s", k, why)
		}
	}
}

// testLog writes lines to the test's log.
type testLog struct{ t *testing.T }

func (l testLog) Write(b []byte) (int, error) {
	l.t.Helper()
	line := string(b)
	if n := len(line); n > 0 && line[n-1] == '\n' {
		line = line[:n-1]
	}
	l.t.Log(line)
	return len(b), nil
}

// TestShortIsNoticed: a figure worse than owed must fail the table, and one
// that was not measured, or of too few photographs, must not.
func TestShortIsNoticed(t *testing.T) {
	bad := Figures{Ink: []float64{0.02}, InkU: slices.Repeat([]float64{3}, enough), ToneU: []float64{9}, OnReference: []float64{0.01}, Photos: 1}
	good := Figures{Ink: []float64{0.001}, InkU: slices.Repeat([]float64{0.5}, enough), OnReference: []float64{0.01}, Photos: 1}
	for _, r := range Rows(map[Kind]*Figures{Even: &bad, Rough: &good}) {
		want := r.What == "ink loss, mean absolute error" || r.What == "truth within 2u, ink loss"
		if r.Short(0) != want || r.Short(1) {
			t.Errorf("%s: short even %v, rough %v", r.What, r.Short(0), r.Short(1))
		}
	}
}

// TestMisplaced: a lattice shifted by a tenth of a millimetre in the reference
// and in the photograph alike is right on the reference, wrong in the frame.
func TestMisplaced(t *testing.T) {
	const s = 10.0 // px for 1 mm
	var truth, ref, got [][4]float64
	for y := 0.0; y <= 60; y += 10 {
		for x := 0.0; x <= 80; x += 10 {
			truth = append(truth, [4]float64{x, y, s*x + 100, s*y + 50})
			ref = append(ref, [4]float64{x, y, s*(x+0.1) + 100, s*y + 50})
			got = append(got, [4]float64{x, y, s*(x+0.1) + 100, s*y + 50})
		}
	}
	ph := Photo{Grid: truth, PxPerMM: s}
	frame, relative := misplaced(got, ref, ph, ph)
	if math.Abs(frame-0.1) > 1e-9 || relative > 1e-9 {
		t.Errorf("frame %v, on the reference %v; want 0.1 and 0", frame, relative)
	}
	for i := range got {
		got[i][3] += 0.5
	}
	if _, relative = misplaced(got, ref, ph, ph); math.Abs(relative-0.05) > 1e-9 {
		t.Errorf("shifted by half a pixel: %v mm, want 0.05", relative)
	}
}

// TestRankCorrelation checks Spearman's worked example from memory: reversed
// order is -1, equal order 1, and ties share ranks.
func TestRankCorrelation(t *testing.T) {
	for _, c := range []struct {
		a, b []float64
		want float64
	}{
		{[]float64{1, 2, 3, 4}, []float64{10, 20, 30, 40}, 1},
		{[]float64{1, 2, 3, 4}, []float64{4, 3, 2, 1}, -1},
		{[]float64{1, 2, 3, 4, 5}, []float64{2, 1, 4, 3, 5}, 0.8},
		{[]float64{1, 1, 2}, []float64{1, 1, 2}, 1},
	} {
		if got := rankCorrelation(c.a, c.b); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%v %v: %v, want %v", c.a, c.b, got, c.want)
		}
	}
}
