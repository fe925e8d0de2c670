package imaging

import (
	"context"
	"math"
)

// Limits on the working grid: samples to the millimetre, and in all.
const (
	gridMax     = 12.0
	gridSamples = 5e6
	registerMax = 8.0
	registerAll = 2.5e6
)

// Reference is a reference pull made ready: registered on its own plate mark,
// its light, ground and lines found. It is never changed once made and may
// serve any number of measurements at once.
type Reference struct {
	Size  Size
	Path  string
	Mark  PlateMark // upright pixels
	Sheet *Sheet    // the reference itself on the plate's grid

	photo   *Photo // its frame only, without pixels
	width   int    // of the photograph, upright pixels
	height  int
	quality Quality
	mark    *foundMark
	levels  []level // coverage for registering, fine to coarse
	inked   []bool  // line work with its halo on the finest level's grid
	groundU float64 // what groundError says of the reference, mm2; NaN when it cannot
	lines   *lineWork
}

// level is a coverage map at one scale.
type level struct {
	g   grid
	cov *plane
}

// Prepare makes a reference of a photograph and its plate mark, whose corners
// run from the plate's top-left as the reference stands upright. What keeps a
// photograph from being a reference is a *RefusedError.
func Prepare(ctx context.Context, p *Photo, m PlateMark, size Size) (*Reference, error) {
	if !(size.Height > 0 && size.Width > 0) {
		return nil, refuse("The plate's height and width must be given in millimetres.")
	}
	if err := exposed(p); err != nil {
		return nil, err
	}
	mark, err := completeMark(p, m, size)
	if err != nil {
		return nil, err
	}
	r := &Reference{Size: size, Path: p.Path, Mark: mark.PlateMark, photo: p.frame(), width: p.Width, height: p.Height, mark: mark}
	h, err := quadMapping(size.rectangle(), mark.Corners)
	if err != nil {
		return nil, refuse("The four corners do not make a plate mark.")
	}
	mp := &mapping{h: h}
	if !inView(p, mp.corners(size)) {
		return nil, refuse("The whole plate is not in view: a corner of its mark lies outside the photograph.")
	}
	mp.w = bowedSides(p, mark, mp, size)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	s := gridScale(mp.scale(size), size)
	r.Sheet, err = newSheet(p, mp, size, s, &mark.sheet)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	r.levels, r.inked = referenceLevels(p, mp, r.Sheet.light, size, min(registerMax, s, math.Sqrt(registerAll/(size.Height*size.Width))))
	r.quality = quality(p, r.Sheet)
	if err := r.usable(); err != nil {
		return nil, err
	}
	// The reference is laid once more as the impressions will be, with its own
	// lines given: dense hatching shows its ground otherwise than at first.
	r.Sheet = laySheet(p, mp, r.Sheet.light, size, r.Sheet.g, r.Sheet.Line)
	r.lines = findLines(r.Sheet)
	r.groundU = math.NaN()
	if e, n := groundError(r.Sheet, r.lines.support); n > 0 {
		r.groundU = e
	}
	return r, nil
}

// usable refuses a reference that nothing could be measured against.
func (r *Reference) usable() error {
	var ink float64
	for _, v := range r.levels[len(r.levels)-1].cov.v {
		ink += max(0, float64(v))
	}
	if ink/float64(len(r.levels[len(r.levels)-1].cov.v)) < 0.002 {
		return refuse("There are hardly any lines within the plate mark of the reference; choose a better inked pull.")
	}
	return focused(r.quality)
}

// gridScale is the working grid's samples to the millimetre for a photograph
// of the given scale.
func gridScale(pxPerMM float64, size Size) float64 {
	return min(pxPerMM, gridMax, math.Sqrt(gridSamples/(size.Height*size.Width)))
}

// completeMark adds sheet and side traces to a mark given as corners only.
func completeMark(p *Photo, m PlateMark, size Size) (*foundMark, error) {
	sheet := *pageOf(p)
	out := &foundMark{PlateMark: m, sheet: sheet}
	rect := size.rectangle()
	toPx, err := quadMapping(rect, m.Corners)
	if err != nil || m.Corners.area() == 0 {
		return nil, refuse("The four corners do not make a plate mark.")
	}
	if m.Corners.area() < 0 {
		return nil, refuse("The corners run the wrong way round: top-left, top-right, bottom-right, bottom-left.")
	}
	out.edges = traceSides(p, &toPx, rect, 3.6, &sheet, 1.8, false)
	return out, nil
}

// inView reports whether all corners lie in the picture.
func inView(p *Photo, q Quad) bool {
	for _, c := range q {
		if c.X < -1 || c.Y < -1 || c.X > float64(p.Width) || c.Y > float64(p.Height) {
			return false
		}
	}
	return true
}

// sideU is the standard uncertainty of one traced piece of a plate mark's
// side, mm.
const sideU = 0.08

// sideSightings turns the traced sides of a mark into displacements across
// the sides. toPlate takes what the trace calls plate millimetres to the
// frame of the warp; edge is how far outside the plate's rectangle its edge
// runs in that frame.
func sideSightings(m *foundMark, size Size, toPlate func(Point) Point, edge func(side int, t float64) float64, u float64) []sighting {
	var out []sighting
	rect := size.rectangle()
	for i, e := range m.edges {
		a, b := rect.side(i)
		n := outward(a, b)
		for k, t := range e.at {
			if e.weight[k] < 20 || math.Abs(e.off[k]-e.offset(t)) > 0.35 {
				continue
			}
			at := lerp(a, b, t)
			q := toPlate(Point{at.X + e.off[k]*n.X, at.Y + e.off[k]*n.Y})
			o := edge(i, t)
			if math.Abs(o) > 2 || math.Abs(e.off[k]) > 2 {
				continue // corners set so far off the edge that the trace is not to be trusted
			}
			at.X += o * n.X
			at.Y += o * n.Y
			f := 1 / (u*u + 1/e.weight[k])
			out = append(out, sighting{at: at, d: q.sub(at), xx: f * n.X * n.X, xy: f * n.X * n.Y, yy: f * n.Y * n.Y})
		}
	}
	return out
}

// bowedSides bends the plate's frame to the traced sides: paper that buckles
// and a lens show it there. Corners set by hand stay where they are, and only
// the bow of the sides between them is followed.
func bowedSides(p *Photo, m *foundMark, mp *mapping, size Size) *warp {
	seen := sideSightings(m, size, func(p Point) Point { return p }, m.besideChord, sideU)
	if len(seen) < 12 {
		return nil
	}
	if m.How == "by hand" {
		const held = 1e4 // mm^-2
		for _, c := range size.rectangle() {
			seen = append(seen, sighting{at: c, xx: held, yy: held})
		}
	}
	w := newWarp(size).seenBy(p, mp.h, size)
	w.fit(seen, []float64{3e3, 1e4, 3e4, 1e5})
	return w
}

// besideChord is how far outside the frame's own edge, bowed as the side is,
// the side was traced: nowhere but beside corners set by hand.
func (m *foundMark) besideChord(side int, t float64) float64 {
	if m.How != "by hand" {
		return 0
	}
	e := &m.edges[side]
	return (1-t)*e.offset(0) + t*e.offset(1)
}

// coverageLevels is the coverage of a photograph under a mapping, at the given
// scale and at halves of it down to about one sample to the millimetre.
func coverageLevels(p *Photo, mp *mapping, l *light, size Size, s float64) []level {
	out, _ := referenceLevels(p, mp, l, size, s)
	return out
}

// referenceLevels gives the lines with their halo on the finest grid as well.
func referenceLevels(p *Photo, mp *mapping, l *light, size Size, s float64) ([]level, []bool) {
	g := newGrid(size, s)
	r := newSource(p, mp.scale(size), s).rectify(mp, g)
	l.divide(r, g)
	line, ground := ownLines(r, s)
	out := []level{{g, clampCoverage(coverageOf(r, ground, solidInk))}}
	for out[len(out)-1].g.s > 1.6 {
		last := out[len(out)-1]
		c := last.cov.shrink(2)
		out = append(out, level{grid{c.w, c.h, last.g.s / 2}, c})
	}
	for i := range out {
		out[i].cov = out[i].cov.blur(registerBlur)
	}
	return out, grow(line, g.cols, g.rows, int(math.Ceil(0.35*s)))
}

// registerBlur is the blur, in samples, under which sheets are compared: it
// keeps interpolation from leaving its own pattern.
const registerBlur = 0.8

// coverageNear is the coverage of a photograph already near its place, the
// ground taken from between the reference's lines.
func (r *Reference) coverageNear(p *Photo, mp *mapping, l *light) *plane {
	g := r.levels[0].g
	lum := newSource(p, mp.scale(r.Size), g.s).rectify(mp, g)
	l.divide(lum, g)
	ground := groundUnder(lum, r.inked, g.s)
	return clampCoverage(coverageOf(lum, ground, solidInk)).blur(registerBlur)
}

func clampCoverage(p *plane) *plane {
	strips(p.h, func(_, lo, hi int) {
		row := p.v[lo*p.w : hi*p.w]
		for i, v := range row {
			if v != v {
				row[i] = 0
			} else if v < -0.1 {
				row[i] = -0.1
			} else if v > 1 {
				row[i] = 1
			}
		}
	})
	return p
}
