package imaging

import (
	"math"
)

// tally is what is summed over the plate for a pair of sheets, mm2.
type tally struct {
	mov, ref             float64 // coverage on the support
	strongMov, strongRef float64 // of the strongest lines
	fineMov, fineRef     float64 // of the others
	area                 float64 // of support
}

func (a *tally) add(b *tally) {
	a.mov += b.mov
	a.ref += b.ref
	a.strongMov += b.strongMov
	a.strongRef += b.strongRef
	a.fineMov += b.fineMov
	a.fineRef += b.fineRef
	a.area += b.area
}

func (a *tally) scale(f float64) {
	a.mov *= f
	a.ref *= f
	a.strongMov *= f
	a.strongRef *= f
	a.fineMov *= f
	a.fineRef *= f
	a.area *= f
}

// tileMM is the side of the tiles of the maps.
const tileMM = 5.0

// tiles tallies a pair of sheets in tiles, on the reference's line work.
func (r *Reference) tiles(s *Sheet) ([]tally, Map) {
	m := newMap(r.Size, tileMM)
	out := make([]tally, len(m.V))
	border := int(math.Ceil(rim * s.PxPerMM))
	k := tileMM * s.PxPerMM
	strips1(m.Rows, func(row int) {
		y0, y1 := int(math.Ceil(float64(row)*k)), int(math.Ceil(float64(row+1)*k))
		for y := max(y0, border); y < min(y1, s.Rows-border); y++ {
			for x := border; x < s.Cols-border; x++ {
				i := y*s.Cols + x
				if !r.lines.support[i] {
					continue
				}
				a, b := float64(s.Coverage[i]), float64(r.Sheet.Coverage[i])
				if a != a || b != b {
					continue
				}
				t := &out[row*m.Cols+min(int(float64(x)/k), m.Cols-1)]
				t.mov += a
				t.ref += b
				t.area++
				if r.lines.strong[i] {
					t.strongMov += a
					t.strongRef += b
				} else {
					t.fineMov += a
					t.fineRef += b
				}
			}
		}
	})
	for i := range out {
		out[i].scale(1 / (s.PxPerMM * s.PxPerMM))
	}
	return out, m
}

// strips1 runs f for every row on all processors.
func strips1(n int, f func(i int)) {
	strips(n*32, func(k, _, _ int) { f(k) })
}

// score fills in the scores and maps of a sheet against the reference.
func (r *Reference) score(s *Sheet, res *Result, regions []Region) {
	tiles, m := r.tiles(s)
	var all tally
	for i := range tiles {
		all.add(&tiles[i])
	}
	why := map[string]string{}
	sc := &res.Scores
	sc.Why = why
	inkF, inkU := inkRatio(s, r.Sheet)
	for i := range tiles {
		tiles[i].mov, tiles[i].strongMov, tiles[i].fineMov = tiles[i].mov*inkF, tiles[i].strongMov*inkF, tiles[i].fineMov*inkF
	}
	all.mov, all.strongMov, all.fineMov = all.mov*inkF, all.strongMov*inkF, all.fineMov*inkF
	budget := r.budget(s, all, inkU, res.Registration.ResidualMM)
	res.Budget = budget.lines()

	loss := 1 - all.mov/all.ref
	sc.InkLoss = &Value{loss, budget.inkLoss()}

	t := toneOf(s)
	d, _ := t.mean()
	sc.ToneP5, sc.ToneP95 = t.percentiles()
	if s.light.trimmed {
		why["plate_tone"] = "The sheet shows no margin, so there is no bare paper to tell the plate tone against."
	} else {
		sc.PlateTone = &Value{d, budget.tone(d)}
	}
	res.ToneMap = t.tiles(r.Size, tileMM)
	w := wipingOf(t)
	sc.ToneUnevenness = &Value{w.spread, 0.0005 + 0.1*w.spread}
	if w.q >= streakLeast && w.spread > 0.0015 {
		sc.StreakDegrees = &Value{w.degrees, w.spin}
	} else {
		why["streak_degrees"] = "The plate tone shows no streaks that run one way."
	}

	gain, gainU := all.strongMov/all.strongRef, budget.inkLoss()*2
	sc.OverInking = &Value{gain - 1, gainU}
	if all.fineRef > 0.2*all.ref && gain > 0.2 {
		wear := 1 - all.fineMov/all.fineRef/gain
		sc.WearLoss = &Value{wear, 1.5 * budget.inkLoss()}
	} else {
		why["wear_loss"] = "The reference has too few fine lines beside strong ones to tell wear from inking."
	}

	for i, c := range tiles {
		m.V[i] = math.NaN()
		if c.ref >= 0.03*tileMM*tileMM {
			m.V[i] = 1 - c.mov/c.ref
		}
	}
	res.InkLossMap = m
	r.scoreDetail(s, sc, gain, budget)
	for _, g := range regions {
		res.Regions = append(res.Regions, r.scoreRegion(s, t, g, budget, inkF))
	}
	if res.Registration.State == "doubtful" {
		res.Reason = "The sheet could be laid on the reference only doubtfully; its lines may have changed much, or the paper buckles."
	}
}

// streakLeast is the agreement from which streaks are said to run one way:
// unevenness without streaks stays below it nineteen times in twenty.
const streakLeast = 0.3

// scoreDetail measures what needs both sheets equally sharp: burr and lost
// lines.
func (r *Reference) scoreDetail(s *Sheet, sc *Scores, gain float64, b *budget) {
	ref, mov := r.matched(s)
	if r.lines.burr == nil {
		sc.Why["burr_loss"] = r.lines.noBurr
	} else {
		a, c := ref, mov
		if r.lines.burr.fading {
			// Losing its fringe a line looks sharper: what passes for a change
			// of blur is none.
			a, c = &plane{w: s.Cols, h: s.Rows, v: r.Sheet.Coverage}, &plane{w: s.Cols, h: s.Rows, v: s.Coverage}
		}
		v := r.lines.burr.loss(a, c)
		sc.BurrLoss = &Value{v, b.burr(v)}
	}
	r.scoreLost(s, sc, ref, mov, gain, b)
}

// matched returns both coverages under the same blur: the sharper is blurred
// to the softer.
func (r *Reference) matched(s *Sheet) (ref, mov *plane) {
	ref = &plane{w: s.Cols, h: s.Rows, v: r.Sheet.Coverage}
	mov = &plane{w: s.Cols, h: s.Rows, v: s.Coverage}
	d := s.BlurMM*s.BlurMM - r.Sheet.BlurMM*r.Sheet.BlurMM
	sigma := math.Sqrt(math.Abs(d)) * s.PxPerMM
	if !(sigma > 0.3) {
		return ref, mov
	}
	if d > 0 {
		return ref.blur(sigma), mov
	}
	return ref, mov.blur(sigma)
}

// Limits on when a place on a line counts as lost: what still prints there
// against what is expected of the inking.
const (
	lostBelow   = 0.25
	lostAround  = 0.45
	lostGathers = 0.2 // mm over which a place is judged
)

// scoreLost measures how much line no longer prints.
func (r *Reference) scoreLost(s *Sheet, sc *Scores, ref, mov *plane, gain float64, b *budget) {
	k := lostGathers * s.PxPerMM
	m1 := gatheredAt(r.lines.axis, mov, k)
	m0 := r.lines.gathered
	if &ref.v[0] != &r.Sheet.Coverage[0] {
		m0 = gatheredAt(r.lines.axis, ref, k)
	}
	noise := b.spot
	var lost, near, tested float64
	weak := make([]bool, len(r.lines.axis))
	for i, a := range r.lines.axis {
		v0, v1 := float64(m0[i]), float64(m1[i])
		if v1 != v1 || v0 < 8*noise {
			continue
		}
		tested += float64(a.length)
		q := v1 / (gain * v0)
		if q < lostBelow {
			lost += float64(a.length)
			weak[i] = true
		} else if q < lostAround {
			near += float64(a.length)
		}
	}
	if tested < 0.3*r.lines.length || tested == 0 {
		sc.Why["lines_lost_mm"] = "Too much of the line work is too faint for the noise of the photographs to tell lost lines."
		return
	}
	u := math.Hypot(0.002*tested, 0.25*math.Sqrt(lost*near+near*near))
	sc.LinesLostMM = &Value{lost, u}
	sc.LinesLost = &Value{lost / tested, u / tested}
}
