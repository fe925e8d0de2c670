// Package rehearsal plays a printing day for tests: sheets pulled, slips laid
// beside them, photographs taken, with the truth of what each shows.
package rehearsal

import (
	"context"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"testing"

	"pullbook/catalog"
	"pullbook/imaging/platesim"
)

// Day is a simulated printing day: sheets of several plates in two states each,
// photographed one after another as they were pulled, slips beside every
// second, some sideways, some blurred, one sheet of another press, one file
// twice. The truth is known exactly, because the simulator drew it.
type Day struct {
	Plates, Sheets int // sheets of each state
	More           int // of the first states, how many have one sheet more
	Blurred        int
	Wide           int                   // longer side of the pictures, pixels
	Files          string                // folder of photographs
	Truth          map[string]catalog.ID // by file name; "" is no sheet of ours
	Unsharp        map[string]bool
}

// Books is the catalogue in which a day is entered.
type Books struct {
	Save func(ctx context.Context, label string, records ...any) error
	// Reference takes the photograph at path in as that of an impression, and has
	// the others of its state measured against it.
	Reference func(path string, of *catalog.Impression) error
}

// dayPlates are drawn in turn.
var dayPlates = []struct {
	scene platesim.Scene
	tech  platesim.Technique
}{{platesim.Estuary, platesim.Etched}, {platesim.Heron, platesim.Drypoint}, {platesim.Boatyard, platesim.Engraved}, {platesim.Willows, platesim.Drypoint}}

// Lay fills the folder and the catalogue.
func (d *Day) Lay(t testing.TB, b Books) {
	t.Helper()
	ctx := context.Background()
	d.Truth, d.Unsharp = map[string]catalog.ID{}, map[string]bool{}
	shot := 0
	save := func(img *image.RGBA, c platesim.Conditions, id catalog.ID) string {
		shot++
		name := fmt.Sprintf("day-%03d.jpg", shot)
		WriteJPEG(t, filepath.Join(d.Files, name), img, c)
		d.Truth[name] = id
		return name
	}
	for n := range d.Plates {
		sim := platesim.New(uint64(300+n), dayPlates[n].tech, dayPlates[n].scene, platesim.Options{States: 2, ProofsBetween: d.Sheets + 2})
		plate := &catalog.Plate{Number: catalog.Number{N: n + 1}, Titles: []catalog.Title{{Text: string(dayPlates[n].scene)}}, Mark: catalog.Size{HeightMM: sim.Size.H, WidthMM: sim.Size.W}}
		must(t, b.Save(ctx, "plate", plate))
		for st := 1; st <= 2; st++ {
			state := &catalog.State{PlateID: plate.ID, N: st}
			must(t, b.Save(ctx, "state", state))
			d.Reference(t, b, sim, plate, state)
			sheets := d.Sheets
			if st == 1 && n < d.More {
				sheets++
			}
			for k := range sheets {
				i := &catalog.Impression{PlateID: plate.ID, StateID: state.ID, Pull: (st-1)*(d.Sheets+2) + 3 + k}
				must(t, b.Save(ctx, "sheet", i))
				seed := uint64(1000*n + 100*st + k)
				blur := d.Blurred > 0 && k == 3 && st == 2 && n < d.Blurred
				img, c := d.Photograph(t, sim, st, 3+k, seed, func(c *platesim.Conditions) {
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
					LaySlip(t, img, i.ID, SlipSide)
				}
				d.Unsharp[save(img, c, i.ID)] = blur
			}
		}
	}
	other := platesim.New(999, platesim.Etched, platesim.Furrows, platesim.Options{States: 1})
	img, c := d.Photograph(t, other, 1, 4, 77, nil)
	save(img, c, "")
	second, err := os.ReadFile(filepath.Join(d.Files, "day-002.jpg"))
	must(t, err)
	must(t, os.WriteFile(filepath.Join(d.Files, "day-002-copy.jpg"), second, 0o644))
	d.Truth["day-002-copy.jpg"] = d.Truth["day-002.jpg"]
}

// Reference photographs the reference pull of a state, which was filed
// before the day.
func (d *Day) Reference(t testing.TB, b Books, sim *platesim.Plate, plate *catalog.Plate, state *catalog.State) {
	t.Helper()
	ctx := context.Background()
	ref := &catalog.Impression{PlateID: plate.ID, StateID: state.ID, Pull: (state.N-1)*(d.Sheets+2) + 2, Kind: catalog.KindBAT}
	must(t, b.Save(ctx, "reference", ref))
	img, c := d.Photograph(t, sim, state.N, 2, uint64(5000+10*plate.Number.N+state.N), nil)
	path := filepath.Join(t.TempDir(), "reference.jpg")
	WriteJPEG(t, path, img, c)
	must(t, b.Reference(path, ref))
}
