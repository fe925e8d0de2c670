package notation

import (
	"fmt"
	"strconv"
	"strings"
)

// single reads one date without qualifiers: a century, a decade, a year, a
// season, a month or a day, or a part of one of the first two.
func (p *periodParser) single() (period, bool) {
	start := p.at
	part := false
	for partWords[p.peek(0).text] || (part && p.peek(0).text == "-") {
		part = true
		p.at++
	}
	for _, read := range []func() (period, bool){p.century, p.decade, p.numeric, p.named, p.season, p.bareYear} {
		at := p.at
		if d, ok := read(); ok {
			if part {
				p.flags.add(FlagPartOfPeriod)
			}
			return d, true
		}
		p.at = at
	}
	p.at = start
	return period{}, false
}

// century reads "18th century" and "17th" before "-19th century".
func (p *periodParser) century() (period, bool) {
	tok := p.peek(0)
	if !tok.num || len(tok.text) > 2 {
		return period{}, false
	}
	n, _ := strconv.Atoi(tok.text)
	if n < 1 || n > 21 || !ordinalMarks[p.peek(1).text] {
		return period{}, false
	}
	i := 2
	if p.peek(i).text == "." {
		i++
	}
	// "17th-19th century", "late 17th-early 18th century": the word comes
	// with the second figure.
	named := false
	for j := i; j < i+7; j++ {
		w := p.peek(j)
		if centuryWords[w.text] {
			named = true
			if j == i {
				i++
			}
			break
		}
		if w.text == "" || (w.num && len(w.text) > 2) {
			break
		}
	}
	if !named {
		return period{}, false
	}
	p.at += i
	lo, hi := fmt.Sprintf("%02dXX", n-1), fmt.Sprintf("%02dXX", n-1)
	if w := p.peek(0).text; w == "b" || w == "bc" || w == "bce" {
		return period{}, false
	}
	return period{lo: lo, hi: hi}, true
}

var ordinalMarks = map[string]bool{"st": true, "nd": true, "rd": true, "th": true, "e": true, "ème": true, ".": true, "de": true}
var centuryWords = map[string]bool{"century": true, "centuries": true, "cent": true, "jahrhundert": true, "jh": true, "siècle": true, "secolo": true, "siglo": true}

// decade reads "1950s", "1950's", "1950er".
func (p *periodParser) decade() (period, bool) {
	tok := p.peek(0)
	if !tok.num || len(tok.text) != 4 || tok.text[3] != '0' {
		return period{}, false
	}
	i := 1
	if p.peek(i).text == "'" {
		i++
	}
	switch p.peek(i).text {
	case "s", "er":
	default:
		return period{}, false
	}
	p.at += i + 1
	d := tok.text[:3] + "X"
	if tok.text[2:] == "00" {
		// "early 1700s" may be the decade or the century; the century holds both.
		d = tok.text[:2] + "XX"
		p.flags.add(FlagDecadeOrCentury)
	}
	return period{lo: d, hi: d}, true
}

// numeric reads figures with strokes or hyphens: "3/24/1929", "1939-05-03".
func (p *periodParser) numeric() (period, bool) {
	a, s1, b, s2, c := p.peek(0), p.peek(1).text, p.peek(2), p.peek(3).text, p.peek(4)
	if !a.num || !b.num || (s1 != "/" && s1 != "-" && s1 != ".") {
		return period{}, false
	}
	if s1 == s2 && c.num {
		if len(a.text) == 4 && len(b.text) <= 2 && len(c.text) <= 2 && s1 == "-" {
			return p.day(5, a.text, atoi(b.text), atoi(c.text))
		}
		if len(c.text) == 4 && len(a.text) <= 2 && len(b.text) <= 2 {
			return p.dayOrMonth(c.text, atoi(a.text), atoi(b.text), s1 == ".")
		}
		return period{}, false
	}
	// "10/1911", "10.1911": a month and its year.
	if s1 != "-" && !p.numbered() && len(a.text) <= 2 && len(b.text) == 4 && plausibleYear(b.text) && s2 != "/" && s2 != "." && atoi(a.text) >= 1 && atoi(a.text) <= 12 {
		p.at += 3
		m := fmt.Sprintf("%s-%02d", b.text, atoi(a.text))
		return period{lo: m, hi: m}, true
	}
	// "1985-04", where the figures cannot be a later year.
	if s1 == "-" && len(a.text) == 4 && len(b.text) == 2 && b.text <= "12" && b.text <= a.text[2:] && plausibleYear(a.text) && atoi(b.text) > 0 {
		p.at += 3
		m := a.text + "-" + b.text
		return period{lo: m, hi: m}, true
	}
	return period{}, false
}

// numbered reports whether "no." or "#" stands before this place.
func (p *periodParser) numbered() bool {
	prev := p.peek(-1).text
	if prev == "." {
		prev = p.peek(-2).text
	}
	return prev == "#" || prev == "no" || prev == "nr" || prev == "nos" || prev == "inv"
}

// dayOrMonth decides which of two figures is the month, where only one can be.
// Figures parted by full stops put the day first (common practice). When both
// can be either, both days are kept.
func (p *periodParser) dayOrMonth(year string, a, b int, dayFirst bool) (period, bool) {
	switch {
	case dayFirst || (a > 12 && b <= 12):
		return p.day(5, year, b, a)
	case b > 12 && a <= 12, a == b:
		return p.day(5, year, a, b)
	}
	d, ok := p.day(5, year, a, b)
	if ok {
		d.either = fmt.Sprintf("%s-%02d-%02d", year, b, a)
		p.flags.add(FlagDayOrMonth)
	}
	return d, ok
}

// day makes the period of one day and moves on by n tokens.
func (p *periodParser) day(n int, year string, month, day int) (period, bool) {
	if !plausibleYear(year) || month < 1 || month > 12 || day < 1 || day > daysIn(int64(atoi(year)), month) {
		return period{}, false
	}
	p.at += n
	d := fmt.Sprintf("%s-%02d-%02d", year, month, day)
	return period{lo: d, hi: d}, true
}

// monthDay is a month with the days named beside it.
type monthDay struct {
	month int
	days  []int
	apart bool // "23 and 25": the days between are not meant
}

// named reads dates with the name of a month: "May 1939", "February 15, 1800",
// "15 February 1800", "June 23 and 25, 1952", "July 12-24, 1962",
// "November 15-December 12, 1960", "1932, December".
func (p *periodParser) named() (period, bool) {
	if y := p.peek(0); y.num && len(y.text) == 4 && p.peek(1).text == "," && months[p.peek(2).text] > 0 &&
		!p.peek(3).num && plausibleYear(y.text) {
		m := fmt.Sprintf("%s-%02d", y.text, months[p.peek(2).text])
		p.at += 3
		return period{lo: m, hi: m}, true
	}
	first, ok := p.monthDay()
	if !ok {
		return period{}, false
	}
	second, or := first, p.peek(0).text == "or"
	if at := p.at; p.take("-") || p.take("to") || p.take("or") {
		if second, ok = p.monthDay(); !ok {
			p.at, second, or = at, first, false
		}
	}
	for p.take(",") || p.take(".") || p.take(")") || p.take("of") {
	}
	y := p.peek(0)
	if !y.num || len(y.text) != 4 || !plausibleYear(y.text) {
		return period{}, false
	}
	p.at++
	lo, hi := first.write(y.text, false), second.write(y.text, true)
	if lo == "" || hi == "" {
		return period{}, false
	}
	if or {
		return period{lo: first.write(y.text, false), hi: lo, either: hi}, true
	}
	if first.apart {
		p.flags.add(FlagSeveral)
	}
	return period{lo: lo, hi: hi}, true
}

// monthDay reads a month with or without days, in either order.
func (p *periodParser) monthDay() (monthDay, bool) {
	start := p.at
	var md monthDay
	if d := p.peek(0); d.num && len(d.text) <= 2 { // "15 February", "15th of February", "15. Februar"
		p.at++
		if ordinalMarks[p.peek(0).text] {
			p.at++
		}
		p.take("of")
		if m := months[p.peek(0).text]; m > 0 {
			p.at++
			p.take(".")
			return monthDay{month: m, days: []int{atoi(d.text)}}, true
		}
		p.at = start
		return md, false
	}
	md.month = months[p.peek(0).text]
	if md.month == 0 {
		return md, false
	}
	p.at++
	p.take(".")
	for {
		d := p.peek(0)
		if !d.num || len(d.text) > 2 {
			break
		}
		md.days = append(md.days, atoi(d.text))
		p.at++
		if m := p.peek(0).text; m == "st" || m == "nd" || m == "rd" || m == "th" {
			p.at++
		}
		next := p.peek(1)
		if !next.num || len(next.text) > 2 {
			break
		}
		if p.take("-") {
			continue
		}
		if !p.take("and") && !p.take("or") {
			break
		}
		md.apart = true
	}
	return md, true
}

// write gives the first or last day as an EDTF term, "" when there is no such day.
func (md monthDay) write(year string, last bool) string {
	if len(md.days) == 0 {
		return fmt.Sprintf("%s-%02d", year, md.month)
	}
	d := md.days[0]
	if last {
		d = md.days[len(md.days)-1]
	}
	if d < 1 || d > daysIn(int64(atoi(year)), md.month) {
		return ""
	}
	return fmt.Sprintf("%s-%02d-%02d", year, md.month, d)
}

// season reads "Autumn 1916" and "Autumn-Winter, 1913".
func (p *periodParser) season() (period, bool) {
	a := seasons[p.peek(0).text]
	if a == 0 {
		return period{}, false
	}
	p.at++
	b := a
	if p.peek(0).text == "-" || p.peek(0).text == "/" {
		if s := seasons[p.peek(1).text]; s > 0 {
			b, p.at = s, p.at+2
		}
	}
	p.take(",")
	p.take("of")
	y := p.peek(0)
	if !y.num || len(y.text) != 4 || !plausibleYear(y.text) || b < a {
		return period{}, false
	}
	p.at++
	return period{lo: fmt.Sprintf("%s-%d", y.text, a), hi: fmt.Sprintf("%s-%d", y.text, b)}, true
}

// bareYear reads a year of four figures, or any year with BC.
func (p *periodParser) bareYear() (period, bool) {
	y := p.peek(0)
	if !y.num || len(y.text) > 4 {
		return period{}, false
	}
	// "600-500 BC": the era stands after the second year.
	if p.before(1) || (p.peek(1).text == "-" && p.peek(2).num && p.before(3)) {
		n := atoi(y.text)
		if n < 1 {
			return period{}, false
		}
		p.at++
		p.takeEra()
		p.flags.add(FlagBeforeChrist)
		// Year 1 BC is the year 0 of the format.
		t := fmt.Sprintf("-%04d", n-1)
		if n == 1 {
			t = "0000"
		}
		if p.peek(0).text == "-" && p.peek(1).num && p.before(2) {
			m := atoi(p.peek(1).text)
			p.at += 2
			p.takeEra()
			if m < 1 || m > n {
				return period{}, false
			}
			u := fmt.Sprintf("-%04d", m-1)
			if m == 1 {
				u = "0000"
			}
			return period{lo: t, hi: u}, true
		}
		return period{lo: t, hi: t}, true
	}
	if len(y.text) != 4 || !plausibleYear(y.text) {
		return period{}, false
	}
	// Figures in front make this a measurement or an inventory number.
	if prev := p.peek(-1).text; prev == "#" || prev == "." && p.peek(-2).num || prev == "/" && p.peek(-2).num {
		return period{}, false
	}
	p.at++
	return period{lo: y.text, hi: y.text}, true
}

// before reports whether the token i places on says "before Christ".
func (p *periodParser) before(i int) bool {
	switch p.peek(i).text {
	case "bc", "bce":
		return true
	case "b":
		return p.peek(i+1).text == "." && p.peek(i+2).text == "c"
	}
	return false
}

func (p *periodParser) takeEra() {
	if p.take("b") {
		p.at += 2
		p.take(".")
		p.take("e")
		p.take(".")
		return
	}
	_ = p.take("bc") || p.take("bce")
}

// plausibleYear keeps four figures within the time of printmaking.
func plausibleYear(y string) bool { return len(y) == 4 && y >= "1000" && y <= "2199" }

// atoi reads figures that are known to be such.
func atoi(s string) int {
	n, err := strconv.Atoi(strings.TrimSpace(s))
	if err != nil {
		return 0
	}
	return n
}
