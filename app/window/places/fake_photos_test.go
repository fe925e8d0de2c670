package places

import (
	"context"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"

	"pullbook/catalog"
)

// picture draws a plate on its sheet: hatched hills in a plate mark, worn a
// little more for every photograph.
func (h *fakeHouse) picture(photo catalog.ID, side int) (string, error) {
	path := filepath.Join(h.dir, fmt.Sprintf("%s-%d.jpg", photo, side))
	if _, err := os.Stat(path); err == nil {
		return path, nil
	}
	n := 0
	for _, c := range string(photo) {
		n = n*7 + int(c)
	}
	w, ht := side, side*3/4
	img := image.NewRGBA(image.Rect(0, 0, w, ht))
	for y := range ht {
		for x := range w {
			u, v := float64(x)/float64(w), float64(y)/float64(ht)
			p := color.RGBA{0xf2, 0xec, 0xdf, 0xff}
			if u > 0.12 && u < 0.88 && v > 0.14 && v < 0.86 {
				p = color.RGBA{0xe6, 0xdf, 0xd0, 0xff}
				hill := 0.55 + 0.12*math.Sin(u*7+float64(n%17)) + 0.05*math.Sin(u*17+float64(n%5))
				line := math.Sin(v*240 + 3*math.Sin(u*9))
				if v > hill {
					line = math.Sin((u+v)*300) + 0.5*math.Sin((u-v)*280)
				}
				if u > 0.16 && u < 0.84 && v > 0.2 && v < 0.8 && line > 0.55+0.02*float64(n%10) {
					p = color.RGBA{0x28, 0x25, 0x22, 0xff}
				}
			}
			img.SetRGBA(x, y, p)
		}
	}
	f, err := os.Create(path + ".part")
	if err != nil {
		return "", err
	}
	if err := jpeg.Encode(f, img, nil); err != nil {
		return "", err
	}
	f.Close()
	return path, os.Rename(path+".part", path)
}

func (h *fakeHouse) Thumb(_ context.Context, p catalog.ID) (string, error) { return h.picture(p, 240) }

func (h *fakeHouse) Glance(_ context.Context, p catalog.ID) (string, error) {
	return h.picture(p, 800)
}

func (h *fakeHouse) Proxy(_ context.Context, p catalog.ID) (string, error) { return h.picture(p, 1600) }

func (h *fakeHouse) Original(_ context.Context, p catalog.ID) (string, error) {
	return h.picture(p, 1600)
}

func (h *fakeHouse) TakeIn(_ context.Context, paths []string, hint Hint, p Progress) ([]Taken, error) {
	h.mu.Lock()
	var out []Taken
	for i, path := range paths {
		h.taken = append(h.taken, path)
		ph := catalog.Photograph{ID: catalog.NewID(), Name: filepath.Base(path), View: catalog.ViewWhole}
		h.snap.Photographs = append(h.snap.Photographs, ph)
		st := catalog.ID("")
		for _, s := range h.snap.States {
			if s.PlateID == hint.Plate {
				st = s.ID
			}
		}
		out = append(out, Taken{PhotoID: ph.ID, Name: ph.Name, PlateID: hint.Plate, StateID: st, View: catalog.ViewWhole, Sure: 0.98 - 0.03*float64(i), Why: "recognised"})
		p(float64(i+1)/float64(len(paths)), ph.Name)
	}
	h.mu.Unlock()
	h.changed()
	return out, nil
}

func (h *fakeHouse) Propose(_ context.Context, ids []catalog.ID, hint Hint, _ Progress) ([]Taken, error) {
	var out []Taken
	for _, id := range ids {
		out = append(out, Taken{PhotoID: id, PlateID: hint.Plate, StateID: hint.Plate + "-state2", View: catalog.ViewWhole, Sure: 0.95, Why: "recognised"})
	}
	return out, nil
}

func (h *fakeHouse) Watch(ctx context.Context, dir string, hint func() Hint, came func(Taken)) error {
	t, err := h.TakeIn(ctx, []string{filepath.Join(dir, "watched.jpg")}, hint(), func(float64, string) {})
	if err != nil {
		return err
	}
	came(t[0])
	<-ctx.Done()
	return ctx.Err()
}

func (h *fakeHouse) Confirm(_ context.Context, t []Taken, _ Progress) (*Filed, error) {
	h.mu.Lock()
	for _, x := range t {
		i := catalog.Impression{ID: catalog.NewID(), PlateID: x.PlateID, StateID: x.StateID}
		h.snap.Impressions = append(clone(h.snap.Impressions), i)
		for k := range h.snap.Photographs {
			if h.snap.Photographs[k].ID == x.PhotoID {
				h.snap.Photographs = clone(h.snap.Photographs)
				h.snap.Photographs[k].ImpressionID = i.ID
			}
		}
	}
	h.confirm = append(h.confirm, t...)
	h.mu.Unlock()
	h.changed()
	return &Filed{Photographs: len(t), Measured: len(t)}, nil
}

func (h *fakeHouse) Mark(context.Context, catalog.ID, [4][2]float64) error { return nil }

func (h *fakeHouse) BlankSheet(_ context.Context, id catalog.ID) (int, error) {
	h.mu.Lock()
	h.snap.Photographs = clone(h.snap.Photographs)
	for i := range h.snap.Photographs {
		if p := &h.snap.Photographs[i]; p.ID == id {
			p.View, p.ImpressionID = catalog.ViewBlank, ""
		}
	}
	h.mu.Unlock()
	h.changed()
	return 3, nil
}

func (h *fakeHouse) Report(_ context.Context, id catalog.ID) (*Report, error) {
	return &Report{HasMark: true, MarkBy: "found", MarkSure: 0.97,
		Corners: [4][2]float64{{0.12, 0.14}, {0.88, 0.14}, {0.88, 0.86}, {0.12, 0.86}},
		Findings: []Finding{
			{What: "resolution", Value: "14.2 px/mm", Stars: 4}, {What: "sharpness", Value: "0.06 mm", Stars: 3},
			{What: "evenness of light", Value: "11 %", Stars: 2, Advice: "Set the second lamp farther off, or turn the sheet half-way round and take it again."},
			{What: "clipped paper", Value: "0.0 %", Stars: 4},
		}}, nil
}
