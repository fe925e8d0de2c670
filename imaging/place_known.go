package imaging

import "math"

// laidScale is the samples to the millimetre at which two sheets are laid on
// one another.
const laidScale = 6.0

// laidOn lays a sheet that has a plate frame of its own on another's grid: the
// frames differ by what the two plate marks were misjudged and the two papers
// stretched. It returns nil when their lines do not agree.
func (s *Sheet) laidOn(on *Sheet) *Sheet {
	f := min(laidScale, on.PxPerMM, s.PxPerMM)
	g := newGrid(on.Size, f)
	still, moving := on.thumb(on.Coverage, g), s.thumb(s.Coverage, g)
	clampCoverage(still)
	clampCoverage(moving)
	h := identity
	for _, k := range []int{4, 2} {
		a, b := still.shrink(k).blur(0.8), moving.shrink(k).blur(0.8)
		h = alignECC(a, b, grid{a.w, a.h, f / float64(k)}, h, 2, 40).h
	}
	m := &mapping{h: h, w: newWarp(on.Size)}
	ref, mov := still.blur(0.8), moving.blur(0.8)
	rho := 0.0
	for _, plan := range []patchPlan{{spacing: 7, radius: 3.3, limit: 0.6}, {spacing: 5, radius: 2.8, limit: 0.3}} {
		warped := through(mov, g, m, g.s)
		rho = correlation(ref, warped, int(2*g.s))
		var seen []sighting
		for _, q := range comparePatches(ref, warped, g, plan) {
			if !q.ok {
				continue
			}
			t := q.sighting
			w := m.w.at(Point{t.at.X + t.d.X, t.at.Y + t.d.Y})
			t.d.X += w.X
			t.d.Y += w.Y
			seen = append(seen, t)
		}
		if len(seen) < 6 {
			break
		}
		next := newWarp(on.Size)
		next.fit(seen, []float64{3e2, 3e3, 3e4, 3e5, 3e6})
		m = &mapping{h: m.h, w: next}
	}
	if rho < 0.3 {
		return nil
	}
	out := *s
	out.Size, out.Cols, out.Rows, out.PxPerMM, out.g = on.Size, on.Cols, on.Rows, on.PxPerMM, on.g
	for _, v := range []*[]float32{&out.Coverage, &out.Reflectance, &out.Ground} {
		*v = through(&plane{w: s.Cols, h: s.Rows, v: *v}, on.g, m, s.PxPerMM).v
	}
	out.Valid, out.Line = throughMask(s.Valid, s, on.g, m), throughMask(s.Line, s, on.g, m)
	return &out
}

// thumb is one of a sheet's planes at a coarser grid.
func (s *Sheet) thumb(v []float32, g grid) *plane {
	p := &plane{w: s.Cols, h: s.Rows, v: append([]float32(nil), v...)}
	for i, x := range p.v {
		if x != x {
			p.v[i] = 0
		}
	}
	if k := s.PxPerMM / g.s; k > 1.2 {
		p = p.blur(0.4 * k)
	}
	return through(p, g, &mapping{h: identity}, s.PxPerMM)
}

// through samples a plane of s samples to the millimetre on a grid, by a
// mapping from the grid's millimetres to the plane's.
func through(p *plane, g grid, m *mapping, s float64) *plane {
	out := newPlane(g.cols, g.rows)
	strips(g.rows, func(_, lo, hi int) {
		for y := lo; y < hi; y++ {
			row := out.row(y)
			for x := range row {
				q := m.at(g.point(x, y))
				row[x] = p.bicubic(q.X*s-0.5, q.Y*s-0.5)
			}
		}
	})
	return out
}

// throughMask does so for a mask.
func throughMask(mask []bool, s *Sheet, g grid, m *mapping) []bool {
	out := make([]bool, g.cols*g.rows)
	strips(g.rows, func(_, lo, hi int) {
		for y := lo; y < hi; y++ {
			for x := range g.cols {
				q := m.at(g.point(x, y))
				i, j := int(math.Floor(q.X*s.PxPerMM)), int(math.Floor(q.Y*s.PxPerMM))
				out[y*g.cols+x] = i >= 0 && j >= 0 && i < s.Cols && j < s.Rows && mask[j*s.Cols+i]
			}
		}
	})
	return out
}
