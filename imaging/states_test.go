package imaging

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
)

// shared is where the simulated photographs with ground truth lie, beside the
// project (photos/README.md there tells how they were made).
const shared = "../../shared"

// stateTruth is what a plate's JSON says of its states.
type stateTruth struct {
	W       float64 `json:"width_mm"`
	H       float64 `json:"height_mm"`
	Changes []struct {
		Into    int          `json:"into_state"`
		Added   [][4]float64 `json:"added"`
		Removed [][4]float64 `json:"removed"`
	} `json:"changes"`
	Photos []struct {
		File  string `json:"file"`
		State int    `json:"state"`
		Pull  int    `json:"pull"`
	} `json:"photos"`
}

func loadStates(t testing.TB, plate string) stateTruth {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(shared, "photos", plate+".json"))
	if err != nil {
		t.Skipf("the simulated photographs are not beside the project: %v", err)
	}
	var s stateTruth
	if err := json.Unmarshal(b, &s); err != nil {
		t.Fatal(err)
	}
	return s
}

func (s *stateTruth) size() Size { return Size{Height: s.H, Width: s.W} }

// between lists the patches of work added and removed after state a up to b.
func (s *stateTruth) between(a, b int) (added, removed [][4]float64) {
	for _, c := range s.Changes {
		if c.Into > a && c.Into <= b {
			added = append(added, c.Added...)
			removed = append(removed, c.Removed...)
		}
	}
	return added, removed
}
