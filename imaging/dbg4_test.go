package imaging

import (
	"context"
	"fmt"
	"os"
	"testing"
)

func TestDbgLay(t *testing.T) {
	if os.Getenv("DBG") == "" {
		t.Skip("only by hand")
	}
	for _, plate := range []string{"quay", "grove"} {
		truth := loadTruth(t, plate)
		ref := prepareTruth(t, truth)
		var files []string
		for _, ph := range truth.Photos {
			files = append(files, ph.File)
		}
		if plate == "quay" {
			for _, f := range []string{"another-plate.jpg", "half-in-view.jpg", "mirrored.jpg", "out-of-focus.jpg", "upside-down.jpg"} {
				files = append(files, "awkward/"+f)
			}
		}
		for _, f := range files {
			p := openShared(t, f)
			mark, err := findMark(context.Background(), p, truth.size())
			if err != nil {
				fmt.Println(f, err)
				continue
			}
			fmt.Printf("%-30s sure %.2f touch %v ", f, mark.Sure, mark.sheet.touch)
			for k := 0; k < 0; k++ {
				for _, mirrored := range []bool{false, true} {
					q := mark.Corners.turned(k)
					if mirrored {
						q = q.mirrored()
					}
					h, _ := quadMapping(truth.size().rectangle(), q)
					w := ref.try(p, h, mirrored)
					fmt.Printf(" %.2f", w.rho)
				}
			}
			h, _ := quadMapping(truth.size().rectangle(), mark.Corners)
			fmt.Printf("  blur %.3f\n", photoBlur(p, &mapping{h: h}, truth.size()))
		}
	}
}
