package imaging

import (
	"math"
	"slices"
)

// ReadWedge reads a grey wedge, a row of even steps of known densities, off a
// photograph of it, whichever way it lies. The densities are those of its steps
// from one end to the other. corners are those of its row of steps, upright
// pixels, set by hand; nil looks for the row. blank is a photograph of a blank
// sheet under the same light and camera, nil for none. What cannot be read is a
// *RefusedError.
func ReadWedge(p *Photo, densities []float64, corners *Quad, blank *Photo) ([]WedgeStep, error) {
	if err := wedgeDensities(densities); err != nil {
		return nil, err
	}
	if blank != nil && (blank.Width != p.Width || blank.Height != p.Height) {
		blank = nil
	}
	var patches []greyPatch
	if corners != nil {
		patches = patchesWithin(p, *corners, len(densities))
	} else if patches = wedgeIn(p, densities); patches == nil {
		if p.clippedShare() > 0.004 {
			return nil, refuse("A part of the photograph of the wedge is burnt out, and no row of %d steps can be made out in it; lower the exposure and take it again, and the sheets with it.", len(densities))
		}
		return nil, refuse("No row of %d steps from light to dark can be made out in the photograph of the wedge; fill more of the picture with it on a plain ground, or set its four corners by hand.", len(densities))
	}
	falls := densities[0] > densities[len(densities)-1]
	if (patches[0].level < patches[len(patches)-1].level) != falls {
		slices.Reverse(patches)
	}
	steps := make([]WedgeStep, len(patches))
	for i, q := range patches {
		if p.clipAt(q.at) > 0.1 {
			return nil, refuse("Step %d of the wedge is burnt out; lower the exposure and take it again, and the sheets with it.", i+1)
		}
		if q.uneven > 0.06 {
			return nil, refuse("Step %d of the wedge is not even; see that no lamp is reflected in it, nothing lies on it, and its corners are right.", i+1)
		}
		steps[i] = WedgeStep{Density: densities[i], Level: q.level, Blank: 1}
		if blank != nil {
			steps[i].Blank = float64(blank.shrunk(16).bilinear((q.at.X-7.5)/16, (q.at.Y-7.5)/16))
		}
	}
	for i := 1; i < len(steps); i++ {
		if (steps[i].Level < steps[i-1].Level) != (densities[i] > densities[i-1]) {
			return nil, refuse("Steps %d and %d of the wedge do not follow one another from light to dark as their densities do.", i, i+1)
		}
	}
	return steps, nil
}

// wedgeMost bounds the steps of a wedge.
const wedgeMost = 40

func wedgeDensities(d []float64) error {
	if len(d) < curveLeast || len(d) > wedgeMost {
		return refuse("Give the densities of the wedge's steps, %d to %d of them, as its maker states them.", curveLeast, wedgeMost)
	}
	for i, v := range d {
		if !(v >= 0 && v <= 4) {
			return refuse("%g is no density of a step; they lie between 0 and 4.", v)
		}
		if i > 0 && (v == d[i-1] || v > d[i-1] != (d[1] > d[0])) {
			return refuse("The densities of the wedge must rise, or fall, from step to step; %g after %g does not.", v, d[i-1])
		}
	}
	return nil
}

// greyPatch is an even area of a photograph.
type greyPatch struct {
	at     Point   // its middle, upright pixels
	area   float64 // working pixels
	level  float64 // linear luminance
	uneven float64 // spread of the level over the patch, as a share of it
}

// patchesWithin cuts the row of steps between four corners into n and reads
// the middle of each. The row runs along the longer sides.
func patchesWithin(p *Photo, q Quad, n int) []greyPatch {
	if q.sideLength(0)+q.sideLength(2) < q.sideLength(1)+q.sideLength(3) {
		q = q.turned(1)
	}
	h, err := quadMapping(Quad{{0, 0}, {float64(n), 0}, {float64(n), 1}, {0, 1}}, q)
	out := make([]greyPatch, n)
	for i := range out {
		var v []float64
		out[i].at = p.middle()
		if err == nil {
			out[i].at = h.apply(Point{float64(i) + 0.5, 0.5})
			for y := 0.25; y <= 0.75; y += 0.05 {
				for x := 0.25; x <= 0.75; x += 0.05 {
					px := h.apply(Point{float64(i) + x, y})
					v = append(v, float64(p.lum.bilinear(px.X, px.Y)))
				}
			}
		}
		out[i].read(v)
	}
	return out
}

func (p *Photo) middle() Point { return Point{float64(p.Width-1) / 2, float64(p.Height-1) / 2} }

// read takes level and unevenness from samples.
func (q *greyPatch) read(v []float64) {
	if len(v) == 0 {
		q.uneven = 1
		return
	}
	lo, hi := quantile(v, 0.2), quantile(v, 0.8)
	var n float64
	for _, x := range v {
		if x >= lo && x <= hi {
			q.level += x
			n++
		}
	}
	q.level /= n
	// Noise grows, as a share, where there is little light.
	q.uneven = max(0, (hi-lo)/1.7-0.002) / max(q.level, 1e-4)
}

// wedgeIn looks for the row of steps: even patches of like size, as far from one
// another, that grow darker from one to the next.
func wedgeIn(p *Photo, densities []float64) []greyPatch {
	all := evenPatches(p)
	var best []greyPatch
	least := math.Inf(1)
	for i := range all {
		for j := range all {
			if i == j || !likeSized(all[i], all[j]) || all[j].level >= all[i].level {
				continue
			}
			row := rowFrom(all, all[i], all[j])
			if len(row) != len(densities) {
				continue
			}
			if c := rowFault(row, densities); c < least {
				best, least = row, c
			}
		}
	}
	return best
}

func likeSized(a, b greyPatch) bool { return a.area < 2*b.area && b.area < 2*a.area }

// rowFrom goes on from two patches in even strides as long as there is another.
func rowFrom(all []greyPatch, a, b greyPatch) []greyPatch {
	row := []greyPatch{a, b}
	// A row begins at its first patch.
	if _, ok := nextPatch(all, b, a, false); ok {
		return nil
	}
	for len(row) <= wedgeMost {
		c, ok := nextPatch(all, row[len(row)-2], row[len(row)-1], true)
		if !ok {
			break
		}
		row = append(row, c)
	}
	return row
}

// nextPatch is the patch one stride on from a over b, darker than b or, if not
// darker, lighter.
func nextPatch(all []greyPatch, a, b greyPatch, darker bool) (greyPatch, bool) {
	d := b.at.sub(a.at)
	want := Point{b.at.X + d.X, b.at.Y + d.Y}
	stride := math.Hypot(d.X, d.Y)
	for _, c := range all {
		off := c.at.sub(want)
		if math.Hypot(off.X, off.Y) < 0.2*stride && likeSized(b, c) && (c.level < b.level) == darker && c.level != b.level {
			return c, true
		}
	}
	return greyPatch{}, false
}

// rowFault is how badly a row fits the densities with the plainest of curves, a
// power of the light: rows of other things that happen to grow darker fit badly.
func rowFault(row []greyPatch, densities []float64) float64 {
	d := slices.Clone(densities)
	slices.Sort(d) // the row runs from light to dark
	var sx, sy, sxx, sxy, syy float64
	n := float64(len(row))
	for i, q := range row {
		x, y := d[i], math.Log10(max(q.level, 1e-5))
		sx, sy, sxx, sxy, syy = sx+x, sy+y, sxx+x*x, sxy+x*y, syy+y*y
	}
	cxx, cxy, cyy := sxx-sx*sx/n, sxy-sx*sy/n, syy-sy*sy/n
	slope := -cxy / cxx
	if !(slope > 0.4 && slope < 2.5) {
		return math.Inf(1)
	}
	return (cyy - cxy*cxy/cxx) / n
}

// Limits of what passes for an even patch in the working picture.
const (
	patchLeast = 24    // pixels
	patchMost  = 0.15  // of the picture
	patchFull  = 0.75  // of the area a rectangle of its spread would have
	patchOver  = 1.25  // the same, at most
	patchThin  = 0.001 // least ratio of its spreads
)

// evenPatches finds the even areas of a photograph that are about as solid as a
// rectangle.
func evenPatches(p *Photo) []greyPatch {
	k := markStep(p)
	work := p.shrunk(k)
	code := work.clone()
	for i, v := range code.v {
		code.v[i] = float32(255 * encodeSRGB(float64(max(v, 0))))
	}
	code = code.blur(0.8)
	w := work.w
	even := evenPixels(code)
	var out []greyPatch
	var stack []int
	for start := range even {
		if !even[start] {
			continue
		}
		even[start] = false
		stack = append(stack[:0], start)
		var in []int
		for len(stack) > 0 {
			i := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			in = append(in, i)
			for _, j := range [4]int{i - 1, i + 1, i - w, i + w} {
				if even[j] {
					even[j] = false
					stack = append(stack, j)
				}
			}
		}
		if q, ok := patchOf(work, in); ok {
			q.at = Point{q.at.X*float64(k) + float64(k-1)/2, q.at.Y*float64(k) + float64(k-1)/2}
			out = append(out, q)
		}
	}
	return out
}

// evenPixels tells the pixels where the picture, in 8-bit counts, hardly rises
// or falls. What counts as hardly goes by its noise. The border is never even.
func evenPixels(code *plane) []bool {
	w, h := code.w, code.h
	slope := make([]float64, w*h)
	var some []float64
	for y := 1; y < h-1; y++ {
		for x := 1; x < w-1; x++ {
			i := y*w + x
			slope[i] = math.Hypot(float64(code.v[i+1]-code.v[i-1]), float64(code.v[i+w]-code.v[i-w])) / 2
			if (x+y)%7 == 0 {
				some = append(some, slope[i])
			}
		}
	}
	// A step of a tenth of a density, in the dark, is four counts over three pixels.
	most := min(max(3.5*median(some), 0.45), 1.5)
	even := make([]bool, w*h)
	for y := 1; y < h-1; y++ {
		for x := 1; x < w-1; x++ {
			even[y*w+x] = slope[y*w+x] < most
		}
	}
	return even
}

// clippedShare is the share of the photograph at the top of the scale.
func (p *Photo) clippedShare() float64 {
	var s float64
	for _, v := range p.clipped.v {
		s += float64(v)
	}
	return s / float64(len(p.clipped.v))
}

// patchOf reads an area given by its pixels; false when it is too small, too
// large, or no solid rectangle.
func patchOf(work *plane, in []int) (greyPatch, bool) {
	n := float64(len(in))
	if len(in) < patchLeast || n > patchMost*float64(len(work.v)) {
		return greyPatch{}, false
	}
	var sx, sy, sxx, sxy, syy float64
	v := make([]float64, len(in))
	for i, at := range in {
		x, y := float64(at%work.w), float64(at/work.w)
		sx, sy, sxx, sxy, syy = sx+x, sy+y, sxx+x*x, sxy+x*y, syy+y*y
		v[i] = float64(work.v[at])
	}
	cx, cy := sx/n, sy/n
	cxx, cxy, cyy := sxx/n-cx*cx, sxy/n-cx*cy, syy/n-cy*cy
	det := cxx*cyy - cxy*cxy
	// A rectangle of sides a and b spreads by a2/12 and b2/12.
	full := n / (12 * math.Sqrt(max(det, 1e-9)))
	if !(full > patchFull && full < patchOver) || det < patchThin*(cxx+cyy)*(cxx+cyy) {
		return greyPatch{}, false
	}
	q := greyPatch{at: Point{cx, cy}, area: n}
	q.read(v)
	return q, true
}
