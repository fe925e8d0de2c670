package imaging

import (
	"context"
	"fmt"
	"os"
	"testing"
)

func TestDbgSides(t *testing.T) {
	f := os.Getenv("DBG")
	if f == "" {
		t.Skip("only by hand")
	}
	plate := "quay"
	if f[0] == 'g' {
		plate = "grove"
	}
	truth := loadTruth(t, plate)
	for _, ph := range truth.Photos {
		if ph.File != f {
			continue
		}
		p := openShared(t, ph.File)
		m, _ := findMark(context.Background(), p, truth.size())
		var q Quad
		for i, c := range ph.Corners {
			q[i] = Point{c[0], c[1]}
		}
		h, _ := quadMapping(truth.size().rectangle(), q)
		hm, _ := quadMapping(truth.size().rectangle(), m.Corners)
		inv := h.inverse()
		rect := truth.size().rectangle()
		fmt.Println(f, ph.Tone)
		for i, e := range m.edges {
			a, b := rect.side(i)
			n := outward(a, b)
			fmt.Printf(" side %d corner err %.3f score %.2f ends %.3f %.3f\n   ", i, m.Corners[i].dist(q[i])/ph.PxPerMM, e.score, e.offset(0), e.offset(1))
			for k, tt := range e.at {
				c := lerp(a, b, tt)
				px := hm.apply(Point{c.X + e.off[k]*n.X, c.Y + e.off[k]*n.Y})
				r := inv.apply(px)
				fmt.Printf("%+.3f(%.1f) ", (r.X-c.X)*n.X+(r.Y-c.Y)*n.Y, e.weight[k])
			}
			fmt.Println()
		}
	}
}
