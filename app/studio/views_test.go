package studio

import (
	"context"
	"fmt"
	"image"
	"path/filepath"
	"testing"

	"pullbook/app/studio/rehearsal"
	"pullbook/catalog"
	"pullbook/imaging/platesim"
)

// TestViews files photographs of the whole sheet, of details, by raking and by
// transmitted light, with and without a slip: what they show is told rightly or
// asked for, and none makes a sheet of its own or is scored but the whole.
func TestViews(t *testing.T) {
	ctx := context.Background()
	s := newCatalogue(t)
	d := &rehearsal.Day{Wide: 1120, Sheets: 9, Files: t.TempDir()}
	sim := platesim.New(300, platesim.Etched, platesim.Estuary, platesim.Options{States: 1})
	plate := &catalog.Plate{Number: catalog.Number{N: 1}, Titles: []catalog.Title{{Text: "estuary"}}, Mark: catalog.Size{HeightMM: sim.Size.H, WidthMM: sim.Size.W}}
	must(t, s.Save(ctx, "plate", plate))
	state := &catalog.State{PlateID: plate.ID, N: 1}
	must(t, s.Save(ctx, "state", state))
	d.Reference(t, books(s), sim, plate, state)
	sheet := &catalog.Impression{PlateID: plate.ID, StateID: state.ID, Pull: 3}
	must(t, s.Save(ctx, "sheet", sheet))

	c := platesim.NewConditions(platesim.Even, 31)
	c.Width, c.Height, c.Fill = 1120, 840, 0.8
	l := onBlack(sim, c, 3, 31)
	truth := map[string]catalog.View{}
	slips := map[string]bool{}
	lay := func(name string, view catalog.View, slip bool, img *image.RGBA) {
		name += ".jpg"
		if slip {
			rehearsal.LaySlip(t, img, sheet.ID, rehearsal.SlipSide)
		}
		rehearsal.WriteJPEG(t, filepath.Join(d.Files, name), img, c)
		truth[name], slips[name] = view, slip
	}
	whole, _ := d.Photograph(t, sim, 1, 3, 31, nil)
	lay("whole", catalog.ViewWhole, true, whole)
	for i, near := range []float64{2, 2.8} {
		part, _ := d.Photograph(t, sim, 1, 3, uint64(32+i), func(c *platesim.Conditions) { c.Fill = near })
		lay(fmt.Sprint("detail-", i), catalog.ViewDetail, i == 0, part)
	}
	lay("raking", catalog.ViewRaking, true, l.raked(3, 0.08, 20, 1))
	lay("raking-bare", catalog.ViewRaking, false, l.raked(2.8, 0.06, 200, 2))
	lay("through", catalog.ViewTransmitted, true, l.through(0.95, 0.06, 0.04, 3))
	lay("through-masked", catalog.ViewTransmitted, true, l.through(0.02, 0.06, 0.04, 3))

	r, err := s.FileAll(ctx, []string{d.Files}, FileOptions{}, nil)
	must(t, err)
	t.Log("\n" + r.Words(func(id catalog.ID) string { return string(id) }))
	for _, a := range r.Filed {
		p, err := s.store.Photograph(ctx, a.Photo.ID)
		must(t, err)
		if p.View != truth[p.Name] {
			t.Errorf("%s shows %s, filed as %s", p.Name, truth[p.Name], p.View)
		}
		if p.ImpressionID != sheet.ID {
			t.Errorf("%s is filed to another sheet", p.Name)
		}
		delete(truth, p.Name)
	}
	for _, a := range r.Left {
		if a.View != "" && a.View != truth[a.Photo.Name] {
			t.Errorf("%s shows %s, said to show %s", a.Photo.Name, truth[a.Photo.Name], a.View)
		}
		if a.View == "" && a.Photo.Name != "through-masked.jpg" {
			t.Errorf("%s: what it shows is not told: %s", a.Photo.Name, a.Words)
		}
		if slips[a.Photo.Name] && a.View != "" {
			t.Errorf("%s is left although its slip names it: %s", a.Photo.Name, a.Words)
		}
	}
	if len(r.Scored) != 1 {
		t.Errorf("%d scored, want the one photograph of the whole sheet", len(r.Scored))
	}
}
