package notation

import (
	"fmt"
	"strconv"
	"strings"
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
func DateWords(edtf string) string {
	e, err := ParseEDTF(edtf)
	if err != nil {
		return edtf
	}
	return e.Words()
}

// Words writes e in English; see DateWords.
func (e EDTF) Words() string {
	if e.IsZero() {
		return ""
	}
	switch e.form {
	case FormInterval:
		return intervalWords(e.parts[0])
	case FormOneOf, FormAllOf:
		return e.setWords()
	}
	return e.parts[0].from.term.words()
}

// setWords writes the members with "or" or "and" between.
func (e EDTF) setWords() string {
	join := " or "
	if e.form == FormAllOf {
		join = " and "
	}
	var members []string
	for _, p := range e.parts {
		switch {
		case p.from.kind == BoundOpen && p.to.kind == BoundOpen:
			members = append(members, "at any time")
		case p.from.kind == BoundOpen:
			members = append(members, limitWords("before ", " or earlier", p.to.term, 1))
		case p.to.kind == BoundOpen:
			members = append(members, limitWords("after ", " or later", p.from.term, -1))
		case p.stretch:
			members = append(members, intervalWords(p))
		default:
			members = append(members, p.from.term.words())
		}
	}
	if len(members) == 1 {
		return members[0]
	}
	return strings.Join(members[:len(members)-1], ", ") + join + members[len(members)-1]
}

// limitWords writes "[..1922]" as "before 1923". Terms that have no next
// neighbour say "or earlier" instead.
func limitWords(lead, tail string, t term, by int64) string {
	bare := t
	bare.left, bare.right = [3]string{}, [3]string{}
	text := bare.String()
	next := stepYear(text, by)
	if next == text {
		return t.words() + tail
	}
	moved, err := parseTerm(next)
	if err != nil {
		return t.words() + tail
	}
	moved.right = t.right
	return lead + moved.words()
}

// intervalWords writes a stretch; two years of one century are shortened, and
// a qualifier that holds for both ends is said once.
func intervalWords(p edtfPart) string {
	from, to := p.from, p.to
	switch {
	case from.kind == BoundOpen:
		return "until " + to.term.words()
	case from.kind == BoundUnknown:
		return "until " + to.term.words() + " (beginning not known)"
	case to.kind == BoundOpen:
		return "from " + from.term.words()
	case to.kind == BoundUnknown:
		return "from " + from.term.words() + " (end not known)"
	}
	a, b := from.term, to.term
	approx, uncertain := a.marks()
	approxB, uncertainB := b.marks()
	if approx == approxB && uncertain == uncertainB {
		lead, tail := "", ""
		if approx {
			lead = "c. "
		}
		if uncertain {
			tail = "?"
		}
		return lead + stretchWords(a.plain(), b.plain()) + tail
	}
	return a.words() + " – " + b.words()
}

// stretchWords joins two unqualified terms.
func stretchWords(a, b term) string {
	x, y := a.words(), b.words()
	if a.isYear() && b.isYear() && a.year[:2] == b.year[:2] {
		return x + "–" + y[2:]
	}
	if a.isYear() && b.isYear() {
		return x + "–" + y
	}
	if c, ok := strings.CutSuffix(x, " century"); ok && strings.HasSuffix(y, " century") {
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
func (t term) words() string {
	s := t.bareWords()
	approx, uncertain := t.marks()
	if approx {
		s = "c. " + s
	}
	if uncertain {
		s += "?"
	}
	return s
}

func (t term) bareWords() string {
	year := yearWords(t.year)
	if t.season > 0 {
		return seasonNames[t.season] + " " + year
	}
	m, err := strconv.Atoi(t.month)
	switch {
	case t.month == "" || (t.month == "XX" && (t.day == "" || t.day == "XX")):
		return year
	case err != nil || m < 1 || m > 12:
		// "1984-1X": the possible months are a span that words would only blur.
		first, last := t.span()
		return monthNames[first.Month] + "–" + monthNames[last.Month] + " " + year
	case t.day == "" || t.day == "XX":
		return monthNames[m] + " " + year
	}
	d, err := strconv.Atoi(t.day)
	if err != nil {
		return monthNames[m] + " " + year
	}
	s := fmt.Sprintf("%d %s %s", d, monthNames[m], year)
	if t.clock != "" {
		s += ", " + t.clock[1:]
	}
	return s
}

// yearWords writes a year, a decade or a century.
func yearWords(y string) string {
	if strings.ContainsAny(y, "YES") {
		lo, hi := roundedYears(y)
		if lo == hi {
			return eraWords(lo)
		}
		return eraWords(lo) + "–" + eraWords(hi)
	}
	if len(y) == 4 && strings.Contains(y, "X") {
		switch {
		case y[3] == 'X' && digits(y[:3]) && y[2] != '0':
			return y[:3] + "0s"
		case y[3] == 'X' && digits(y[:3]):
			return y[:3] + "0–" + y[2:3] + "9"
		case y[2:] == "XX" && digits(y[:2]):
			n, _ := strconv.Atoi(y[:2])
			return ordinal(n+1) + " century"
		}
		lo, hi := yearRange(y)
		return fmt.Sprintf("%04d–%04d", lo, hi)
	}
	if n, err := strconv.ParseInt(y, 10, 64); err == nil && n <= 0 {
		return eraWords(n)
	}
	return y
}

// eraWords writes a year of the format, in which the year 0 is 1 BC.
func eraWords(n int64) string {
	if n <= 0 {
		return fmt.Sprintf("%d BC", 1-n)
	}
	return strconv.FormatInt(n, 10)
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
