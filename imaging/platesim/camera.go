package platesim

import "math"

// camera carries plate millimetres to pixels of the upright frame and back:
// the sheet stretches and cockles, a pinhole camera looks at it from a tilt,
// the lens bends the picture radially.
type camera struct {
	c        *Conditions
	size     Size
	mid      pt // middle of the sheet, plate mm
	cx, cy   float64
	half     float64 // half the frame's diagonal, pixels
	focal    float64 // pixels
	distance float64 // mm
	rot      [3][3]float64
	seed     uint32
}

func newCamera(c *Conditions, size Size, seed uint32) *camera {
	b := c.sheet(size)
	k := &camera{c: c, size: size, seed: seed, mid: pt{(b[0] + b[2]) / 2, (b[1] + b[3]) / 2},
		cx: float64(c.Width-1) / 2, cy: float64(c.Height-1) / 2,
		half: math.Hypot(float64(c.Width), float64(c.Height)) / 2}
	k.distance = 2.6 * math.Max(b[2]-b[0], b[3]-b[1])
	k.focal = c.scale(size) * k.distance
	rad := math.Pi / 180
	st, ct := math.Sincos(c.Turn * rad)
	sx, cx := math.Sincos(c.Tilt[0] * rad)
	sy, cy := math.Sincos(c.Tilt[1] * rad)
	rz := [3][3]float64{{ct, -st, 0}, {st, ct, 0}, {0, 0, 1}}
	rx := [3][3]float64{{1, 0, 0}, {0, cx, -sx}, {0, sx, cx}}
	ry := [3][3]float64{{cy, 0, sy}, {0, 1, 0}, {-sy, 0, cy}}
	k.rot = times(ry, times(rx, rz))
	return k
}

func times(a, b [3][3]float64) (c [3][3]float64) {
	for i := range 3 {
		for j := range 3 {
			for l := range 3 {
				c[i][j] += a[i][l] * b[l][j]
			}
		}
	}
	return c
}

// cockled is the displacement of the paper at a place of the plate, mm: smooth
// over about 35 mm.
func (k *camera) cockled(x, y float64) (dx, dy float64) {
	if k.c.Cockle == 0 {
		return 0, 0
	}
	return k.c.Cockle * clouds(x/36, y/36, k.seed), k.c.Cockle * clouds(x/36, y/36, k.seed+101)
}

// flat is where a place of the plate lies on the flat sheet, mm from its middle.
func (k *camera) flat(x, y float64) (u, v float64) {
	dx, dy := k.cockled(x, y)
	return (x-k.mid.x)*(1+k.c.Stretch[0]) + dx, (y-k.mid.y)*(1+k.c.Stretch[1]) + dy
}

// toPhoto carries plate mm to upright pixels.
func (k *camera) toPhoto(x, y float64) (px, py float64) {
	u, v := k.flat(x, y)
	r := &k.rot
	X, Y, Z := r[0][0]*u+r[0][1]*v, r[1][0]*u+r[1][1]*v, r[2][0]*u+r[2][1]*v+k.distance
	return k.bend(k.focal*X/Z, k.focal*Y/Z)
}

// bend applies the lens: radius r becomes r(1 + k (r/half)^2).
func (k *camera) bend(x, y float64) (px, py float64) {
	f := 1 + k.c.Lens*(x*x+y*y)/(k.half*k.half)
	return k.cx + x*f, k.cy + y*f
}

// unbend is the inverse of bend, by repeated substitution.
func (k *camera) unbend(px, py float64) (x, y float64) {
	dx, dy := px-k.cx, py-k.cy
	x, y = dx, dy
	for range 12 {
		f := 1 + k.c.Lens*(x*x+y*y)/(k.half*k.half)
		x, y = dx/f, dy/f
	}
	return x, y
}

// toPlate carries upright pixels to plate mm.
func (k *camera) toPlate(px, py float64) (x, y float64) {
	a, b := k.unbend(px, py)
	a, b = a/k.focal, b/k.focal
	// Solve X = a Z, Y = b Z for u, v on the sheet's plane.
	r := &k.rot
	m00, m01 := r[0][0]-a*r[2][0], r[0][1]-a*r[2][1]
	m10, m11 := r[1][0]-b*r[2][0], r[1][1]-b*r[2][1]
	det := m00*m11 - m01*m10
	u := (a*k.distance*m11 - b*k.distance*m01) / det
	v := (m00*b*k.distance - m10*a*k.distance) / det
	x, y = u+k.mid.x, v+k.mid.y
	for range 8 {
		dx, dy := k.cockled(x, y)
		x = (u-dx)/(1+k.c.Stretch[0]) + k.mid.x
		y = (v-dy)/(1+k.c.Stretch[1]) + k.mid.y
	}
	return x, y
}

// stored carries upright pixels to pixels of the file under its EXIF turn.
// (Exif 2.32, tag 0112.)
func (c *Conditions) stored(x, y float64) (sx, sy float64) {
	r, b := float64(c.Width-1), float64(c.Height-1)
	switch c.Orientation {
	case 2:
		return r - x, y
	case 3:
		return r - x, b - y
	case 4:
		return x, b - y
	case 5:
		return y, x
	case 6:
		return y, r - x
	case 7:
		return b - y, r - x
	case 8:
		return b - y, x
	}
	return x, y
}

// storedSize is the size of the file's picture.
func (c *Conditions) storedSize() (w, h int) {
	if c.Orientation >= 5 && c.Orientation <= 8 {
		return c.Height, c.Width
	}
	return c.Width, c.Height
}

// lamp is the light at an upright pixel, 1 at its brightest: a slope from one
// side, a fall towards the edges, and a slow unevenness.
func (k *camera) lamp(px, py float64) float64 {
	x, y := (px-k.cx)/k.half, (py-k.cy)/k.half
	s, c := math.Sincos(k.c.FalloffTo * math.Pi / 180)
	along := x*c + y*s
	slope := 0.5 - 0.5*along - 0.12*along*along
	edge := x*x + y*y
	across := 0.5 + 0.5*math.Sin(1.3*(x*s-y*c)+0.4)
	return 1 - k.c.Falloff*(0.62*slope+0.25*edge+0.13*across)
}
