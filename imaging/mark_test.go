package imaging

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"
)

// truthPhoto is one photograph of the simulated plates in ../shared/photos.
type truthPhoto struct {
	File     string
	State    int
	Pull     float64
	Tone     float64
	Coverage float64
	InkLoss  *float64 `json:"ink_loss"`
	BurrLoss *float64 `json:"burr_loss"`
	Corners  [4][2]float64
	Grid     [][4]float64
	PxPerMM  float64 `json:"px_per_mm"`
}

type truthPlate struct {
	Plate  string
	W      float64 `json:"width_mm"`
	H      float64 `json:"height_mm"`
	Photos []truthPhoto
}

func (t truthPlate) size() Size { return Size{Height: t.H, Width: t.W} }

// sharedPhotos is the folder of simulated photographs with truth, beside the
// project.
const sharedPhotos = "../../shared/photos"

func loadTruth(t testing.TB, plate string) truthPlate {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(sharedPhotos, plate+".json"))
	if err != nil {
		t.Skipf("the simulated photographs are not beside the project: %v", err)
	}
	var p truthPlate
	if err := json.Unmarshal(b, &p); err != nil {
		t.Fatal(err)
	}
	return p
}

func openShared(t testing.TB, file string) *Photo {
	t.Helper()
	p, err := Open(context.Background(), filepath.Join(sharedPhotos, file))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestFindPlate holds the corners of every simulated photograph against truth:
// owed 0.4 mm on even light, 0.6 mm on rough (root mean square of the four).
func TestFindPlate(t *testing.T) {
	for plate, owed := range map[string]float64{"quay": 0.4, "grove": 0.6} {
		truth := loadTruth(t, plate)
		for _, ph := range truth.Photos {
			p := openShared(t, ph.File)
			m, err := FindPlate(context.Background(), p, truth.size())
			if err != nil {
				t.Errorf("%s: %v", ph.File, err)
				continue
			}
			var s float64
			for i, c := range ph.Corners {
				d := m.Corners[i].dist(Point{c[0], c[1]}) / ph.PxPerMM
				s += d * d / 4
			}
			rms := math.Sqrt(s)
			t.Logf("%-28s corners %.3f mm, sure %.2f", ph.File, rms, m.Sure)
			if rms > owed {
				t.Errorf("%s: corners %.2f mm from truth, %.1f owed", ph.File, rms, owed)
			}
		}
	}
}
