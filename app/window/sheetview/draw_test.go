package sheetview

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"
)

var grey = color.NRGBA{0x80, 0x80, 0x80, 0xff}

// noise is a picture of random pixels.
func noise(w, h int) *image.RGBA {
	r := rand.New(rand.NewPCG(7, 11))
	p := image.NewRGBA(image.Rect(0, 0, w, h))
	for i := range p.Pix {
		p.Pix[i] = uint8(r.IntN(256))
		if i%4 == 3 {
			p.Pix[i] = 0xff
		}
	}
	return p
}

// plainAverage is the mean of channel c over a rectangle of source pixels with
// fractions at its edges: what Settle must give, written the long way.
func plainAverage(p *image.RGBA, x0, y0, x1, y1 float64, c int) float64 {
	var sum, area float64
	for y := int(y0); y < int(math.Ceil(y1)); y++ {
		for x := int(x0); x < int(math.Ceil(x1)); x++ {
			a := (math.Min(x1, float64(x+1)) - math.Max(x0, float64(x))) * (math.Min(y1, float64(y+1)) - math.Max(y0, float64(y)))
			sum += a * float64(p.Pix[y*p.Stride+4*x+c])
			area += a
		}
	}
	return sum / area
}

func TestSettleIsTheExactAverage(t *testing.T) {
	src := noise(121, 83)
	s := NewSheet(src, 1, 0, 0)
	for _, scale := range []float64{0.9, 0.61, 0.5, 0.27} {
		w, h := 60, 40
		m := Motion{Scale: scale, CX: 60.3, CY: 41.7}
		dst := image.NewRGBA(image.Rect(0, 0, w, h))
		s.Settle(dst, m, grey)
		if s.level(scale, true) != 0 {
			t.Fatalf("scale %g is drawn from a halving; the comparison needs the whole picture", scale)
		}
		for _, q := range [][2]int{{30, 20}, {29, 11}, {17, 25}} {
			x0, y0 := m.At(float64(q[0]), float64(q[1]), float64(w), float64(h))
			x1, y1 := m.At(float64(q[0]+1), float64(q[1]+1), float64(w), float64(h))
			for c := range 3 {
				want := plainAverage(src, x0, y0, x1, y1, c)
				got := float64(dst.Pix[q[1]*dst.Stride+4*q[0]+c])
				if math.Abs(got-want) > 1 {
					t.Errorf("scale %g at %v channel %d: %g, the plain average is %.2f", scale, q, c, got, want)
				}
			}
		}
	}
}

func TestDraftAtOneToOneIsThePicture(t *testing.T) {
	src := noise(64, 48)
	s := NewSheet(src, 1, 0, 0)
	dst := image.NewRGBA(image.Rect(0, 0, 64, 48))
	s.Draft(dst, Motion{Scale: 1, CX: 32, CY: 24}, grey)
	for i := range dst.Pix {
		if d := int(dst.Pix[i]) - int(src.Pix[i]); d < -1 || d > 1 {
			t.Fatalf("byte %d is %d, the picture has %d", i, dst.Pix[i], src.Pix[i])
		}
	}
}

func TestDraftIsBilinear(t *testing.T) {
	src := noise(40, 40)
	s := NewSheet(src, 1, 0, 0)
	dst := image.NewRGBA(image.Rect(0, 0, 30, 30))
	m := Motion{Scale: 2, CX: 20.2, CY: 19.6}
	s.Draft(dst, m, grey)
	for _, q := range [][2]int{{3, 4}, {15, 15}, {28, 9}} {
		mx, my := m.At(float64(q[0])+0.5, float64(q[1])+0.5, 30, 30)
		fx, fy := mx-0.5, my-0.5
		x, y := int(math.Floor(fx)), int(math.Floor(fy))
		fx, fy = fx-float64(x), fy-float64(y)
		for c := range 3 {
			at := func(x, y int) float64 { return float64(src.Pix[y*src.Stride+4*x+c]) }
			want := (at(x, y)*(1-fx)+at(x+1, y)*fx)*(1-fy) + (at(x, y+1)*(1-fx)+at(x+1, y+1)*fx)*fy
			if got := float64(dst.Pix[q[1]*dst.Stride+4*q[0]+c]); math.Abs(got-want) > 3 {
				t.Errorf("at %v channel %d: %g, bilinear by hand is %.1f", q, c, got, want)
			}
		}
	}
}

func TestOutsideIsGround(t *testing.T) {
	s := NewSheet(noise(50, 50), 1, 0, 0)
	for name, draw := range map[string]func(*image.RGBA, Motion, color.NRGBA){"draft": s.Draft, "settled": s.Settle} {
		dst := image.NewRGBA(image.Rect(0, 0, 80, 80))
		draw(dst, Motion{Scale: 0.5, CX: 25, CY: 25}, grey)
		for _, q := range [][2]int{{2, 40}, {77, 40}, {40, 3}, {40, 76}} {
			if c := dst.RGBAAt(q[0], q[1]); c != (color.RGBA{0x80, 0x80, 0x80, 0xff}) {
				t.Errorf("%s: %v beside the sheet is %v", name, q, c)
			}
		}
	}
}

func TestHalvingKeepsTheMean(t *testing.T) {
	src := noise(128, 96)
	s := NewSheet(src, 1, 0, 0)
	mean := func(p *image.RGBA) float64 {
		sum := 0
		for i := 0; i < len(p.Pix); i += 4 {
			sum += int(p.Pix[i])
		}
		return float64(sum) / float64(len(p.Pix)/4)
	}
	a, b := mean(s.Levels[0]), mean(s.Levels[len(s.Levels)-1])
	if len(s.Levels) < 2 || math.Abs(a-b) > 0.6 {
		t.Errorf("mean %g of the picture, %g of its last halving of %d", a, b, len(s.Levels))
	}
}

// flat is an even picture with a dark square of ink.
func flat(ink bool, paper uint8) *image.RGBA {
	p := image.NewRGBA(image.Rect(0, 0, 60, 60))
	for y := range 60 {
		for x := range 60 {
			v := paper
			if ink && x >= 20 && x < 40 && y >= 20 && y < 40 {
				v = paper / 6
			}
			p.SetRGBA(x, y, color.RGBA{v, v, v, 0xff})
		}
	}
	return p
}

func TestDifferenceColours(t *testing.T) {
	at := func(a, b *image.RGBA) color.RGBA {
		st := Stage{A: NewSheet(a, 1, 0, 0), B: NewSheet(b, 1, 0, 0), Mode: Difference, Ground: grey}
		return st.Draw(Motion{Scale: 1, CX: 30, CY: 30}, 60, 60, false).RGBAAt(30, 30)
	}
	is := func(c color.RGBA, want color.NRGBA) bool {
		return math.Abs(float64(c.R)-float64(want.R)) < 6 && math.Abs(float64(c.G)-float64(want.G)) < 6 && math.Abs(float64(c.B)-float64(want.B)) < 6
	}
	if c := at(flat(false, 230), flat(true, 230)); !is(c, Gain) {
		t.Errorf("new ink is %v, not the colour of more", c)
	}
	if c := at(flat(true, 230), flat(false, 230)); !is(c, Lack) {
		t.Errorf("lost ink is %v, not the colour of less", c)
	}
	if c := at(flat(false, 235), flat(false, 190)); math.Abs(float64(c.R)-float64(c.B)) > 3 {
		t.Errorf("a darker paper alone is shown as a difference: %v", c)
	}
}

// TestDifferenceForColourBlindEyes simulates the two commonest deficiencies with
// the matrices of Viénot, Brettel and Mollon, "Digital video colourmaps for
// checking the legibility of displays by dichromats", Color Research and
// Application 24 (1999), in linear RGB (values from memory), and asks that the
// two colours stay at least 40 apart of 255 in some channel, and in lightness or
// blueness for both.
func TestDifferenceForColourBlindEyes(t *testing.T) {
	see := map[string][3][3]float64{
		"protanope":   {{0.11238, 0.88762, 0}, {0.11238, 0.88762, 0}, {0.00401, -0.00401, 1}},
		"deuteranope": {{0.29275, 0.70725, 0}, {0.29275, 0.70725, 0}, {-0.02234, 0.02234, 1}},
	}
	linear := func(v uint8) float64 {
		f := float64(v) / 255
		if f <= 0.04045 {
			return f / 12.92
		}
		return math.Pow((f+0.055)/1.055, 2.4)
	}
	coded := func(f float64) float64 {
		f = min(max(f, 0), 1)
		if f <= 0.0031308 {
			return 255 * 12.92 * f
		}
		return 255 * (1.055*math.Pow(f, 1/2.4) - 0.055)
	}
	for who, m := range see {
		far := 0.0
		for r := range 3 {
			f := func(c color.NRGBA) float64 {
				return coded(m[r][0]*linear(c.R) + m[r][1]*linear(c.G) + m[r][2]*linear(c.B))
			}
			far = max(far, math.Abs(f(Gain)-f(Lack)))
		}
		if far < 40 {
			t.Errorf("a %s sees the two colours only %.0f apart", who, far)
		}
	}
}

func TestRectifyFindsThePlaceAgain(t *testing.T) {
	src := image.NewRGBA(image.Rect(0, 0, 400, 300))
	corners := [4]Corner{{60, 40}, {330, 55}, {350, 260}, {45, 240}}
	h, err := homography([4]Corner{{0, 0}, {200, 0}, {200, 150}, {0, 150}}, corners)
	if err != nil {
		t.Fatal(err)
	}
	// a mark at 140, 90 mm
	d := h[6]*140 + h[7]*90 + 1
	px, py := (h[0]*140+h[1]*90+h[2])/d, (h[3]*140+h[4]*90+h[5])/d
	for y := -3; y <= 3; y++ {
		for x := -3; x <= 3; x++ {
			src.SetRGBA(int(px+0.5)+x, int(py+0.5)+y, color.RGBA{255, 255, 255, 255})
		}
	}
	out, err := Rectify(src, corners, 200, 150, 10, 2)
	if err != nil {
		t.Fatal(err)
	}
	var sx, sy, n float64
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			if v := float64(out.RGBAAt(x, y).R); v > 0 {
				sx, sy, n = sx+v*(float64(x)+0.5), sy+v*(float64(y)+0.5), n+v
			}
		}
	}
	mx, my := sx/n/2-10, sy/n/2-10
	if math.Abs(mx-140) > 0.5 || math.Abs(my-90) > 0.5 {
		t.Errorf("the mark of 140, 90 mm is found at %.2f, %.2f", mx, my)
	}
	if _, err := Rectify(src, [4]Corner{{1, 1}, {1, 1}, {1, 1}, {1, 1}}, 200, 150, 0, 2); err == nil {
		t.Error("four equal corners were taken for a plate mark")
	}
}

func TestTilesTint(t *testing.T) {
	st := Stage{B: NewSheet(flat(false, 230), 1, 0, 0), Mode: Single, Ground: grey,
		Map: &Tiles{StepMM: 30, Rows: 2, Cols: 2, V: []float64{0, 0.5, math.NaN(), -0.5}, Low: 0, High: 0.5}}
	p := st.Draw(Motion{Scale: 1, CX: 30, CY: 30}, 60, 60, false)
	if c := p.RGBAAt(10, 10); c.R != 230 || c.B != 230 {
		t.Errorf("no loss is tinted: %v", c)
	}
	if c := p.RGBAAt(50, 10); c.R <= c.B+40 {
		t.Errorf("full loss is not orange: %v", c)
	}
	if c := p.RGBAAt(50, 50); c.B <= c.R+40 {
		t.Errorf("a gain is not blue: %v", c)
	}
}
