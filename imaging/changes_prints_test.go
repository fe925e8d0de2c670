package imaging

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
)

// printPair is one entry of the shared state-pairs-truth.json: two states of
// one real plate, reproduced in one book, with a homography between them and
// areas set by eye.
type printPair struct {
	Earlier string      `json:"earlier"`
	Later   string      `json:"later"`
	H       float64     `json:"plate_height_mm"`
	W       float64     `json:"plate_width_mm"`
	Map     [][]float64 `json:"H_earlier_to_later"`
	Areas   []struct {
		Kind string     `json:"kind"`
		What string     `json:"what"`
		Box  [4]float64 `json:"box"`
	} `json:"areas_in_later_pixels_x0y0x1y1"`
}

// Real prints: each certain change larger than 3 mm is found, the unchanged
// areas stay empty. The reproductions are cut to the plate and coarse (about
// 5.7 pixels to the millimetre), so areas are compared, not strokes; what is
// too crowded to tell is said to be so.
func TestRealStatePairs(t *testing.T) {
	dir := filepath.Join(shared, "prints")
	b, err := os.ReadFile(filepath.Join(dir, "state-pairs-truth.json"))
	if err != nil {
		t.Skipf("the reproductions of real prints are not beside the project: %v", err)
	}
	var pairs []printPair
	if err := json.Unmarshal(b, &pairs); err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	for _, p := range pairs {
		before, err := Open(ctx, filepath.Join(dir, p.Earlier))
		if err != nil {
			t.Fatal(err)
		}
		after, err := Open(ctx, filepath.Join(dir, p.Later))
		if err != nil {
			t.Fatal(err)
		}
		a, laid, res, free, err := compareSheets(ctx, before, after, Size{p.H, p.W})
		if err != nil {
			t.Fatalf("%s: %v", p.Earlier, err)
		}
		if res.Verdict != Measured {
			t.Fatalf("%s: %s", p.Earlier, res.Reason)
		}
		if !free {
			t.Errorf("%s has no plate mark to go by, yet one was used", p.Earlier)
		}
		h := p.homography()
		p.checkPlace(t, a, laid, &h)
		p.checkAreas(t, changedAreas(a, laid), a, &h)
	}
}

func (p *printPair) homography() homography {
	var h homography
	for i, row := range p.Map {
		copy(h[3*i:], row)
	}
	return h
}

// checkPlace compares the registration with the truth's homography, itself
// good to 0.4 to 0.8 pixels.
func (p *printPair) checkPlace(t *testing.T, a, b *Sheet, h *homography) {
	t.Helper()
	var sum, n float64
	for y := 20.0; y < a.Size.Height-20; y += 10 {
		for x := 20.0; x < a.Size.Width-20; x += 10 {
			sum += b.m.at(Point{x, y}).dist(h.apply(a.m.at(Point{x, y})))
			n++
		}
	}
	t.Logf("%s on %s: %.2f pixels from the truth", p.Later, p.Earlier, sum/n)
	if sum/n > 1.5 {
		t.Errorf("%s lies %.2f pixels off", p.Later, sum/n)
	}
}

func (p *printPair) checkAreas(t *testing.T, got []Change, a *Sheet, h *homography) {
	t.Helper()
	toEarlier, toPlate := h.inverse(), a.m.h.inverse()
	for _, area := range p.Areas {
		q0 := toPlate.apply(toEarlier.apply(Point{area.Box[0], area.Box[1]}))
		q1 := toPlate.apply(toEarlier.apply(Point{area.Box[2], area.Box[3]}))
		box := [4]float64{q0.X, q0.Y, q1.X, q1.Y}
		var changed, unseen float64 // shares of the area, by the boxes' sum
		found := false
		for _, c := range got {
			share := shareOf(box, c.Box)
			if c.Kind == CannotSee {
				unseen += share
				continue
			}
			changed += share
			x, y := (c.Box[0]+c.Box[2])/2, (c.Box[1]+c.Box[3])/2
			inside := x > box[0] && x < box[2] && y > box[1] && y < box[3]
			found = found || ((inside || share > 0.3) && (c.Kind == area.Kind || c.Kind == ChangedTexture || area.Kind == "changed"))
		}
		t.Logf("%s, %s (%s): changed %.2f, cannot see %.2f", p.Earlier, area.What, area.Kind, changed, unseen)
		switch {
		case area.Kind == "unchanged" && changed > 0.15:
			t.Errorf("%s, %s is unchanged, yet changes cover %.2f of it", p.Earlier, area.What, changed)
		case area.Kind == "changed" && !found && unseen < 0.3:
			t.Errorf("%s, %s was neither found nor said to be too crowded to tell", p.Earlier, area.What)
		case (area.Kind == Added || area.Kind == Removed) && !found:
			t.Errorf("%s, %s (%s) was not found", p.Earlier, area.What, area.Kind)
		}
	}
}
