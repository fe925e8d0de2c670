package studio

import (
	"context"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pullbook/catalog"
	"pullbook/imaging/platesim"
)

// A simulated printing day: sheets of several plates in two states each,
// photographed one after another as they were pulled, slips beside every
// second, some sideways, some blurred, one sheet of another press, one file
// twice. The truth is known exactly, because the simulator drew it.
type simDay struct {
	plates, sheets int // sheets of each state
	more           int // of the first states, how many have one sheet more
	blurred        int
	wide           int                   // longer side of the pictures, pixels
	files          string                // folder of photographs
	truth          map[string]catalog.ID // by file name; "" is no sheet of ours
	unsharp        map[string]bool
}

// dayPlates are drawn in turn.
var dayPlates = []struct {
	scene platesim.Scene
	tech  platesim.Technique
}{{platesim.Estuary, platesim.Etched}, {platesim.Heron, platesim.Drypoint}, {platesim.Boatyard, platesim.Engraved}, {platesim.Willows, platesim.Drypoint}}

// layDay fills the folder and the catalogue.
func layDay(t *testing.T, s *Studio, d *simDay) {
	t.Helper()
	ctx := context.Background()
	d.truth, d.unsharp = map[string]catalog.ID{}, map[string]bool{}
	shot := 0
	save := func(img *image.RGBA, c platesim.Conditions, id catalog.ID) string {
		shot++
		name := fmt.Sprintf("day-%03d.jpg", shot)
		writeJPEG(t, filepath.Join(d.files, name), img, c)
		d.truth[name] = id
		return name
	}
	for n := range d.plates {
		sim := platesim.New(uint64(300+n), dayPlates[n].tech, dayPlates[n].scene, platesim.Options{States: 2, ProofsBetween: d.sheets + 2})
		plate := &catalog.Plate{Number: catalog.Number{N: n + 1}, Titles: []catalog.Title{{Text: string(dayPlates[n].scene)}}, Mark: catalog.Size{HeightMM: sim.Size.H, WidthMM: sim.Size.W}}
		must(t, s.Save(ctx, "plate", plate))
		for st := 1; st <= 2; st++ {
			state := &catalog.State{PlateID: plate.ID, N: st}
			must(t, s.Save(ctx, "state", state))
			layReference(t, s, sim, plate, state, d)
			sheets := d.sheets
			if st == 1 && n < d.more {
				sheets++
			}
			for k := range sheets {
				i := &catalog.Impression{PlateID: plate.ID, StateID: state.ID, Pull: (st-1)*(d.sheets+2) + 3 + k}
				must(t, s.Save(ctx, "sheet", i))
				seed := uint64(1000*n + 100*st + k)
				blur := d.blurred > 0 && k == 3 && st == 2 && n < d.blurred
				img, c := d.photograph(t, sim, st, 3+k, seed, func(c *platesim.Conditions) {
					if k == 4 || k == 1 && st == 2 {
						c.Turn += 90 // lying on its side
					}
					if k == 2 || k == 0 && st == 1 {
						c.Orientation = 6 // the camera turned, and says so
					}
					if blur {
						c.Blur = 9
					}
				})
				if k%2 == 0 {
					laySlip(t, img, i.ID)
				}
				d.unsharp[save(img, c, i.ID)] = blur
			}
		}
	}
	other := platesim.New(999, platesim.Etched, platesim.Furrows, platesim.Options{States: 1})
	img, c := d.photograph(t, other, 1, 4, 77, nil)
	save(img, c, "")
	b, err := os.ReadFile(filepath.Join(d.files, "day-002.jpg"))
	must(t, err)
	must(t, os.WriteFile(filepath.Join(d.files, "day-002-copy.jpg"), b, 0o644))
	d.truth["day-002-copy.jpg"] = d.truth["day-002.jpg"]
}

// layReference photographs the reference pull of a state, which was filed
// before the day.
func layReference(t *testing.T, s *Studio, sim *platesim.Plate, plate *catalog.Plate, state *catalog.State, d *simDay) {
	t.Helper()
	ctx := context.Background()
	ref := &catalog.Impression{PlateID: plate.ID, StateID: state.ID, Pull: (state.N-1)*(d.sheets+2) + 2, Kind: catalog.KindBAT}
	must(t, s.Save(ctx, "reference", ref))
	img, c := d.photograph(t, sim, state.N, 2, uint64(5000+10*plate.Number.N+state.N), nil)
	path := filepath.Join(t.TempDir(), "reference.jpg")
	writeJPEG(t, path, img, c)
	taken, err := s.TakeIn(ctx, []string{path}, nil)
	must(t, err)
	must(t, taken[0].Err)
	must(t, s.FilePhotograph(ctx, taken[0].Photo.ID, ref.ID, byHand, 1))
	must(t, s.PickReference(ctx, ref.ID, taken[0].Photo.ID))
}

// checkDay compares what was filed with the truth.
func checkDay(t *testing.T, s *Studio, d *simDay, r *FileReport) {
	t.Helper()
	wrong, left := 0, 0
	for _, a := range r.Filed {
		p, err := s.store.Photograph(context.Background(), a.Photo.ID)
		must(t, err)
		if p.ImpressionID != d.truth[p.Name] {
			wrong++
			t.Errorf("%s is filed wrongly, by %s: %s", p.Name, a.How, a.Words)
		}
	}
	for _, a := range r.Left {
		left++
		if d.truth[a.Photo.Name] != "" && !d.unsharp[a.Photo.Name] {
			t.Logf("left although sharp and ours: %s: %s", a.Photo.Name, a.Words)
		}
	}
	n := len(d.truth)
	if left*10 > n {
		t.Errorf("%d of %d photographs are left for the user, more than a tenth", left, n)
	}
	if r.Twice != 1 {
		t.Errorf("%d files given twice, want 1", r.Twice)
	}
	if len(r.Filed)+left+r.Twice+len(r.Refused) != n {
		t.Errorf("%d filed, %d left, %d twice, %d refused do not make %d", len(r.Filed), left, r.Twice, len(r.Refused), n)
	}
}

func TestPrintingDay(t *testing.T) {
	d := &simDay{plates: 2, sheets: 2, wide: 1120, files: t.TempDir()} // 10 files
	if long() {
		d.plates, d.sheets, d.more, d.blurred, d.wide = 4, 7, 2, 2, 1400 // 60
	}
	s, err := Create(filepath.Join(t.TempDir(), "day.pullbook"), Options{})
	must(t, err)
	defer s.Close()
	layDay(t, s, d)
	t.Logf("%d photographs are drawn", len(d.truth))
	began, busy := time.Now(), processorTime()
	said := 0.0
	r, err := s.FileAll(context.Background(), []string{d.files}, FileOptions{}, func(done float64, what string) {
		if done < said {
			t.Errorf("progress fell from %.2f to %.2f: %s", said, done, what)
		}
		said = done
	})
	must(t, err)
	report := r.Words(func(id catalog.ID) string {
		if i, err := s.store.Impression(context.Background(), id); err == nil {
			return i.Name()
		}
		return string(id)
	})
	t.Logf("filed and scored in %.0f s, %.0f s of processor time\n%s", time.Since(began).Seconds(), (processorTime() - busy).Seconds(), report)
	checkDay(t, s, d, r)
	if !strings.Contains(report, "left ") {
		t.Error("the report does not name what was left")
	}
	// Calling it again goes on where it stopped: nothing is filed twice.
	again, err := s.FileAll(context.Background(), []string{d.files}, FileOptions{}, nil)
	must(t, err)
	if len(again.Filed) != 0 || len(again.Already) != len(r.Filed) {
		t.Errorf("the second time %d were filed and %d known, want 0 and %d", len(again.Filed), len(again.Already), len(r.Filed))
	}
	v, err := s.Verify(context.Background(), nil)
	must(t, err)
	if !v.Clean() {
		t.Errorf("verify after filing: %+v", v.Findings)
	}
}
