package imaging

import (
	"context"
	"fmt"
	"image"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"pullbook/imaging/platesim"
)

// cameraCurves are what cameras do to coded values beyond the sRGB curve, as
// coded in to coded out: brighter and darker middles, the s-shape of a pleasing
// picture (6 of 100 codes), shadows lifted by stray light and rolled-off lights.
var cameraCurves = map[string]func(float64) float64{
	"none":     func(u float64) float64 { return u },
	"bright":   func(u float64) float64 { return math.Pow(u, 0.85) },
	"dark":     func(u float64) float64 { return math.Pow(u, 1.15) },
	"s-shaped": func(u float64) float64 { return u - 0.06*math.Sin(2*math.Pi*u)*math.Min(1, 4*u) },
	"lifted":   func(u float64) float64 { return 0.04 + 0.96*u - 0.05*u*u*u*(1-u) },
	"rolled":   func(u float64) float64 { return u * (1.12 - 0.14*u*u) },
}

// byCamera puts the channels of a picture through a camera's curve.
func byCamera(img *image.RGBA, curve func(float64) float64) *image.RGBA {
	var table [256]uint8
	for i := range table {
		table[i] = uint8(min(max(255*curve(float64(i)/255), 0), 255) + 0.5)
	}
	out := image.NewRGBA(img.Rect)
	for i, v := range img.Pix {
		if out.Pix[i] = v; i%4 != 3 {
			out.Pix[i] = table[v]
		}
	}
	return out
}

// evenSteps are densities from a first one on in even strides, as wedges are
// made (common practice).
func evenSteps(first, stride float64, n int) []float64 {
	d := make([]float64, n)
	for i := range d {
		d[i] = first + stride*float64(i)
	}
	return d
}

// paintedWedge draws a wedge of the given densities on a grey ground, turned by
// some degrees, under a lamp that falls off by a share; certified to within
// 0.01 D. blank draws the ground alone, white all over.
func paintedWedge(densities []float64, degrees, fall float64, curve func(float64) float64, blank bool, seed uint64) (*image.RGBA, Quad) {
	const w, h, long, high = 1000, 760, 680.0, 90.0
	r := rand.New(rand.NewPCG(seed, 11))
	n := len(densities)
	printed := make([]float64, n)
	for i, d := range densities {
		printed[i] = math.Pow(10, -(d + 0.005*r.NormFloat64()))
	}
	s, c := math.Sincos(degrees * math.Pi / 180)
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			var v float64
			// Four places of the pixel soften the edges.
			for k := range 4 {
				px, py := float64(x-w/2)+0.5*float64(k%2)-0.25, float64(y-h/2)+0.5*float64(k/2)-0.25
				u, t := px*c+py*s, -px*s+py*c
				r := 0.2
				switch i := int(math.Floor((u + long/2) / long * float64(n))); {
				case blank:
					r = 0.85
				case math.Abs(t) < high/2 && i >= 0 && i < n:
					r = printed[i]
				case math.Abs(t) < high/2+25 && math.Abs(u) < long/2+25:
					r = 0.7 // the card it is mounted on
				}
				v += r / 4
			}
			v *= 0.85 * (1 - fall*(0.5+0.5*float64(x-w/2)/w-0.2*float64(y-h/2)/h))
			v += 0.002 * math.Sqrt(0.1+v) * r.NormFloat64()
			u := 255*curve(encodeSRGB(max(v, 0))) + 0.5
			b := uint8(min(max(u, 0), 255))
			o := img.PixOffset(x, y)
			img.Pix[o], img.Pix[o+1], img.Pix[o+2], img.Pix[o+3] = b, b, b, 255
		}
	}
	corner := func(u, t float64) Point {
		return Point{u*c - t*s + w/2, u*s + t*c + h/2}
	}
	return img, Quad{corner(-long/2, -high/2), corner(long/2, -high/2), corner(long/2, high/2), corner(-long/2, high/2)}
}

// TestWedgeRead finds wedges of several makes whichever way they lie, by
// themselves and by corners set by hand, and learns curves from them to within
// 0.012 D (0.02 where there are but six steps), with a lamp that falls off taken out by the blank sheet.
func TestWedgeRead(t *testing.T) {
	k := uint64(0)
	for i, name := range slices.Sorted(maps.Keys(cameraCurves)) {
		curve := cameraCurves[name]
		for j, d := range [][]float64{evenSteps(0.05, 0.15, 11), evenSteps(0.04, 0.1, 20), evenSteps(0.1, 0.3, 6), {1.7, 1.45, 1.2, 0.95, 0.7, 0.45, 0.2, 0.05}} {
			k++
			if (i+j)%2 == 1 && os.Getenv("PULLBOOK_LONG") == "" {
				continue
			}
			degrees := math.Mod(float64(k)*67, 360)
			fall := 0.02 + 0.01*float64(k%9)
			img, corners := paintedWedge(d, degrees, fall, curve, false, k)
			bare, _ := paintedWedge(d, degrees, fall, curve, true, k+99)
			blank := FromImage(bare)
			for _, by := range []*Quad{nil, &corners} {
				what := fmt.Sprintf("%s, %d steps, turned by %.0f, by hand %v", name, len(d), degrees, by != nil)
				steps, err := ReadWedge(FromImage(img), d, by, blank)
				if err != nil {
					t.Errorf("%s: %v", what, err)
					continue
				}
				c, err := FitCurve(steps)
				if err != nil {
					t.Errorf("%s: %v", what, err)
					continue
				}
				most := 0.012
				if len(d) < 8 {
					most = 0.02 // too few steps for the sharpest of bends
				}
				if e := curveError(c, curve, d); e > most {
					t.Errorf("%s: the curve is wrong by %.4f D, root mean square; it misses the steps by %.4f", what, e, c.RMS)
				}
				if name == "none" && c.Departs > 0.03 || name != "none" && c.Departs < 0.03 {
					t.Errorf("%s: said to depart by %.3f D", what, c.Departs)
				}
			}
		}
	}
}

// curveError is how wrong a learnt curve is in density over the range of the
// wedge, root mean square, exposure apart.
func curveError(c *Curve, curve func(float64) float64, d []float64) float64 {
	var e []float64
	var mean float64
	for x := 0.1; x < 1.5 && x < max(d[0], d[len(d)-1]); x += 0.02 {
		light := 0.85 * math.Pow(10, -x)
		seen := linearSRGB(curve(encodeSRGB(light)))
		e = append(e, math.Log10(c.Level(seen)/light))
		mean += e[len(e)-1]
	}
	mean /= float64(len(e))
	var s float64
	for _, v := range e {
		s += (v - mean) * (v - mean) / float64(len(e))
	}
	return math.Sqrt(s)
}

// TestWedgeRefused has what is no wedge, or another than was said, refused in a
// sentence.
func TestWedgeRefused(t *testing.T) {
	d := evenSteps(0.05, 0.15, 11)
	curve := cameraCurves["none"]
	good, _ := paintedWedge(d, 10, 0.02, curve, false, 5)
	plate := plainPlate()
	print, _ := plate.paint()
	burnt := func(u float64) float64 { return u * 1.5 }
	over, _ := paintedWedge(d, 10, 0.02, burnt, false, 6)
	bent := evenSteps(0.05, 0.15, 11)
	for i := range bent {
		bent[i] += 0.07 * math.Sin(float64(i)*2.1)
	}
	uneven, _ := paintedWedge(bent, 10, 0.02, curve, false, 7)
	short, _ := paintedWedge(evenSteps(0.05, 0.07, 11), 10, 0.02, curve, false, 8)
	for _, c := range []struct {
		what string
		p    *Photo
		d    []float64
		want string
	}{
		{"one step fewer than said", FromImage(good), evenSteps(0.05, 0.15, 12), "No row of 12 steps"},
		{"one step more than said", FromImage(good), evenSteps(0.05, 0.15, 10), "No row of 10 steps"},
		{"a print", print, d, "No row of 11 steps"},
		{"burnt out", FromImage(over), d, "burnt out"},
		{"densities of another wedge", FromImage(uneven), d, "miss their densities"},
		{"four steps", FromImage(good), evenSteps(0.05, 0.5, 4), "Give the densities"},
		{"no order", FromImage(good), []float64{0.1, 0.4, 0.3, 0.8, 1.2}, "must rise, or fall"},
		{"hardly any span", FromImage(short), evenSteps(0.05, 0.07, 11), "spans densities"},
	} {
		steps, err := ReadWedge(c.p, c.d, nil, nil)
		if err == nil {
			_, err = FitCurve(steps)
		}
		if reason, ok := refusal(err); !ok || !strings.Contains(reason, c.want) {
			t.Errorf("%s: %v, want a refusal with %q", c.what, err, c.want)
		}
	}
}

// TestWedgeHelps measures simulated sheets through cameras that depart from
// sRGB, the reference by a plain camera and by the same one, with and without
// the wedge: what ink loss and plate tone are wrong by, and that the wedge takes
// most of it out.
func TestWedgeHelps(t *testing.T) {
	ctx := context.Background()
	sim := platesim.New(4711, platesim.Etched, platesim.Estuary, platesim.Options{States: 1, Size: platesim.Size{W: 84, H: 60}})
	size := Size{60, 84}
	photograph := func(pull int) (*image.RGBA, platesim.Truth) {
		c := platesim.NewConditions(platesim.Even, uint64(40+pull))
		// White would be 0.85, as in the photographs of the wedge.
		c.Width, c.Height, c.Tone, c.Exposure = 1360, 1020, 0.06, 0.85*0.85
		c.Paper, c.Ink = [3]float64{0.85, 0.83, 0.79}, [3]float64{0.03, 0.03, 0.03}
		return sim.Photograph(1, pull, c, uint64(pull))
	}
	prepare := func(p *Photo) *Reference {
		mark, err := FindPlate(ctx, p, size)
		if err != nil {
			t.Fatal(err)
		}
		ref, err := Prepare(ctx, p, mark, size)
		if err != nil {
			t.Fatal(err)
		}
		return ref
	}
	first, _ := photograph(3)
	later, truth := photograph(30)
	ref := prepare(FromImage(first))
	type miss struct{ ink, tone float64 }
	measure := func(ref *Reference, p *Photo) miss {
		res, err := ref.Measure(ctx, p, MeasureOptions{})
		if err != nil || res.Verdict != Measured {
			t.Fatalf("%v %s", err, res.Reason)
		}
		return miss{res.Scores.InkLoss.V - truth.InkLoss, res.Scores.PlateTone.V - truth.Tone}
	}
	d := evenSteps(0.05, 0.15, 11)
	var mean, meanWith float64
	for _, name := range slices.Sorted(maps.Keys(cameraCurves)) {
		curve := cameraCurves[name]
		img, _ := paintedWedge(d, 4, 0.03, curve, false, 1)
		bare, _ := paintedWedge(d, 4, 0.03, curve, true, 2)
		steps, err := ReadWedge(FromImage(img), d, nil, FromImage(bare))
		if err != nil {
			t.Fatal(err)
		}
		c, err := FitCurve(steps)
		if err != nil {
			t.Fatal(err)
		}
		p := FromImage(byCamera(later, curve))
		without, with := measure(ref, p), measure(ref, c.Straightened(p))
		t.Logf("%-8s departs by %.3f D: ink loss wrong by %+.4f, with the wedge by %+.4f; plate tone by %+.4f, with it by %+.4f D", name, c.Departs, without.ink, with.ink, without.tone, with.tone)
		if math.Abs(with.ink) > 0.02 || math.Abs(with.tone) > 0.005 {
			t.Errorf("%s: with the wedge ink loss is wrong by %+.4f, tone by %+.4f", name, with.ink, with.tone)
		}
		if name != "none" {
			mean, meanWith = mean+math.Abs(without.ink)/5, meanWith+math.Abs(with.ink)/5
		}
		if name == "s-shaped" {
			q := FromImage(byCamera(first, curve))
			without, with := measure(prepare(q), p), measure(prepare(c.Straightened(q)), c.Straightened(p))
			t.Logf("%-8s the reference by the same camera: ink loss wrong by %+.4f, with the wedge by %+.4f; plate tone by %+.4f, with it by %+.4f D", name, without.ink, with.ink, without.tone, with.tone)
			if math.Abs(with.ink) > 0.008 || math.Abs(with.tone) > 0.005 {
				t.Errorf("%s by the same camera: with the wedge ink loss is wrong by %+.4f, tone by %+.4f", name, with.ink, with.tone)
			}
		}
	}
	t.Logf("ink loss by five cameras that depart from sRGB is wrong by %.4f in the mean, with the wedge by %.4f", mean, meanWith)
	if meanWith > 0.2*mean {
		t.Errorf("the wedge gains too little: %.4f, with it %.4f", mean, meanWith)
	}
}
