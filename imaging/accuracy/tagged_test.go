package accuracy

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"pullbook/imaging/colour"
	"pullbook/imaging/decode"
	"pullbook/imaging/platesim"
)

// TestTaggedThreeWays photographs one sheet into files tagged sRGB, Adobe RGB,
// Display P3 and not at all: the spaces are recognised by their contents (their
// names begin "simulated") and the paper comes out in its true colour
// within 0.2 dE00, whatever the tag. The simulator writes profiles with code of
// its own.
func TestTaggedThreeWays(t *testing.T) {
	plate := platesim.New(4, platesim.Etched, platesim.Furrows, platesim.Options{States: 1})
	for _, tag := range []string{"sRGB", "Adobe RGB", "Display P3", ""} {
		c := platesim.NewConditions(platesim.Even, 8)
		c.Width, c.Height, c.Profile, c.Paper, c.Noise, c.Quality = 900, 675, tag, [3]float64{0.85, 0.78, 0.66}, 4, 99
		c.Orientation = 6
		img, truth := plate.Photograph(1, 3, c, 5)
		path := filepath.Join(t.TempDir(), "tagged.jpg")
		f, err := os.Create(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := platesim.Encode(f, img, c); err != nil {
			t.Fatal(err)
		}
		f.Close()
		p, err := decode.Read(context.Background(), path)
		if err != nil {
			t.Fatal(err)
		}
		want := tag
		if want == "" {
			want = "assumed sRGB"
		}
		if p.Profile.Name != want || !p.Profile.Honoured || p.Orientation != c.Orientation || p.Width != truth.Pixels[0] {
			t.Errorf("%q: profile %q, orientation %d, %d wide", tag, p.Profile.Name, p.Orientation, p.Width)
		}
		paper := meanLight(p, truth.Corners[0], truth.Corners[2])
		if d := offColour(paper, c.Paper); d > 0.2 {
			t.Errorf("%q: the paper is %.3f dE00 from its colour", tag, d)
		}
	}
}

// offColour is how far linear light is from a colour of the same lightness.
func offColour(got colour.Vector, want [3]float64) float64 {
	lab := func(v colour.Vector) colour.Lab {
		return colour.ToLab(colour.SRGB.ToD50().Apply(v), colour.D50.XYZ())
	}
	k := colour.SRGB.ToXYZ()[1]
	y := func(v [3]float64) float64 { return k[0]*v[0] + k[1]*v[1] + k[2]*v[2] }
	level := y(got) / y(want)
	return colour.Difference(lab(got), lab(colour.Vector{want[0] * level, want[1] * level, want[2] * level}))
}

// meanLight is the mean linear light of a square of pixels 30 px beyond a corner, away
// from the opposite one. The noise of the photograph lets the mean see through
// the rounding of the file.
func meanLight(p *decode.Picture, from, to [2]float64) colour.Vector {
	const step = -30.0
	dx, dy := 1.0, 1.0
	if to[0] < from[0] {
		dx = -1
	}
	if to[1] < from[1] {
		dy = -1
	}
	var sum colour.Vector
	n := 0
	for j := -15.0; j <= 15; j++ {
		for i := -15.0; i <= 15; i++ {
			v := p.LinearRGB(int(from[0]+dx*(step+i)), int(from[1]+dy*(step+j)))
			for k := range sum {
				sum[k] += v[k]
			}
			n++
		}
	}
	for k := range sum {
		sum[k] /= float64(n)
	}
	return sum
}
