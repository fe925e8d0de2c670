package literature

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// accents are the TeX commands for accents with the combining sign they set on
// the next letter.
var accents = map[byte]string{'\'': "\u0301", '`': "\u0300", '^': "\u0302", '"': "\u0308", '~': "\u0303", '=': "\u0304", '.': "\u0307",
	'u': "\u0306", 'v': "\u030c", 'H': "\u030b", 'c': "\u0327", 'k': "\u0328", 'r': "\u030a", 'd': "\u0323"}

// letters are the TeX commands for letters of their own.
var letters = map[string]string{"ss": "ß", "ae": "æ", "AE": "Æ", "oe": "œ", "OE": "Œ", "o": "ø", "O": "Ø", "l": "ł", "L": "Ł", "aa": "å", "AA": "Å", "i": "ı",
	"textendash": "–", "textemdash": "—", "ldots": "…", "dots": "…", "S": "§"}

// untex writes TeX source as plain text: accents composed, braces dropped,
// dashes and quotation marks as printed, spaces joined.
func untex(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); {
		switch {
		case s[i] == '\\' && i+1 < len(s):
			text, n := command(s[i:])
			b.WriteString(text)
			i += n
		case s[i] == '{' || s[i] == '}':
			i++
		case s[i] == '~':
			b.WriteByte(' ')
			i++
		case strings.HasPrefix(s[i:], "---"):
			b.WriteString("—")
			i += 3
		case strings.HasPrefix(s[i:], "--"):
			b.WriteString("–")
			i += 2
		case strings.HasPrefix(s[i:], "``"):
			b.WriteString("“")
			i += 2
		case strings.HasPrefix(s[i:], "''"):
			b.WriteString("”")
			i += 2
		default:
			b.WriteByte(s[i])
			i++
		}
	}
	return strings.Join(strings.Fields(norm.NFC.String(b.String())), " ")
}

// command reads one TeX command at the start of s and returns its text and
// length. An unknown command is dropped and its argument kept.
func command(s string) (text string, n int) {
	c := s[1]
	if sign, ok := accents[c]; ok && !isWord(s[1:], c) {
		n = 2
		for n < len(s) && (s[n] == '{' || s[n] == ' ') {
			n++
		}
		letter := ""
		if n < len(s) && s[n] == '\\' && n+1 < len(s) && (s[n+1] == 'i' || s[n+1] == 'j') {
			letter, n = s[n+1:n+2], n+2 // a dotless i under an accent
		} else if n < len(s) {
			r := []rune(s[n:])[0]
			letter = string(r)
			n += len(letter)
		}
		return letter + sign, n
	}
	n = 1
	for n < len(s) && unicode.IsLetter(rune(s[n])) && s[n] < 0x80 {
		n++
	}
	if n == 1 { // \& \% \_ \{
		return s[1:2], 2
	}
	word := s[1:n]
	for n < len(s) && s[n] == ' ' {
		n++
	}
	return letters[word], n
}

// isWord tells an accent written with a letter (\u) from a longer command (\url).
func isWord(s string, c byte) bool {
	return unicode.IsLetter(rune(c)) && len(s) > 1 && s[1] < 0x80 && unicode.IsLetter(rune(s[1]))
}
