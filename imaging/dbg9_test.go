package imaging

import (
	"fmt"
	"os"
	"testing"
)

func TestDbgBorder(t *testing.T) {
	if os.Getenv("DBG") == "" {
		t.Skip("only by hand")
	}
	p := plainPlate()
	p.strokes = append(p.strokes, [][5]float64{{2.2, 2.2, 57.8, 2.2, 0.25}, {57.8, 2.2, 57.8, 42.8, 0.25}, {57.8, 42.8, 2.2, 42.8, 0.25}, {2.2, 42.8, 2.2, 2.2, 0.25}}...)
	photo, _ := p.paint()
	k := markStep(photo)
	work := photo.shrunk(k)
	sheet := findSheet(work)
	fmt.Println(k, sheet)
	for _, c := range coarseMarks(work, sheet, p.size, 0) {
		m := traceMark(photo, c.quad, p.size, &sheet, 1)
		fmt.Println(c.score, c.quad, m.Corners, m.Sure)
		m = traceMark(photo, c.quad, p.size, &sheet, 3)
		fmt.Println("   ", m.Corners)
	}
}

func TestDbgHalo(t *testing.T) {
	f := os.Getenv("HALO")
	if f == "" {
		t.Skip("only by hand")
	}
	truth, open := simTruth(t, f)
	rp := open(truth.Photos[0].File)
	var q Quad
	for i, c := range truth.Photos[0].Corners {
		q[i] = Point{c[0], c[1]}
	}
	ref, err := Prepare(t.Context(), rp, MarkFromStored(rp, q), truth.size())
	if err != nil {
		t.Fatal(err)
	}
	s := ref.Sheet
	fmt.Println(s.Cols, s.Rows, s.PxPerMM, ref.lines.burr != nil)
	dump("halo-a.f32", s.Coverage)
	if ref.lines.burr != nil {
		dump("halo-i.i32", ref.lines.burr.halo)
		fmt.Println("mass", ref.lines.burr.mass/s.PxPerMM/s.PxPerMM, ref.lines.burr.mass/s.PxPerMM/s.PxPerMM/ref.lines.mass)
	}
}
