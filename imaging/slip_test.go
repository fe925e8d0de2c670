package imaging

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"testing"

	"pullbook/imaging/platesim"
)

// withSlip lays a slip of black and white cells, as a code has, in the lower
// right corner of a picture.
func withSlip(img *image.RGBA, r *rand.Rand) {
	const side, cells = 90, 25
	at := img.Rect.Max.Sub(image.Pt(side+3, side+3))
	var dark [cells][cells]bool
	for y := range cells {
		for x := range cells {
			dark[y][x] = r.IntN(2) == 0
		}
	}
	for y := range side {
		for x := range side {
			v := uint8(228)
			cx, cy := (x-7)*cells/(side-14), (y-7)*cells/(side-14)
			if x >= 7 && y >= 7 && cx < cells && cy < cells && dark[cy][cx] {
				v = 34
			}
			img.SetRGBA(at.X+x, at.Y+y, color.RGBA{v, v, v, 255})
		}
	}
}

// cleanSheet is a small photograph of a sheet wiped clean, a slip beside it.
func cleanSheet(t *testing.T, n, pull int, scene platesim.Scene, size Size) (*Photo, platesim.Truth) {
	t.Helper()
	sim := platesim.New(uint64(600+n), platesim.Etched, scene, platesim.Options{States: 1, Size: platesim.Size{W: size.Width, H: size.Height}})
	c := platesim.NewConditions(platesim.Even, uint64(pull))
	c.Width, c.Height, c.Fill, c.Tone = 860, 640, 0.8, 0
	img, truth := sim.Photograph(1, pull, c, uint64(pull))
	withSlip(img, rand.New(rand.NewPCG(uint64(n), uint64(pull))))
	var b bytes.Buffer
	if err := platesim.Encode(&b, img, c); err != nil {
		t.Fatal(err)
	}
	seen, err := jpeg.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	return FromImage(seen), truth
}

// TestMarkBesideSlip: on small pictures of sheets wiped clean, a slip beside
// them, the plate mark is found where the plate is, and one that is not is not
// called sure. Drawn work near the mark's faint relief is the trap.
func TestMarkBesideSlip(t *testing.T) {
	size := Size{Height: 52, Width: 74}
	right := 0
	for n, scene := range platesim.Scenes() {
		pull := 1 + n%3
		p, truth := cleanSheet(t, n, pull, scene, size)
		m, err := FindPlate(context.Background(), p, size)
		if err != nil {
			t.Logf("%s, pull %d: %v", scene, pull, err)
			continue
		}
		off := math.Inf(1)
		for k := range 4 {
			worst := 0.0
			for i, q := range m.Corners.turned(k) {
				worst = max(worst, math.Hypot(q.X-truth.Corners[i][0], q.Y-truth.Corners[i][1])/truth.PxPerMM)
			}
			off = min(off, worst)
		}
		if off < 1 {
			right++
		} else if m.Sure > 0.5 {
			t.Errorf("%s, pull %d: a corner is %.1f mm off, and the mark is called sure (%.2f)", scene, pull, off, m.Sure)
		}
	}
	t.Logf("%d of %d right", right, len(platesim.Scenes()))
	if right < len(platesim.Scenes())-1 {
		t.Errorf("only %d of %d plate marks were found within a millimetre", right, len(platesim.Scenes()))
	}
}
