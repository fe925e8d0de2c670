package studio

import (
	"fmt"

	"pullbook/catalog"
	"pullbook/imaging"
)

// Verdicts of a score.
const (
	Within     = string(imaging.Within)
	Outside    = string(imaging.Outside)
	CannotTell = string(imaging.CannotTell)
	RefusedPic = string(imaging.Refused)
)

// judge sets verdict and reason of a score against the limits of loss (a
// fraction) and of plate tone (density; 0 for none).
func judge(sc *catalog.Score, loss, tone float64, budget []imaging.Component) {
	sc.Limit = loss
	if sc.Verdict == RefusedPic {
		return
	}
	names, values, limits := []string{"ink_loss"}, []*imaging.Value{measured(sc.InkLoss)}, []float64{loss}
	if tone > 0 && sc.PlateTone != nil {
		names, values, limits = append(names, "plate_tone"), append(values, measured(sc.PlateTone)), append(limits, tone)
	}
	name, j := imaging.JudgeAll(names, values, limits, budget)
	sc.Verdict = string(j.Outcome)
	switch {
	case j.Outcome == imaging.Outside && name == "plate_tone":
		sc.Reason = fmt.Sprintf("The plate tone of %.2f is above the limit of %.2f.", sc.PlateTone.V, tone)
	case j.Outcome == imaging.Outside:
		sc.Reason = fmt.Sprintf("The ink loss of %s is above the limit of %s.", percent(sc.InkLoss.V), percent(loss))
	case j.Outcome == imaging.CannotTell && name == "plate_tone":
		sc.Reason = fmt.Sprintf("The plate tone of %.3f, known to ± %.3f, is too near the limit of %.2f. %s", sc.PlateTone.V, 2*sc.PlateTone.U, tone, j.Cure)
	case j.Outcome == imaging.CannotTell && sc.InkLoss != nil:
		sc.Reason = fmt.Sprintf("The ink loss of %s, known to ± %s, is too near the limit of %s. %s", percent(sc.InkLoss.V), percent(2*sc.InkLoss.U), percent(loss), j.Cure)
	case j.Outcome == imaging.CannotTell && sc.Reason == "":
		sc.Reason = j.Cause + " " + j.Cure
	}
}

func measured(v *catalog.Value) *imaging.Value {
	if v == nil {
		return nil
	}
	return &imaging.Value{V: v.V, U: v.U}
}

func percent(v float64) string { return fmt.Sprintf("%.1f %%", 100*v) }
