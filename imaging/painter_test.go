package imaging

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
)

// painted is a small photograph drawn for one test: a sheet on a table with a
// plate mark, tone and strokes, all known exactly.
type painted struct {
	w, h    int
	size    Size
	toPx    homography                 // plate mm -> px
	light   func(x, y float64) float64 // of px
	table   float64
	margin  float64 // mm of paper around the mark
	tone    float64 // density
	emboss  float64 // of the mark's shadow
	strokes [][5]float64
	blur    float64 // px
	noise   float64 // linear
	inkR    float64
	wear    float64          // taken off each stroke's width, mm
	near    map[[2]int][]int // strokes by cells of 3 mm
}

// plainPlate is a 60 x 45 mm plate at about 9 px/mm with even light.
func plainPlate() painted {
	h, _ := quadMapping(Size{45, 60}.rectangle(), Quad{{130, 120}, {671, 128}, {665, 531}, {124, 522}})
	p := painted{w: 800, h: 650, size: Size{45, 60}, toPx: h, table: 0.12, margin: 11, tone: 0.05, emboss: 0.04, blur: 0.8, noise: 0.003, inkR: 0.039}
	p.light = func(x, y float64) float64 { return 0.75 }
	r := rand.New(rand.NewPCG(5, 6))
	for range 70 {
		x, y, a, l := 5+50*r.Float64(), 5+35*r.Float64(), math.Pi*r.Float64(), 3+9*r.Float64()
		x1, y1 := x+l*math.Cos(a), y+l*math.Sin(a)
		if x1 < 4 || x1 > 56 || y1 < 4 || y1 > 41 {
			continue
		}
		p.strokes = append(p.strokes, [5]float64{x, y, x1, y1, 0.1 + 0.2*r.Float64()})
	}
	return p
}

// index sorts the strokes into cells.
func (p *painted) index() {
	p.near = map[[2]int][]int{}
	for k, s := range p.strokes {
		for y := math.Floor(min(s[1], s[3])/3 - 0.2); y <= math.Floor(max(s[1], s[3])/3+0.2); y++ {
			for x := math.Floor(min(s[0], s[2])/3 - 0.2); x <= math.Floor(max(s[0], s[2])/3+0.2); x++ {
				c := [2]int{int(x), int(y)}
				p.near[c] = append(p.near[c], k)
			}
		}
	}
}

// cover is the line coverage at a plate point: 1 within a stroke.
func (p *painted) cover(m Point) float64 {
	for _, k := range p.near[[2]int{int(math.Floor(m.X / 3)), int(math.Floor(m.Y / 3))}] {
		s := p.strokes[k]
		dx, dy := s[2]-s[0], s[3]-s[1]
		t := ((m.X-s[0])*dx + (m.Y-s[1])*dy) / (dx*dx + dy*dy)
		t = min(max(t, 0), 1)
		if math.Hypot(m.X-s[0]-t*dx, m.Y-s[1]-t*dy) < (s[4]-p.wear)/2 {
			return 1
		}
	}
	return 0
}

// paint draws the photograph and returns it with the mean coverage of the
// plate.
func (p *painted) paint() (*Photo, float64) {
	p.index()
	lum := newPlane(p.w, p.h)
	inv := p.toPx.inverse()
	var mass, seen float64
	part := make([][2]float64, stripCount(p.h))
	strips(p.h, func(k, lo, hi int) {
		for y := lo; y < hi; y++ {
			for x := 0; x < p.w; x++ {
				var v float64
				const n = 3
				for j := 0; j < n*n; j++ {
					px := Point{float64(x) + (float64(j%n)+0.5)/n - 0.5, float64(y) + (float64(j/n)+0.5)/n - 0.5}
					v += p.reflect(inv.apply(px), &part[k]) / (n * n)
				}
				lum.v[y*p.w+x] = float32(v * p.light(float64(x), float64(y)))
			}
		}
	})
	for _, t := range part {
		mass += t[0]
		seen += t[1]
	}
	if p.blur > 0 {
		lum = lum.blur(p.blur)
	}
	r := rand.New(rand.NewPCG(1, 2))
	img := image.NewRGBA64(image.Rect(0, 0, p.w, p.h))
	for i, v := range lum.v {
		g := encodeSRGB(min(max(float64(v)+p.noise*r.NormFloat64(), 0), 1))
		c := uint16(math.Round(g * 65535))
		img.SetRGBA64(i%p.w, i/p.w, color.RGBA64{c, c, c, 65535})
	}
	return FromImage(img), mass / seen
}

func (p *painted) reflect(m Point, sums *[2]float64) float64 {
	out := math.Max(math.Max(-m.X, m.X-p.size.Width), math.Max(-m.Y, m.Y-p.size.Height))
	if out > p.margin {
		return p.table
	}
	r := 1.0
	// A bevel's shadow a millimetre wide, dark at the top and left.
	if d := math.Abs(out); d < 1 {
		s := p.emboss * (1 - d)
		if m.X-m.Y/p.size.Height*p.size.Width > 0 && m.X > p.size.Width/2 || m.Y > p.size.Height-1 {
			s = -s
		}
		r -= s
	}
	if out > 0 {
		return r
	}
	a := p.cover(m)
	if out < -rim {
		sums[0] += a
		sums[1]++
	}
	return r*math.Pow(10, -p.tone)*(1-a) + p.inkR*a
}
