package notation

import (
	"strconv"
	"strings"
)

// seasonMonths are first and last month of the coded parts of a year, 25 to 41
// of ISO 8601-2; a last month below the first runs into the next year. The
// customary thirds of meteorological seasons are used (common practice).
// Codes 21 to 24 name no hemisphere and so span the year.
var seasonMonths = map[int][2]int{
	25: {3, 5}, 26: {6, 8}, 27: {9, 11}, 28: {12, 2}, // spring to winter, north
	29: {9, 11}, 30: {12, 2}, 31: {3, 5}, 32: {6, 8}, // spring to winter, south
	33: {1, 3}, 34: {4, 6}, 35: {7, 9}, 36: {10, 12}, // quarters
	37: {1, 4}, 38: {5, 8}, 39: {9, 12}, // thirds
	40: {1, 6}, 41: {7, 12}, // halves
}

// span returns the first and last day the term allows. The term has passed
// check, so such days exist.
func (t term) span() (first, last Day) {
	if strings.ContainsAny(t.year, "YS") {
		lo, hi := roundedYears(t.year)
		return Day{lo, 1, 1}, Day{hi, 12, 31}
	}
	if t.season > 0 {
		lo, hi := yearRange(t.year)
		months, known := seasonMonths[t.season]
		if !known {
			return Day{lo, 1, 1}, Day{hi, 12, 31}
		}
		if months[1] < months[0] {
			hi++
		}
		return Day{lo, months[0], 1}, Day{hi, months[1], daysIn(hi, months[1])}
	}
	first, last, _ = t.ends()
	return first, last
}

// roundedYears returns the years a long or rounded year stands for: with n
// significant figures the others may be anything.
func roundedYears(y string) (lo, hi int64) {
	n := longYear(y)
	_, sig, rounded := strings.Cut(y, "S")
	if !rounded {
		return n, n
	}
	figures, _ := strconv.Atoi(sig)
	abs := max(n, -n)
	width := int64(1)
	for i := len(strconv.FormatInt(abs, 10)); i > figures; i-- {
		width *= 10
	}
	base := abs / width * width
	if n < 0 {
		return -(base + width - 1), -base
	}
	return base, base + width - 1
}

// yearRange returns the lowest and highest year a four-figure year with
// unspecified figures can be.
func yearRange(y string) (lo, hi int64) {
	body, negative := strings.CutPrefix(y, "-")
	lo, _ = strconv.ParseInt(strings.ReplaceAll(body, "X", "0"), 10, 64)
	hi, _ = strconv.ParseInt(strings.ReplaceAll(body, "X", "9"), 10, 64)
	if negative {
		return -hi, -lo
	}
	return lo, hi
}

// matches reports whether n fits a pattern of figures and X, padded with noughts.
func matches(pattern string, n int64) bool {
	for i := len(pattern) - 1; i >= 0; i-- {
		if pattern[i] != 'X' && int64(pattern[i]-'0') != n%10 {
			return false
		}
		n /= 10
	}
	return n == 0
}

// ends finds the first and last day that fit the term; ok is false when none
// does. Years are tried one by one from either side: an unspecified year with
// 29 February may have to skip a few.
func (t *term) ends() (first, last Day, ok bool) {
	lo, hi := yearRange(t.year)
	pattern := strings.TrimPrefix(t.year, "-")
	for y := lo; y <= hi; y++ {
		if matches(pattern, max(y, -y)) {
			if d, found := t.within(y, false); found {
				first, ok = d, true
				break
			}
		}
	}
	if !ok {
		return first, last, false
	}
	for y := hi; y >= lo; y-- {
		if matches(pattern, max(y, -y)) {
			if d, found := t.within(y, true); found {
				return first, d, true
			}
		}
	}
	return first, last, false
}

// within finds the first (or last) day of one year that fits month and day.
func (t *term) within(year int64, backwards bool) (Day, bool) {
	for i := 1; i <= 12; i++ {
		m := i
		if backwards {
			m = 13 - i
		}
		if t.month != "" && !matches(t.month, int64(m)) {
			continue
		}
		n := daysIn(year, m)
		for j := 1; j <= n; j++ {
			d := j
			if backwards {
				d = n + 1 - j
			}
			if t.day == "" || matches(t.day, int64(d)) {
				return Day{year, m, d}, true
			}
		}
	}
	return Day{}, false
}
