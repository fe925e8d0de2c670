package platesim

import (
	"bytes"
	"image"
	"math"
	"testing"
)

// small is a frame that is quick to expose.
func small(c Conditions) Conditions {
	c.Width, c.Height = 700, 525
	return c
}

// plainSheet has nothing accidental: flat light, no tone, no noise, no blur.
func plainSheet() Conditions {
	return Conditions{Width: 1200, Height: 900, Margins: [4]float64{20, 20, 20, 20}, Paper: [3]float64{0.8, 0.8, 0.8},
		Ink: [3]float64{0.04, 0.04, 0.04}, Background: [3]float64{0.1, 0.1, 0.1}, Exposure: 0.8}
}

// TestCameraThereAndBack carries places to the photograph and back.
func TestCameraThereAndBack(t *testing.T) {
	for seed := range uint64(8) {
		c := NewConditions(Light(seed%2), seed)
		size := Size{140, 100}
		c.frame(size)
		k := newCamera(&c, size, uint32(seed))
		for y := -15.0; y <= 115; y += 10 {
			for x := -15.0; x <= 155; x += 10 {
				bx, by := k.toPlate(k.toPhoto(x, y))
				if d := math.Hypot(bx-x, by-y); d > 1e-4 {
					t.Fatalf("seed %d: %v,%v comes back %v mm off", seed, x, y, d)
				}
			}
		}
	}
}

// TestStoredTurns: a turned file holds the upright picture turned as EXIF says.
// The frame's first pixel of orientation 6 (lying on its left side) is stored
// in the last row.
func TestStoredTurns(t *testing.T) {
	c := Conditions{Width: 30, Height: 20}
	for o, want := range map[int][2]float64{0: {0, 0}, 1: {0, 0}, 2: {29, 0}, 3: {29, 19}, 4: {0, 19}, 5: {0, 0}, 6: {0, 29}, 7: {19, 29}, 8: {19, 0}} {
		c.Orientation = o
		if x, y := c.stored(0, 0); x != want[0] || y != want[1] {
			t.Errorf("orientation %d stores the first pixel at %v,%v, want %v", o, x, y, want)
		}
	}
}

// TestStrokeMass: a line prints its width times its length.
func TestStrokeMass(t *testing.T) {
	for _, w := range []float64{0.03, 0.08, 0.25} {
		for _, end := range []node{{35, 10, w}, {30, 28, w}, {11, 36, w}} {
			p := &Plate{Size: Size{40, 40}, measured: map[[3]int]masses{}}
			p.strokes = []stroke{{pts: []node{{10, 10, w}, end}, depth: 1, born: 1}}
			all, _, _ := p.ink(1, 0, 23.7).masses(nil)
			// Round ends add a disc; fine lines also a pixel of round end.
			want := w*p.strokes[0].length() + w*w*math.Pi/4
			if math.Abs(all/want-1) > 0.015 {
				t.Errorf("width %v to %v: %.4f mm2, want %.4f", w, end, all, want)
			}
		}
	}
}

// TestPhotographHoldsItsTruth sums the ink back out of a plain photograph by
// Murray and Davies's formula, and looks for the plate's corners by its tone.
func TestPhotographHoldsItsTruth(t *testing.T) {
	p := New(11, Etched, Willows, Options{States: 1})
	c := plainSheet()
	img, truth := p.Photograph(1, 3, c, 1)
	sum := 0.0
	paper, ink := 0.8*1.0, 0.8*0.04/0.8
	b := img.Bounds()
	x0, y0 := int(truth.Corners[0][0])+2, int(truth.Corners[0][1])+2
	x1, y1 := int(truth.Corners[2][0])-2, int(truth.Corners[2][1])-2
	if x0 < 0 || y0 < 0 || x1 > b.Dx() || y1 > b.Dy() {
		t.Fatalf("plate outside the frame: %v", truth.Corners)
	}
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			v := srgbToLinear(img.RGBAAt(x, y).G)
			sum += (paper - v) / (paper - ink)
		}
	}
	got := sum / (truth.PxPerMM * truth.PxPerMM)
	// 8-bit rounding of the paper moves every pixel alike.
	if math.Abs(got/truth.Coverage-1) > 0.02 {
		t.Errorf("%.2f mm2 in the photograph, truth %.2f", got, truth.Coverage)
	}
	c.Tone = 0.3
	img, truth = p.Photograph(1, 3, c, 1)
	for i, in := range [4][2]float64{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}} {
		q := truth.Corners[i]
		inside := img.RGBAAt(int(q[0]+4*in[0]), int(q[1]+4*in[1])).G
		outside := img.RGBAAt(int(q[0]-4*in[0]), int(q[1]-4*in[1])).G
		if int(outside)-int(inside) < 30 {
			t.Errorf("corner %d: %d inside, %d outside", i, inside, outside)
		}
	}
	if math.Abs(truth.Tone-0.3) > 0.003 {
		t.Errorf("tone %v, asked for 0.3", truth.Tone)
	}
}

func srgbToLinear(c uint8) float64 {
	v := float64(c) / 255
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// TestWear: ink never grows with pulls, and burr goes before lines.
func TestWear(t *testing.T) {
	for _, tech := range []Technique{Engraved, Etched, Drypoint, Mixed} {
		p := New(5, tech, Furrows, Options{States: 1})
		last := masses{math.Inf(1), math.Inf(1), math.Inf(1)}
		var first masses
		for i, pull := range []int{1, 5, 15, 40, 100} {
			m := p.reference(1, pull, 14)
			if m.all > last.all || m.line > last.line || m.burr > last.burr {
				t.Errorf("%v: more ink at pull %d", tech, pull)
			}
			if i == 0 {
				first = m
			}
			last = m
		}
		loss := 1 - last.all/first.all
		if loss < 0.1 || loss > 0.95 {
			t.Errorf("%v: %.2f lost by pull 100", tech, loss)
		}
		if first.burr > 0 && 1-last.burr/first.burr < 1-last.line/first.line {
			t.Errorf("%v: burr outlives the lines", tech)
		}
		if (tech == Drypoint || tech == Mixed) != (first.burr > 0) {
			t.Errorf("%v: burr %v", tech, first.burr)
		}
	}
}

// TestChangesAreBoxed: two states differ inside the boxes and nowhere else.
func TestChangesAreBoxed(t *testing.T) {
	changed := 0
	for seed := range uint64(6) {
		p := New(seed, Technique(seed%4), Scenes()[seed], Options{States: 3, Removed: 1})
		for _, ch := range p.Changes {
			a, b := p.ink(ch.IntoState-1, 5, 12), p.ink(ch.IntoState, 5, 12)
			boxes := append(append([]Box{}, ch.Added...), ch.Removed...)
			touched := make([]bool, len(boxes))
			for i := range a.line {
				if math.Abs(float64(a.line[i]-b.line[i])) < 0.05 {
					continue
				}
				x, y := (float64(i%a.cols)+0.5)/a.res, (float64(i/a.cols)+0.5)/a.res
				in := false
				for j, box := range boxes {
					if box.grown(0.35).holds(x, y) {
						in, touched[j] = true, true
					}
				}
				if !in {
					t.Fatalf("seed %d state %d: change outside the boxes at %.1f,%.1f", seed, ch.IntoState, x, y)
				}
			}
			for j, ok := range touched {
				if !ok {
					t.Errorf("seed %d state %d: nothing changed in %v", seed, ch.IntoState, boxes[j])
				}
				changed++
			}
		}
	}
	if changed < 25 {
		t.Errorf("only %d changes over six plates", changed)
	}
}

// TestSameSeedSamePicture: nothing depends on the clock or on scheduling.
func TestSameSeedSamePicture(t *testing.T) {
	shoot := func(seed uint64) *image.RGBA {
		p := New(seed, Mixed, Heron, Options{})
		img, _ := p.Photograph(2, 7, small(NewConditions(Rough, seed)), seed)
		return img
	}
	a, b, c := shoot(3), shoot(3), shoot(4)
	if !bytes.Equal(a.Pix, b.Pix) {
		t.Error("the same seed gave two pictures")
	}
	if bytes.Equal(a.Pix, c.Pix) {
		t.Error("two seeds gave one picture")
	}
}

// TestEveryScene draws each scene in each technique with some ink on it and
// none outside the plate.
func TestEveryScene(t *testing.T) {
	for i, s := range Scenes() {
		for _, tech := range []Technique{Engraved, Etched, Drypoint, Mixed} {
			p := New(uint64(i), tech, s, Options{States: 1})
			m := p.reference(1, 1, 8)
			if share := m.all / (p.Size.W * p.Size.H); share < 0.015 || share > 0.35 {
				t.Errorf("%s, %v: %.3f of the plate inked", s, tech, share)
			}
			for _, k := range p.strokes {
				if b := k.box(); b[0] < 0 || b[1] < 0 || b[2] > p.Size.W || b[3] > p.Size.H {
					t.Errorf("%s: a stroke leaves the plate: %v", s, b)
					break
				}
			}
		}
	}
}

// TestOverWiping takes ink out of every line.
func TestOverWiping(t *testing.T) {
	p := New(2, Engraved, Hulls, Options{States: 1})
	c := small(plainSheet())
	c.OverWipe = 0.1
	_, truth := p.Photograph(1, 3, c, 9)
	if truth.InkLoss < 0.05 || truth.InkLoss > 0.15 {
		t.Errorf("ink loss %.3f after wiping out a tenth", truth.InkLoss)
	}
}
