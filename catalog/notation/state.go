package notation

import (
	"regexp"
	"strconv"
	"strings"
)

// StateReading is a statement of state as read from text. From and To are the
// same unless a range was written; Total is the number of states known, 0
// when the text does not say.
type StateReading struct {
	From, To, Total int
	// Word is the state in words where it has no number or is the only one:
	// "only", "later", "early", "final", "published", "unnumbered".
	Word string
	// Qualifiers are remarks that belong to the state: "variant", "proof",
	// "unpublished", "rejected", "counterproof", "published".
	Qualifiers []string
	// Matched is the part of the text that states it.
	Matched string
	Flags   Flags
	Raw     string
}

// Found reports whether the text states a state, numbered or not.
func (r StateReading) Found() bool {
	return r.From > 0 || r.Word != "" || r.Flags.Has(FlagZero) && r.Matched != ""
}

// Certain reports whether one numbered state was read and nothing casts doubt on it.
func (r StateReading) Certain() bool { return r.From > 0 && r.From == r.To && !r.Flags.Doubtful() }

const (
	romanPattern   = `[ivxlcIVXLC]+`
	ordinalPattern = `(?:first|second|third|fourth|fifth|sixth|seventh|eighth|ninth|tenth|eleventh|twelfth|thirteenth|fourteenth|fifteenth|sixteenth|seventeenth|eighteenth|nineteenth|twentieth|\d{1,2}\s*(?:st|nd|rd|th|e|er|ère|ème|re)?\.?|` + `premier|deuxième|troisième|quatrième|cinquième|sixième|erster|zweiter|dritter|vierter|fünfter|sechster)`
	cardinal       = `(?:one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)`
	stateWord      = `(?:states?|états?|etats?|zustand|zustände|stato|stati|estado)`
)

var (
	exactState = regexp.MustCompile(`^(` + romanPattern + `|\d+)?\s*(/|of|von|de)\s*(` + romanPattern + `|\d+)?$`)
	rangeState = regexp.MustCompile(`^(` + romanPattern + `)\s*[-–]\s*(` + romanPattern + `)$`)
	onlyState  = regexp.MustCompile(`(?i)\b(only|sole|unique|einziger|seul|unico)\s+` + stateWord + `\b|\b(état|etat|stato)\s+(unique|unico)\b`)
	// "state II of V", "state II/III", "state three", "States I-VI", "2nd state", "state 8".
	wordThenFigure = regexp.MustCompile(`(?i)\b` + stateWord + `\s+(` + romanPattern + `|\d{1,2}|` + cardinal + `)\b(?:\s*[-–]\s*(` + romanPattern + `|\d{1,2})\b)?(?:\s*(?:of|/|von|de|di)\s*(` + romanPattern + `|\d{1,2}|` + cardinal + `)\b)?`)
	figureThenWord = regexp.MustCompile(`(?i)(?:^|[\s(;:/,\[."'‘“-])(` + ordinalPattern + `|[IVX]+\.?)[\s-]*((?:(?:un)?published|trial|working)\s+)?` + stateWord + `\b(?:\s+(?:of|/|von|de|di|sur)\s+(` + romanPattern + `|\d{1,2}|` + cardinal + `)\b)?(?:\s*/\s*(\d{1,2})\b)?`)
	namedState     = regexp.MustCompile(`(?i)\b(later|late|early|earlier|final|finished|last|penultimate|intermediate|undescribed|published|unpublished)\s+` + stateWord + `\b`)
	colourState    = regexp.MustCompile(`(?i)\b((?:black|white|red|blue|green|brown|grey|gray|sepia|colou?r)(?:\s*(?:&|and)\s*(?:black|white|red|blue|green|brown|grey|gray|sepia|colou?r))*)\s+state\b`)
	bareState      = regexp.MustCompile(`(?i)[(\[]\s*state\s*[)\]]`)
	illegibleState = regexp.MustCompile(`(?i)\[illegible[^\]]*\]\s*` + stateWord + `\b`)
	wholeState     = regexp.MustCompile(`(?i)^` + stateWord + `$`)
)

// stateQualifiers are the remarks looked for beside a state.
var stateQualifiers = []string{"variant", "counterproof", "unpublished", "rejected"}

// ParseState reads a statement of state: alone ("ii/iv", "II of IV", "only
// state", "2nd of 3") or within a title or note ("…, state III, variant").
// Names of places and institutions with the word in them are no states. Arabic
// figures alone ("2/4") read as a number within an edition and are flagged,
// not taken.
func ParseState(s string) StateReading {
	r := StateReading{Raw: s}
	t := strings.TrimSpace(s)
	if t == "" {
		r.Flags.add(FlagEmpty)
		return r
	}
	if r.exact(strings.Trim(t, "()[] .")) {
		return r
	}
	r.search(t)
	if !r.Found() && len(r.Flags) == 0 {
		r.Flags.add(FlagUnread)
	}
	return r
}

// exact reads a text that is nothing but a state; the result is true when the
// text has such a shape, even if it had to be refused.
func (r *StateReading) exact(t string) bool {
	if n, ok := ParseRoman(t); ok {
		r.From, r.To, r.Matched = n, n, t
		return true
	}
	if rangeState.MatchString(t) {
		m := rangeState.FindStringSubmatch(t)
		a, ok1 := ParseRoman(m[1])
		b, ok2 := ParseRoman(m[2])
		if ok1 && ok2 && a > b {
			r.Flags.add(FlagUnread)
			return true
		}
		if ok1 && ok2 {
			r.From, r.To, r.Matched = a, b, t
			r.Flags.add(FlagRange)
			return true
		}
	}
	m := exactState.FindStringSubmatch(t)
	if m == nil || (m[1] == "" && m[3] == "") {
		if lettersOf(t, "ivxlcdmIVXLCDM") {
			r.Flags.add(FlagNotRoman)
			return true
		}
		if t == "0" {
			r.Flags.add(FlagZero)
			return true
		}
		return false
	}
	if m[1] == "" || m[3] == "" {
		r.Flags.add(FlagHalf)
		return true
	}
	if digits(m[1]) && digits(m[3]) && m[2] == "/" {
		r.Flags.add(FlagArabicState)
		return true
	}
	r.set(m[1], m[1], m[3], t)
	return true
}

// set fills the numbers from text and checks them.
func (r *StateReading) set(from, to, total, matched string) {
	a, okA := stateNumber(from)
	b, okB := stateNumber(to)
	n, okN := 0, true
	if total != "" {
		n, okN = stateNumber(total)
	}
	r.Matched = matched
	switch {
	case !okA || !okB || !okN:
		r.Flags.add(FlagNotRoman)
		return
	case a == 0 || b == 0 || (total != "" && n == 0):
		r.Flags.add(FlagZero)
		return
	case n > 0 && max(a, b) > n:
		r.Flags.add(FlagAboveTotal)
		return
	case b < a:
		r.Flags.add(FlagUnread)
		return
	}
	r.From, r.To, r.Total = a, b, n
	if a != b {
		r.Flags.add(FlagRange)
	}
}

// search looks for a statement within a longer text.
func (r *StateReading) search(t string) {
	for _, read := range []func(string) bool{r.only, r.figures, r.named} {
		if read(t) {
			r.qualify(t)
			return
		}
	}
}

// only reads "only state".
func (r *StateReading) only(t string) bool {
	m := onlyState.FindString(t)
	if m == "" || precededByCapital(t, m) {
		return false
	}
	r.From, r.To, r.Total, r.Word, r.Matched = 1, 1, 1, "only", m
	return true
}

// figures reads a state with its number, whichever form stands first.
func (r *StateReading) figures(t string) bool {
	after := wordThenFigure.FindStringSubmatchIndex(t)
	if after != nil && !properFigure(t[after[2]:after[3]]) {
		after = nil
	}
	before := figureThenWord.FindStringSubmatchIndex(t)
	if before != nil && !properFigure(strings.TrimRight(t[before[2]:before[3]], ". ")) {
		before = nil
	}
	get := func(m []int, i int) string {
		if m[2*i] < 0 {
			return ""
		}
		return t[m[2*i]:m[2*i+1]]
	}
	switch {
	case after != nil && (before == nil || after[0] <= before[2]):
		from, to := get(after, 1), get(after, 1)
		if x := get(after, 2); x != "" {
			to = x
		}
		r.set(from, to, get(after, 3), t[after[0]:after[1]])
	case before != nil:
		total := get(before, 3)
		if !totalFigure(total) {
			total = "" // "first state of THREE GOATS" counts goats, not states
		}
		r.set(get(before, 1), get(before, 1), total, strings.TrimSpace(t[before[2]:before[1]]))
		if q := strings.ToLower(strings.TrimSpace(get(before, 2))); q != "" {
			r.Qualifiers = append(r.Qualifiers, q)
			if q == "published" || q == "unpublished" {
				r.Word = q
			}
		}
	default:
		return false
	}
	return true
}

// named reads a state that has a name and no number.
func (r *StateReading) named(t string) bool {
	for _, p := range []struct {
		re   *regexp.Regexp
		word string
	}{{namedState, ""}, {colourState, "named colour state"}, {illegibleState, "illegible"}, {bareState, "unnumbered"}, {wholeState, "unnumbered"}} {
		m := p.re.FindStringSubmatch(t)
		if m == nil {
			continue
		}
		r.Matched, r.Word = m[0], p.word
		if p.word == "" {
			r.Word = strings.ToLower(m[1])
		}
		if p.re == bareState {
			r.Matched = strings.Trim(m[0], "()[] ")
		}
		r.Flags.add(FlagUnnumberedState)
		return true
	}
	return false
}

// qualify collects the remarks beside a state.
func (r *StateReading) qualify(t string) {
	low := strings.ToLower(t)
	for _, q := range stateQualifiers {
		if wordIn(low, q) && !contains(r.Qualifiers, q) {
			r.Qualifiers = append(r.Qualifiers, q)
		}
	}
	// "second state, proof": the proof belongs to the state when it follows it.
	if i := strings.Index(low, strings.ToLower(r.Matched)); i >= 0 {
		tail := strings.TrimLeft(low[i+len(r.Matched):], " ,;")
		if strings.HasPrefix(tail, "proof") {
			r.Qualifiers = append(r.Qualifiers, "proof")
		}
	}
}

// stateNumber reads the number of a state in any of its forms.
func stateNumber(s string) (int, bool) {
	t := strings.ToLower(strings.Trim(s, ". "))
	if n, ok := ParseRoman(strings.Trim(s, ". ")); ok {
		return n, true
	}
	if n, ok := numberWords[t]; ok {
		return n, true
	}
	if n, err := strconv.Atoi(strings.TrimRight(t, "stndrheèm. ")); err == nil {
		return n, true
	}
	return 0, false
}

// numberWords are cardinals and ordinals in words.
var numberWords = map[string]int{}

func init() {
	for _, line := range []string{
		"one two three four five six seven eight nine ten eleven twelve",
		"first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth fourteenth fifteenth sixteenth seventeenth eighteenth nineteenth twentieth",
		"premier deuxième troisième quatrième cinquième sixième",
		"erster zweiter dritter vierter fünfter sechster",
	} {
		for i, w := range strings.Fields(line) {
			numberWords[w] = i + 1
		}
	}
}

// properFigure tells figures from words made of the same letters ("mix",
// "vivid") and from mixed case.
func properFigure(s string) bool {
	_, ok := stateNumber(s)
	return ok
}

// totalFigure accepts a total after "of": figures, roman figures of more than
// one letter or upper case; a number in words only in lower case.
func totalFigure(s string) bool {
	return s != "" && (digits(s) || s == strings.ToLower(s) || isUpperRoman(s))
}

func isUpperRoman(s string) bool {
	_, ok := ParseRoman(s)
	return ok && s == strings.ToUpper(s)
}

// precededByCapital guards against names: "Empire Only State" is unlikely, but
// a capital letter in the middle of the matched words shows a name.
func precededByCapital(t, m string) bool {
	return m != strings.ToLower(m) && m != strings.ToUpper(m) && !strings.HasPrefix(t, m) && strings.Contains(m, " S")
}

func lettersOf(s, set string) bool {
	for _, r := range s {
		if !strings.ContainsRune(set, r) && r != ' ' {
			return false
		}
	}
	return strings.TrimSpace(s) != ""
}

func wordIn(s, w string) bool {
	i := strings.Index(s, w)
	return i >= 0 && (i == 0 || !isLetter(rune(s[i-1])))
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// FormatState writes a state as a catalogue does: "II/IV", "II" where the
// total is not known, "only state" for the one of one.
func FormatState(n, total int) string {
	switch {
	case n < 1:
		return ""
	case n == 1 && total == 1:
		return "only state"
	case total < n:
		return Roman(n)
	}
	return Roman(n) + "/" + Roman(total)
}
