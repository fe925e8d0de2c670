package imaging

import (
	"math"
	"slices"
)

// warp is a smooth displacement over the plate in millimetres: a uniform cubic
// B-spline of nx x ny spans.
type warp struct {
	nx, ny int
	sx, sy float64 // span, mm
	cx, cy []float64
	eye    Point   // where the camera's axis meets the plate, mm
	half   float64 // from there to the corners of its picture, mm
	cov    *bands  // covariance of all coefficients, near the diagonal; nil when unknown
}

// warpSpan is about how far apart the knots lie: paper buckles over some
// centimetres.
const warpSpan = 11.0

func newWarp(size Size) *warp {
	w := &warp{
		nx: min(max(int(math.Round(size.Width/warpSpan)), 4), 15),
		ny: min(max(int(math.Round(size.Height/warpSpan)), 4), 15),
	}
	w.sx, w.sy = size.Width/float64(w.nx), size.Height/float64(w.ny)
	w.cx, w.cy = make([]float64, w.terms()), make([]float64, w.terms())
	w.eye, w.half = Point{size.Width / 2, size.Height / 2}, 0.8*math.Hypot(size.Width, size.Height)
	return w
}

// seenBy tells the displacement of a photograph which camera it was seen by: a
// lens bends what it shows about the middle of the picture.
func (w *warp) seenBy(p *Photo, h homography, size Size) *warp {
	inv := h.inverse()
	w.eye = inv.apply(Point{float64(p.Width-1) / 2, float64(p.Height-1) / 2})
	w.half = math.Hypot(float64(p.Width), float64(p.Height)) / 2 / (&mapping{h: h}).scale(size)
	return w
}

func (w *warp) terms() int { return (w.nx + 3) * (w.ny + 3) }

func cubicBasis(t float64) [4]float64 {
	u := 1 - t
	return [4]float64{u * u * u / 6, (3*t*t*t - 6*t*t + 4) / 6, (3*u*u*u - 6*u*u + 4) / 6, t * t * t / 6}
}

// weights are the sixteen coefficients that speak at p and their weights.
func (w *warp) weights(p Point) (first int, b [16]float64) {
	u, v := p.X/w.sx, p.Y/w.sy
	i := min(max(int(math.Floor(u)), 0), w.nx-1)
	j := min(max(int(math.Floor(v)), 0), w.ny-1)
	bu, bv := cubicBasis(min(max(u-float64(i), -0.2), 1.2)), cubicBasis(min(max(v-float64(j), -0.2), 1.2))
	for r := 0; r < 4; r++ {
		for c := 0; c < 4; c++ {
			b[4*r+c] = bv[r] * bu[c]
		}
	}
	return j*(w.nx+3) + i, b
}

func (w *warp) index(first, k int) int { return first + k/4*(w.nx+3) + k%4 }

func (w *warp) at(p Point) Point {
	f, b := w.weights(p)
	var d Point
	for k, v := range b {
		i := w.index(f, k)
		d.X += v * w.cx[i]
		d.Y += v * w.cy[i]
	}
	return d
}

// u is the standard uncertainty of the displacement at p in millimetres, both
// directions together.
func (w *warp) u(p Point) float64 {
	if w.cov == nil {
		return math.NaN()
	}
	f, b := w.weights(p)
	var s float64
	for k, v := range b {
		i := w.index(f, k)
		for l, u := range b[k:] {
			j := w.index(f, k+l)
			t := v * u * (w.cov.at(2*i, 2*j) + w.cov.at(2*i+1, 2*j+1))
			if l > 0 {
				t *= 2
			}
			s += t
		}
	}
	return math.Sqrt(max(s, 0))
}

// sighting is where one patch of the plate was seen to be displaced to, with
// its information matrix (mm^-2).
type sighting struct {
	at         Point
	d          Point
	xx, xy, yy float64
}

// fit finds the displacement that agrees with what was seen, as stiff as the
// evidence asks for (the stiffness is chosen by its marginal likelihood), and
// robust against sightings that disagree. It returns the root of the reduced
// chi square, 1 when scatter and stated information agree.
func (w *warp) fit(seen []sighting, stiffnesses []float64) (chi, stiffness float64) {
	weight := make([]float64, len(seen))
	for i := range weight {
		weight[i] = 1
	}
	stiffness = stiffnesses[len(stiffnesses)/2]
	scale := 1.0
	prior := w.prior()
	for round := 0; round < 5; round++ {
		sum := w.gather(seen, weight, scale)
		if round == 1 || round == 3 {
			best := math.Inf(-1)
			for _, mu := range stiffnesses {
				if e := w.solve(sum, prior, mu); e > best {
					best, stiffness = e, mu
				}
			}
			k := slices.Index(stiffnesses, stiffness) // the second time only its neighbours are asked
			stiffnesses = stiffnesses[max(k-1, 0):min(k+2, len(stiffnesses))]
		}
		w.solve(sum, prior, stiffness)
		chi = w.reweigh(seen, weight, &scale)
	}
	return chi, stiffness
}

// reweigh judges each sighting by its misfit and rescales the information to
// the scatter found.
func (w *warp) reweigh(seen []sighting, weight []float64, scale *float64) float64 {
	m := make([]float64, len(seen))
	for i, s := range seen {
		d := w.at(s.at)
		dx, dy := s.d.X-d.X, s.d.Y-d.Y
		m[i] = math.Sqrt(s.xx*dx*dx + 2*s.xy*dx*dy + s.yy*dy*dy)
	}
	// The median of the root of a chi square with two degrees is 1.18.
	chi := median(append([]float64(nil), m...)) / 1.18
	if math.IsNaN(chi) {
		chi = 1
	}
	*scale = 1 / max(chi*chi, 0.25)
	for i := range weight {
		weight[i] = 1
		if u := m[i] / max(chi, 0.5); u > 2.5 {
			weight[i] = 2.5 / u
			if u > 6 {
				weight[i] = 0.02
			}
		}
	}
	return chi
}
