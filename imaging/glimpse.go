package imaging

import (
	"math"
	"slices"
)

// Glimpse is the line work of one photograph at about one sample to the
// millimetre: enough to tell plates apart, and small enough to keep one of
// every plate of a catalogue. It is never changed once made.
type Glimpse struct {
	Size   Size
	levels []level
}

// glimpseScale is the samples to the millimetre of the finer of the two levels
// a glimpse is compared on.
const glimpseScale = 2.4

// NewGlimpse takes a glimpse of a photograph by its plate mark, whose corners
// run from the plate's top-left as the reference stands upright.
func NewGlimpse(p *Photo, m PlateMark, size Size) (*Glimpse, error) {
	if !(size.Height > 0 && size.Width > 0) {
		return nil, refuse("The plate's height and width must be given in millimetres.")
	}
	h, err := quadMapping(size.rectangle(), m.Corners)
	if err != nil || !(m.Corners.area() > 0) {
		return nil, refuse("The four corners do not make a plate mark.")
	}
	return &Glimpse{size, coverageLevels(p, &mapping{h: h}, &light{r: 1}, size, glimpseScale)}, nil
}

// Likeness says how well the lines of a photograph lie on the glimpse under a
// plate mark, whichever way the sheet is turned: a correlation, -1..1. Sheets
// of one plate reach 0.75 but for heavy wear and rework; other plates stay
// below 0.5. A mark of other proportions than the plate's is no likeness.
func (g *Glimpse) Likeness(p *Photo, m PlateMark) float64 {
	best := -1.0
	for k := range 4 {
		q := m.Corners.turned(k)
		if !q.fits(g.Size, fitsWithin) {
			continue
		}
		h, err := quadMapping(g.Size.rectangle(), q)
		if err != nil {
			continue
		}
		levels := coverageLevels(p, &mapping{h: h}, &light{r: 1}, g.Size, glimpseScale)
		last := g.levels[len(g.levels)-1]
		best = max(best, alignECC(last.cov, levels[len(levels)-1].cov, last.g, identity, 3, 15).rho)
		if best > 0.9 {
			break
		}
	}
	return best
}

// fitsWithin is how far, as a share, the proportions of a plate mark in a
// photograph may be from those of its plate: paper stretches by a hundredth or
// two, and a tilted camera shortens one side by as much.
const fitsWithin = 0.07

// Fits reports whether a plate mark found in a photograph can be that of a
// plate of the given size, whichever way it is turned.
func (m PlateMark) Fits(size Size) bool {
	return m.Corners.fits(size, fitsWithin) || m.Corners.turned(1).fits(size, fitsWithin)
}

func (q Quad) fits(s Size, within float64) bool {
	a := (q.sideLength(0) + q.sideLength(2)) / (q.sideLength(1) + q.sideLength(3))
	return math.Abs(math.Log(a/(s.Width/s.Height))) < within
}

// SameProportions reports whether a plate mark sought for one size is found as
// well when it is sought for the other: the search allows three parts in a
// hundred, and then follows the sides.
func SameProportions(a, b Size) bool {
	r := []float64{a.Height / a.Width, b.Height / b.Width}
	for i := range r {
		r[i] = max(r[i], 1/r[i])
	}
	return slices.Max(r)/slices.Min(r) < 1.035
}
