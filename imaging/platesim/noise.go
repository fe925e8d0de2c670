package platesim

import "math"

// hash mixes a lattice point and a seed to a number 0..1.
func hash(x, y int32, seed uint32) float64 {
	h := uint32(x)*0x9e3779b1 ^ uint32(y)*0x85ebca77 ^ seed*0xc2b2ae3d
	h ^= h >> 15
	h *= 0x2c1b3c6d
	h ^= h >> 12
	h *= 0x297a2d39
	h ^= h >> 15
	return float64(h) / (1 << 32)
}

// ripple is smooth noise -1..1 over the plane with cells of size 1.
func ripple(x, y float64, seed uint32) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	u, v := x-fx, y-fy
	u, v = u*u*u*(u*(6*u-15)+10), v*v*v*(v*(6*v-15)+10)
	ix, iy := int32(fx), int32(fy)
	a, b := hash(ix, iy, seed), hash(ix+1, iy, seed)
	c, d := hash(ix, iy+1, seed), hash(ix+1, iy+1, seed)
	return 2*(a+(b-a)*u+(c-a)*v+(a-b-c+d)*u*v) - 1
}

// clouds is ripple in three sizes, about -1..1.
func clouds(x, y float64, seed uint32) float64 {
	return (ripple(x, y, seed) + 0.5*ripple(2.03*x, 2.03*y, seed+1) + 0.25*ripple(4.1*x, 4.1*y, seed+2)) / 1.4
}

// ease is 0 below a, 1 above b, smooth between.
func ease(a, b, x float64) float64 {
	t := math.Min(math.Max((x-a)/(b-a), 0), 1)
	return t * t * (3 - 2*t)
}
