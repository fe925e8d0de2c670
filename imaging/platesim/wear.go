package platesim

import "math"

// worn returns the width and the darkness 0..1 that a node of a stroke still
// prints after so many pulls, and how much of its burr is left. loss is the
// metal taken from the plate's face, in the units of depth.
//
// A graver's groove is a V: taking metal off the face narrows it. A bitten
// groove has steep walls: it keeps its width, pales, and then breaks up. Burr
// is thin metal above the face and folds within the first dozens of pulls.
func (s *stroke) worn(i int, along, loss, pulls float64) (w, ink, burr float64) {
	p := s.pts[i]
	depth := s.depth * (1 + 0.18*ripple(along/1.7, 0, s.seed))
	if s.tech == Etched {
		loss *= 1.3 // bitten grooves are the shallower
	}
	left := math.Max(0, 1-loss/depth)
	switch s.tech {
	case Etched:
		w = p.w * (0.55 + 0.45*left)
		ink = ease(0, 0.35, left)
	case Drypoint:
		w = p.w * left
		ink = ease(0, 0.25, left)
		burr = math.Exp(-pulls / burrLife)
	default:
		w = p.w * left
		ink = ease(0, 0.2, left)
	}
	return w, ink, burr
}

// burrLife is how many pulls take burr to 1/e: most of it is gone after the
// 20 to 30 good impressions usual of drypoint (common practice).
const burrLife = 14.0

// faceLoss is the metal a plate has lost after so many pulls: a little quicker
// at first, while the face still has its tool marks.
func (p *Plate) faceLoss(pulls float64) float64 {
	return p.wearRate * math.Pow(math.Max(pulls, 0), 0.9)
}
