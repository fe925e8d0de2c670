package notation

import (
	"strconv"
	"strings"
	"unicode"

	"pullbook/catalog"
)

// NumberReading is a catalogue number as read from text.
type NumberReading struct {
	Number catalog.Number
	Flags  Flags
	Raw    string
}

// Certain reports whether a number was read and nothing casts doubt on it.
func (r NumberReading) Certain() bool { return r.Number.N > 0 && !r.Flags.Doubtful() }

// ParseNumber reads a catalogue number: an optional prefix of letters ("R" for
// a rejected work), a whole number and an optional suffix ("31a", "31 bis").
// A number sign or "no." before it is passed over.
func ParseNumber(s string) NumberReading {
	r := NumberReading{Raw: s}
	t := strings.Join(strings.Fields(s), " ")
	if t == "" {
		r.Flags.add(FlagEmpty)
		return r
	}
	low := strings.ToLower(t)
	for _, sign := range []string{"no. ", "no.", "nr. ", "nr.", "cat. ", "#", "№ ", "№"} {
		if strings.HasPrefix(low, sign) {
			t = t[len(sign):]
			break
		}
	}
	start := strings.IndexFunc(t, isDigit)
	if start < 0 {
		r.Flags.add(FlagUnread)
		return r
	}
	end := start
	for end < len(t) && isDigit(rune(t[end])) {
		end++
	}
	prefix := strings.TrimRight(t[:start], " .-")
	suffix := strings.TrimLeft(t[end:], " ")
	n, err := strconv.Atoi(t[start:end])
	if err != nil || !allLetters(prefix) || !allLetters(suffix) || len(prefix) > 8 || len(suffix) > 8 {
		r.Flags.add(FlagUnread)
		return r
	}
	if n == 0 {
		r.Flags.add(FlagZero)
		return r
	}
	r.Number = catalog.Number{Prefix: prefix, N: n, Suffix: suffix}
	return r
}

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

func allLetters(s string) bool {
	for _, r := range s {
		if !unicode.IsLetter(r) {
			return false
		}
	}
	return true
}
