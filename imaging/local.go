package imaging

import "math"

// patchPlan says where patches are compared and how.
type patchPlan struct {
	spacing float64 // mm between nodes
	radius  float64 // mm, half a window
	limit   float64 // mm, larger displacements are not believed
}

// patch is what one window said.
type patch struct {
	sighting
	node int
	rho  float64 // correlation in the window after moving it
	gain float64
	ok   bool
	ink  bool // the window carries enough line to be worth asking
}

// comparePatches measures, in windows all over the plate, the small shift that
// lays the moving coverage on the reference's. The information each carries is
// a matrix: hatching fixes the place across its strokes, not along them.
func comparePatches(ref, mov *plane, g grid, plan patchPlan) []patch {
	w, h := float64(g.cols)/g.s, float64(g.rows)/g.s
	nx, ny := max(4, int(math.Round(w/plan.spacing))), max(4, int(math.Round(h/plan.spacing)))
	out := make([]patch, nx*ny)
	gx, gy := gradients(ref)
	strips(len(out), func(_, lo, hi int) {
		ws := newWindow(int(math.Round(plan.radius * g.s)))
		for k := lo; k < hi; k++ {
			c := Point{w * (float64(k%nx) + 0.5) / float64(nx), h * (float64(k/nx) + 0.5) / float64(ny)}
			out[k] = ws.compare(ref, mov, gx, gy, g, c, plan)
			out[k].node = k
		}
	})
	return out
}

func gradients(p *plane) (gx, gy *plane) {
	gx, gy = newPlane(p.w, p.h), newPlane(p.w, p.h)
	strips(p.h, func(_, lo, hi int) {
		for y := max(lo, 1); y < min(hi, p.h-1); y++ {
			for x := 1; x < p.w-1; x++ {
				i := y*p.w + x
				gx.v[i] = (p.v[i+1] - p.v[i-1]) / 2
				gy.v[i] = (p.v[i+p.w] - p.v[i-p.w]) / 2
			}
		}
	})
	return gx, gy
}

// window is the working space of one worker.
type window struct {
	r      int
	hann   []float64
	t, i   []float64
	tx, ty []float64
	wt     []float64
}

func newWindow(r int) *window {
	n := (2*r + 1) * (2*r + 1)
	w := &window{r: r, hann: make([]float64, n)}
	w.t, w.i, w.tx, w.ty, w.wt = make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for y := -r; y <= r; y++ {
		for x := -r; x <= r; x++ {
			a := math.Cos(math.Pi / 2 * float64(x) / float64(r+1))
			b := math.Cos(math.Pi / 2 * float64(y) / float64(r+1))
			w.hann[(y+r)*(2*r+1)+x+r] = a * a * b * b
		}
	}
	return w
}

// minInk is the least mean squared coverage in a window that lets it speak.
const minInk = 4e-4

func (w *window) compare(ref, mov, gx, gy *plane, g grid, c Point, plan patchPlan) patch {
	out := patch{sighting: sighting{at: c}}
	cx, cy := int(c.X*g.s), int(c.Y*g.s)
	side := 2*w.r + 1
	var energy, area float64
	for y := -w.r; y <= w.r; y++ {
		for x := -w.r; x <= w.r; x++ {
			k := (y+w.r)*side + x + w.r
			w.wt[k] = 0
			px, py := cx+x, cy+y
			if px < 2 || py < 2 || px > ref.w-3 || py > ref.h-3 {
				continue
			}
			i := py*ref.w + px
			w.t[k], w.tx[k], w.ty[k] = float64(ref.v[i]), float64(gx.v[i]), float64(gy.v[i])
			w.wt[k] = w.hann[k]
			energy += w.hann[k] * w.t[k] * w.t[k]
			area += w.hann[k]
		}
	}
	if area == 0 || energy/area < minInk {
		return out
	}
	out.ink = true
	out.at = g.point(cx, cy)
	d := Point{} // samples
	var fit patchFit
	for it := 0; it < 8; it++ {
		for k := range w.i {
			if w.wt[k] == 0 {
				continue
			}
			x, y := cx+k%side-w.r, cy+k/side-w.r
			v := float64(mov.bicubic(float64(x)+d.X, float64(y)+d.Y))
			if v != v {
				w.wt[k] = 0
				continue
			}
			w.i[k] = v
		}
		var ok bool
		fit, ok = w.solve(fit.scale)
		if !ok {
			return out
		}
		d.X += fit.d.X
		d.Y += fit.d.Y
		if math.Hypot(d.X, d.Y) > plan.limit*g.s {
			return out
		}
		if it > 2 && math.Hypot(fit.d.X, fit.d.Y) < 0.003 {
			break
		}
	}
	out.rho, out.gain = fit.rho, fit.gain
	out.d = Point{d.X / g.s, d.Y / g.s}
	if fit.gain < 0.15 || fit.rho < 0.35 {
		return out
	}
	v := w.scatter(fit)
	dd := v[0]*v[2] - v[1]*v[1]
	f := g.s * g.s
	out.xx, out.yy, out.xy = f*v[2]/dd, f*v[0]/dd, -f*v[1]/dd
	out.ok = true
	return out
}

// scatter is the covariance (xx, xy, yy, samples squared) of a window's shift.
// Residuals of neighbouring samples go together, so least squares flatters:
// its root is taken twice as large. Where strokes are, residuals are larger
// than between them: the sandwich of the residuals themselves is added, as if
// every dozen neighbours counted once. To that comes what interpolation costs,
// a twentieth of a sample. A direction that only faint bends of a stroke speak
// for is believed less still.
func (w *window) scatter(f patchFit) [3]float64 {
	det := f.axx*f.ayy - f.axy*f.axy
	tr := f.axx + f.ayy
	if !(det > 1e-9*tr*tr) {
		// One direction is blind: turn to it and open it wide.
		det = max(det, 1e-9*tr*tr)
	}
	ixx, ixy, iyy := f.ayy/det, -f.axy/det, f.axx/det
	var bxx, bxy, byy float64
	for k, h := range w.wt {
		if h == 0 {
			continue
		}
		r := w.i[k] - (f.gain*w.t[k] + f.level - f.sx*w.tx[k] - f.sy*w.ty[k])
		q := h * h * r * r
		bxx += q * w.tx[k] * w.tx[k]
		bxy += q * w.tx[k] * w.ty[k]
		byy += q * w.ty[k] * w.ty[k]
	}
	const together = 12
	s2 := 4 * f.noise * f.noise
	g2 := f.gain * f.gain
	sxx := ixx*(ixx*bxx+ixy*bxy) + ixy*(ixx*bxy+ixy*byy)
	sxy := ixx*(ixy*bxx+iyy*bxy) + ixy*(ixy*bxy+iyy*byy)
	syy := ixy*(ixy*bxx+iyy*bxy) + iyy*(ixy*bxy+iyy*byy)
	v := [3]float64{
		(s2*ixx+together*sxx)/g2 + 0.05*0.05,
		(s2*ixy + together*sxy) / g2,
		(s2*iyy+together*syy)/g2 + 0.05*0.05,
	}
	// Eigenvalues of the information and the blind direction.
	root := math.Sqrt(max(0, tr*tr/4-(f.axx*f.ayy-f.axy*f.axy)))
	small, large := max(tr/2-root, 0), tr/2+root
	if ratio := small / large; ratio < 0.1 {
		th := 0.5*math.Atan2(2*f.axy, f.axx-f.ayy) + math.Pi/2
		c, sn := math.Cos(th), math.Sin(th)
		along := c*c*v[0] + 2*c*sn*v[1] + sn*sn*v[2]
		extra := along * (min(0.1/max(ratio, 1e-4), 1000) - 1)
		v[0] += extra * c * c
		v[1] += extra * c * sn
		v[2] += extra * sn * sn
	}
	return v
}

// patchFit is one least squares step in a window.
type patchFit struct {
	d             Point
	gain, level   float64
	sx, sy        float64 // gain times d
	rho           float64
	noise, scale  float64
	axx, axy, ayy float64 // information on the shift, gain and level fitted too
}

// solve fits i = gain*t(x-d) + level with a robust weight at twice the scatter
// and a weak hold on d.
func (w *window) solve(scale float64) (patchFit, bool) {
	var f patchFit
	for round := 0; round < 2; round++ {
		var a [16]float64
		var b [4]float64
		var sw, si, sii, st, stt, sti float64
		for k, h := range w.wt {
			if h == 0 {
				continue
			}
			if scale > 0 && f.gain != 0 {
				r := w.i[k] - (f.gain*w.t[k] + f.level - f.sx*w.tx[k] - f.sy*w.ty[k])
				if u := math.Abs(r) / (2 * scale); u > 1 {
					h /= u
				}
			}
			j := [4]float64{-w.tx[k], -w.ty[k], w.t[k], 1}
			for p := range j {
				for q := p; q < 4; q++ {
					a[4*p+q] += h * j[p] * j[q]
				}
				b[p] += h * j[p] * w.i[k]
			}
			sw += h
			si += h * w.i[k]
			sii += h * w.i[k] * w.i[k]
			st += h * w.t[k]
			stt += h * w.t[k] * w.t[k]
			sti += h * w.t[k] * w.i[k]
		}
		if sw == 0 {
			return f, false
		}
		hold := 1e-4*(a[0]+a[5]) + 1e-12
		a[0] += hold
		a[5] += hold
		x, ok := solve4(a, b)
		g := x[2]
		if !ok || math.Abs(g) < 0.05 {
			return f, false
		}
		f.gain, f.level = g, x[3]
		f.sx, f.sy = x[0], x[1]
		f.d = Point{f.sx / g, f.sy / g}
		ss := sii
		for p := range b {
			ss -= b[p] * x[p]
		}
		f.noise = math.Sqrt(max(ss, 0)/sw) + 1e-4
		scale = f.noise
		f.scale = f.noise
		vt, vi := stt-st*st/sw, sii-si*si/sw
		f.rho = (sti - st*si/sw) / math.Sqrt(max(vt*vi, 1e-20))
		f.axx, f.axy, f.ayy = schur(a)
	}
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
