package imaging

import (
	"math"
	"slices"
)

// workPatch is a patch of lines that one sheet has and the other has not.
type workPatch struct {
	pts     []int      // indices of its points
	box     [4]float64 // mm
	length  float64    // of line, mm
	strokes int
	area    float64 // mm2, the ground the strokes cover with their gaps
	thinned float64 // share of like lines among its own that are only weaker
	kept    float64 // and that are there in full
	r       float64 // median strength
	c2, s2  float64 // sum of the double angles across its lines
	calm    bool    // wear leaves lines of such strength alone on this plate
	weight  float64 // evidence against wear, natural log
}

const (
	absentBelow = 0.25 // presence below which a line is gone
	weakBelow   = 0.6  // and below which it is weaker than wear of its neighbours tells
)

// buckets finds points near a place.
type buckets struct {
	cell float64
	at   map[[2]int32][]int
}

func newBuckets(pts []linePoint, idx []int, cell float64) *buckets {
	b := &buckets{cell, map[[2]int32][]int{}}
	for _, i := range idx {
		k := b.key(&pts[i])
		b.at[k] = append(b.at[k], i)
	}
	return b
}

func (b *buckets) key(p *linePoint) [2]int32 {
	return [2]int32{int32(float64(p.x) / b.cell), int32(float64(p.y) / b.cell)}
}

// near calls f with every point in p's cell and the eight around it.
func (b *buckets) near(p *linePoint, f func(i int)) {
	k := b.key(p)
	for dy := int32(-1); dy <= 1; dy++ {
		for dx := int32(-1); dx <= 1; dx++ {
			for _, i := range b.at[[2]int32{k[0] + dx, k[1] + dy}] {
				f(i)
			}
		}
	}
}

// forest is a union of sets of points.
type forest map[int]int

func (f forest) root(i int) int {
	for f[i] != i {
		f[i] = f[f[i]]
		i = f[i]
	}
	return i
}

func (f forest) join(i, j int) {
	a, b := f.root(i), f.root(j)
	if a != b {
		f[max(a, b)] = min(a, b)
	}
}

// sets lists the members of each set, sets in the order of their first point.
func (f forest) sets(idx []int) [][]int {
	where := map[int]int{}
	var out [][]int
	for _, i := range idx {
		r := f.root(i)
		k, ok := where[r]
		if !ok {
			k = len(out)
			where[r] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], i)
	}
	return out
}

// linked joins points that are within far samples of one another and whose
// lines turn less than bend against each other.
func linked(pts []linePoint, idx []int, far, bend float64) forest {
	f := forest{}
	for _, i := range idx {
		f[i] = i
	}
	b := newBuckets(pts, idx, far)
	for _, i := range idx {
		p := &pts[i]
		b.near(p, func(j int) {
			if j > i && p.apart(&pts[j]) <= far && p.turn(&pts[j]) <= bend {
				f.join(i, j)
			}
		})
	}
	return f
}

// gather makes patches of the points that are gone: strokes that run alike
// and lie near one another, then whatever lies within or close by.
func gather(pts []linePoint, s float64, kind string) []workPatch {
	var clear []int // gone, and not where lines cross: there no direction holds
	for i := range pts {
		if pts[i].present < absentBelow && pts[i].round < 0.5 {
			clear = append(clear, i)
		}
	}
	strokes := strokesOf(pts, clear, s)
	var out []workPatch
	for _, set := range alike(pts, strokes, s) {
		if p := newWorkPatch(pts, set, s); p.length >= 0.8 {
			p.thinned, p.kept = fate(pts, &p, s)
			out = append(out, p)
		}
	}
	wearOf(pts, out).judge(out)
	out = slices.DeleteFunc(out, func(p workPatch) bool { return p.worn() })
	out = mergePatches(pts, out, s, kind)
	of := map[int]int{}
	for k, st := range strokes {
		for _, i := range st.pts {
			of[i] = k
		}
	}
	for i := range out {
		seen := map[int]bool{}
		for _, k := range out[i].pts {
			seen[of[k]] = true
		}
		out[i].strokes = len(seen)
		out[i].thinned, out[i].kept = fate(pts, &out[i], s)
	}
	return out
}

// worn reports whether a group of strokes looks like the victims of wear
// among others that live on.
func (p *workPatch) worn() bool {
	return p.thinned > 0.2 && !p.calm || p.gone() < 0.35
}

// gone is the share of lines gone among all that run along with the patch's
// own. Where wear leaves such lines alone, those that are only weaker are
// new lines over old ones.
func (p *workPatch) gone() float64 {
	weak, full := p.thinned/(1-p.thinned), p.kept/max(1e-9, 1-p.kept)
	if p.calm {
		return (1 + weak) / (1 + weak + full)
	}
	return 1 / (1 + weak + full)
}

// goneStroke is a run of points that are gone, with its mean direction.
type goneStroke struct {
	pts      []int
	nx, ny   float64 // unit vector across it
	straight float64 // 1 for a straight stroke, towards 0 for a ring
}

// strokesOf strings points to strokes.
func strokesOf(pts []linePoint, idx []int, s float64) []goneStroke {
	var out []goneStroke
	for _, set := range linked(pts, idx, 0.25*s, 0.35).sets(idx) {
		if float64(len(set)) < 0.5*s {
			continue
		}
		var c2, s2 float64
		for _, i := range set {
			nx, ny := float64(pts[i].nx), float64(pts[i].ny)
			c2 += nx*nx - ny*ny
			s2 += 2 * nx * ny
		}
		th := math.Atan2(s2, c2) / 2
		out = append(out, goneStroke{set, math.Cos(th), math.Sin(th), math.Hypot(c2, s2) / float64(len(set))})
	}
	return out
}

// alike groups strokes that run alike within two millimetres of one another,
// bent strokes with bent ones, and lists the points of each group.
func alike(pts []linePoint, strokes []goneStroke, s float64) [][]int {
	var idx []int
	of := map[int]int{}
	f := forest{}
	for k, st := range strokes {
		f[k] = k
		for _, i := range st.pts {
			of[i] = k
			idx = append(idx, i)
		}
	}
	b := newBuckets(pts, idx, 2*s)
	for _, i := range idx {
		p := &pts[i]
		b.near(p, func(j int) {
			k, l := of[i], of[j]
			if k < l && f.root(k) != f.root(l) && p.apart(&pts[j]) <= 2*s && strokes[k].like(&strokes[l]) {
				f.join(k, l)
			}
		})
	}
	order := make([]int, len(strokes))
	for i := range order {
		order[i] = i
	}
	var out [][]int
	for _, set := range f.sets(order) {
		var all []int
		for _, k := range set {
			all = append(all, strokes[k].pts...)
		}
		out = append(out, all)
	}
	return out
}

func (a *goneStroke) like(b *goneStroke) bool {
	const bent = 0.8
	if a.straight < bent || b.straight < bent {
		return a.straight < bent && b.straight < bent
	}
	return math.Abs(a.nx*b.nx+a.ny*b.ny) > math.Cos(0.3)
}

func newWorkPatch(pts []linePoint, set []int, s float64) workPatch {
	p := workPatch{pts: set, length: 1.1 * float64(len(set)) / s}
	p.box = [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	r := make([]float64, 0, len(set))
	for _, i := range set {
		x, y := (float64(pts[i].x)+0.5)/s, (float64(pts[i].y)+0.5)/s
		p.box[0], p.box[1] = min(p.box[0], x), min(p.box[1], y)
		p.box[2], p.box[3] = max(p.box[2], x), max(p.box[3], y)
		r = append(r, float64(pts[i].r))
		nx, ny := float64(pts[i].nx), float64(pts[i].ny)
		p.c2 += nx*nx - ny*ny
		p.s2 += 2 * nx * ny
	}
	p.r = median(r)
	p.area = spanned(pts, set, s)
	return p
}

// smallPatch is the length of line, mm, below which a patch is taken as a
// part of a neighbour.
const smallPatch = 20

// mergePatches joins patches that overlap by a third of the smaller or lie beside
// one another, and small ones to small ones within a few millimetres.
func mergePatches(pts []linePoint, ps []workPatch, s float64, kind string) []workPatch {
	for again := true; again; {
		again = false
		slices.SortStableFunc(ps, func(a, b workPatch) int { return sign(b.length - a.length) })
	search:
		for i := range ps {
			for j := i + 1; j < len(ps); j++ {
				if !belongs(&ps[i], &ps[j], kind) {
					continue
				}
				ps[i] = newWorkPatch(pts, append(slices.Clone(ps[i].pts), ps[j].pts...), s)
				ps = slices.Delete(ps, j, j+1)
				again = true
				break search
			}
		}
	}
	return ps
}

// belongs reports whether the smaller patch b is part of a: it overlaps it, or
// lies too near to be a passage of its own. What is rubbed out goes together
// whatever its direction; new work of another direction is another passage.
func belongs(a, b *workPatch, kind string) bool {
	w := min(a.box[2], b.box[2]) - max(a.box[0], b.box[0])
	h := min(a.box[3], b.box[3]) - max(a.box[1], b.box[1])
	if w > -0.3 && h > -0.3 && (w+0.3)*(h+0.3) > 0.3*min(boxArea(a.box), boxArea(b.box)) {
		return true
	}
	gap := math.Hypot(max(0, -w), max(0, -h))
	switch {
	case kind == Removed || a.along(b):
		return gap < 1.5 || a.length < smallPatch && gap < 4
	default:
		return b.length < smallPatch/2 && gap < 1 || a.length < smallPatch && gap < 4
	}
}

// along reports whether two patches are of lines that run alike.
func (a *workPatch) along(b *workPatch) bool {
	return (a.c2*b.c2+a.s2*b.s2)/(math.Hypot(a.c2, a.s2)*math.Hypot(b.c2, b.s2)+1e-9) > math.Cos(2*0.3)
}

func boxArea(b [4]float64) float64 { return (b[2] - b[0] + 0.3) * (b[3] - b[1] + 0.3) }

// sameTurn is the turn, rad, to which lines run along. What shows at a place
// and turns further is another line that crosses there, and tells nothing of
// this one.
const sameTurn = 0.15

// fate is the share of weakened and of kept points among the points that run
// along with the patch's own within a millimetre: new and removed work is gone
// altogether, wear leaves some of a set of strokes and weakens others.
func fate(pts []linePoint, p *workPatch, s float64) (thinned, kept float64) {
	b := newBuckets(pts, p.pts, s)
	var weak, full int
	for i := range pts {
		q := &pts[i]
		if q.present < absentBelow || q.veer > sameTurn {
			continue
		}
		found := false
		b.near(q, func(j int) {
			found = found || (q.apart(&pts[j]) <= s && q.turn(&pts[j]) < sameTurn)
		})
		if !found {
			continue
		}
		if q.present < weakBelow {
			weak++
		} else {
			full++
		}
	}
	n := float64(len(p.pts))
	return float64(weak) / (float64(weak) + n), float64(full) / (float64(full) + n)
}

// spanned is the area within half a millimetre of a patch's points.
func spanned(pts []linePoint, set []int, s float64) float64 {
	type cell struct{ x, y int }
	on := map[cell]bool{}
	const half = 2 // cells of a quarter of a millimetre
	for _, i := range set {
		cx, cy := int(float64(pts[i].x)/s*4), int(float64(pts[i].y)/s*4)
		for y := cy - half; y <= cy+half; y++ {
			for x := cx - half; x <= cx+half; x++ {
				on[cell{x, y}] = true
			}
		}
	}
	return float64(len(on)) / 16
}
