package notation

import (
	"regexp"
	"strconv"
	"strings"
)

var (
	isoDay   = regexp.MustCompile(`^(\d{4})-(\d{1,2})-(\d{1,2})$`)
	shortDay = regexp.MustCompile(`^(\d{1,2})\s?[./]\s?(\d{1,2})\s?[./]\s?(\d{4})$`)
	dayFirst = regexp.MustCompile(`^(\d{1,2})\.?\s(\pL+)\.?,?\s(\d{4})$`)
	dayNext  = regexp.MustCompile(`^(\pL+)\.?\s(\d{1,2}),?\s(\d{4})$`)
)

// noSuchDay reports whether a text is nothing but one day, written in full,
// that the Gregorian calendar does not have. Read on, it would give a month or
// a year that nobody wrote.
func noSuchDay(t string) bool {
	t = strings.ToLower(t)
	n := func(s string) int { v, _ := strconv.Atoi(s); return v }
	has := func(year string, month, day int) bool {
		return month >= 1 && month <= 12 && day >= 1 && day <= daysIn(int64(n(year)), month)
	}
	if m := isoDay.FindStringSubmatch(t); m != nil {
		return !has(m[1], n(m[2]), n(m[3]))
	}
	if m := shortDay.FindStringSubmatch(t); m != nil {
		return !has(m[3], n(m[1]), n(m[2])) && !has(m[3], n(m[2]), n(m[1]))
	}
	if m := dayFirst.FindStringSubmatch(t); m != nil && months[m[2]] > 0 {
		return !has(m[3], months[m[2]], n(m[1]))
	}
	if m := dayNext.FindStringSubmatch(t); m != nil && months[m[1]] > 0 {
		return !has(m[3], months[m[1]], n(m[2]))
	}
	return false
}
