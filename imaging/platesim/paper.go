package platesim

import (
	"math"
	"math/rand/v2"
)

// paperTile is the structure of a sheet as a factor near 1, repeated over it:
// formation, felt, fibres.
type paperTile struct {
	f []float32
}

const (
	tileSide  = 768 // pixels
	tileScale = 9.0 // pixels a millimetre
)

func newPaperTile(strength float64, seed uint32) *paperTile {
	t := &paperTile{make([]float32, tileSide*tileSide)}
	r := rand.New(rand.NewPCG(uint64(seed), 0x7061706572))
	for y := range tileSide {
		for x := range tileSide {
			// Cells that divide the side, so that the tile joins itself.
			fine := wrapRipple(x, y, 2, seed)
			felt := wrapRipple(x, y, 6, seed+1)
			cloud := wrapRipple(x, y, 32, seed+2)
			t.f[y*tileSide+x] = float32(1 + strength*(0.0045*fine+0.004*felt+0.003*cloud))
		}
	}
	t.fibres(r, strength)
	return t
}

// wrapRipple is ripple with cells of so many pixels that repeats every
// tileSide.
func wrapRipple(x, y, cell int, seed uint32) float64 {
	n := int32(tileSide / cell)
	fx, fy := float64(x)/float64(cell), float64(y)/float64(cell)
	ix, iy := int32(fx), int32(fy)
	u, v := fx-float64(ix), fy-float64(iy)
	u, v = u*u*(3-2*u), v*v*(3-2*v)
	jx, jy := (ix+1)%n, (iy+1)%n
	a, b := hash(ix, iy, seed), hash(jx, iy, seed)
	c, d := hash(ix, jy, seed), hash(jx, jy, seed)
	return 2*(a+(b-a)*u+(c-a)*v+(a-b-c+d)*u*v) - 1
}

// fibres lays short curved hairs, a little lighter or darker than the sheet.
func (t *paperTile) fibres(r *rand.Rand, strength float64) {
	for range 900 {
		x, y := r.Float64()*tileSide, r.Float64()*tileSide
		a, bend := r.Float64()*2*math.Pi, (r.Float64()-0.5)*0.12
		tint := float32(1 + strength*0.012*(r.Float64()-0.55))
		for range 8 + r.IntN(22) {
			i := (int(y)%tileSide)*tileSide + int(x)%tileSide
			t.f[i] *= tint
			s, c := math.Sincos(a)
			x, y, a = math.Mod(x+c+tileSide, tileSide), math.Mod(y+s+tileSide, tileSide), a+bend
		}
	}
}

// at is the factor at a place of the sheet, mm.
func (t *paperTile) at(x, y float64) float32 {
	const far = 1000 * tileSide // keeps the places positive
	fx, fy := x*tileScale+far, y*tileScale+far
	ix, iy := int(math.Floor(fx)), int(math.Floor(fy))
	u, v := float32(fx-float64(ix)), float32(fy-float64(iy))
	ix, iy = ix%tileSide, iy%tileSide
	jx, jy := (ix+1)%tileSide, (iy+1)%tileSide
	a, b := t.f[iy*tileSide+ix], t.f[iy*tileSide+jx]
	c, d := t.f[jy*tileSide+ix], t.f[jy*tileSide+jx]
	return a + (b-a)*u + (c-a)*v + (a-b-c+d)*u*v
}

// laid is the pattern of a laid mould: fine lines close together, chains
// 26 mm apart.
func laid(x, y float64) float32 {
	chain := math.Mod(math.Abs(x), 26)
	v := 1 + 0.004*math.Cos(2*math.Pi*y/1.05)
	if chain < 0.7 {
		v += 0.006 * math.Sin(math.Pi*chain/0.7)
	}
	return float32(v)
}

// emboss is the shading of the plate mark: the paper slopes down into the mark
// over a millimetre, and lamps from the upper left darken the sides that turn
// away.
func emboss(x, y float64, size Size, depth float64) float32 {
	if depth == 0 || min(x, y, size.W-x, size.H-y) > 1 || min(x, y, size.W-x, size.H-y) < -1 {
		return 1
	}
	bump := func(d float64) float64 { // d: mm inside the edge
		t := (d - 0.1) / 0.75
		if t <= -1 || t >= 1 {
			return 0
		}
		return 0.5 + 0.5*math.Cos(math.Pi*t)
	}
	inX := ease(-0.6, 0.4, math.Min(x, size.W-x))
	inY := ease(-0.6, 0.4, math.Min(y, size.H-y))
	v := -bump(x)*inY + 0.75*bump(size.W-x)*inY - 0.9*bump(y)*inX + 0.8*bump(size.H-y)*inX
	return float32(1 + depth*v)
}
