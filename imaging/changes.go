package imaging

import (
	"context"
	"math"
	"slices"
)

// Kinds of Change.
const (
	Added          = "added"
	Removed        = "removed"
	ChangedTexture = "changed texture"
	CannotSee      = "cannot see"
)

// lineWidth is the standard deviation of the Gaussian under which lines are
// looked for, mm: wide enough to be blind to paper grain, narrow enough to
// part the strokes of hatching.
const lineWidth = 0.12

// Compare finds what work was added to and removed from a plate between two
// photographs. Wear, inking, plate tone and faults of the paper are not
// changes. Boxes lie in the frame of the plate as before shows it; the Result
// tells how well the two lie on one another. Photographs that cannot be
// compared give a Result with verdict Refused and the reason.
func Compare(ctx context.Context, before, after *Photo, size Size) ([]Change, *Result, error) {
	a, b, res, free, err := compareSheets(ctx, before, after, size)
	if r, ok := refusalOf(err); ok {
		return nil, &Result{Verdict: Refused, Reason: r.Reason, Refusal: r}, nil
	}
	if err != nil || res.Verdict == Refused {
		return nil, res, err
	}
	if free {
		return changedAreas(a, b), res, nil
	}
	return Changes(a, b), res, nil
}

// compareSheets lays both photographs on the plate; where there is no plate
// mark and margin to go by in one of them, freely on one another.
func compareSheets(ctx context.Context, before, after *Photo, size Size) (a, b *Sheet, res *Result, free bool, err error) {
	a, b, res, err = compareFramed(ctx, before, after, size)
	_, refused := refusal(err)
	if !refused && (err != nil || res.Verdict == Measured) {
		return a, b, res, false, err
	}
	// Another plate, a mirrored picture or one out of focus stays refused.
	if !refused {
		if _, ferr := findFrame(ctx, after, size); ferr == nil {
			return nil, nil, res, false, nil
		}
	}
	r, coarse, how := frameless(ctx, before, size)
	laid, found, ferr := r.registerFree(ctx, coarse, after, size)
	if _, too := refusal(ferr); too {
		return nil, nil, res, false, err // the first reason tells more
	}
	if ferr != nil {
		return nil, nil, nil, false, ferr
	}
	if how != "found" {
		found.Reason = "No plate mark was found: places are counted from the corner of the first picture, and sizes are approximate."
	}
	return r.Sheet, laid, found, true, nil
}

func compareFramed(ctx context.Context, before, after *Photo, size Size) (*Sheet, *Sheet, *Result, error) {
	mark, err := findFrame(ctx, before, size)
	if err != nil {
		return nil, nil, nil, err
	}
	r, err := Prepare(ctx, before, mark, size)
	if err != nil {
		return nil, nil, nil, err
	}
	s, res, err := r.Register(ctx, after, MeasureOptions{})
	return r.Sheet, s, res, err
}

// findFrame is the plate mark of a photograph, if it can be that of the plate.
func findFrame(ctx context.Context, p *Photo, size Size) (PlateMark, error) {
	mark, err := FindPlate(ctx, p, size)
	if err == nil && !plausible(mark.Corners, size) {
		err = refuse("No plate mark of the size given was found in %s: what was found has other proportions.", p.Path)
	}
	return mark, err
}

// Changes compares two sheets on one grid: the reference's own and one
// registered on it.
func Changes(before, after *Sheet) []Change {
	var out []Change
	if min(before.NativePx, after.NativePx) < fineEnough {
		return changedAreas(before, after)
	}
	soft := math.Max(before.BlurMM, after.BlurMM)
	fa, fb := before.lineField(soft), after.lineField(soft)
	added := fb.patchesNotIn(fa, before.PxPerMM, Added)
	removed := fa.patchesNotIn(fb, before.PxPerMM, Removed)
	out = append(out, told(added, removed, Added)...)
	out = append(out, told(removed, added, Removed)...)
	out = append(out, hidden(before, after)...)
	slices.SortStableFunc(out, func(a, b Change) int { return sign(b.AreaMM2 - a.AreaMM2) })
	return out
}

// told lists what is said of the patches of one kind: those that are more
// likely work than wear, and as not to be told the passages gone that wear may
// have taken as well.
func told(patches, other []workPatch, kind string) []Change {
	var out []Change
	for i := range patches {
		p := &patches[i]
		switch {
		case p.sure() >= 0.5 && !p.coveredBy(other):
			out = append(out, p.change(kind))
		case p.sure() < 0.5 && !p.calm && p.length > smallPatch && p.gone() > 0.6:
			out = append(out, p.change(CannotSee))
		}
	}
	return out
}

// coveredBy reports whether a patch that is gone in part lies under work of
// the other kind: new lines hide the old ones beneath them.
func (p *workPatch) coveredBy(other []workPatch) bool {
	for i := range other {
		q := &other[i]
		if p.kept > 0.3 && q.sure() >= 0.5 && q.length > p.length && shareOf(p.box, q.box) > 0.8 {
			return true
		}
	}
	return false
}

// shareOf is the share of box a that b covers.
func shareOf(a, b [4]float64) float64 {
	w, h := min(a[2], b[2])-max(a[0], b[0]), min(a[3], b[3])-max(a[1], b[1])
	if w <= 0 || h <= 0 {
		return 0
	}
	return w * h / ((a[2] - a[0]) * (a[3] - a[1]))
}

// hidden lists the areas where lines could not be compared: outside one of the
// photographs, under solid black, or where the two sheets lie on one another
// too uncertainly.
func hidden(before, after *Sheet) []Change {
	const scale, least = 2.0, 9 // samples to the millimetre; mm2
	k := max(1, int(math.Round(before.PxPerMM/scale)))
	f := before.PxPerMM / float64(k)
	cover := func(s *Sheet) *plane {
		p := &plane{w: s.Cols, h: s.Rows, v: slices.Clone(s.Coverage)}
		for i, v := range p.v {
			if v != v {
				p.v[i] = 1
			}
		}
		return p.shrink(k).blur(0.5 * f)
	}
	a, b := cover(before), cover(after)
	mask := make([]bool, len(a.v))
	edge := int(math.Ceil(rim * f))
	for y := edge; y < a.h-edge; y++ {
		for x := edge; x < a.w-edge; x++ {
			i := y*a.w + x
			mask[i] = a.v[i] > 0.9 || b.v[i] > 0.9 || after.misplaced(float64(x)/f, float64(y)/f)
		}
	}
	return areasOf(a, mask, f, 0.5, least, CannotSee)
}

// misplaced reports whether the registration at a place is too uncertain to
// compare lines: beyond the reach within which a line is looked for.
func (s *Sheet) misplaced(x, y float64) bool {
	m := &s.RegU
	if m.StepMM <= 0 || len(m.V) == 0 {
		return false
	}
	i := min(int(y/m.StepMM), m.Rows-1)*m.Cols + min(int(x/m.StepMM), m.Cols-1)
	return m.V[i] > 0.2
}

// lineField smooths the sheet's coverage to the blur soft (mm) and the width
// at which lines are looked for.
func (s *Sheet) lineField(soft float64) *lineField {
	a := &plane{w: s.Cols, h: s.Rows, v: slices.Clone(s.Coverage)}
	extra := max(0, soft*soft-s.BlurMM*s.BlurMM)
	return newLineField(a, max(0.9, math.Sqrt(lineWidth*lineWidth+min(extra, 0.02))*s.PxPerMM))
}

// change states a patch for the reader.
func (p *workPatch) change(kind string) Change {
	return Change{Kind: kind, Box: p.box, AreaMM2: p.area, Sure: p.sure()}
}

// patchesNotIn finds all patches of lines of one sheet that the other has not
// and weighs them against wear. kind says what they are, if they are work.
func (f *lineField) patchesNotIn(other *lineField, s float64, kind string) []workPatch {
	pts := linesMissing(f, other, s)
	found := gather(pts, s, kind)
	wearOf(pts, found).judge(found)
	return found
}

// linesMissing lists the line points of one sheet with their presence in
// another, inking divided out: the strongest quarter of the lines is taken to
// be there in full.
func linesMissing(from, in *lineField, s float64) []linePoint {
	pts := from.axes(0.03, int(rim*s))
	strips(len(pts), func(_, lo, hi int) {
		for i := lo; i < hi; i++ {
			pts[i].lookUp(from, in, s)
		}
	})
	rs := make([]float64, len(pts))
	for i := range pts {
		rs[i] = float64(pts[i].r)
	}
	strong := float32(quantile(rs, 0.75))
	var qs []float64
	for i := range pts {
		if pts[i].r >= strong {
			qs = append(qs, float64(pts[i].present))
		}
	}
	gain := float32(min(max(median(qs), 0.4), 2))
	for i := range pts {
		pts[i].present /= gain
	}
	return pts
}
