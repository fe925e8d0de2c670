package notation

import (
	"fmt"
	"strconv"
	"strings"

	"pullbook/catalog/say"
)

// monthNames are the English months, from 1.
var monthNames = [13]string{"", "January", "February", "March", "April", "May", "June", "July",
	"August", "September", "October", "November", "December"}

// seasonNames are the English names of the coded parts of a year.
var seasonNames = map[int]string{
	21: "spring", 22: "summer", 23: "autumn", 24: "winter", 25: "spring", 26: "summer", 27: "autumn", 28: "winter",
	29: "southern spring", 30: "southern summer", 31: "southern autumn", 32: "southern winter",
	33: "first quarter of", 34: "second quarter of", 35: "third quarter of", 36: "fourth quarter of",
	37: "first third of", 38: "second third of", 39: "last third of", 40: "first half of", 41: "second half of",
}

// DateWords writes an EDTF expression as a catalogue prints it: "c. 1911",
// "before 1923", "1911–12", "5 May 1939", "18th century". A text that is not in
// the format is returned as it is.
func DateWords(edtf string) string { return DateWordsIn(say.English, edtf) }

// DateWordsIn is DateWords in another language.
func DateWordsIn(l *say.Language, edtf string) string {
	e, err := ParseEDTF(edtf)
	if err != nil {
		return edtf
	}
	return e.WordsIn(l)
}

// Words writes e in English; see DateWords.
func (e EDTF) Words() string { return e.WordsIn(say.English) }

// WordsIn writes e in a language.
func (e EDTF) WordsIn(l *say.Language) string {
	if e.IsZero() {
		return ""
	}
	switch e.form {
	case FormInterval:
		return intervalWords(l, e.parts[0])
	case FormOneOf, FormAllOf:
		return e.setWords(l)
	}
	return e.parts[0].from.term.words(l)
}

// setWords writes the members with "or" or "and" between.
func (e EDTF) setWords(l *say.Language) string {
	join := l.Text(" or ")
	if e.form == FormAllOf {
		join = l.Text(" and ")
	}
	var members []string
	for _, p := range e.parts {
		switch {
		case p.from.kind == BoundOpen && p.to.kind == BoundOpen:
			members = append(members, l.Text("at any time"))
		case p.from.kind == BoundOpen:
			members = append(members, limitWords(l, l.Text("before "), l.Text(" or earlier"), p.to.term, 1))
		case p.to.kind == BoundOpen:
			members = append(members, limitWords(l, l.Text("after "), l.Text(" or later"), p.from.term, -1))
		case p.stretch:
			members = append(members, intervalWords(l, p))
		default:
			members = append(members, p.from.term.words(l))
		}
	}
	if len(members) == 1 {
		return members[0]
	}
	return strings.Join(members[:len(members)-1], ", ") + join + members[len(members)-1]
}

// limitWords writes "[..1922]" as "before 1923". Terms that have no next
// neighbour say "or earlier" instead.
func limitWords(l *say.Language, lead, tail string, t term, by int64) string {
	bare := t
	bare.left, bare.right = [3]string{}, [3]string{}
	text := bare.String()
	next := stepYear(text, by)
	if next == text {
		return t.words(l) + tail
	}
	moved, err := parseTerm(next)
	if err != nil {
		return t.words(l) + tail
	}
	moved.right = t.right
	return lead + moved.words(l)
}

// intervalWords writes a stretch; two years of one century are shortened, and
// a qualifier that holds for both ends is said once.
func intervalWords(l *say.Language, p edtfPart) string {
	from, to := p.from, p.to
	switch {
	case from.kind == BoundOpen:
		return l.Text("until ") + to.term.words(l)
	case from.kind == BoundUnknown:
		return l.Text("until ") + to.term.words(l) + l.Text(" (beginning not known)")
	case to.kind == BoundOpen:
		return l.Text("from ") + from.term.words(l)
	case to.kind == BoundUnknown:
		return l.Text("from ") + from.term.words(l) + l.Text(" (end not known)")
	}
	a, b := from.term, to.term
	approx, uncertain := a.marks()
	approxB, uncertainB := b.marks()
	if approx == approxB && uncertain == uncertainB {
		lead, tail := "", ""
		if approx {
			lead = l.Text("c. ")
		}
		if uncertain {
			tail = "?"
		}
		return lead + stretchWords(l, a.plain(), b.plain()) + tail
	}
	return a.words(l) + " – " + b.words(l)
}

// stretchWords joins two unqualified terms.
func stretchWords(l *say.Language, a, b term) string {
	x, y := a.words(l), b.words(l)
	if a.isYear() && b.isYear() && a.year[:2] == b.year[:2] {
		return x + "–" + y[2:]
	}
	if a.isYear() && b.isYear() {
		return x + "–" + y
	}
	century := strings.TrimPrefix(l.Text("%s century"), "%s")
	if c, ok := strings.CutSuffix(x, century); ok && strings.HasSuffix(y, century) {
		return c + "–" + y
	}
	return x + " – " + y
}

// isYear reports whether the term is a plain year of four figures.
func (t term) isYear() bool { return t.month == "" && len(t.year) == 4 && digits(t.year) }

// plain is the term without qualifiers.
func (t term) plain() term {
	t.left, t.right = [3]string{}, [3]string{}
	return t
}

// marks reports whether any part is approximate or uncertain.
func (t term) marks() (approx, uncertain bool) {
	signs := strings.Join(t.left[:], "") + strings.Join(t.right[:], "")
	return strings.ContainsAny(signs, "~%"), strings.ContainsAny(signs, "?%")
}

// words writes one term.
func (t term) words(l *say.Language) string {
	s := t.bareWords(l)
	approx, uncertain := t.marks()
	if approx {
		s = l.Text("c. ") + s
	}
	if uncertain {
		s += "?"
	}
	return s
}

func (t term) bareWords(l *say.Language) string {
	year := yearWords(l, t.year)
	if t.season > 0 {
		return l.Text(seasonNames[t.season]) + " " + year
	}
	m, err := strconv.Atoi(t.month)
	switch {
	case t.month == "" || (t.month == "XX" && (t.day == "" || t.day == "XX")):
		return year
	case err != nil || m < 1 || m > 12:
		// "1984-1X": the possible months are a span that words would only blur.
		first, last := t.span()
		return l.Text(monthNames[first.Month]) + "–" + l.Text(monthNames[last.Month]) + " " + year
	case t.day == "" || t.day == "XX":
		return l.Text(monthNames[m]) + " " + year
	}
	d, err := strconv.Atoi(t.day)
	if err != nil {
		return l.Text(monthNames[m]) + " " + year
	}
	s := l.Say(say.Of("%d %s %s", d, say.Word(monthNames[m]), year))
	if t.clock != "" {
		s += ", " + t.clock[1:]
	}
	return s
}

// yearWords writes a year, a decade or a century.
func yearWords(l *say.Language, y string) string {
	if strings.ContainsAny(y, "YES") {
		lo, hi := roundedYears(y)
		if lo == hi {
			return eraWords(l, lo)
		}
		return eraWords(l, lo) + "–" + eraWords(l, hi)
	}
	if len(y) == 4 && strings.Contains(y, "X") {
		switch {
		case y[3] == 'X' && digits(y[:3]) && y[2] != '0':
			return l.Say(say.Of("%ss", y[:3]+"0"))
		case y[3] == 'X' && digits(y[:3]):
			return y[:3] + "0–" + y[2:3] + "9"
		case y[2:] == "XX" && digits(y[:2]):
			n, _ := strconv.Atoi(y[:2])
			return l.Say(say.Of("%s century", OrdinalIn(l, n+1)))
		}
		lo, hi := yearRange(y)
		return fmt.Sprintf("%04d–%04d", lo, hi)
	}
	if n, err := strconv.ParseInt(y, 10, 64); err == nil && n <= 0 {
		return eraWords(l, n)
	}
	return y
}

// eraWords writes a year of the format, in which the year 0 is 1 BC.
func eraWords(l *say.Language, n int64) string {
	if n <= 0 {
		return l.Say(say.Of("%d BC", 1-n))
	}
	return strconv.FormatInt(n, 10)
}

// OrdinalIn writes an ordinal number as the language does.
func OrdinalIn(l *say.Language, n int) string {
	if l.Ordinals() {
		return strconv.Itoa(n) + "."
	}
	return ordinal(n)
}

// ordinal writes 1st, 2nd, 3rd, 4th, 11th …
func ordinal(n int) string {
	mark := "th"
	if n%100 < 11 || n%100 > 13 {
		switch n % 10 {
		case 1:
			mark = "st"
		case 2:
			mark = "nd"
		case 3:
			mark = "rd"
		}
	}
	return strconv.Itoa(n) + mark
}
