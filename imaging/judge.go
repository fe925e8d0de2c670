package imaging

import "fmt"

// Outcome of holding a score against the printer's limit.
type Outcome string

// Outcomes.
const (
	Within     Outcome = "within"
	Outside    Outcome = "outside"
	CannotTell Outcome = "cannot tell"
)

// Judgement is an outcome and, where it cannot be told, why and what to do.
type Judgement struct {
	Outcome Outcome
	Cause   string // a sentence, empty when told
	Cure    string // a sentence, empty when told
}

// guard is the width of the guard band in standard uncertainties: one-sided
// 95 % (JCGM 106:2012, 8.3.2, guarded acceptance and rejection).
const guard = 1.645

// Judge holds a score against an upper limit with a guard band of 1.645 u on
// either side. A nil score cannot be told. The budget, which may be nil, names
// the score's largest component of uncertainty and so the cure.
func Judge(v *Value, limit float64, score string, budget []Component) Judgement {
	if v == nil {
		return Judgement{CannotTell, "The score could not be measured.", "See what the measurement says was missing."}
	}
	g := guard * v.U
	switch {
	case v.V+g <= limit:
		return Judgement{Outcome: Within}
	case v.V-g >= limit:
		return Judgement{Outcome: Outside}
	}
	largest := Component{}
	for _, c := range budget {
		if c.Score == score && c.U > largest.U {
			largest = c
		}
	}
	j := Judgement{Outcome: CannotTell}
	j.Cause = fmt.Sprintf("The value %.3f is nearer to the limit %.3f than its uncertainty %.3f allows to tell.", v.V, limit, g)
	j.Cure = cures[largest.Cause]
	if j.Cure == "" {
		j.Cure = "Photograph the sheet again and take the mean, or look at it by eye."
	}
	return j
}

// cures say what makes each component of uncertainty smaller.
var cures = map[string]string{
	"ground":       "The plate tone under the lines is uneven: compare with a reference wiped alike, or photograph the sheet twice and take the mean.",
	"curve":        "The camera's rendering is not known well enough: photograph reference and impression with one camera at one fixed setting, with a grey wedge beside them.",
	"focus":        "The two photographs are not equally sharp: focus again, on a stand.",
	"registration": "The sheet does not lie flat: press it under glass or weights and take it again.",
	"light":        "The light cannot be followed well from the margins: photograph a blank sheet under the same light, or move the lamps back.",
	"paper":        "Compare with a reference on the same paper.",
}

// JudgeAll holds several scores to their limits at once: outside if any is
// outside, within only if all are within. It returns the judgement of the
// score that decides and its name.
func JudgeAll(names []string, values []*Value, limits []float64, budget []Component) (string, Judgement) {
	name, out := "", Judgement{Outcome: Within}
	for i, v := range values {
		j := Judge(v, limits[i], names[i], budget)
		if j.Outcome == Outside {
			return names[i], j
		}
		if j.Outcome == CannotTell && out.Outcome == Within {
			name, out = names[i], j
		}
	}
	return name, out
}
