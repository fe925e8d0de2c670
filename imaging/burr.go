package imaging

import "math"

// burrWork is where the reference shows burr: the soft halo beside drypoint
// lines, clear of the lines themselves.
type burrWork struct {
	halo []int32   // samples
	near []float32 // how much of the lines beside them reaches each, about
	mass float64   // sum of the reference's coverage there, samples
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

// findBurr looks for plateaus of thin coverage broader than any stroke: what
// an opening of the coverage (its least value over a square, then the greatest
// of those) leaves standing.
func findBurr(s *Sheet, cov *plane) *burrWork {
	r := int(math.Round(burrRadius * s.PxPerMM))
	soft := cov.blur(0.05 * s.PxPerMM)
	open := maxWithin(minWithin(soft, r), r)
	off := make([]bool, len(soft.v)) // no plateau
	var all float64
	for i, o := range open.v {
		if s.Valid[i] && s.Line[i] {
			all += float64(cov.v[i])
		}
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
func (b *burrWork) loss(ref, mov *plane) float64 {
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
