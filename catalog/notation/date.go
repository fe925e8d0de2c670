package notation

import (
	"sort"
	"strings"

	"pullbook/catalog"
)

// DateReading is a date as read from what somebody wrote. Date.Text is the
// text as it stood; Date.EDTF is empty when it could not be read.
type DateReading struct {
	Date  catalog.Date
	Flags Flags
	Raw   string
}

// Certain reports whether a date was read and nothing casts doubt on it.
func (r DateReading) Certain() bool { return r.Date.EDTF != "" && !r.Flags.Doubtful() }

// Span returns the earliest and latest day of the reading; both are unknown
// when nothing was read.
func (r DateReading) Span() (earliest, latest Bound) {
	e, err := ParseEDTF(r.Date.EDTF)
	if err != nil {
		return Bound{Kind: BoundUnknown}, Bound{Kind: BoundUnknown}
	}
	return e.Span()
}

// ParseDate reads a date written freely ("c. 1911", "before 1923", "1911-12",
// "published 1843", "late 18th century") or in the Extended Date/Time Format.
// Where a text dates several events, the making is read before printing or
// publishing, and the rest is flagged.
func ParseDate(s string) DateReading {
	r := DateReading{Date: catalog.Date{Text: s}, Raw: s}
	t := strings.TrimSpace(s)
	if t == "" {
		r.Flags.add(FlagEmpty)
		return r
	}
	if noDate[strings.Trim(strings.ToLower(t), "()[]. ")] {
		r.Flags.add(FlagNoDate)
		return r
	}
	if noSuchDay(t) {
		r.Flags.add(FlagNoSuchDay)
		return r
	}
	// A text in the format itself is taken as such, except a year and two
	// figures, which in free text is mostly two years.
	if e, err := ParseEDTF(t); err == nil && !yearAndTwo(t) {
		r.Date.EDTF = e.String()
		return r
	}
	events, rest := scanDates(tokenise(t), &r.Flags)
	if len(events) == 0 || r.Flags.Has(FlagReversed) {
		r.Flags.add(FlagUnread)
		return r
	}
	text := joinPeriods(chooseEvents(events, &r.Flags))
	if _, err := ParseEDTF(text); err != nil {
		// For example "1952-1950": the parts are read, the whole is impossible.
		r.Flags = Flags{FlagUnread}
		return r
	}
	r.Date.EDTF = text
	if rest {
		r.Flags.add(FlagMoreText)
	}
	return r
}

// noDate are the customary ways of saying that there is no date.
var noDate = map[string]bool{
	"n.d": true, "nd": true, "n. d": true, "n.d.a": true, "no date": true, "not dated": true, "undated": true,
	"date not known": true, "date unknown": true, "not known": true, "unknown": true, "s.d": true, "s. d": true,
	"sans date": true, "non daté": true, "o.j": true, "o. j": true, "ohne jahr": true, "undatiert": true,
	"senza data": true, "sin fecha": true, "z.j": true,
}

// yearAndTwo recognises "1911-12": four figures, hyphen, two figures.
func yearAndTwo(t string) bool {
	return len(t) == 7 && t[4] == '-' && digits(t[:4]) && digits(t[5:])
}

// dateToken is a run of letters, a run of figures, or one sign.
type dateToken struct {
	text string
	num  bool
	word bool
}

var dateSigns = strings.NewReplacer("\u2013", "-", "\u2014", "-", "\u2212", "-", "\u2010", "-", "\u2011", "-",
	"\u00a0", " ", "\u2019", "'", "\u2018", "'", "`", "'")

// tokenise cuts a text into lower-case words, numbers and signs; spaces and
// brackets that only enclose are dropped, since dates are as often within them
// as not.
func tokenise(s string) []dateToken {
	var out []dateToken
	runes := []rune(strings.ToLower(dateSigns.Replace(s)))
	for i := 0; i < len(runes); {
		j := i + 1
		switch r := runes[i]; {
		case isDigit(r):
			for j < len(runes) && isDigit(runes[j]) {
				j++
			}
			out = append(out, dateToken{text: string(runes[i:j]), num: true})
		case isLetter(r):
			for j < len(runes) && (isLetter(runes[j]) || runes[j] == '\'' && j+1 < len(runes) && isLetter(runes[j+1])) {
				j++
			}
			out = append(out, dateToken{text: string(runes[i:j]), word: true})
		case r == ' ' || r == '\t' || r == '\n' || r == '\r':
		default:
			out = append(out, dateToken{text: string(r)})
		}
		i = j
	}
	return out
}

// event is a period with what the words before it say about it.
type event struct {
	period
	role  role
	paren bool // stands within brackets
	or    bool // "or" stands before it
}

// role is what happened at a period.
type role int

const (
	rolePrintMade role = iota // "print executed 1952"
	roleNone                  // a bare date: the making
	roleMade                  // "begun", "dated", "completed"
	rolePrinted               // "printed", "reprinted"
	rolePublished             // "published"
	roleReprinted             // "reprinted": later than any publication
	rolePeriod                // "Edo period"
)

// roleWords give the role of the period that follows, or that they follow.
var roleWords = map[string]role{
	"executed": roleMade, "begun": roleMade, "completed": roleMade, "dated": roleMade, "made": roleMade,
	"created": roleMade, "etched": roleMade, "engraved": roleMade, "drawn": roleMade, "designed": roleMade,
	"finished": roleMade, "commissioned": roleMade, "enlarged": roleMade, "altered": roleMade, "reworked": roleMade,
	"printed": rolePrinted, "reprinted": roleReprinted, "restrike": roleReprinted, "print": rolePrinted, "prints": rolePrinted,
	"pulled": rolePrinted, "cast": rolePrinted, "reproduced": rolePrinted, "impression": rolePrinted, "edition": rolePrinted,
	"published": rolePublished, "publication": rolePublished, "unpublished": rolePublished, "issued": rolePublished,
	"book": rolePublished, "newspaper": rolePublished,
	"period": rolePeriod, "dynasty": rolePeriod, "era": rolePeriod,
}

// fillers may stand between dates without making the text more than a date.
var fillers = map[string]bool{
	"the": true, "of": true, "in": true, "and": true, "or": true, "first": true, "date": true, "later": true, "oder": true, "ou": true, "und": true, "et": true,
	"probably": true, "block": true, "plate": true, "plates": true, "posthumously": true, "but": true, "by": true,
}

// scanDates walks through the tokens, collecting every period and its role.
// rest is true when words were passed over that say something else.
func scanDates(tokens []dateToken, flags *Flags) (events []event, rest bool) {
	said := map[role]bool{}
	prints, executed, or := false, false, false
	depth := 0
	p := periodParser{tokens: tokens, flags: flags}
	for p.at < len(tokens) {
		if found, ok := p.period(); ok {
			ev := event{period: found, role: strongest(said), paren: depth > 0 && len(events) > 0}
			if executed && prints {
				ev.role = rolePrintMade
			}
			ev.or = or
			events = append(events, ev)
			said, prints, executed, or = map[role]bool{}, false, false, false
			continue
		}
		tok := tokens[p.at]
		p.at++
		switch {
		case tok.text == "(" || tok.text == "[":
			depth++
		case tok.text == ")" || tok.text == "]":
			depth = max(0, depth-1)
		case tok.word:
			ro, known := roleWords[tok.text]
			if known {
				said[ro] = true
			} else if !fillers[tok.text] && qualifierWords[tok.text] == "" {
				rest = true
			}
			prints = prints || tok.text == "print" || tok.text == "prints" || tok.text == "plate" || tok.text == "plates"
			executed = executed || tok.text == "executed"
			or = or || tok.text == "or" || tok.text == "oder" || tok.text == "ou"
		case tok.num:
			rest = true
		}
	}
	// "(date of publication)" after a single date says what it dates.
	return events, rest
}

// strongest picks the role that says most about a date.
func strongest(said map[role]bool) role {
	for _, ro := range []role{rolePeriod, roleReprinted, rolePublished, rolePrinted, roleMade} {
		if said[ro] {
			return ro
		}
	}
	return roleNone
}

// chooseEvents keeps the periods that date the making: those of the lowest
// role. Several bare dates are all kept.
func chooseEvents(events []event, flags *Flags) (chosen []period, either bool) {
	best := events[0].role
	for _, e := range events {
		best = min(best, e.role)
	}
	for _, e := range events {
		switch {
		case e.role != best:
			flags.add(FlagOtherEvent)
		case len(chosen) > 0 && best != roleNone:
			flags.add(FlagSeveral)
		default:
			if e.paren && len(chosen) > 0 {
				flags.add(FlagSeveral)
			}
			either = either || (e.or && len(chosen) > 0)
			chosen = append(chosen, e.period)
			if e.role == rolePeriod {
				flags.add(FlagNamedPeriod)
			}
		}
	}
	return chosen, either
}

// joinPeriods writes one period, or a set of several in order of time: all of
// them, or one of them where "or" stands between.
func joinPeriods(ps []period, either bool) string {
	if len(ps) == 1 {
		return ps[0].edtf()
	}
	var members []string
	for _, p := range ps {
		m := p.member()
		if m == "" { // open on one side: a set cannot hold it beside others
			return ps[0].edtf()
		}
		members = append(members, m)
	}
	sort.SliceStable(members, func(i, j int) bool { return members[i] < members[j] })
	out := members[:1]
	for _, m := range members[1:] {
		if m != out[len(out)-1] {
			out = append(out, m)
		}
	}
	if len(out) == 1 {
		return ps[0].edtf()
	}
	if either {
		return "[" + strings.Join(out, ",") + "]"
	}
	return "{" + strings.Join(out, ",") + "}"
}
