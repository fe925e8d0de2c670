package notation

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// term is one date of an EDTF expression: year, month or season, day, each
// with its qualifiers, or a date with a time of day.
type term struct {
	year   string // digits as written: "1984", "-1984", "156X", "Y170000002", "Y-17E7", "1950S2"
	month  string // "", "04", "1X", "XX"
	day    string // "", "12", "XX"
	season int    // 21..41, 0 none
	clock  string // "T23:20:30Z"
	// left and right qualifiers ("?", "~", "%") of year, month and day. One on
	// the right of a part holds for it and all before it; one on the left for
	// its part alone.
	left, right [3]string
	level       int
}

// maxYear bounds years that can be reckoned with; the format itself has no bound.
const maxYear = int64(1e15)

// parseTerm reads one date.
func parseTerm(s string) (term, error) {
	var t term
	bad := func(why string) (term, error) {
		return term{}, fmt.Errorf("%q is not a date of the Extended Date/Time Format: %s", s, why)
	}
	body := s
	if at := strings.IndexByte(s, 'T'); at >= 0 {
		body, t.clock = s[:at], s[at:]
		if err := checkClock(t.clock); err != nil {
			return bad(err.Error())
		}
	}
	fields, why := splitFields(body)
	if why != "" {
		return bad(why)
	}
	for i, f := range fields {
		f, t.left[i], t.right[i] = unqualify(f)
		if t.left[i] != "" && t.right[i] != "" {
			return bad("one part is qualified on both sides")
		}
		switch i {
		case 0:
			t.year = f
		case 1:
			t.month = f
		case 2:
			t.day = f
		}
	}
	if why := t.check(len(fields)); why != "" {
		return bad(why)
	}
	t.level = t.reckonLevel(len(fields))
	return t, nil
}

// splitFields parts year, month and day. A leading minus belongs to the year.
func splitFields(body string) ([]string, string) {
	sign := ""
	rest := body
	for _, lead := range []string{"", "?", "~", "%"} {
		if strings.HasPrefix(rest, lead+"-") {
			sign, rest = lead+"-", rest[len(lead)+1:]
			break
		}
		if strings.HasPrefix(rest, lead+"Y-") {
			sign, rest = lead+"Y-", rest[len(lead)+2:]
			break
		}
	}
	fields := strings.Split(rest, "-")
	fields[0] = sign + fields[0]
	if len(fields) > 3 {
		return nil, "it has more parts than year, month and day"
	}
	return fields, ""
}

// unqualify takes the qualifier off either side of one part.
func unqualify(f string) (core, left, right string) {
	const signs = "?~%"
	if f != "" && strings.IndexByte(signs, f[0]) >= 0 {
		left, f = f[:1], f[1:]
	}
	if f != "" && strings.IndexByte(signs, f[len(f)-1]) >= 0 {
		right, f = f[len(f)-1:], f[:len(f)-1]
	}
	return f, left, right
}

// check tests each part and their combination; the result is the complaint.
func (t *term) check(fields int) string {
	if why := checkYear(t.year); why != "" {
		return why
	}
	long := strings.ContainsAny(t.year, "YS")
	if long && (fields > 1 || t.clock != "") {
		return "a long or rounded year stands alone"
	}
	if fields > 1 {
		if len(t.month) != 2 || !digitsOrX(t.month) {
			return "the month has two figures"
		}
		if n, err := strconv.Atoi(t.month); err == nil && n >= 21 && n <= 41 {
			if fields > 2 {
				return "a season has no days"
			}
			t.season = n
		}
	}
	if fields > 2 && (len(t.day) != 2 || !digitsOrX(t.day)) {
		return "the day has two figures"
	}
	if t.clock != "" && (fields < 3 || t.unspecified() || t.qualified()) {
		return "a time of day needs a full, unqualified date"
	}
	if !long && t.season == 0 {
		if _, _, ok := t.ends(); !ok {
			return "there is no such day or month"
		}
	}
	return ""
}

// checkYear accepts four figures (X for unspecified ones), a minus before
// them, Y and more than four figures, an exponent, and significant figures.
func checkYear(y string) string {
	rest, long := strings.CutPrefix(y, "Y")
	rest, negative := strings.CutPrefix(rest, "-")
	rest, sig, rounded := strings.Cut(rest, "S")
	rest, exp, powered := strings.Cut(rest, "E")
	if powered && !long {
		return "a year with an exponent begins with Y"
	}
	if !long && len(rest) != 4 {
		return "the year has four figures"
	}
	if long && (!digits(rest) || rest[0] == '0' || (!powered && len(rest) < 5)) {
		return "a year after Y has more than four figures"
	}
	if !digitsOrX(rest) {
		return "the year has four figures"
	}
	if powered && (!digits(exp) || exp[0] == '0' || len(exp) > 2) {
		return "the exponent is a whole number"
	}
	if negative && rest == "0000" {
		return "there is no negative year 0"
	}
	if rounded {
		n, err := strconv.Atoi(sig)
		if !digits(rest) || !digits(sig) || err != nil || n < 1 || n > 20 {
			return "the significant figures are a whole number"
		}
	}
	if long && math.Abs(float64(longYear(y))) >= float64(maxYear) {
		return "the year is too far away to reckon with"
	}
	return ""
}

// longYear returns the value of a year with Y, exponent or significant
// figures, held within maxYear.
func longYear(y string) int64 {
	y = strings.TrimPrefix(y, "Y")
	y, _, _ = strings.Cut(y, "S")
	body, exp, _ := strings.Cut(y, "E")
	n, err := strconv.ParseInt(body, 10, 64)
	if err != nil {
		return maxYear
	}
	p, _ := strconv.Atoi(exp)
	for ; p > 0 && n > -maxYear && n < maxYear; p-- {
		n *= 10
	}
	return n
}

// checkClock tests "Thh:mm:ss" with Z, an offset of hours, or hours and minutes.
func checkClock(c string) error {
	bad := fmt.Errorf("the time of day is written hh:mm:ss, with Z or an offset")
	if len(c) < 9 || c[3] != ':' || c[6] != ':' {
		return bad
	}
	h, m, s := c[1:3], c[4:6], c[7:9]
	if !below(h, 24) || !below(m, 60) || !below(s, 60) {
		return bad
	}
	zone := c[9:]
	if zone == "" || zone == "Z" {
		return nil
	}
	if zone[0] != '+' && zone[0] != '-' {
		return bad
	}
	hours, minutes, has := strings.Cut(zone[1:], ":")
	if !below(hours, 24) || (has && !below(minutes, 60)) {
		return bad
	}
	return nil
}

// below reports whether s is two figures standing for less than limit.
func below(s string, limit int) bool {
	n, err := strconv.Atoi(s)
	return len(s) == 2 && digits(s) && err == nil && n < limit
}

func digits(s string) bool {
	for _, r := range s {
		if !isDigit(r) {
			return false
		}
	}
	return s != ""
}

func digitsOrX(s string) bool {
	for _, r := range s {
		if !isDigit(r) && r != 'X' {
			return false
		}
	}
	return s != ""
}

// unspecified reports whether any figure is X.
func (t *term) unspecified() bool {
	return strings.Contains(t.year+t.month+t.day, "X")
}

// qualified reports whether any part is marked.
func (t *term) qualified() bool {
	return strings.Join(t.left[:], "")+strings.Join(t.right[:], "") != ""
}

// reckonLevel returns the lowest level that allows the term.
func (t *term) reckonLevel(fields int) int {
	level := 0
	switch {
	case strings.ContainsAny(t.year, "ES"):
		return 2
	case t.season > 24:
		return 2
	case t.season > 0, strings.HasPrefix(t.year, "Y"), strings.HasPrefix(t.year, "-"):
		level = 1
	}
	for i := range 3 {
		// Level 1 qualifies the whole date, at its end.
		if t.left[i] != "" || (t.right[i] != "" && i != fields-1) {
			return 2
		}
		if t.right[i] != "" {
			level = 1
		}
	}
	if !t.unspecified() {
		return level
	}
	year := strings.TrimPrefix(t.year, "-")
	last := []string{t.year, t.month, t.day}[fields-1]
	switch {
	case fields == 1 && digits(year[:2]) && (year[2:] == "XX" || (isDigit(rune(year[2])) && year[3] == 'X')):
	case fields == 2 && digits(year) && last == "XX":
	case fields == 3 && digits(year) && last == "XX" && (digits(t.month) || t.month == "XX"):
	default:
		return 2
	}
	return max(level, 1)
}

// String writes the term in the format.
func (t term) String() string {
	s := t.left[0] + t.year + t.right[0]
	if t.month != "" {
		s += "-" + t.left[1] + t.month + t.right[1]
	}
	if t.day != "" {
		s += "-" + t.left[2] + t.day + t.right[2]
	}
	return s + t.clock
}
