package imaging

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// WedgeStep is one step of a grey wedge as a photograph shows it.
type WedgeStep struct {
	Density float64 // as its maker certifies it (ISO 5-4)
	Level   float64 // linear luminance by the file's own colour profile, 1 is the top of the scale
	// Blank is the level of a blank sheet at the same place under the same light;
	// 1 for all steps where none was photographed.
	Blank float64
}

// Curve undoes what a camera does to its tones beyond its file's colour
// profile: the s-shape and the lifted shadows that make pictures pleasing and
// densities wrong. It is a smooth function of the logarithm of the level,
// learnt from a grey wedge. It is never changed once made.
type Curve struct {
	lo, hi float64 // of the steps, coded level
	c      [curveTerms]float64
	top    float64 // what is added so that the lightest step keeps its level
	// RMS is by how much the densities of the wedge are missed, root mean square.
	RMS float64
	// Departs is the largest error of a density step by step that leaving the
	// curve out would make, over the wedge.
	Departs float64
}

const (
	// curveTerms is how many B-splines the departure is made of.
	curveTerms = 7
	// curveLeast is how many steps a curve may rest on, and wedgeSpan the
	// densities they must span: the lines and the paper of a print differ by more.
	curveLeast, wedgeSpan = 5, 0.8
	// curveMissed is the error of the fit from which the wedge is not believed: a
	// reflection on a step, or densities of another wedge.
	curveMissed = 0.03
	// curveCertain is how well wedges are certified (common practice: to 0.01 D): a
	// camera that departs by no more is left as it is.
	curveCertain = 0.01
)

// curveStiff are the penalties on bending that are weighed against each other by
// leaving out one step after the other.
var curveStiff = []float64{1e-4, 1e-3, 1e-2, 1e-1}

// FitCurve learns a camera's curve from the steps of a wedge by least squares
// with a penalty on bending (P-splines, Eilers and Marx 1996), so that the
// noise of single steps does not pass into its slope. What the steps contradict
// is a *RefusedError.
func FitCurve(steps []WedgeStep) (*Curve, error) {
	if len(steps) < curveLeast {
		return nil, refuse("A wedge of %d steps is too few to learn the camera's curve from; give at least %d.", len(steps), curveLeast)
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	light, dark := math.Inf(1), math.Inf(-1)
	for _, s := range steps {
		if !(s.Level > 0 && s.Blank > 0) {
			return nil, refuse("A step of the wedge is quite black; expose it longer.")
		}
		u := encodeSRGB(s.Level)
		lo, hi = min(lo, u), max(hi, u)
		light, dark = min(light, s.Density), max(dark, s.Density)
	}
	if dark-light < wedgeSpan {
		return nil, refuse("The wedge spans densities of %.2f only; it must span %.1f at least.", dark-light, wedgeSpan)
	}
	if hi-lo < 0.2 {
		return nil, refuse("The steps of the wedge look all alike.")
	}
	best, least := 0.0, math.Inf(1)
	for _, stiff := range curveStiff {
		var sum float64
		for i := range steps {
			c := &Curve{lo: lo, hi: hi}
			c.fit(steps, i, stiff)
			r := c.missed(steps)[i]
			sum += r * r
		}
		if sum < least {
			best, least = stiff, sum
		}
	}
	c := &Curve{lo: lo, hi: hi}
	var plain float64
	for _, r := range c.missed(steps) {
		plain += r * r / float64(len(steps))
		c.Departs = max(c.Departs, math.Abs(r))
	}
	if math.Sqrt(plain) > curveCertain {
		c.fit(steps, -1, best)
	}
	for i, r := range c.missed(steps) {
		c.RMS += r * r / float64(len(steps))
		if s := steps[i]; encodeSRGB(s.Level) == hi {
			c.top = -c.departure(s.Level)
		}
	}
	c.RMS = math.Sqrt(c.RMS)
	if c.RMS > curveMissed {
		return nil, refuse("The steps of the wedge miss their densities by %.2f; see that no lamp is reflected in it and that the densities are those of this wedge.", c.RMS)
	}
	for u := lo; u < hi; u += (hi - lo) / 64 {
		a, b := linearSRGB(u), linearSRGB(u+(hi-lo)/64)
		if slope := (math.Log(c.Level(b)) - math.Log(c.Level(a))) / (math.Log(b) - math.Log(a)); !(slope > 0.25 && slope < 4) {
			return nil, refuse("The steps of the wedge do not follow one another as their densities do; see that the densities are those of this wedge.")
		}
	}
	return c, nil
}

// splines are the cubic B-splines at a coded level, over knots even in it.
func (c *Curve) splines(u float64) (b [curveTerms]float64) {
	const spans = curveTerms - 3
	t := min(max((u-c.lo)/(c.hi-c.lo), 0), 1) * spans
	i := min(int(t), spans-1)
	f := t - float64(i)
	b[i] = (1 - f) * (1 - f) * (1 - f) / 6
	b[i+1] = (3*f*f*f - 6*f*f + 4) / 6
	b[i+2] = (-3*f*f*f + 3*f*f + 3*f + 1) / 6
	b[i+3] = f * f * f / 6
	return b
}

// curveBeyond is how far beyond the steps, as a share of their span, a curve
// goes on as it ended: paper may be a little lighter than the lightest of them.
const curveBeyond = 0.12

// departure is what is to be added to the natural log of a level.
func (c *Curve) departure(level float64) float64 {
	u := encodeSRGB(level)
	s := c.within(u)
	const h = 0.02
	switch span := c.hi - c.lo; {
	case u > c.hi:
		s += min(u-c.hi, curveBeyond*span) * (c.within(c.hi) - c.within(c.hi-h*span)) / (h * span)
	case u < c.lo:
		s -= min(c.lo-u, curveBeyond*span) * (c.within(c.lo+h*span) - c.within(c.lo)) / (h * span)
	}
	return s
}

func (c *Curve) within(u float64) float64 {
	var s float64
	for k, b := range c.splines(u) {
		s += b * c.c[k]
	}
	return s
}

// fit finds the coefficients, one step left out (-1 none). The unknowns are
// these and the exposure, which all steps share.
func (c *Curve) fit(steps []WedgeStep, out int, stiff float64) {
	const n = curveTerms + 1
	a, r := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	for i, s := range steps {
		if i == out {
			continue
		}
		// log level + departure = log blank + departure of blank - D ln 10 + exposure
		var row [n]float64
		for k, b := range c.splines(encodeSRGB(s.Level)) {
			row[k] += b
		}
		if s.Blank != 1 {
			for k, b := range c.splines(encodeSRGB(s.Blank)) {
				row[k] -= b
			}
		}
		row[n-1] = -1
		y := math.Log(s.Blank) - math.Log(s.Level) - s.Density*math.Ln10
		for p := range row {
			r.SetVec(p, r.AtVec(p)+row[p]*y)
			for q := p; q < n; q++ {
				a.SetSym(p, q, a.At(p, q)+row[p]*row[q])
			}
		}
	}
	for k := 1; k+1 < curveTerms; k++ {
		d := [3]float64{1, -2, 1}
		for p := range d {
			for q := p; q < 3; q++ {
				a.SetSym(k-1+p, k-1+q, a.At(k-1+p, k-1+q)+stiff*float64(len(steps))*d[p]*d[q])
			}
		}
	}
	// The departure is told but for a constant and, hardly, for what is small.
	for p := range n - 1 {
		a.SetSym(p, p, a.At(p, p)+1e-5)
	}
	var ch mat.Cholesky
	var x mat.VecDense
	if !ch.Factorize(a) || ch.SolveVecTo(&x, r) != nil {
		return
	}
	copy(c.c[:], x.RawVector().Data)
}

// missed is by how much each step's density is missed.
func (c *Curve) missed(steps []WedgeStep) []float64 {
	d := make([]float64, len(steps))
	var mean float64
	for i, s := range steps {
		d[i] = (math.Log(s.Blank) - math.Log(s.Level) - c.departure(s.Level)) / math.Ln10
		if s.Blank != 1 {
			d[i] += c.departure(s.Blank) / math.Ln10
		}
		d[i] -= s.Density
		mean += d[i] / float64(len(steps))
	}
	for i := range d {
		d[i] -= mean
	}
	return d
}

// Level is the light that a level stands for, in terms of that of the
// lightest step of the wedge, which keeps its level.
func (c *Curve) Level(v float64) float64 {
	if !(v > 0) {
		return 0
	}
	return v * math.Exp(c.departure(v)+c.top)
}

// curveTable is how finely the curve is tabled, over the square root of the
// level.
const curveTable = 4096

// Straightened is a photograph by the same camera with its curve undone.
func (c *Curve) Straightened(p *Photo) *Photo {
	table := make([]float32, curveTable+2)
	for i := range table {
		f := float64(i) / curveTable
		table[i] = float32(c.Level(f * f))
	}
	out := p.frame()
	out.clipped = p.clipped
	out.lum = newPlane(p.Width, p.Height)
	strips(p.Height, func(_, lo, hi int) {
		for y := lo; y < hi; y++ {
			dst := out.lum.row(y)
			for x, v := range p.lum.row(y) {
				t := float32(math.Sqrt(float64(min(max(v, 0), 1)))) * curveTable
				i := int(t)
				dst[x] = table[i] + (t-float32(i))*(table[i+1]-table[i])
			}
		}
	})
	return out
}
