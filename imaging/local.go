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
// lays the moving coverage on the reference's; neither holds NaN. The
// information each carries is a matrix: hatching fixes the place across its strokes, not along them.
func comparePatches(ref, mov *plane, g grid, plan patchPlan) []patch {
	w, h := float64(g.cols)/g.s, float64(g.rows)/g.s
	nx, ny := max(4, int(math.Round(w/plan.spacing))), max(4, int(math.Round(h/plan.spacing)))
	out := make([]patch, nx*ny)
	strips(len(out), func(_, lo, hi int) {
		ws := newWindow(int(math.Round(plan.radius * g.s)))
		for k := lo; k < hi; k++ {
			c := Point{w * (float64(k%nx) + 0.5) / float64(nx), h * (float64(k/nx) + 0.5) / float64(ny)}
			out[k] = ws.compare(ref, mov, g, c, plan)
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

// minInk is the least mean squared coverage in a window that lets it speak.
const minInk = 4e-4

func (w *window) compare(ref, mov *plane, g grid, c Point, plan patchPlan) patch {
	out := patch{sighting: sighting{at: c}}
	cx, cy := int(c.X*g.s), int(c.Y*g.s)
	if w.frame(ref, cx, cy) < minInk {
		return out
	}
	out.ink = true
	out.at = g.point(cx, cy)
	d := Point{} // samples
	var fit patchFit
	for it := 0; it < 8; it++ {
		w.look(mov, d)
		var ok bool
		fit, ok = w.solve()
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
	w.rows(func(taps []tap, seen []float32) {
		for k := range taps {
			t := &taps[k]
			r := float64(seen[k]) - (f.gain*t.v + f.level - f.sx*t.x - f.sy*t.y)
			q := t.h * t.h * r * r
			bxx += q * t.x * t.x
			bxy += q * t.x * t.y
			byy += q * t.y * t.y
		}
	})
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
