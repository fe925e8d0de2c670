package imaging

import (
	"context"
	"fmt"
	"os"
	"testing"
)

func TestDbgReg(t *testing.T) {
	f := os.Getenv("DBG")
	if f == "" {
		t.Skip("only by hand")
	}
	plate := "quay"
	if f[0] == 'g' {
		plate = "grove"
	}
	truth := loadTruth(t, plate)
	rp := openShared(t, truth.Photos[0].File)
	mark, _ := FindPlate(context.Background(), rp, truth.size())
	ref, err := Prepare(context.Background(), rp, mark, truth.size())
	if err != nil {
		t.Fatal(err)
	}
	for _, ph := range truth.Photos {
		if ph.File != f {
			continue
		}
		p := openShared(t, ph.File)
		s, res, _ := ref.Register(context.Background(), p, MeasureOptions{})
		fmt.Println(res.Registration)
		for i, g := range truth.Photos[0].Grid {
			q := ref.Sheet.m.plateOf(Point{g[2], g[3]})
			at := s.m.at(q)
			tr := Point{ph.Grid[i][2], ph.Grid[i][3]}
			fmt.Printf("  (%+.3f %+.3f u%.3f)", (at.X-tr.X)/ph.PxPerMM, (at.Y-tr.Y)/ph.PxPerMM, s.m.w.u(q))
			if i%7 == 6 {
				fmt.Println()
			}
		}
	}
}
