package studio

import (
	"pullbook/catalog"
	"pullbook/catalog/say"
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
		sc.Because(say.Of("The plate tone of %.2f is above the limit of %.2f.", sc.PlateTone.V, tone))
	case j.Outcome == imaging.Outside:
		sc.Because(say.Of("The ink loss of %.1f %% is above the limit of %.1f %%.", 100*sc.InkLoss.V, 100*loss))
	case j.Outcome == imaging.CannotTell && name == "plate_tone":
		sc.Because(say.Of("The plate tone of %.3f, known to ± %.3f, is too near the limit of %.2f. %s", sc.PlateTone.V, 2*sc.PlateTone.U, tone, say.Word(j.Cure)))
	case j.Outcome == imaging.CannotTell && sc.InkLoss != nil:
		sc.Because(say.Of("The ink loss of %.1f %%, known to ± %.1f %%, is too near the limit of %.1f %%. %s", 100*sc.InkLoss.V, 200*sc.InkLoss.U, 100*loss, say.Word(j.Cure)))
	case j.Outcome == imaging.CannotTell && sc.Reason == "":
		sc.Because(say.Of("%s %s", say.Word(j.Cause), say.Word(j.Cure)))
	}
}

func measured(v *catalog.Value) *imaging.Value {
	if v == nil {
		return nil
	}
	return &imaging.Value{V: v.V, U: v.U}
}
