package imaging

import (
	"context"
	"encoding/binary"
	"fmt"
	"os"
	"testing"
)

func dump(name string, v any) {
	f, _ := os.Create("/tmp/imaging/" + name)
	binary.Write(f, binary.LittleEndian, v)
	f.Close()
}

func TestDbgDump(t *testing.T) {
	if os.Getenv("DBG") == "" {
		t.Skip("only by hand")
	}
	for _, plate := range []string{"quay", "grove"} {
		truth := loadTruth(t, plate)
		ref := prepareTruth(t, truth)
		s := ref.Sheet
		fmt.Println(plate, s.Cols, s.Rows, s.PxPerMM)
		dump(plate+"-ref-a.f32", s.Coverage)
		dump(plate+"-ref-r.f32", s.Reflectance)
		dump(plate+"-ref-line.u8", s.Line)
		for _, ph := range truth.Photos[1:] {
			if ph.State > 1 {
				continue
			}
			m, _, _ := ref.Register(context.Background(), openShared(t, ph.File), MeasureOptions{})
			fmt.Println(ph.File, m.BlurMM, s.BlurMM)
			dump(ph.File+"-a.f32", m.Coverage)
			dump(ph.File+"-r.f32", m.Reflectance)
		}
	}
}
