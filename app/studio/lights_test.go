package studio

import (
	"fmt"
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"pullbook/app/studio/rehearsal"
	"pullbook/catalog"
	"pullbook/imaging"
	"pullbook/imaging/platesim"
)

// lit is a picture in linear light, one channel: what the lights below are cast
// on. sheet tells paper from table.
type lit struct {
	w, h  int
	v     []float64
	sheet []bool
}

func linear(u uint8) float64 {
	c := float64(u) / 255
	if c <= 0.04045 {
		return c / 12.92
	}
	return math.Pow((c+0.055)/1.055, 2.4)
}

// onBlack photographs a sheet on black and on white ground, to know to the pixel
// what is sheet.
func onBlack(p *platesim.Plate, c platesim.Conditions, pull int, seed uint64) *lit {
	c.Background = [3]float64{0, 0, 0}
	a, _ := p.Photograph(1, pull, c, seed)
	c.Background = [3]float64{0.9, 0.9, 0.9}
	b, _ := p.Photograph(1, pull, c, seed)
	l := &lit{w: a.Rect.Dx(), h: a.Rect.Dy()}
	for i := 0; i < len(a.Pix); i += 4 {
		l.v = append(l.v, linear(a.Pix[i+1]))
		l.sheet = append(l.sheet, math.Abs(linear(a.Pix[i+1])-linear(b.Pix[i+1])) < 0.02)
	}
	return l
}

// clouds is smooth noise of spread about one over lengths of some pixels, by
// sums of waves that have no period in common.
func clouds(x, y, length float64, seed uint64) float64 {
	var s float64
	for k := range 6 {
		a := float64(seed%97)*0.71 + float64(k)*2.399963 // the golden angle parts the directions
		f := 2 * math.Pi / length * (0.7 + 0.13*float64(k))
		s += math.Sin(f*(x*math.Cos(a)+y*math.Sin(a)) + 1.7*float64(k) + float64(seed%13))
	}
	return s / math.Sqrt(3)
}

func (l *lit) picture(at func(x, y, i int) float64) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, l.w, l.h))
	for i := range l.v {
		v := min(max(at(i%l.w, i/l.w, i), 0), 1)
		u := 12.92 * v
		if v > 0.0031308 {
			u = 1.055*math.Pow(v, 1/2.4) - 0.055
		}
		b := uint8(255*u + 0.5)
		img.Pix[4*i], img.Pix[4*i+1], img.Pix[4*i+2], img.Pix[4*i+3] = b, b, b, 255
	}
	return img
}

// raked casts light from one side, low over the sheet: it falls off by the
// factor fall across the picture, and every slope of the paper shows by relief.
// Ink, which stands up from the paper and shines, loses half its darkness.
func (l *lit) raked(fall, relief, degrees float64, seed uint64) *image.RGBA {
	s, c := math.Sincos(degrees * math.Pi / 180)
	long := float64(max(l.w, l.h))
	paper := 0.0
	for i, v := range l.v {
		if l.sheet[i] {
			paper = max(paper, v)
		}
	}
	return l.picture(func(x, y, i int) float64 {
		fx, fy := float64(x), float64(y)
		along := ((fx-float64(l.w)/2)*c + (fy-float64(l.h)/2)*s) / long
		v := 0.02
		if l.sheet[i] {
			v = 0.5*l.v[i] + 0.5*0.85*paper
			// The slope along the light of grain of two sizes.
			v *= 1 + relief*(0.8*clouds(fx, fy, 3.7, seed)+0.5*clouds(fx, fy, 9, seed+5))
		}
		return v * 0.75 * math.Exp(-math.Log(fall)*(along+0.5))
	})
}

// through lights the sheet from behind: around it lies the bright table, or a
// mask; the paper shows its clouds and its laid lines, ink stays dark.
func (l *lit) through(around, clouded, laid float64, seed uint64) *image.RGBA {
	return l.picture(func(x, y, i int) float64 {
		if !l.sheet[i] {
			return around
		}
		fx, fy := float64(x), float64(y)
		return 0.55 * l.v[i] * (1 + clouded*clouds(fx, fy, 34, seed)) * (1 + laid*math.Cos(2*math.Pi*fy/4.6))
	})
}

// TestLightTold holds what is told of the light to what was cast, over lights
// drawn by chance, paper against the light being cloudy by 3 % or more: never wrong where anything is told, and told in nine of ten
// where the light is plain.
func TestLightTold(t *testing.T) {
	rounds := uint64(2)
	if rehearsal.Long() {
		rounds = 40
	}
	r := rand.New(rand.NewPCG(3, 9))
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	told, plain := map[catalog.View]int{}, map[catalog.View]int{}
	check := func(truth catalog.View, isPlain bool, what string, img image.Image) {
		m := imaging.MannerOf(imaging.FromImage(img), nil)
		view, ok := lightOf(m)
		if ok && view != truth {
			t.Errorf("%s: told to be %s; %+v", what, view, m)
		}
		if isPlain {
			plain[truth]++
			if ok {
				told[truth]++
			} else {
				t.Logf("%s is not told: %+v", what, m)
			}
		}
	}
	scenes := platesim.Scenes()
	for seed := range rounds {
		sim := platesim.New(900+seed, platesim.Etched, scenes[int(seed)%len(scenes)], platesim.Options{States: 1})
		for _, kind := range []platesim.Light{platesim.Even, platesim.Rough} {
			c := platesim.NewConditions(kind, 70+seed)
			c.Width, c.Height = 960, 720
			img, _ := sim.Photograph(1, 3+int(seed), c, seed)
			check(catalog.ViewWhole, true, fmt.Sprint("ordinary, ", kind, seed), img)
		}
		c := platesim.NewConditions(platesim.Even, 170+seed)
		c.Width, c.Height = 960, 720
		l := onBlack(sim, c, 3, seed)
		for range 3 {
			fall, relief, from := between(1.2, 4), between(0.015, 0.14), between(0, 360)
			check(catalog.ViewRaking, fall > 2.6 && relief > 0.05, fmt.Sprintf("raked %.1f, %.3f, %.0f", fall, relief, from), l.raked(fall, relief, from, seed))
			around, clouded, laid := between(0.02, 0.98), between(0.03, 0.1), between(0, 0.06)
			check(catalog.ViewTransmitted, around > 0.8 && clouded > 0.03, fmt.Sprintf("through %.2f, %.3f, %.3f", around, clouded, laid), l.through(around, clouded, laid, seed))
		}
	}
	for view, n := range plain {
		t.Logf("%s: %d of %d told", view, told[view], n)
		if told[view]*10 < n*9 {
			t.Errorf("%s: only %d of %d told", view, told[view], n)
		}
	}
}
