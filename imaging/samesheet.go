package imaging

import (
	"context"
	"fmt"
	"math"
)

// SameSheet answers whether two photographs show one impression.
type SameSheet struct {
	// Probability that both show one sheet, 0..1. Near a half it cannot be
	// told.
	Probability float64
	Verdict     string // "the same", "different" or "cannot tell"
	Reason      string // a sentence
	// Agreement is the correlation of the unevenness of the plate tone, NaN
	// where there is too little of it.
	Agreement float64
}

// Same compares two photographs of impressions of one state, both measured
// against its reference. Each pull is wiped by hand, so the clouds and streaks
// of its plate tone are its own; where both were wiped clean nothing is left
// to tell them by.
func (r *Reference) Same(ctx context.Context, a, b *Photo) (SameSheet, error) {
	sa, ra, err := r.Register(ctx, a, MeasureOptions{})
	if err != nil {
		return SameSheet{}, err
	}
	sb, rb, err := r.Register(ctx, b, MeasureOptions{})
	if err != nil {
		return SameSheet{}, err
	}
	for _, res := range []*Result{ra, rb} {
		if res.Verdict == Refused {
			return SameSheet{Probability: 0.5, Verdict: "cannot tell", Reason: res.Reason, Agreement: math.NaN()}, nil
		}
	}
	return SameImpression(sa, sb, ra, rb), nil
}

// SameImpression does so for sheets on one grid and their results.
func SameImpression(a, b *Sheet, ra, rb *Result) SameSheet {
	t := agreement(toneOf(a), toneOf(b))
	da, db := *ra.Scores.PlateTone, *rb.Scores.PlateTone
	// Ink left by the cloth is never even: a tone that can be seen has its own
	// clouds, above paper and noise.
	t.telling = t.telling || min(da.V, db.V) > 0.015
	gap := math.Abs(da.V-db.V) / math.Hypot(0.005, math.Hypot(da.U, db.U))
	apart := fmt.Sprintf("plate tone %.3f against %.3f", da.V, db.V)
	if x, y := ra.Scores.InkLoss, rb.Scores.InkLoss; x != nil && y != nil {
		if g := math.Abs(x.V-y.V) / math.Hypot(0.02, math.Hypot(x.U, y.U)); g > gap {
			gap, apart = g, fmt.Sprintf("ink loss %.0f %% against %.0f %%", 100*x.V, 100*y.V)
		}
	}
	out := SameSheet{Agreement: t.rho, Probability: logistic(t.odds() - levelOdds(gap))}
	switch {
	case out.Probability > 0.99:
		out.Verdict = "the same"
		out.Reason = fmt.Sprintf("The plate tone is clouded and streaked alike (agreement %.2f): the same sheet.", t.rho)
	case out.Probability < 0.01 && gap > farApart:
		out.Verdict = "different"
		out.Reason = fmt.Sprintf("They were wiped or inked differently (%s): different sheets.", apart)
	case out.Probability < 0.01:
		out.Verdict = "different"
		out.Reason = fmt.Sprintf("Both have plate tone, but its clouds and streaks differ (agreement %.2f): different sheets.", t.rho)
	case !t.telling:
		out.Verdict = "cannot tell"
		out.Reason = "Too little plate tone was left on these sheets to tell them by."
	default:
		out.Verdict = "cannot tell"
		out.Reason = fmt.Sprintf("The plate tone agrees only in part (%.2f): it cannot be told whether this is the same sheet.", t.rho)
	}
	return out
}

// farApart is the difference of two sheets' tone or ink, in standard
// uncertainties widened for what two cameras make of one sheet, from which
// they are two sheets whatever else.
const farApart = 4.5

// levelOdds is the log odds against one sheet from the level of tone and ink
// alone. Agreement of levels is no sign of one sheet: pulls of a day are meant
// to be alike.
func levelOdds(gap float64) float64 {
	if gap < 2 {
		return 0
	}
	return min(0.25*gap*gap, 10)
}

// toneAgreement is how alike the unevenness of two plate tones is.
type toneAgreement struct {
	telling bool    // both have enough unevenness above paper and noise
	rho     float64 // correlation
}

// toneBands are the scales at which tone is compared: clouds of 3 to 12 mm,
// and streaks below 3 mm, as pairs of Gaussians, mm. Slower changes are left
// out, for the light is followed only so far.
var toneBands = [][2]float64{{0.4, 1.5}, {1.5, 6}}

// agreement correlates the unevenness of two tones, the band with more of it
// counting more.
func agreement(a, b *toneField) toneAgreement {
	fa, fb := a.filled(), b.filled()
	var out toneAgreement
	var num, den float64
	uneven := math.Inf(1)
	border := int(math.Ceil((rim + 1) / a.step))
	for k, band := range toneBands {
		x, y := bandOf(fa, band, a.step), bandOf(fb, band, a.step)
		var sxy, sxx, syy, n float64
		for j := border; j < a.h-border; j++ {
			for i := border; i < a.w-border; i++ {
				k := j*a.w + i
				if w := float64(min(a.seen.v[k], b.seen.v[k])); w > 0.6 {
					u, v := float64(x.v[k]), float64(y.v[k])
					sxy += w * u * v
					sxx += w * u * u
					syy += w * v * v
					n += w
				}
			}
		}
		if n < 200 {
			continue
		}
		w := math.Sqrt(n / (band[0] * band[0]))
		num += w * sxy / math.Sqrt(sxx*syy+1e-30)
		den += w
		if k == 0 {
			uneven = math.Sqrt(min(sxx, syy) / n)
		}
	}
	if den > 0 {
		out.rho = num / den
		out.telling = uneven > 1.5*toneNoise && !math.IsInf(uneven, 1)
	}
	return out
}

// toneNoise is the unevenness of bare paper and of the camera in the bands
// compared, density.
const toneNoise = 0.0012

func bandOf(f *plane, band [2]float64, step float64) *plane {
	x, y := f.blur(band[0]/step), f.blur(band[1]/step)
	for i := range x.v {
		x.v[i] -= y.v[i]
	}
	return x
}

// odds is the log odds of one sheet against two. The tone of two sheets
// agrees by chance only; that of one agrees as far as paper and noise let it,
// so a want of agreement speaks against it only where there is tone enough.
func (t *toneAgreement) odds() float64 {
	const chance = 0.06 // spread of the agreement of two sheets
	z := t.rho / chance
	if z > 2 {
		return min(0.5*z*z-2, 12)
	}
	if t.telling {
		return max(-8, -8+4*max(z, 0))
	}
	return 0
}
