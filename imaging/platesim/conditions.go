package platesim

import (
	"math"
	"math/rand/v2"
)

// Light says how careful the photographer was.
type Light int

// Even is a copy stand; Rough is hand-held: light uneven to 35 %, lens
// distortion, paper stretched to 1.5 %, cockled to 0.25 mm.
const (
	Even Light = iota
	Rough
)

// Conditions are everything between the plate and the file.
type Conditions struct {
	Width, Height int // pixels, before any turn; 0: 2800 x 2100, on end for upright sheets

	// Wiping.
	Tone      float64 // mean density of the ink left on the ground
	ToneCloud float64 // its unevenness, as a share of Tone
	Streak    float64 // strength of wiping streaks, as a share of Tone
	StreakDeg float64 // their direction, degrees from x towards y
	OverWipe  float64 // share of line ink wiped out of the grooves

	// Sheet.
	Margins    [4]float64 // left, top, right, bottom of the plate, mm
	Paper      [3]float64 // reflectance in linear red, green, blue
	Ink        [3]float64
	Texture    float64    // strength of the paper's structure, 1 is usual
	Laid       bool       // laid and chain lines
	Stretch    [2]float64 // relative change of size in x and y
	Cockle     float64    // largest displacement, mm
	Emboss     float64    // depth of the plate mark's shading
	Deckle     float64    // raggedness of the sheet's edge, mm; 0 is cut
	Background [3]float64

	// Camera.
	Turn      float64    // degrees in the plane of the sheet
	Tilt      [2]float64 // degrees out of it
	Fill      float64    // share of the frame that the sheet fills
	Lens      float64    // radial distortion at the corner of the frame
	Falloff   float64    // (brightest-darkest)/brightest of the light
	FalloffTo float64    // direction of the brightest side, degrees
	Blur      float64    // standard deviation, pixels
	Noise     float64    // standard deviation at white, 8-bit codes
	Exposure  float64    // linear level of the brightest paper, 0..1

	// File.
	Quality     int    // JPEG
	Profile     string // "", "sRGB", "Adobe RGB", "Display P3"
	Orientation int    // EXIF 1..8; 0 none

	// Reference is the pull of the same state that ink loss is told against;
	// 0: the third.
	Reference int
}

// papers and inks are linear reflectances; invented, of usual colours.
var (
	papers = [][3]float64{{0.86, 0.84, 0.78}, {0.84, 0.83, 0.80}, {0.85, 0.80, 0.70}, {0.88, 0.87, 0.85}}
	inks   = [][3]float64{{0.030, 0.027, 0.025}, {0.045, 0.034, 0.027}, {0.027, 0.030, 0.033}, {0.050, 0.036, 0.024}}
	tables = [][3]float64{{0.17, 0.17, 0.18}, {0.11, 0.11, 0.11}, {0.24, 0.20, 0.16}, {0.055, 0.055, 0.06}, {0.30, 0.31, 0.30}}
)

// NewConditions chooses conditions of a kind by a seed.
func NewConditions(kind Light, seed uint64) Conditions {
	r := rand.New(rand.NewPCG(seed, 0x636f6e64))
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	c := Conditions{
		Tone:      []float64{0, 0.01, 0.02, 0.03, 0.05, 0.08, 0.12}[r.IntN(7)],
		ToneCloud: between(0.05, 0.25), Streak: between(0.03, 0.14), StreakDeg: between(0, 180),
		Margins: [4]float64{between(20, 32), between(20, 30), between(20, 32), between(24, 38)},
		Paper:   papers[r.IntN(len(papers))], Ink: inks[r.IntN(len(inks))],
		Texture: between(0.6, 1.3), Laid: r.IntN(3) == 0, Emboss: between(0.03, 0.07),
		Deckle:     []float64{0, 0, 0.1, 0.2}[r.IntN(4)],
		Background: tables[r.IntN(len(tables))],
		Fill:       between(0.82, 0.92), Exposure: between(0.70, 0.86), Quality: 94,
	}
	if kind == Even {
		c.Turn, c.Tilt = between(-1.2, 1.2), [2]float64{between(-0.6, 0.6), between(-0.6, 0.6)}
		c.Stretch = [2]float64{between(-0.003, 0.003), between(-0.003, 0.003)}
		c.Cockle, c.Lens = between(0, 0.05), between(-0.002, 0.002)
		c.Falloff, c.FalloffTo = between(0.01, 0.06), between(0, 360)
		c.Blur, c.Noise = between(0.6, 0.9), between(0.5, 1.0)
		return c
	}
	c.Tone *= 1.6
	c.Turn, c.Tilt = between(-6, 6), [2]float64{between(-6, 6), between(-6, 6)}
	c.Stretch = [2]float64{between(-0.015, 0.006), between(-0.015, 0.006)}
	c.Cockle, c.Lens = between(0.08, 0.25), between(-0.022, 0.022)
	c.Falloff, c.FalloffTo = between(0.12, 0.35), between(0, 360)
	c.Blur, c.Noise = between(0.7, 1.35), between(0.7, 1.6)
	c.Fill, c.Quality = between(0.74, 0.86), 88+r.IntN(7)
	return c
}

// frame fills in the size of the picture.
func (c *Conditions) frame(size Size) {
	if c.Width == 0 || c.Height == 0 {
		c.Width, c.Height = 2800, 2100
		if size.H+c.Margins[1]+c.Margins[3] > size.W+c.Margins[0]+c.Margins[2] {
			c.Width, c.Height = c.Height, c.Width
		}
	}
	if c.Fill == 0 {
		c.Fill = 0.85
	}
	if c.Exposure == 0 {
		c.Exposure = 0.8
	}
	if c.Quality == 0 {
		c.Quality = 94
	}
	if c.Reference == 0 {
		c.Reference = 3
	}
}

// sheet is the paper's extent in plate mm.
func (c *Conditions) sheet(size Size) Box {
	return Box{-c.Margins[0], -c.Margins[1], size.W + c.Margins[2], size.H + c.Margins[3]}
}

// scale is pixels a millimetre at the middle of the frame.
func (c *Conditions) scale(size Size) float64 {
	b := c.sheet(size)
	return c.Fill * math.Min(float64(c.Width)/(b[2]-b[0]), float64(c.Height)/(b[3]-b[1]))
}
