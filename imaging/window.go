package imaging

import "math"

// tap is one sample of the reference in a window: its coverage, the gradient
// there to the sample and the weight.
type tap struct{ v, x, y, h float64 }

// window is the working space of one worker: a square of the reference, cut off
// at the plate's edge, and what the moving sheet shows there.
type window struct {
	r              int
	hann           []float64
	x0, y0, nx, ny int // the part of the square that lies on the plate
	taps           []tap
	still          normal // what does not depend on the moving sheet
	seen           []float32
	step           int // from row to row of seen
	around, across []float32
}

func newWindow(r int) *window {
	n := 2*r + 1
	w := &window{r: r, hann: make([]float64, n*n), taps: make([]tap, n*n)}
	for y := -r; y <= r; y++ {
		for x := -r; x <= r; x++ {
			a := math.Cos(math.Pi / 2 * float64(x) / float64(r+1))
			b := math.Cos(math.Pi / 2 * float64(y) / float64(r+1))
			w.hann[(y+r)*n+x+r] = a * a * b * b
		}
	}
	m := (n + 3) * (n + 3)
	w.seen, w.around, w.across = make([]float32, m), make([]float32, m), make([]float32, m)
	return w
}

// frame takes the window about a sample of the reference and returns the mean
// square of the coverage in it.
func (w *window) frame(ref *plane, cx, cy int) float64 {
	w.x0, w.y0 = max(cx-w.r, 2), max(cy-w.r, 2)
	w.nx, w.ny = min(cx+w.r, ref.w-3)+1-w.x0, min(cy+w.r, ref.h-3)+1-w.y0
	if w.nx <= 0 || w.ny <= 0 {
		return 0
	}
	w.taps = w.taps[:w.nx*w.ny]
	w.still = normal{}
	side := 2*w.r + 1
	for y := range w.ny {
		i := (w.y0+y)*ref.w + w.x0
		o := (w.y0+y-cy+w.r)*side + w.x0 - cx + w.r
		for x := range w.nx {
			t := tap{
				v: float64(ref.v[i]),
				x: float64((ref.v[i+1] - ref.v[i-1]) / 2),
				y: float64((ref.v[i+ref.w] - ref.v[i-ref.w]) / 2),
				h: w.hann[o],
			}
			w.taps[y*w.nx+x] = t
			w.still.reference(&t, t.h)
			i++
			o++
		}
	}
	return w.still.vv / w.still.n
}

// look reads the moving sheet, moved by d, where the window is, by cubic
// convolution: along the rows, then down, all samples sharing their weights.
func (w *window) look(mov *plane, d Point) {
	fx, fy := math.Floor(d.X), math.Floor(d.Y)
	i, j := w.x0+int(fx), w.y0+int(fy)
	if i < 1 || j < 1 || i+w.nx > mov.w-2 || j+w.ny > mov.h-2 {
		w.lookNearEdge(mov, d)
		return
	}
	w.step = w.nx + 3
	n := w.step * (w.ny + 3)
	for r := range w.ny + 3 {
		copy(w.around[r*w.step:(r+1)*w.step], mov.v[(j-1+r)*mov.w+i-1:])
	}
	across := w.across[:n-3]
	clear(across)
	for k, f := range keys(float32(d.X - fx)) {
		addScaled(across, w.around[k:n-3+k], f)
	}
	seen := w.seen[:w.step*w.ny-3]
	clear(seen)
	for k, f := range keys(float32(d.Y - fy)) {
		addScaled(seen, across[k*w.step:][:len(seen)], f)
	}
}

// lookNearEdge does so where the cubic reaches beyond the picture.
func (w *window) lookNearEdge(mov *plane, d Point) {
	w.step = w.nx
	for y := range w.ny {
		for x := range w.nx {
			w.seen[y*w.step+x] = mov.bicubic(float64(w.x0+x)+d.X, float64(w.y0+y)+d.Y)
		}
	}
}

// rows runs f over the rows of the window.
func (w *window) rows(f func(taps []tap, seen []float32)) {
	for y := range w.ny {
		f(w.taps[y*w.nx:(y+1)*w.nx], w.seen[y*w.step:][:w.nx])
	}
}

// normal adds up the products of which the normal equations of a window are
// made: of the gradient x, y, the reference v and one with each other and with
// the moving sheet, which is i.
type normal struct {
	n, xx, xy, yy, xv, yv, x, y, vv, v float64
	xi, yi, vi, i, ii                  float64
}

// reference adds what one sample of the reference gives.
func (a *normal) reference(t *tap, h float64) {
	hx, hy, hv := h*t.x, h*t.y, h*t.v
	a.n += h
	a.x += hx
	a.y += hy
	a.v += hv
	a.xx += hx * t.x
	a.xy += hx * t.y
	a.xv += hx * t.v
	a.yy += hy * t.y
	a.yv += hy * t.v
	a.vv += hv * t.v
}

// moving adds what one sample of the moving sheet gives.
func (a *normal) moving(t *tap, i, h float64) {
	hi := h * i
	a.i += hi
	a.xi += hi * t.x
	a.yi += hi * t.y
	a.vi += hi * t.v
	a.ii += hi * i
}

// patchFit is one least squares step in a window.
type patchFit struct {
	d             Point
	gain, level   float64
	sx, sy        float64 // gain times d
	rho           float64
	noise         float64
	axx, axy, ayy float64 // information on the shift, gain and level fitted too
}

// solve fits i = gain*t(x-d) + level with a weak hold on d, then once more with
// a robust weight at twice the scatter.
func (w *window) solve() (patchFit, bool) {
	all := w.still
	w.rows(func(taps []tap, seen []float32) {
		a := normal{}
		for k := range taps {
			a.moving(&taps[k], float64(seen[k]), taps[k].h)
		}
		all.i += a.i
		all.xi += a.xi
		all.yi += a.yi
		all.vi += a.vi
		all.ii += a.ii
	})
	f, ok := all.fit()
	if !ok {
		return f, false
	}
	// Few samples misfit: what they are believed less is taken away again.
	limit := 2 * f.noise
	w.rows(func(taps []tap, seen []float32) {
		for k := range taps {
			t := &taps[k]
			i := float64(seen[k])
			if r := math.Abs(i - (f.gain*t.v + f.level - f.sx*t.x - f.sy*t.y)); r > limit {
				h := t.h * (limit/r - 1)
				all.reference(t, h)
				all.moving(t, i, h)
			}
		}
	})
	return all.fit()
}

// fit solves the normal equations.
func (a *normal) fit() (patchFit, bool) {
	var f patchFit
	if !(a.n > 0) {
		return f, false
	}
	hold := 1e-4*(a.xx+a.yy) + 1e-12
	m := [16]float64{
		a.xx + hold, a.xy, -a.xv, -a.x,
		0, a.yy + hold, -a.yv, -a.y,
		0, 0, a.vv, a.v,
		0, 0, 0, a.n,
	}
	b := [4]float64{-a.xi, -a.yi, a.vi, a.i}
	x, ok := solve4(m, b)
	g := x[2]
	if !ok || math.Abs(g) < 0.05 {
		return f, false
	}
	f.gain, f.level = g, x[3]
	f.sx, f.sy = x[0], x[1]
	f.d = Point{f.sx / g, f.sy / g}
	ss := a.ii
	for p := range b {
		ss -= b[p] * x[p]
	}
	f.noise = math.Sqrt(max(ss, 0)/a.n) + 1e-4
	vv, ii := a.vv-a.v*a.v/a.n, a.ii-a.i*a.i/a.n
	f.rho = (a.vi - a.v*a.i/a.n) / math.Sqrt(max(vv*ii, 1e-20))
	f.axx, f.axy, f.ayy = schur(m)
	return f, true
}

// solve4 solves a symmetric positive definite system given by its upper half,
// by Cholesky's method.
func solve4(a [16]float64, b [4]float64) (x [4]float64, ok bool) {
	var l [16]float64
	for i := 0; i < 4; i++ {
		for j := 0; j <= i; j++ {
			t := a[4*j+i]
			for k := 0; k < j; k++ {
				t -= l[4*i+k] * l[4*j+k]
			}
			if i == j {
				if !(t > 0) {
					return x, false
				}
				l[4*i+i] = math.Sqrt(t)
			} else {
				l[4*i+j] = t / l[4*j+j]
			}
		}
	}
	for i := 0; i < 4; i++ {
		t := b[i]
		for k := 0; k < i; k++ {
			t -= l[4*i+k] * x[k]
		}
		x[i] = t / l[4*i+i]
	}
	for i := 3; i >= 0; i-- {
		t := x[i]
		for k := i + 1; k < 4; k++ {
			t -= l[4*k+i] * x[k]
		}
		x[i] = t / l[4*i+i]
	}
	return x, true
}

// schur is the information on the shift after gain and level have taken
// theirs.
func schur(a [16]float64) (xx, xy, yy float64) {
	tt, t1, n := a[10], a[11], a[15]
	det := tt*n - t1*t1
	if det <= 0 {
		return a[0], a[1], a[5]
	}
	inv := [3]float64{n / det, -t1 / det, tt / det}
	part := func(p, q int) float64 {
		u0, u1, v0, v1 := a[4*p+2], a[4*p+3], a[4*q+2], a[4*q+3]
		return u0*(inv[0]*v0+inv[1]*v1) + u1*(inv[1]*v0+inv[2]*v1)
	}
	return a[0] - part(0, 0), a[1] - part(0, 1), a[5] - part(1, 1)
}
