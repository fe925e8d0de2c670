package imaging

import "math"

// burrWork is where the reference shows burr: the soft halo beside drypoint
// lines, clear of the lines themselves.
type burrWork struct {
	halo []int32 // samples
	mass float64 // sum of the reference's coverage there, samples
}

const (
	burrRadius = 0.2   // mm; strokes narrower than twice this are no halo
	burrLeast  = 0.05  // coverage from which a halo counts
	burrMost   = 0.55  // coverage above which it is solid line
	burrShare  = 0.012 // of all line ink, below which the reference has no burr to lose
)

// findBurr looks for plateaus of thin coverage broader than any stroke: what
// an opening of the coverage (its least value over a square, then the greatest
// of those) leaves standing.
func findBurr(s *Sheet, cov *plane) *burrWork {
	r := int(math.Round(burrRadius * s.PxPerMM))
	soft := cov.blur(0.05 * s.PxPerMM)
	open := maxWithin(minWithin(soft, r), r)
	b := &burrWork{}
	var all float64
	for y := 0; y < s.Rows; y++ {
		for x := 0; x < s.Cols; x++ {
			i := y*s.Cols + x
			if !s.Valid[i] {
				continue
			}
			if s.Line[i] {
				all += float64(cov.v[i])
			}
			o := open.v[i]
			if o > burrLeast && o < burrMost && soft.v[i]-o < 0.04+0.25*o {
				b.halo = append(b.halo, int32(i))
				b.mass += float64(cov.v[i])
			}
		}
	}
	if b.mass < burrShare*all {
		return nil
	}
	return b
}
