package imaging

import (
	"context"
	"fmt"
	"math"
	"testing"
	"time"
)

// relativeError is the root mean square over the truth's grid of where the
// sheet puts plate points, in mm, the reference's own frame divided out.
func relativeError(ref *mapping, refTruth truthPhoto, mov *mapping, ph truthPhoto) (rel, abs float64) {
	var n float64
	for i, g := range refTruth.Grid {
		q := ref.plateOf(Point{g[2], g[3]})
		at := mov.at(q)
		t := Point{ph.Grid[i][2], ph.Grid[i][3]}
		rel += math.Pow(at.dist(t)/ph.PxPerMM, 2)
		at = mov.at(Point{g[0], g[1]})
		abs += math.Pow(at.dist(t)/ph.PxPerMM, 2)
		n++
	}
	return math.Sqrt(rel / n), math.Sqrt(abs / n)
}

func TestTable(t *testing.T) {
	for _, plate := range []string{"quay", "grove"} {
		truth := loadTruth(t, plate)
		refPhoto := openShared(t, truth.Photos[0].File)
		mark, err := FindPlate(context.Background(), refPhoto, truth.size())
		if err != nil {
			t.Fatal(err)
		}
		t0 := time.Now()
		ref, err := Prepare(context.Background(), refPhoto, mark, truth.size())
		if err != nil {
			t.Fatal(err)
		}
		fmt.Println(plate, "prepare", time.Since(t0))
		for _, ph := range truth.Photos {
			p := openShared(t, ph.File)
			t0 := time.Now()
			s, res, err := ref.Register(context.Background(), p, MeasureOptions{})
			if err != nil {
				t.Fatal(err)
			}
			el := time.Since(t0)
			if res.Verdict != Measured {
				fmt.Printf("%-28s %s\n", ph.File, res.Reason)
				continue
			}
			rel, abs := relativeError(ref.Sheet.m, truth.Photos[0], s.m, ph)
			loss := 1 - ph.Coverage/truth.Photos[0].Coverage
			fmt.Printf("%-28s %4dms reg %.3f abs %.3f (u %.3f %s rho %.2f)  tone %.4f err %+.4f u %.4f  loss %.4f err %+.4f u %.4f", ph.File, el.Milliseconds(), rel, abs, res.Registration.ResidualMM, res.Registration.State, res.Registration.Correlation,
				res.Scores.PlateTone.V, res.Scores.PlateTone.V-ph.Tone, res.Scores.PlateTone.U, res.Scores.InkLoss.V, res.Scores.InkLoss.V-loss, res.Scores.InkLoss.U)
			if ph.BurrLoss != nil && res.Scores.BurrLoss != nil {
				fmt.Printf("  burr %.3f err %+.3f u %.3f", res.Scores.BurrLoss.V, res.Scores.BurrLoss.V-*ph.BurrLoss, res.Scores.BurrLoss.U)
			}
			fmt.Println()
		}
	}
}
