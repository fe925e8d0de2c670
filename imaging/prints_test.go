package imaging

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"
)

// printPhoto is one photograph made from a scan of a real print, with the
// mapping it was made by.
type printPhoto struct {
	File      string
	Reference string
	Kind      string
	H         [3][3]float64 `json:"H_ref_to_undistorted_photo"`
	K1        float64
	Centre    [2]float64
	Half      float64 `json:"half_diagonal"`
	RefSize   [2]int  `json:"reference_size"`
	SamePlate bool    `json:"same_plate"`
}

// at is where a reference pixel lies in the photograph.
func (p *printPhoto) at(q Point) Point {
	h := homography{p.H[0][0], p.H[0][1], p.H[0][2], p.H[1][0], p.H[1][1], p.H[1][2], p.H[2][0], p.H[2][1], p.H[2][2]}
	u := h.apply(q)
	x, y := (u.X-p.Centre[0])/p.Half, (u.Y-p.Centre[1])/p.Half
	f := 1 + p.K1*(x*x+y*y)
	return Point{p.Centre[0] + p.Half*x*f, p.Centre[1] + p.Half*y*f}
}

// TestPrints registers photographs made of scans of real prints (public
// domain; see prints/README.md) on the scans, corners of the reference by
// hand: the geometry is held to the mapping they were made by, the mirrored
// one is refused, and none is taken for another plate's.
func TestPrints(t *testing.T) {
	dir := filepath.Join("..", "..", "shared", "prints", "photographs")
	b, err := os.ReadFile(filepath.Join(dir, "truth.json"))
	if err != nil {
		t.Skipf("the photographs of real prints are not beside the project: %v", err)
	}
	var all []printPhoto
	if err := json.Unmarshal(b, &all); err != nil {
		t.Fatal(err)
	}
	refs := map[string]*Reference{}
	for i := range all {
		ph := &all[i]
		file := "reference_" + ph.Reference + ".jpg"
		if ph.Reference == "hogarth_bench" {
			file = "bench.jpg"
		}
		ref := refs[file]
		if ref == nil {
			p, err := Open(context.Background(), filepath.Join(dir, file))
			if err != nil {
				t.Fatal(err)
			}
			// The scans are trimmed to the mark; eight pixels to the millimetre
			// is as good a size as any.
			size := Size{Height: float64(p.Height) / 8, Width: float64(p.Width) / 8}
			w, h := float64(p.Width)-0.5, float64(p.Height)-0.5
			ref, err = Prepare(context.Background(), p, MarkFromStored(p, Quad{{-0.5, -0.5}, {w, -0.5}, {w, h}, {-0.5, h}}), size)
			if err != nil {
				t.Errorf("%s: %v", file, err)
				continue
			}
			refs[file] = ref
		}
		p, err := Open(context.Background(), filepath.Join(dir, ph.File))
		if err != nil {
			t.Fatal(err)
		}
		s, res, err := ref.Register(context.Background(), p, MeasureOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if ph.Kind == "mirror" || !ph.SamePlate {
			t.Logf("%-34s %s: %s", ph.File, res.Verdict, res.Reason)
			if res.Verdict != Refused {
				t.Errorf("%s was not refused", ph.File)
			}
			continue
		}
		if res.Verdict != Measured {
			t.Errorf("%s: %s", ph.File, res.Reason)
			continue
		}
		var ss, n float64
		for y := 0.05; y < 1; y += 0.1 {
			for x := 0.05; x < 1; x += 0.1 {
				q := Point{x * float64(ph.RefSize[0]), y * float64(ph.RefSize[1])}
				mm := ref.Sheet.m.plateOf(q)
				d := s.m.at(mm).dist(ph.at(q)) / res.Quality.PxPerMM * 8 // reference pixels
				ss += d * d
				n++
			}
		}
		rms := math.Sqrt(ss / n)
		t.Logf("%-34s %.2f reference px rms, %s, rho %.2f, mark %s", ph.File, rms, res.Registration.State, res.Registration.Correlation, res.MarkHow)
		if rms > 0.8 {
			t.Errorf("%s: %.2f px from the mapping it was made by", ph.File, rms)
		}
	}
}
