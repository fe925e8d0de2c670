package typeset

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// maxMarks is how many combining marks one letter may carry: enough for
// polytonic Greek and Vietnamese, too few to climb into the line above.
const maxMarks = 4

// softHyphen marks a place where a word may be divided.
const softHyphen = '\u00ad'

// Clean makes any string fit to be set: valid UTF-8 (broken bytes become
// U+FFFD), composed (NFC), line ends and tabs as spaces, no control or
// invisible format characters but the soft hyphen, and no towers of combining
// marks.
func Clean(s string) string {
	if isPlain(s) {
		return s
	}
	s = norm.NFC.String(strings.ToValidUTF8(s, "\ufffd"))
	var b strings.Builder
	marks := 0
	for _, r := range s {
		switch {
		case r == '\n' || r == '\t' || r == '\r' || r == '\v' || r == '\f' || r == '\u2028' || r == '\u2029':
			r = ' '
		case r == '\u202f' || r == '\u2007':
			r = '\u00a0' // the book faces have no narrow no-break space
		case r == softHyphen:
		case unicode.In(r, unicode.Cc, unicode.Cf, unicode.Variation_Selector):
			continue
		}
		if unicode.In(r, unicode.Mn, unicode.Me) {
			if marks++; marks > maxMarks {
				continue
			}
		} else {
			marks = 0
		}
		b.WriteRune(r)
	}
	return norm.NFC.String(b.String()) // what was taken out may have stood between a letter and its mark
}

// isPlain reports whether s is printable ASCII, which needs no cleaning.
func isPlain(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}
