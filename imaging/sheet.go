package imaging

import (
	"image"
	"image/color"
	"math"
)

// Sheet is an impression laid on the plate's own millimetre grid. Sample
// (col, row) is centred at ((col+1/2)/PxPerMM, (row+1/2)/PxPerMM) millimetres;
// all slices run row by row, Cols samples a row. A Sheet is never changed once
// made.
type Sheet struct {
	Size       Size
	Cols, Rows int
	PxPerMM    float64

	Reflectance []float32 // relative to the bare paper of the sheet; NaN outside the photograph
	Ground      []float32 // reflectance of the local ground, which carries the plate tone: tone D = -log10
	Coverage    []float32 // line coverage a = (G-R)/(G-Ri), about 0..1, noise included
	Valid       []bool    // the ground shows near enough for Coverage to be trusted, 1.5 mm inside the mark
	Line        []bool    // carries line of this sheet or of the reference, halo included

	Ink      float64    // reflectance of solid ink relative to bare paper
	InkU     float64    // its standard uncertainty
	BlurMM   float64    // standard deviation of the photograph's blur
	Noise    float64    // standard deviation of Reflectance on bare ground
	NativePx float64    // photograph pixels to the millimetre
	RegU     Map        // standard uncertainty of the registration, mm, on a 5 mm grid; zero for a reference
	ToneU    float64    // standard uncertainty of the tone that the light leaves, density
	Paper    [3]float64 // colour of the paper, linear sRGB, brightest channel 1

	inkKnown bool // Ink was measured on this sheet
	light    *light
	m        *mapping
	g        grid
}

// rim is how far inside the plate mark everything measured begins, mm: the
// bevel catches ink of its own.
const rim = 1.5

// newSheet rectifies a photograph over the plate, takes out the light and
// parts line from ground.
func newSheet(p *Photo, m *mapping, size Size, s float64, edge *sheetEdge) (*Sheet, error) {
	l, err := fitLight(p, m, size, edge)
	if err != nil {
		return nil, err
	}
	return laySheet(p, m, l, size, newGrid(size, s), nil), nil
}

// laySheet does so under a known light. Lines of the reference, where given,
// count as line here too, printed or not, so that both are judged against the
// same ground.
func laySheet(p *Photo, m *mapping, l *light, size Size, g grid, lines []bool) *Sheet {
	s := &Sheet{Size: size, Cols: g.cols, Rows: g.rows, PxPerMM: g.s, NativePx: m.scale(size), light: l, m: m, g: g, Paper: p.tint}
	r := newSource(p, s.NativePx, g.s).rectify(m, g)
	l.divide(r, g)
	line := ownOrShared(r, g, lines)
	ground, seen := groundAndShare(r, line, g.s)
	s.Reflectance, s.Ground, s.Line = r.v, ground.v, line
	s.BlurMM = strokeBlur(r, g.s, s.border())
	s.Ink, s.InkU, s.inkKnown = inkOf(r, s)
	s.Coverage = coverageOf(r, ground, solidInk).v
	s.Valid = s.validity(seen)
	s.ToneU = l.u(size) / math.Ln10
	s.Noise = s.groundNoise()
	return s
}

// ownOrShared marks the line work of a sheet with its halo: its own and, where
// given, the reference's.
func ownOrShared(r *plane, g grid, lines []bool) []bool {
	wide := int(math.Round(0.35 * g.s))
	if lines == nil {
		own, _ := ownLines(r, g.s)
		return grow(own, g.cols, g.rows, wide)
	}
	ground := groundUnder(r, lines, g.s)
	fine := r.blur(0.06 * g.s)
	own := make([]bool, len(r.v))
	share := 1 - darkness(fine, ground, lines)
	strips(r.h, func(_, lo, hi int) {
		for i := lo * r.w; i < hi*r.w; i++ {
			own[i] = !lines[i] && !(fine.v[i] > share*ground.v[i])
		}
	})
	own = grow(own, g.cols, g.rows, wide)
	for i := range own {
		own[i] = own[i] || lines[i]
	}
	return own
}

// validity is where the ground shows within reach and the mark's rim is past.
func (s *Sheet) validity(seen *plane) []bool {
	k := (s.Cols + seen.w - 1) / seen.w
	out := make([]bool, len(s.Reflectance))
	b := s.border()
	strips(s.Rows, func(_, lo, hi int) {
		for y := max(lo, b); y < min(hi, s.Rows-b); y++ {
			row, from := out[y*s.Cols:][:s.Cols], s.Reflectance[y*s.Cols:][:s.Cols]
			for c, share := range seen.row(min(y/k, seen.h-1)) {
				if !(share > 0.04) {
					continue
				}
				for x := max(c*k, b); x < min((c+1)*k, s.Cols-b); x++ {
					row[x] = from[x] == from[x]
				}
			}
		}
	})
	return out
}

// border is how many samples lie within rim of the mark.
func (s *Sheet) border() int { return int(math.Ceil(rim * s.PxPerMM)) }

// inside reports whether a sample lies at least rim inside the mark.
func (s *Sheet) inside(x, y int) bool {
	b := s.border()
	return x >= b && y >= b && x < s.Cols-b && y < s.Rows-b
}

// groundNoise is the sample-to-sample unevenness of bare ground.
func (s *Sheet) groundNoise() float64 {
	var d []float64
	for y := 1; y < s.Rows; y += 7 {
		for x := 1; x < s.Cols; x += 6 {
			i := y*s.Cols + x
			if s.inside(x, y) && !s.Line[i] && !s.Line[i-1] {
				d = append(d, float64(s.Reflectance[i]-s.Ground[i]))
			}
		}
	}
	if len(d) < 50 {
		return 0.02
	}
	return spread(d)
}

// Picture is the rectified impression as it would look under even light, at
// the given samples to the millimetre, for the eye: in the paper's own colour.
func (s *Sheet) Picture(pxPerMM float64) *image.RGBA {
	w, h := max(1, int(s.Size.Width*pxPerMM)), max(1, int(s.Size.Height*pxPerMM))
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	src := &plane{w: s.Cols, h: s.Rows, v: s.Reflectance}
	f := s.PxPerMM / pxPerMM
	if f > 1.2 {
		src = src.blur(0.45 * f)
	}
	const top = 0.93
	table := make([][3]uint8, 1025)
	for i := range table {
		for c := range 3 {
			table[i][c] = uint8(math.Round(255 * encodeSRGB(min(1, top*s.Paper[c]*float64(i)/1024*1.02))))
		}
	}
	strips(h, func(_, lo, hi int) {
		for y := lo; y < hi; y++ {
			for x := 0; x < w; x++ {
				v := src.bilinear((float64(x)+0.5)*f-0.5, (float64(y)+0.5)*f-0.5)
				if v != v {
					v = 1
				}
				c := table[int(min(max(v, 0), 1)*1024)]
				img.SetRGBA(x, y, color.RGBA{c[0], c[1], c[2], 255})
			}
		}
	})
	return img
}

// At takes plate millimetres to a stored pixel of the photograph p the sheet
// was made of.
func (s *Sheet) At(p *Photo, mm Point) Point { return p.Stored(s.m.at(mm)) }
