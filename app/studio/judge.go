package studio

import (
	"fmt"
	"math"

	"pullbook/catalog"
	"pullbook/imaging"
)

// Verdicts of a score.
const (
	Within     = "within"
	Outside    = "outside"
	CannotTell = "cannot tell"
	RefusedPic = "refused"
)

// sureOf is how sure a verdict must be: one side of the limit with 95 %
// probability (JCGM 106:2012, 9.3; the normal quantile is 1.645).
const sureOf = 1.6449

// judge sets verdict and reason of a measured score against the limits of loss
// (a fraction) and of plate tone (density; 0 for none).
func judge(sc *catalog.Score, loss, tone float64, q imaging.Quality) {
	sc.Limit = loss
	if sc.Verdict == RefusedPic {
		return
	}
	if sc.InkLoss == nil {
		sc.Verdict = CannotTell
		if sc.Reason == "" {
			sc.Reason = "The ink loss could not be measured. " + cure(q)
		}
		return
	}
	lossSide, toneSide := side(*sc.InkLoss, loss), -1
	if tone > 0 && sc.PlateTone != nil {
		toneSide = side(*sc.PlateTone, tone)
	}
	switch {
	case lossSide > 0:
		sc.Verdict, sc.Reason = Outside, fmt.Sprintf("The ink loss of %s is above the limit of %s.", percent(sc.InkLoss.V), percent(loss))
	case toneSide > 0:
		sc.Verdict, sc.Reason = Outside, fmt.Sprintf("The plate tone of %.2f is above the limit of %.2f.", sc.PlateTone.V, tone)
	case lossSide == 0:
		sc.Verdict = CannotTell
		sc.Reason = fmt.Sprintf("The ink loss of %s, known to ± %s, is too near the limit of %s. %s", percent(sc.InkLoss.V), percent(2*sc.InkLoss.U), percent(loss), cure(q))
	case toneSide == 0:
		sc.Verdict = CannotTell
		sc.Reason = fmt.Sprintf("The plate tone of %.3f, known to ± %.3f, is too near the limit of %.2f. %s", sc.PlateTone.V, 2*sc.PlateTone.U, tone, cure(q))
	default:
		sc.Verdict = Within
	}
}

// side is -1 when v is surely below the limit, 1 when surely above, else 0.
func side(v catalog.Value, limit float64) int {
	switch d := v.V - limit; {
	case d <= -sureOf*v.U:
		return -1
	case d >= sureOf*v.U:
		return 1
	}
	return 0
}

// cure is what to do for a surer value: the advice on the worst finding of the
// photograph, else to photograph it again.
func cure(q imaging.Quality) string {
	worst, advice := math.MaxInt, ""
	for _, f := range q.Findings {
		if f.Advice != "" && f.Stars < worst {
			worst, advice = f.Stars, f.Advice
		}
	}
	if advice == "" {
		advice = "Photograph the sheet again nearer and in the light of the reference pull."
	}
	return advice
}

func percent(v float64) string { return fmt.Sprintf("%.1f %%", 100*v) }
