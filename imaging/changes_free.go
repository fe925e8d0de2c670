package imaging

import (
	"context"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Pictures without a usable plate mark or margins (scans cut to the plate, old
// reproductions) can still be compared: their lines are laid on one another
// without any frame but the first picture's own.

// frameless makes a reference of a whole picture: its frame is the plate mark
// where one is found, else the picture's own edge, and its light is taken as
// even. coarse is its coverage as the search wants it.
func frameless(ctx context.Context, p *Photo, size Size) (r *Reference, coarse *plane, how string) {
	mp, frame, how := pictureFrame(ctx, p, size)
	s := gridScale(mp.scale(frame), frame)
	l := evenLight(p)
	r = &Reference{Size: frame, Path: p.Path, photo: p.frame(), width: p.Width, height: p.Height, groundU: math.NaN()}
	r.Sheet = laySheet(p, mp, l, frame, newGrid(frame, s), nil)
	r.levels, r.inked = referenceLevels(p, mp, l, frame, min(registerMax, s))
	r.quality = quality(p, r.Sheet)
	r.lines = findLines(r.Sheet)
	return r, coarseCover(p, mp, l, frame), how
}

// pictureFrame is the mapping from millimetres to a picture's pixels.
func pictureFrame(ctx context.Context, p *Photo, size Size) (*mapping, Size, string) {
	if m, err := findFrame(ctx, p, size); err == nil && inView(p, m.Corners) {
		if h, err := quadMapping(size.rectangle(), m.Corners); err == nil {
			return &mapping{h: h}, size, "found"
		}
	}
	k := math.Sqrt(float64(p.Width) / size.Width * float64(p.Height) / size.Height)
	frame := Size{Height: float64(p.Height) / k, Width: float64(p.Width) / k}
	return &mapping{h: homography{k, 0, -0.5, 0, k, -0.5, 0, 0, 1}}, frame, "the picture's edge"
}

// plausible reports whether four corners can be a plate of a size seen nearly
// from the front: opposite sides alike and proportions within a twentieth
// (paper shrinks by a thirtieth at most). A ruled border or a chance of lines
// in a picture without a plate mark is not.
func plausible(q Quad, size Size) bool {
	alike := func(a, b float64) bool { return min(a, b) > 0.8*max(a, b) }
	top, right, bottom, left := q.sideLength(0), q.sideLength(1), q.sideLength(2), q.sideLength(3)
	stretch := (left + right) / (top + bottom) * size.Width / size.Height
	return alike(top, bottom) && alike(left, right) && math.Abs(math.Log(stretch)) < 0.055
}

// evenLight takes the brightest paper in a picture for the light everywhere.
func evenLight(p *Photo) *light {
	small := p.lum.shrink(max(1, p.Width/200))
	v := make([]float64, len(small.v))
	for i, f := range small.v {
		v[i] = float64(f)
	}
	l := &light{r: 1, cov: mat.NewSymDense(lightTerms, nil)}
	l.c[0] = math.Log(max(quantile(v, 0.97), 1e-3))
	return l
}

// registerFree lays a picture on a frameless reference: a search over size,
// turn and place at a coarse scale, then as every registration goes on.
func (r *Reference) registerFree(ctx context.Context, own *plane, p *Photo, size Size) (*Sheet, *Result, error) {
	l := evenLight(p)
	start := r.search(ctx, own, p, l, size)
	levels := coverageLevels(p, &mapping{h: start}, l, r.Size, r.levels[0].g.s)
	g, rho := identity, 0.0
	for i := len(levels) - 1; i >= 1; i-- {
		e := alignECC(r.levels[i].cov, levels[i].cov, r.levels[i].g, g, 2, 60)
		g, rho = e.h, e.rho
	}
	if err := ctx.Err(); err != nil {
		return nil, nil, err
	}
	reg := &registration{rho: rho, m: &mapping{h: start.times(g), w: newWarp(r.Size)}}
	r.refine(p, reg, l)
	if reg.rho < 0.4 {
		return nil, nil, refuse("The two photographs cannot be laid on one another: no plate mark to go by was found, and their lines do not agree.")
	}
	s := laySheet(p, reg.m, l, r.Size, r.Sheet.g, r.lines.support)
	s.RegU = uncertaintyMap(reg.m.w, r.Size)
	res := &Result{Verdict: Measured, Quality: quality(p, s), MarkHow: "from the reference"}
	res.Mark = p.storedQuad(reg.m.corners(r.Size))
	res.Registration = Registration{State: reg.state, ResidualMM: reg.u, Correlation: reg.rho}
	return s, res, nil
}

// searchScale is the samples to the millimetre of the coarse search.
const searchScale = 0.7

// search finds roughly how a picture lies on the reference's frame.
func (r *Reference) search(ctx context.Context, own *plane, p *Photo, l *light, size Size) homography {
	mp, frame, _ := pictureFrame(ctx, p, size)
	pad := 0.25 * math.Max(frame.Height, frame.Width)
	wide := &mapping{h: mp.h.times(homography{1, 0, -pad, 0, 1, -pad, 0, 0, 1})}
	mov := coarseCover(p, wide, l, Size{frame.Height + 2*pad, frame.Width + 2*pad})
	best, bestRho := identity, -1.0
	var at [4]float64 // what best is made of
	try := func(scale, turn, dx, dy float64) {
		s, c := math.Sincos(turn)
		cx, cy := r.Size.Width/2, r.Size.Height/2
		fx, fy := frame.Width/2, frame.Height/2
		h := homography{scale * c, -scale * s, fx + dx - scale*(c*cx-s*cy), scale * s, scale * c, fy + dy - scale*(s*cx+c*cy), 0, 0, 1}
		if rho := sparseAgreement(own, mov, h, pad); rho > bestRho {
			best, bestRho, at = h, rho, [4]float64{scale, turn, dx, dy}
		}
	}
	// The coverage is soft over two millimetres: three apart is near enough
	// to begin with.
	around := func(scale, turn, dx, dy float64, n [3]int, step [3]float64) {
		for i := -n[0]; i <= n[0]; i++ {
			for j := -n[1]; j <= n[1]; j++ {
				for u := -n[2]; u <= n[2]; u++ {
					for v := -n[2]; v <= n[2]; v++ {
						try(scale+float64(i)*step[0], turn+float64(j)*step[1], dx+float64(u)*step[2], dy+float64(v)*step[2])
					}
				}
			}
		}
	}
	around(1, 0, 0, 0, [3]int{3, 1, 5}, [3]float64{0.04, 0.035, 3})
	around(at[0], at[1], at[2], at[3], [3]int{2, 2, 2}, [3]float64{0.015, 0.015, 1})
	return mp.h.times(best)
}

// coarseCover is the softened coverage of a picture at the scale of the search.
func coarseCover(p *Photo, m *mapping, l *light, size Size) *plane {
	levels := coverageLevels(p, m, l, size, 4*searchScale)
	c := levels[0].cov.shrink(4)
	fine, wide := c.blur(1.0), c.blur(5)
	for i := range fine.v {
		fine.v[i] -= wide.v[i]
	}
	return fine
}

// sparseAgreement correlates every second sample of the reference's coarse
// coverage with the moving one's under h, which takes reference millimetres to
// those of the moving frame.
func sparseAgreement(own, mov *plane, h homography, pad float64) float64 {
	var n, st, si, stt, sii, sti float64
	for y := 2; y < own.h-2; y += 2 {
		for x := 2; x < own.w-2; x += 2 {
			q := h.apply(Point{(float64(x) + 0.5) / searchScale, (float64(y) + 0.5) / searchScale})
			mx, my := int((q.X+pad)*searchScale), int((q.Y+pad)*searchScale)
			if mx < 0 || my < 0 || mx >= mov.w || my >= mov.h {
				continue
			}
			t, v := float64(own.v[y*own.w+x]), float64(mov.v[my*mov.w+mx])
			n++
			st += t
			si += v
			stt += t * t
			sii += v * v
			sti += t * v
		}
	}
	if n < 0.15*float64(own.w*own.h/4) {
		return -1
	}
	return (sti - st*si/n) / math.Sqrt((stt-st*st/n)*(sii-si*si/n)+1e-20)
}
