package imaging

import (
	"context"
	"flag"
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"sync"
	"testing"
	"time"

	"pullbook/imaging/platesim"
)

// fuzzed is a small plate's reference and the photograph of another pull.
var fuzzed = sync.OnceValue(func() (out struct {
	ref  *Reference
	base *image.RGBA
	err  error
}) {
	size := Size{Height: 52, Width: 74}
	sim := platesim.New(910, platesim.Drypoint, platesim.Hulls, platesim.Options{States: 1, Size: platesim.Size{W: size.Width, H: size.Height}})
	shoot := func(pull int) *image.RGBA {
		c := platesim.NewConditions(platesim.Even, uint64(pull))
		c.Width, c.Height, c.Fill, c.Tone, c.Emboss = 720, 540, 0.85, 0.06, 0.06
		img, _ := sim.Photograph(1, pull, c, uint64(pull))
		return img
	}
	p := FromImage(shoot(1))
	m, err := FindPlate(context.Background(), p, size)
	if err == nil {
		out.ref, err = Prepare(context.Background(), p, m, size)
	}
	out.base, out.err = shoot(9), err
	return out
})

// FuzzScore: whatever has happened to a photograph, measuring it ends in a
// refusal with a sentence or in numbers that are numbers. A script of six
// bytes an act crops, paints over, brightens, turns, squeezes and shears it.
func FuzzScore(f *testing.F) {
	for _, s := range []string{"", "\x00\x20\x20\xc0\xc0\x00", "\x01\x40\x40\x50\x90\xff", "\x02\x90\x00\x00\x00\x00", "\x03\x01\x00\x00\x00\x00",
		"\x04\x10\xff\x00\x00\x00", "\x05\x40\x00\x00\x00\x00", "\x06\x08\x00\x00\x00\x00", "\x04\x02\x02\x00\x00\x00", "\x02\x05\x00\x00\x00\x00\x01\x00\x00\xff\x80\x00"} {
		f.Add([]byte(s))
	}
	set := fuzzed()
	if set.err != nil {
		f.Fatal(set.err)
	}
	f.Fuzz(measureActed)
}

// acts is for how long TestScoreOfActs goes on.
var acts = flag.Duration("acts", 0, "measure photographs that much has happened to, for this long")

// TestScoreOfActs does what FuzzScore does with acts at random; without the
// fuzzer's counting of branches a photograph takes a tenth of the time.
func TestScoreOfActs(t *testing.T) {
	if set := fuzzed(); set.err != nil {
		t.Fatal(set.err)
	}
	r := rand.New(rand.NewPCG(1, 11))
	end, n := time.Now().Add(*acts), 0
	for ; n < 6 || time.Now().Before(end); n++ {
		script := make([]byte, 6*(1+r.IntN(4)))
		for i := range script {
			script[i] = byte(r.IntN(256))
		}
		t.Run("", func(t *testing.T) {
			defer func() {
				if t.Failed() {
					t.Logf("script %q", script)
				}
			}()
			measureActed(t, script)
		})
	}
	t.Logf("%d photographs", n)
}

// measureActed measures the photograph after a script's acts.
func measureActed(t *testing.T, script []byte) {
	ref := fuzzed().ref
	p := FromImage(acted(fuzzed().base, script[:min(len(script), 36)]))
	res, err := ref.Measure(context.Background(), p, MeasureOptions{Grid: true})
	if err != nil {
		t.Fatal(err)
	}
	if res.Verdict == Refused {
		if len(res.Reason) < 20 || res.Reason[len(res.Reason)-1] != '.' {
			t.Errorf("refused with %q, no sentence", res.Reason)
		}
		return
	}
	if s := res.Scores; s.InkLoss != nil && !sound(s.InkLoss.V, s.InkLoss.U) || s.PlateTone != nil && !sound(s.PlateTone.V, s.PlateTone.U) ||
		s.BurrLoss != nil && !sound(s.BurrLoss.V, s.BurrLoss.U) {
		t.Errorf("ink loss %v, tone %v, burr %v", s.InkLoss, s.PlateTone, s.BurrLoss)
	}
	lattice, _ := ref.SettleFrame([]*Result{res}, 4, 3)
	for _, n := range append(lattice, res.Registration.Lattice...) {
		if !sound(n[2], 1) || !sound(n[3], 1) {
			t.Fatalf("the plate lies at %v", n)
		}
	}
}

func sound(v, u float64) bool {
	return !math.IsNaN(v) && !math.IsInf(v, 0) && u > 0 && !math.IsInf(u, 0)
}

// acted carries out a script on a copy of a picture.
func acted(base *image.RGBA, script []byte) *image.RGBA {
	img := base
	for ; len(script) >= 6; script = script[6:] {
		a := script[1:6]
		w, h := img.Rect.Dx(), img.Rect.Dy()
		at := func(i, n int) int { return int(a[i]) * n / 256 }
		from, cols, rows := img, w, h
		place := func(x, y int) (int, int) { return x, y }
		tint := func(_, _ int, c color.RGBA) color.RGBA { return c }
		switch script[0] % 7 {
		case 0:
			x0, y0 := at(0, w), at(1, h)
			cols, rows = max(1, at(2, w-x0)), max(1, at(3, h-y0))
			place = func(x, y int) (int, int) { return x + x0, y + y0 }
		case 1:
			box := image.Rect(at(0, w), at(1, h), at(2, w), at(3, h))
			tint = func(x, y int, c color.RGBA) color.RGBA {
				if (image.Point{X: x, Y: y}).In(box) {
					return color.RGBA{a[4], a[4], a[4], 255}
				}
				return c
			}
		case 2:
			tint = func(_, _ int, c color.RGBA) color.RGBA {
				k := func(v uint8) uint8 { return uint8(min(255, int(v)*int(a[0])/128)) }
				return color.RGBA{k(c.R), k(c.G), k(c.B), 255}
			}
		case 3:
			cols, rows = h, w
			place = func(x, y int) (int, int) { return y, x }
		case 4:
			cols, rows = max(1, at(0, 2*w)), max(1, at(1, 2*h))
			place = func(x, y int) (int, int) { return x * w / cols, y * h / rows }
		case 5:
			place = func(x, y int) (int, int) { return (x + y*int(a[0])/256) % w, y }
		case 6:
			seed := uint32(a[1])
			tint = func(_, _ int, c color.RGBA) color.RGBA {
				seed = seed*1664525 + 1013904223
				n := int(seed>>24)%(int(a[0])+1) - int(a[0])/2
				k := func(v uint8) uint8 { return uint8(max(0, min(255, int(v)+n))) }
				return color.RGBA{k(c.R), k(c.G), k(c.B), 255}
			}
		}
		img = image.NewRGBA(image.Rect(0, 0, cols, rows))
		for y := range rows {
			for x := range cols {
				i, j := place(x, y)
				img.SetRGBA(x, y, tint(x, y, from.RGBAAt(i, j)))
			}
		}
	}
	return img
}
