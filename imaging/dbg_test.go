package imaging

import (
	"fmt"
	"os"
	"testing"
)

func TestDbgMark(t *testing.T) {
	f := os.Getenv("DBG")
	if f == "" {
		t.Skip("only by hand")
	}
	truth := loadTruth(t, f[:len(f)-len(f[5:])])
	_ = truth
}

func TestDbgCoarse(t *testing.T) {
	if os.Getenv("DBG") == "" {
		t.Skip("only by hand")
	}
	for _, plate := range []string{"quay", "grove"} {
		truth := loadTruth(t, plate)
		for _, ph := range truth.Photos {
			p := openShared(t, ph.File)
			k := markStep(p)
			work := p.lum.shrink(k)
			sheet := findSheet(work)
			fmt.Println(ph.File, k, sheet, "truth", ph.Corners)
			var q Quad
			for i, c := range ph.Corners {
				q[i] = Point{c[0], c[1]}
			}
			for _, g := range coarseMarks(work, sheet, truth.size(), 0) {
				for i := range g.quad {
					g.quad[i] = Point{g.quad[i].X * float64(k), g.quad[i].Y * float64(k)}
				}
				var d float64
				for i := range q {
					d = max(d, q[i].dist(g.quad[i])/ph.PxPerMM)
				}
				m := traceMark(p, g.quad, truth.size(), &sheetEdge{}, 1)
				fmt.Printf("   score %.3f dist %.1f mm", g.score, d)
				if m != nil {
					fmt.Printf(" sure %.2f  edges %.2f %.2f %.2f %.2f", m.Sure, m.edges[0].score, m.edges[1].score, m.edges[2].score, m.edges[3].score)
				}
				fmt.Println()
			}
		}
	}
}
