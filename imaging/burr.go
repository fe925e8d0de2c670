package imaging

import "math"

// burrWork is where the reference shows burr: the soft halo beside drypoint
// lines, clear of the lines themselves.
type burrWork struct {
	fading bool      // a fringe that fades from the lines; otherwise broad plateaus
	halo   []int32   // samples
	near   []float32 // how much of the lines beside them reaches each, about
	mass   float64   // sum of the reference's coverage there, samples
}

const (
	burrRadius = 0.2   // mm; strokes narrower than twice this are no halo
	burrLeast  = 0.05  // coverage from which a halo counts
	burrMost   = 0.55  // coverage above which it is solid line
	burrBroad  = 0.15  // mm, half the narrowest halo believed: flanks of lines are narrower
	burrClear  = 0.09  // mm kept clear of lines within a halo
	burrShare  = 0.008 // of all line ink, below which the reference has no burr to lose
	burrMass   = 1.5   // mm2 of coverage, likewise
)

// Why no burr loss can be told of a reference.
const (
	burrUnseen  = "Burr loss cannot be told: the reference shows no burr, or too little to stand out from blur and ground, as traces of drypoint in an etched plate are."
	burrCrowded = "Burr loss cannot be told: the ground beside the reference's lines is too uneven, or the lines too crowded, for burr to stand out."
)

// findBurr looks for burr as a fringe fading away beside the lines, and if
// there is none as broad plateaus. Where it finds none it says why.
func findBurr(s *Sheet, cov *plane) (b *burrWork, why string) {
	var all float64
	for i, v := range cov.v {
		if s.Valid[i] && s.Line[i] {
			all += float64(v)
		}
	}
	soft := cov.blur(0.5)
	core := make([]bool, len(soft.v))
	for i, v := range soft.v {
		core[i] = v > fringeCore
	}
	bare := beyond(s, cov, core)
	if bare > bareMost {
		return nil, burrCrowded
	}
	if b = findFringe(s, cov, core, all, bare); b == nil {
		b = findPlateaus(s, cov, all)
	}
	if b == nil {
		return nil, burrUnseen
	}
	return b, ""
}

// Where a fringe is looked for: this far from what is surely line, in mm, and
// how much must lie there, as a mean and as a share of all line ink, to be more
// than blur.
const (
	fringeCore  = 0.22
	fringeFrom  = 0.18
	fringeTo    = 0.45
	fringeLocal = 0.02
	fringeMean  = 0.0095
	fringeShare = 0.011
	fringePlate = 6e-4 // of the plate's area
	fringeBare  = 0.6  // mm; from here to a millimetre no fringe reaches:
	fringeRest  = 0.35 // what still lies there, as a share of it, is an uncertain ground or faint work
	bareMost    = 8e-3 // mean coverage there from which thin burr cannot be told at all
)

// findFringe gathers the ring around all lines where, over half a millimetre,
// it carries ink.
func findFringe(s *Sheet, cov *plane, core []bool, all, bare float64) *burrWork {
	far := grow(core, s.Cols, s.Rows, int(math.Round(fringeTo*s.PxPerMM)))
	near := grow(core, s.Cols, s.Rows, int(math.Round(fringeFrom*s.PxPerMM)))
	num, den := newPlane(s.Cols, s.Rows), newPlane(s.Cols, s.Rows)
	var sum, n float64
	for i := range far {
		far[i] = far[i] && !near[i] && s.Valid[i]
		if far[i] {
			num.v[i], den.v[i] = cov.v[i], 1
			sum += float64(cov.v[i])
			n++
		}
	}
	if n == 0 || sum/n < fringeMean || bare > fringeRest*sum/n {
		return nil
	}
	num, den = num.blur(0.45*s.PxPerMM), den.blur(0.45*s.PxPerMM)
	b := &burrWork{fading: true}
	for i := range far {
		if far[i] && num.v[i] > fringeLocal*den.v[i] {
			b.halo = append(b.halo, int32(i))
			b.mass += float64(cov.v[i])
		}
	}
	if b.mass < fringeShare*all || b.mass < fringePlate*float64(len(cov.v)) {
		return nil
	}
	return b
}

// beyond is the mean coverage where no fringe reaches, and no other line.
func beyond(s *Sheet, cov *plane, core []bool) float64 {
	near := grow(core, s.Cols, s.Rows, int(math.Round(fringeBare*s.PxPerMM)))
	far := grow(core, s.Cols, s.Rows, int(math.Round(s.PxPerMM)))
	var sum, n float64
	for i := range far {
		if far[i] && !near[i] && s.Valid[i] {
			sum += float64(cov.v[i])
			n++
		}
	}
	return sum / max(n, 1)
}

// findPlateaus looks for plateaus of thin coverage broader than any stroke: what
// an opening of the coverage (its least value over a square, then the greatest
// of those) leaves standing.
func findPlateaus(s *Sheet, cov *plane, all float64) *burrWork {
	r := int(math.Round(burrRadius * s.PxPerMM))
	soft := cov.blur(0.05 * s.PxPerMM)
	open := maxWithin(minWithin(soft, r), r)
	off := make([]bool, len(soft.v)) // no plateau
	for i, o := range open.v {
		off[i] = !(s.Valid[i] && o > burrLeast && o < burrMost && soft.v[i]-o < 0.03+0.1*o)
	}
	broad, clear := int(math.Round(burrBroad*s.PxPerMM)), max(1, int(math.Round(burrClear*s.PxPerMM)))
	on := grow(off, s.Cols, s.Rows, broad)
	for i := range on {
		on[i] = !on[i]
	}
	on = grow(on, s.Cols, s.Rows, broad)
	for i := range on {
		on[i] = !on[i]
	}
	off = grow(on, s.Cols, s.Rows, clear)
	b := &burrWork{}
	// What stands out of the plateaus, blurred, is what lines spill on them.
	sharp := newPlane(s.Cols, s.Rows)
	for i, o := range open.v {
		sharp.v[i] = max(0, soft.v[i]-o-0.03)
	}
	spill := sharp.blur(0.1 * s.PxPerMM)
	for i, v := range off {
		if !v {
			b.halo = append(b.halo, int32(i))
			b.near = append(b.near, spill.v[i])
			b.mass += float64(cov.v[i])
		}
	}
	if b.mass < burrShare*all || b.mass < burrMass*s.PxPerMM*s.PxPerMM {
		return nil
	}
	return b
}

// loss compares the halo of an impression with the reference's. With c the
// reference's coverage and s the spill of lines, an impression shows about
// k*c + l*s, k what is left of the burr and l what more is left of the lines;
// least squares part the two.
// A fringe, too thin to be parted so, is summed.
func (b *burrWork) loss(ref, mov *plane) float64 {
	if b.fading {
		var m, m0 float64
		for _, i := range b.halo {
			if v := float64(mov.v[i]); v == v {
				m += v
				m0 += float64(ref.v[i])
			}
		}
		return 1 - m/m0
	}
	var cc, cs, ss, mc, ms float64
	for k, i := range b.halo {
		m, c, s := float64(mov.v[i]), float64(ref.v[i]), float64(b.near[k])
		if m != m {
			continue
		}
		cc += c * c
		cs += c * s
		ss += s * s
		mc += m * c
		ms += m * s
	}
	det := cc*ss - cs*cs
	if det < 1e-3*cc*ss {
		return 1 - mc/cc
	}
	return 1 - (mc*ss-ms*cs)/det
}
