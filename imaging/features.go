package imaging

import (
	"cmp"
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
)

// feature is a corner of line work with what its surroundings look like: an
// oriented binary description (after Calonder et al. 2010 and Rublee et al.
// 2011) on the coverage map.
type feature struct {
	at   Point // samples of the map it was found on
	bits [4]uint64
}

const (
	featureScale = 4.0 // samples to the millimetre features are sought at
	featureMost  = 1500
	patchHalf    = 15
	featureLeast = 22 // agreeing pairs that make a match
)

// pairTable are the pairs of places compared, drawn once from a normal spread.
var pairTable = func() (t [256][4]float64) {
	r := rand.New(rand.NewPCG(7, 1936))
	draw := func() float64 { return min(max(r.NormFloat64()*6, -patchHalf+2), patchHalf-2) }
	for i := range t {
		t[i] = [4]float64{draw(), draw(), draw(), draw()}
	}
	return t
}()

// features finds corners by the lesser eigenvalue of the gradient matrix (Shi
// and Tomasi 1994) and describes them.
func features(cov *plane, ok func(x, y int) bool) []feature {
	sm := cov.blur(1)
	gx, gy := gradients(sm)
	xx, xy, yy := newPlane(cov.w, cov.h), newPlane(cov.w, cov.h), newPlane(cov.w, cov.h)
	for i := range gx.v {
		xx.v[i], xy.v[i], yy.v[i] = gx.v[i]*gx.v[i], gx.v[i]*gy.v[i], gy.v[i]*gy.v[i]
	}
	xx, xy, yy = xx.blur(1.5), xy.blur(1.5), yy.blur(1.5)
	score := newPlane(cov.w, cov.h)
	for i := range score.v {
		a, b, c := float64(xx.v[i]), float64(xy.v[i]), float64(yy.v[i])
		score.v[i] = float32((a+c)/2 - math.Sqrt((a-c)*(a-c)/4+b*b))
	}
	peak := maxWithin(score, 2)
	type spot struct {
		i int
		s float32
	}
	var spots []spot
	for y := patchHalf + 4; y < cov.h-patchHalf-4; y++ {
		for x := patchHalf + 4; x < cov.w-patchHalf-4; x++ {
			i := y*cov.w + x
			if s := score.v[i]; s > 2e-5 && s == peak.v[i] && ok(x, y) {
				spots = append(spots, spot{i, s})
			}
		}
	}
	slices.SortStableFunc(spots, func(a, b spot) int { return cmp.Compare(b.s, a.s) })
	spots = spots[:min(len(spots), featureMost)]
	soft := cov.blur(2)
	out := make([]feature, len(spots))
	strips(len(spots), func(_, lo, hi int) {
		for k := lo; k < hi; k++ {
			out[k] = describe(soft, spots[k].i%cov.w, spots[k].i/cov.w)
		}
	})
	return out
}

// describe turns a corner's surroundings to their centre of mass and compares
// pairs of places.
func describe(p *plane, x, y int) feature {
	var mx, my float64
	for dy := -patchHalf; dy <= patchHalf; dy++ {
		for dx := -patchHalf; dx <= patchHalf; dx++ {
			if dx*dx+dy*dy <= patchHalf*patchHalf {
				v := float64(p.v[(y+dy)*p.w+x+dx])
				mx += v * float64(dx)
				my += v * float64(dy)
			}
		}
	}
	s, c := math.Sincos(math.Atan2(my, mx))
	f := feature{at: Point{float64(x), float64(y)}}
	read := func(u, v float64) float32 {
		return p.bilinear(float64(x)+c*u-s*v, float64(y)+s*u+c*v)
	}
	for k, t := range pairTable {
		if read(t[0], t[1]) < read(t[2], t[3]) {
			f.bits[k/64] |= 1 << (k % 64)
		}
	}
	return f
}

func (f *feature) distance(g *feature) int {
	n := 0
	for k := range f.bits {
		n += bits.OnesCount64(f.bits[k] ^ g.bits[k])
	}
	return n
}

// matchFeatures pairs features that are each other's best and clearly so.
func matchFeatures(a, b []feature) (from, to []Point) {
	nearest := func(a, b []feature) (best []int32) {
		best = make([]int32, len(a))
		strips(len(a), func(_, lo, hi int) {
			for i := lo; i < hi; i++ {
				d1, d2 := 1<<30, 1<<30
				best[i] = -1
				for j := range b {
					if d := a[i].distance(&b[j]); d < d1 {
						d2, d1, best[i] = d1, d, int32(j)
					} else if d < d2 {
						d2 = d
					}
				}
				if d1 > 70 || float64(d1) > 0.88*float64(d2) {
					best[i] = -1
				}
			}
		})
		return best
	}
	ab, ba := nearest(a, b), nearest(b, a)
	for i, j := range ab {
		if j >= 0 && ba[j] == int32(i) {
			from, to = append(from, a[i].at), append(to, b[j].at)
		}
	}
	return from, to
}

// agree finds the projective mapping most pairs agree on, by drawing four at a
// time from a fixed sequence.
func agree(from, to []Point, tolerance float64) (homography, int) {
	if len(from) < featureLeast/2 {
		return identity, 0
	}
	r := rand.New(rand.NewPCG(11, 1983))
	best, count := identity, 0
	inliers := func(h homography) (f, t []Point) {
		for i := range from {
			if h.apply(from[i]).dist(to[i]) < tolerance {
				f, t = append(f, from[i]), append(t, to[i])
			}
		}
		return f, t
	}
	for range 3000 {
		var f, t [4]Point
		for k := range f {
			i := r.IntN(len(from))
			f[k], t[k] = from[i], to[i]
		}
		h, err := fitHomography(f[:], t[:], nil)
		if err != nil || !tame(h) {
			continue
		}
		n := 0
		for i := range from {
			if h.apply(from[i]).dist(to[i]) < tolerance {
				n++
			}
		}
		if n > count {
			best, count = h, n
		}
	}
	for range 4 {
		f, t := inliers(best)
		if len(f) < 6 {
			break
		}
		h, err := fitHomography(f, t, nil)
		if err != nil || !tame(h) {
			break
		}
		if g, _ := inliers(h); len(g) < count {
			break
		} else {
			best, count = h, len(g)
		}
	}
	return best, count
}

// tame reports whether a mapping is what a camera may do to a sheet laid
// before it: no mirroring, no wild change of scale or perspective.
func tame(h homography) bool {
	det := h[0]*h[4] - h[1]*h[3]
	skew := math.Abs(h[0]*h[1]+h[3]*h[4]) / (math.Abs(det) + 1e-9)
	return det > 0.2 && det < 5 && skew < 0.3 && math.Abs(h[6]) < 6e-4 && math.Abs(h[7]) < 6e-4
}

// featureWay is what the lines alone say about how a photograph lies on the
// reference.
type featureWay struct {
	h        homography // plate mm -> upright px
	pairs    int
	mirrored bool
}

// byLines looks for the reference's line work anywhere in a photograph,
// without its plate mark, at some scales about the one expected and also
// mirrored.
func (r *Reference) byLines(p *Photo, sheet *sheetEdge) featureWay {
	ref := r.levels[0]
	for _, l := range r.levels {
		if math.Abs(math.Log(l.g.s/featureScale)) < math.Abs(math.Log(ref.g.s/featureScale)) {
			ref = l
		}
	}
	everywhere := func(x, y int) bool { return true }
	a := features(ref.cov, everywhere)
	flip := newPlane(ref.cov.w, ref.cov.h)
	for y := 0; y < flip.h; y++ {
		for x := 0; x < flip.w; x++ {
			flip.v[y*flip.w+x] = ref.cov.v[y*flip.w+flip.w-1-x]
		}
	}
	b := features(flip, everywhere)
	refPx := float64(max(r.width, r.height))
	expected := r.Sheet.NativePx * float64(max(p.Width, p.Height)) / refPx
	best := featureWay{}
	for _, f := range []float64{1, 0.74, 1.35} {
		scale := ref.g.s / (expected * f) // samples of the map for a pixel
		if scale > 1.5 {
			continue
		}
		cov, ok := photoCoverage(p, scale, sheet)
		c := features(cov, ok)
		for m, ref0 := range [][]feature{a, b} {
			from, to := matchFeatures(ref0, c)
			h, n := agree(from, to, 0.7*featureScale)
			if n <= best.pairs {
				continue
			}
			toMap := homography{ref.g.s, 0, -0.5, 0, ref.g.s, -0.5, 0, 0, 1}
			if m == 1 {
				w := float64(ref.g.cols - 1)
				toMap = homography{-1, 0, w, 0, 1, 0, 0, 0, 1}.times(toMap)
			}
			k := 1 / scale
			fromMap := homography{k, 0, (k - 1) / 2, 0, k, (k - 1) / 2, 0, 0, 1}
			best = featureWay{fromMap.times(h).times(toMap), n, m == 1}
		}
		if best.pairs > 3*featureLeast {
			break
		}
	}
	return best
}

// photoCoverage is the line coverage of a whole photograph at a scale, and
// where it can be believed.
func photoCoverage(p *Photo, scale float64, sheet *sheetEdge) (*plane, func(x, y int) bool) {
	w, h := int(float64(p.Width)*scale), int(float64(p.Height)*scale)
	k := max(1, int(1/scale))
	src := source{p.shrunk(k), k}
	lum := newPlane(w, h)
	strips(h, func(_, lo, hi int) {
		for y := lo; y < hi; y++ {
			for x := 0; x < w; x++ {
				q := src.at(Point{(float64(x)+0.5)/scale - 0.5, (float64(y)+0.5)/scale - 0.5})
				lum.v[y*w+x] = max(src.lum.bilinear(q.X, q.Y), 1e-4)
			}
		}
	})
	_, ground := ownLines(lum, featureScale)
	cov := newPlane(w, h)
	for i := range cov.v {
		cov.v[i] = min(max(1-lum.v[i]/max(ground.v[i], 1e-4), 0), 1)
	}
	cov = cov.blur(registerBlur)
	return cov, func(x, y int) bool {
		return !sheet.found || sheet.quad.contains(Point{float64(x) / scale, float64(y) / scale}, 2*featureScale/scale)
	}
}
