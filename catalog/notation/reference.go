package notation

import (
	"regexp"
	"strconv"
	"strings"
)

// Reference is one mention of an earlier catalogue: "Hind 274, II/III". State
// and Total are as that catalogue counts, which may differ from others.
type Reference struct {
	Work   string // "Hind"
	Number string // "274", "B 47"
	State  int
	Total  int
	Rest   string // what else is said: "2nd issue", "only state"
	Raw    string
}

// ReferenceReading is a list of mentions.
type ReferenceReading struct {
	References []Reference
	Flags      Flags
	Raw        string
}

var (
	referenceNumber = regexp.MustCompile(`^(.*?[\p{L}.)])\s+((?:[A-Z]\.?\s?)?\d+[a-z]?)\b(.*)$`)
	referenceState  = regexp.MustCompile(`^[\s,:]*(` + romanPattern + `|\d{1,2})\s*/\s*(` + romanPattern + `|\d{1,2})\b(.*)$`)
	stateAsNumber   = regexp.MustCompile(`^(.*?[\p{L}.)])\s+(\d{1,2})\s*/\s*(\d{1,2})\b(.*)$`)
)

// ParseReferences reads the references of an entry to other catalogues,
// parted by semicolons: "Hind 274, II/III; Munz 227, II/III". Within a
// reference arabic figures with a stroke ("Kennedy 193 4/6") are a state, as
// that catalogue counts.
func ParseReferences(s string) ReferenceReading {
	r := ReferenceReading{Raw: s}
	for _, piece := range strings.Split(s, ";") {
		t := strings.TrimSpace(piece)
		if t == "" {
			continue
		}
		ref, flags := parseReference(t)
		for _, f := range flags {
			r.Flags.add(f)
		}
		r.References = append(r.References, ref)
	}
	if len(r.References) == 0 {
		r.Flags.add(FlagEmpty)
	}
	counts := map[[2]int]bool{}
	for _, ref := range r.References {
		if ref.State > 0 {
			counts[[2]int{ref.State, ref.Total}] = true
		}
	}
	if len(counts) > 1 {
		r.Flags.add(FlagSeveralCounts)
	}
	return r
}

// parseReference reads one reference.
func parseReference(t string) (Reference, Flags) {
	var flags Flags
	ref := Reference{Raw: t}
	rest := ""
	if m := stateAsNumber.FindStringSubmatch(t); m != nil && !referenceNumber.MatchString(m[1]) {
		// "Kennedy 6/11": no number, a state.
		ref.Work, rest = m[1], m[2]+"/"+m[3]+m[4]
	} else if m := referenceNumber.FindStringSubmatch(t); m != nil {
		ref.Work, ref.Number, rest = strings.TrimRight(m[1], " ,"), m[2], m[3]
		// "White/Boon B 47": the letter belongs to the number.
		if i := strings.LastIndex(ref.Work, " "); i > 0 && len(ref.Work)-i == 2 {
			ref.Number, ref.Work = ref.Work[i+1:]+" "+ref.Number, ref.Work[:i]
		}
	} else {
		ref.Work = t
		flags.add(FlagMoreText)
		return ref, flags
	}
	if m := referenceState.FindStringSubmatch(rest); m != nil {
		a, okA := referenceFigure(m[1])
		b, okB := referenceFigure(m[2])
		switch {
		case !okA || !okB:
			flags.add(FlagNotRoman)
		case a == 0 || b == 0:
			flags.add(FlagZero)
		case a > b:
			flags.add(FlagAboveTotal)
		default:
			ref.State, ref.Total = a, b
		}
		rest = m[3]
	} else if onlyState.MatchString(rest) {
		ref.State, ref.Total = 1, 1
	} else if st := ParseState(strings.Trim(rest, " ,:")); st.Certain() {
		ref.State, ref.Total = st.From, st.Total
	}
	ref.Rest = strings.Trim(rest, " ,")
	return ref, flags
}

func referenceFigure(s string) (int, bool) {
	if n, ok := ParseRoman(s); ok {
		return n, true
	}
	n, err := strconv.Atoi(s)
	return n, err == nil
}
