package notation

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

func isLetter(r rune) bool { return unicode.IsLetter(r) }

// period is one stretch of time as read: EDTF terms of both ends (equal for a
// single date) and what qualifies it.
type period struct {
	lo, hi    string
	approx    bool
	uncertain bool
	open      string // "before": only hi counts; "after": only lo counts
	either    string // a second date that is as possible as the first
}

// sign is the EDTF qualifier of the period.
func (p period) sign() string {
	switch {
	case p.approx && p.uncertain:
		return "%"
	case p.approx:
		return "~"
	case p.uncertain:
		return "?"
	}
	return ""
}

// edtf writes the period as a whole expression.
func (p period) edtf() string {
	q := p.sign()
	switch {
	case p.either != "":
		a, b := p.lo, p.either
		if b < a {
			a, b = b, a
		}
		return "[" + a + "," + b + "]"
	case p.open == "before":
		return "[.." + p.hi + q + "]"
	case p.open == "after":
		return "[" + p.lo + q + "..]"
	case p.lo == p.hi:
		return p.lo + q
	}
	return p.lo + q + "/" + p.hi + q
}

// member writes the period as a member of a set, "" when it cannot be one.
func (p period) member() string {
	switch {
	case p.open != "" || p.either != "":
		return ""
	case p.lo == p.hi:
		return p.lo + p.sign()
	}
	return p.lo + p.sign() + ".." + p.hi + p.sign()
}

// qualifierWords stand before a period.
var qualifierWords = map[string]string{
	"c": "approx", "ca": "approx", "circa": "approx", "cca": "approx", "about": "approx", "around": "approx",
	"approximately": "approx", "approx": "approx", "um": "approx", "vers": "approx", "env": "approx",
	"environ": "approx", "verso": "approx", "hacia": "approx",
	"probably": "uncertain", "possibly": "uncertain", "perhaps": "uncertain", "prob": "uncertain",
	"wohl": "uncertain", "vermutlich": "uncertain", "probablement": "uncertain",
	"before": "before", "vor": "before", "avant": "before", "prima": "before",
	"by": "by", "until": "by", "bis": "by",
	"after": "after", "nach": "after", "après": "after", "dopo": "after",
	"from": "from", "since": "from", "seit": "from", "ab": "from", "depuis": "from",
}

// partWords narrow a period to a part that nobody has fixed the limits of.
var partWords = map[string]bool{
	"early": true, "mid": true, "middle": true, "late": true, "later": true, "beginning": true, "end": true,
	"first": true, "second": true, "third": true, "last": true, "half": true, "quarter": true, "of": true, "the": true,
	"anfang": true, "mitte": true, "ende": true, "début": true, "fin": true, "milieu": true,
}

// months by their names and usual short forms in English, French, German and
// Italian.
var months = map[string]int{}

func init() {
	for i, names := range []string{
		"january jan janvier januar jänner gennaio", "february feb février fév februar febbraio",
		"march mar mars märz marzo", "april apr avril aprile", "may mai maggio", "june jun juin juni giugno",
		"july jul juillet juli luglio", "august aug août agosto", "september sep sept septembre settembre",
		"october oct octobre oktober okt ottobre", "november nov novembre", "december dec décembre dezember dez dicembre",
	} {
		for _, n := range strings.Fields(names) {
			months[n] = i + 1
		}
	}
}

// seasons by name, with the codes of ISO 8601-2 that name no hemisphere.
var seasons = map[string]int{"spring": 21, "summer": 22, "autumn": 23, "fall": 23, "winter": 24,
	"printemps": 21, "été": 22, "automne": 23, "hiver": 24, "frühling": 21, "frühjahr": 21, "sommer": 22, "herbst": 23}

// periodParser reads periods from tokens at a moving place.
type periodParser struct {
	tokens []dateToken
	at     int
	flags  *Flags
}

func (p *periodParser) peek(i int) dateToken {
	if p.at+i < len(p.tokens) && p.at+i >= 0 {
		return p.tokens[p.at+i]
	}
	return dateToken{}
}

func (p *periodParser) take(text string) bool {
	if p.peek(0).text == text {
		p.at++
		return true
	}
	return false
}

// period reads one period with its qualifiers. Where none begins at this
// place, the place is left as it was.
func (p *periodParser) period() (period, bool) {
	start, flagged := p.at, len(*p.flags)
	giveUp := func() (period, bool) {
		p.at, *p.flags = start, (*p.flags)[:flagged]
		return period{}, false
	}
	var out period
	limit := ""
	for {
		tok := p.peek(0)
		if tok.text == "?" {
			out.uncertain = true
		} else if kind := qualifierWords[tok.text]; tok.word && kind != "" {
			switch kind {
			case "approx":
				out.approx = true
			case "uncertain":
				out.uncertain = true
			default:
				limit = kind
			}
		} else {
			break
		}
		p.at++
		p.take(".")
	}
	lo, hi, ok := p.stretch()
	if !ok {
		return giveUp()
	}
	out.lo, out.hi = lo.lo, hi.hi
	out.either = lo.either
	if p.take("?") || (p.peek(0).text == "(" && p.peek(1).text == "?" && p.peek(2).text == ")") {
		out.uncertain = true
		if p.take("(") {
			p.at += 2
		}
	}
	if p.peek(0).text == "or" || p.peek(0).text == "and" {
		switch p.peek(1).text {
		case "later", "after":
			limit, p.at = "from", p.at+2
		case "earlier", "before":
			limit, p.at = "by", p.at+2
		}
	}
	return out.limited(limit)
}

// limited applies "before", "by", "after" or "from".
func (p period) limited(limit string) (period, bool) {
	switch limit {
	case "before", "by":
		if limit == "before" {
			p.hi = stepYear(p.lo, -1)
		}
		p.open = "before"
	case "after", "from":
		if limit == "after" {
			p.lo = stepYear(p.hi, 1)
		}
		p.open = "after"
	}
	return p, p.lo != "" && p.hi != ""
}

// stepYear moves a plain year or day by one; other terms have no neighbour
// that could be named and are returned as they are.
func stepYear(t string, by int64) string {
	if len(t) == 4 && digits(t) {
		n, _ := strconv.ParseInt(t, 10, 64)
		return fmt.Sprintf("%04d", n+by)
	}
	if e, err := parseTerm(t); err == nil && len(t) == 10 && !e.unspecified() {
		first, _ := e.span()
		d := first.step(int(by))
		return d.String()
	}
	return t
}

// step moves a day forwards or backwards by one.
func (d Day) step(by int) Day {
	d.Day += by
	switch {
	case d.Day < 1:
		if d.Month--; d.Month < 1 {
			d.Month, d.Year = 12, d.Year-1
		}
		d.Day = daysIn(d.Year, d.Month)
	case d.Day > daysIn(d.Year, d.Month):
		d.Day = 1
		if d.Month++; d.Month > 12 {
			d.Month, d.Year = 1, d.Year+1
		}
	}
	return d
}

// stretch reads one date or two joined by a dash, a stroke or "to".
func (p *periodParser) stretch() (lo, hi period, ok bool) {
	lo, ok = p.single()
	if !ok {
		return lo, hi, false
	}
	hi = lo
	if lo.either != "" {
		return lo, hi, true
	}
	mark, joint := p.at, p.peek(0).text
	switch joint {
	case "-", "/", "to", "until":
		p.at++
	default:
		return lo, hi, true
	}
	p.skipQualifiers()
	if short, ok := p.shortYear(lo.hi); ok {
		if n := atoi(short[2:]); joint == "-" && n >= 1 && n <= 12 {
			p.flags.add(FlagYearOrMonth)
		}
		hi = period{lo: short, hi: short}
		return lo, hi, true
	}
	if second, ok := p.single(); ok && second.either == "" {
		if second.hi < lo.lo {
			p.flags.add(FlagReversed)
		}
		return lo, second, true
	}
	p.at = mark
	return lo, lo, true
}

// skipQualifiers passes over "c." before the second date of a stretch: the
// first one's qualifier is kept for both.
func (p *periodParser) skipQualifiers() {
	for qualifierWords[p.peek(0).text] == "approx" {
		p.at++
		p.take(".")
	}
}

// shortYear reads "6" after 1975, "05" after 2004, "12" after 1911: the last
// figures of a later year.
func (p *periodParser) shortYear(first string) (string, bool) {
	tok := p.peek(0)
	if !tok.num || len(tok.text) > 2 || len(first) != 4 || !digits(first) {
		return "", false
	}
	if next := p.peek(1).text; next == "/" || next == "st" || next == "nd" || next == "rd" || next == "th" || months[next] > 0 {
		return "", false
	}
	year := first[:4-len(tok.text)] + tok.text
	if year <= first {
		// "1985-04" can only be a month.
		return "", false
	}
	p.at++
	return year, true
}
