package imaging

import (
	"context"
	"math"
	"slices"
)

// registration is a moving photograph laid on the reference.
type registration struct {
	m       *mapping
	mark    *foundMark // may be nil
	rho     float64    // correlation after the smooth correction
	chi     float64
	patches float64 // share of inked windows that agreed
	u       float64 // estimated rms over the plate, mm
	state   string
}

// register finds the mapping from the plate to the photograph: by its mark and
// the turn that agrees best, then projectively, then smoothly.
func (r *Reference) register(ctx context.Context, p *Photo, given *PlateMark, say Progress) (*registration, error) {
	start, mark, err := r.lay(ctx, p, given)
	if err != nil {
		return nil, err
	}
	tell(say, 0.35, "laying the sheet on the reference")
	base := &mapping{h: start}
	flat, err := flatLight(p, base, r.Size, mark)
	if err != nil {
		return nil, err
	}
	levels := coverageLevels(p, base, flat, r.Size, r.levels[1].g.s)
	g := identity
	rho := 0.0
	for i := len(levels); i >= 1; i-- {
		e := alignECC(r.levels[i].cov, levels[i-1].cov, r.levels[i].g, g, 2, 40)
		g, rho = e.h, e.rho
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	reg := &registration{mark: mark, rho: rho, m: &mapping{h: start.times(g), w: newWarp(r.Size)}}
	tell(say, 0.5, "following the paper")
	r.refine(p, reg, flat)
	return reg, nil
}

func tell(p Progress, done float64, what string) {
	if p != nil {
		p(done, what)
	}
}

// flatLight is the light under a provisional mapping, good enough to find
// lines by.
func flatLight(p *Photo, m *mapping, size Size, mark *foundMark) (*light, error) {
	return fitLight(p, m, size, &mark.sheet)
}

// laid is one way to lay a photograph on the reference.
type laid struct {
	h        homography
	rho      float64
	mirrored bool
}

// Correlations at one sample to the millimetre, after settling: sheets of one
// plate reach laySure but for heavy wear and rework; other plates stay below
// layLeast.
const (
	laySure  = 0.75
	layLeast = 0.5
)

// lay decides which way up the plate stands in the photograph, from its mark,
// or from its lines where the mark is missing or does not fit.
func (r *Reference) lay(ctx context.Context, p *Photo, given *PlateMark) (homography, *foundMark, error) {
	mark, markErr := r.markOf(ctx, p, given)
	if markErr != nil {
		if _, ok := refusal(markErr); !ok {
			return identity, nil, markErr
		}
	}
	var best laid
	if mark != nil {
		ways := r.turns(p, mark)
		best = ways[0]
		if best.rho >= laySure {
			return r.settleLay(p, best, mark)
		}
		if h, err := quadMapping(r.Size.rectangle(), mark.Corners); err == nil {
			if b := photoBlur(p, &mapping{h: h}, r.Size); b > blurLimit && mark.Sure > 0.5 {
				return identity, nil, unfocused(b)
			}
		}
		if given != nil && best.rho >= layLeast {
			return r.settleLay(p, best, mark)
		}
	}
	if err := ctx.Err(); err != nil {
		return identity, nil, err
	}
	sheet := pageOf(p)
	way := r.byLines(p, sheet)
	if way.pairs >= featureLeast {
		l := r.try(p, way.h, way.mirrored)
		if l.rho > max(best.rho, layLeast) {
			m := &foundMark{sheet: *sheet}
			m.PlateMark = PlateMark{Corners: (&mapping{h: l.h}).corners(r.Size), How: "from the reference", Sure: min(1, l.rho)}
			return r.settleLay(p, l, m)
		}
		if side := outside(p, (&mapping{h: way.h}).corners(r.Size)); side != "" {
			return identity, nil, cutOff(side)
		}
	}
	if best.rho >= layLeast {
		return r.settleLay(p, best, mark)
	}
	if markErr != nil {
		return identity, nil, markErr
	}
	return identity, nil, anotherPlate()
}

func anotherPlate() error {
	return refuse("This seems to be another plate: its lines do not lie on those of the reference, whichever way it is turned.")
}

func cutOff(side string) error {
	return refuse("The whole plate is not in view: it runs out of the picture at the %s; step back and take it again.", side)
}

// outside names the edge of the picture that a plate runs out of, or nothing.
func outside(p *Photo, q Quad) string {
	side, worst := "", 2.0
	for _, c := range q {
		for _, s := range []struct {
			name string
			by   float64
		}{{"left", -c.X}, {"top", -c.Y}, {"right", c.X - float64(p.Width)}, {"bottom", c.Y - float64(p.Height)}} {
			if s.by > worst {
				side, worst = s.name, s.by
			}
		}
	}
	return side
}

// settleLay refuses mirrored and cut off plates and takes the rest.
func (r *Reference) settleLay(p *Photo, l laid, mark *foundMark) (homography, *foundMark, error) {
	if l.mirrored {
		return identity, nil, refuse("The photograph shows the plate mirrored, as a counterproof or a picture flipped by a program does; photograph the impression itself.")
	}
	if side := outside(p, (&mapping{h: l.h}).corners(r.Size)); side != "" {
		return identity, nil, cutOff(side)
	}
	return l.h, mark, nil
}

// pageOf is the sheet in upright pixels.
func pageOf(p *Photo) *sheetEdge {
	k := markStep(p)
	s := findSheet(p.shrunk(k))
	for i, c := range s.quad {
		s.quad[i] = Point{c.X*float64(k) + float64(k-1)/2, c.Y*float64(k) + float64(k-1)/2}
	}
	return &s
}

func (r *Reference) markOf(ctx context.Context, p *Photo, given *PlateMark) (*foundMark, error) {
	if given != nil {
		return completeMark(p, *given, r.Size)
	}
	return findMark(ctx, p, r.Size)
}

// turns tries the four turns of a mark, and each mirrored, best first.
func (r *Reference) turns(p *Photo, mark *foundMark) []laid {
	var ways []laid
	for k := 0; k < 4; k++ {
		for _, mirrored := range []bool{false, true} {
			q := mark.Corners.turned(k)
			if mirrored {
				q = q.mirrored()
			}
			if h, err := quadMapping(r.Size.rectangle(), q); err == nil {
				ways = append(ways, r.try(p, h, mirrored))
			}
		}
		if len(ways) > 0 && ways[len(ways)-1].rho < 0.95 && slices.ContainsFunc(ways, func(l laid) bool { return l.rho > 0.9 && !l.mirrored }) {
			break
		}
	}
	slices.SortStableFunc(ways, func(a, b laid) int { return sign(b.rho - a.rho) })
	if len(ways) == 0 {
		ways = []laid{{rho: -1}}
	}
	return ways
}

// try correlates the photograph with the reference at about one sample to the
// millimetre under one mapping, after letting it settle.
func (r *Reference) try(p *Photo, h homography, mirrored bool) laid {
	m := &mapping{h: h}
	l := &light{cx: 0, cy: 0, r: 1}
	levels := coverageLevels(p, m, l, r.Size, r.levels[len(r.levels)-2].g.s)
	last := r.levels[len(r.levels)-1]
	e := alignECC(last.cov, levels[len(levels)-1].cov, last.g, identity, 3, 15)
	return laid{h.times(e.h), e.rho, mirrored}
}

// refine follows the paper with patches and a smooth displacement, coarse
// windows first.
func (r *Reference) refine(p *Photo, reg *registration, l *light) {
	plans := []patchPlan{{spacing: 7, radius: 3.3, limit: 0.6}, {spacing: 5, radius: 2.8, limit: 0.3}, {spacing: 5, radius: 2.8, limit: 0.2}}
	ref := r.levels[0]
	for i, plan := range plans {
		mov := r.coverageNear(p, reg.m, l)
		if i == len(plans)-1 {
			reg.rho = correlation(ref.cov, mov, int(2*ref.g.s))
		}
		patches := comparePatches(ref.cov, mov, ref.g, plan)
		var seen []sighting
		inked, agreed := 0, 0
		for _, q := range patches {
			if q.ink {
				inked++
			}
			if !q.ok {
				continue
			}
			agreed++
			s := q.sighting
			moved := Point{s.at.X + s.d.X, s.at.Y + s.d.Y}
			w := reg.m.w.at(moved)
			s.d.X += w.X
			s.d.Y += w.Y
			seen = append(seen, s)
		}
		seen = append(seen, r.edgeSightings(reg)...)
		if len(seen) < 6 {
			break
		}
		next := newWarp(r.Size).seenBy(p, reg.m.h, r.Size)
		chi, mu := next.fit(seen, []float64{3e2, 3e3, 3e4, 3e5, 3e6})
		reg.m = &mapping{h: reg.m.h, w: next}
		reg.chi, reg.patches = chi, float64(agreed)/max(1, float64(inked))
		if i == len(plans)-1 {
			next.settle(seen, mu, chi)
		}
	}
	reg.u = reg.m.w.rms(r.Size)
	reg.judge()
}

// edgeSightings brings the traced sides of the moving mark into the
// reference's frame.
func (r *Reference) edgeSightings(reg *registration) []sighting {
	if reg.mark == nil {
		return nil
	}
	inv := reg.m.h.inverse()
	mark := reg.mark.standing(reg.m, r.Size)
	if mark == nil {
		return nil
	}
	toPx, err := quadMapping(r.Size.rectangle(), mark.Corners)
	if err != nil {
		return nil
	}
	edge := r.mark.besideChord
	if r.Sheet.m.w == nil {
		// The frame is the straight lines between its corners; the edge runs
		// where it was traced.
		edge = func(i int, t float64) float64 { return r.mark.edges[i].offset(t) }
	}
	return sideSightings(mark, r.Size, func(q Point) Point { return inv.apply(toPx.apply(q)) }, edge, 0.1)
}

// standing turns the mark's corners and sides to the order in which the
// mapping has them; nil when the mark is not where the mapping says.
func (m *foundMark) standing(at *mapping, size Size) *foundMark {
	want := at.corners(size)
	limit := 2.5 * at.scale(size)
	for k := 0; k < 4; k++ {
		q := m.Corners.turned(k)
		fits := true
		for i := range q {
			fits = fits && q[i].dist(want[i]) < limit
		}
		if !fits {
			continue
		}
		out := *m
		out.Corners = q
		for i := range out.edges {
			out.edges[i] = m.edges[(i+k)&3]
		}
		return &out
	}
	return nil
}

// rms is the uncertainty of the displacement over the plate.
func (w *warp) rms(size Size) float64 {
	const n = 12
	var s float64
	for j := 0; j < n; j++ {
		for i := 0; i < n; i++ {
			u := w.u(Point{size.Width * (float64(i) + 0.5) / n, size.Height * (float64(j) + 0.5) / n})
			s += u * u / (n * n)
		}
	}
	return math.Sqrt(s)
}

// correlation of two planes away from the rim.
func correlation(a, b *plane, rim int) float64 {
	var n, sa, sb, saa, sbb, sab float64
	for y := rim; y < a.h-rim; y++ {
		for x := rim; x < a.w-rim; x++ {
			u, v := float64(a.v[y*a.w+x]), float64(b.v[y*b.w+x])
			n++
			sa += u
			sb += v
			saa += u * u
			sbb += v * v
			sab += u * v
		}
	}
	va, vb := saa-sa*sa/n, sbb-sb*sb/n
	return (sab - sa*sb/n) / math.Sqrt(max(va*vb, 1e-20))
}

// judge says whether the sheet lies on the reference.
func (reg *registration) judge() {
	reg.state = "registered"
	if reg.rho < 0.6 || reg.patches < 0.5 || reg.chi > 2.5 || !(reg.u < 0.1) {
		reg.state = "doubtful"
	}
	if reg.rho < 0.35 || reg.patches < 0.2 {
		reg.state = "failed"
	}
}
