package book

import (
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"

	"pullbook/catalog/notation"

	"golang.org/x/text/unicode/norm"
)

// sortBy sorts a list by a key.
func sortBy[T any](list []T, key func(T) string) {
	sort.SliceStable(list, func(i, j int) bool { return key(list[i]) < key(list[j]) })
}

// dateKey is a key that orders dates by their earliest day; texts that cannot
// be read come last.
func dateKey(edtf string) string {
	e, err := notation.ParseEDTF(edtf)
	if err != nil {
		return "~" + edtf
	}
	first, last := e.Span()
	if s := first.String(); s != "" {
		return s + " " + last.String()
	}
	return last.String()
}

// filingKey is the key a heading is filed under: letters without accents,
// small, without a leading article in the languages of the catalogue.
func filingKey(s string) string {
	var b strings.Builder
	for _, r := range norm.NFD.String(strings.ToLower(s)) {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			b.WriteRune(r)
		case unicode.IsSpace(r) || r == '-' || r == '–' || r == ',':
			b.WriteByte(' ')
		}
	}
	key := strings.Join(strings.Fields(b.String()), " ")
	for _, article := range []string{"the ", "a ", "an ", "der ", "die ", "das ", "ein ", "eine ", "le ", "la ", "les ", "un ", "une ", "l "} {
		if rest, ok := strings.CutPrefix(key, article); ok && rest != "" {
			return rest
		}
	}
	return key
}

// filingLetter is the letter a heading stands under in an index.
func filingLetter(key string) string {
	if r, _ := utf8.DecodeRuneInString(key); unicode.IsLetter(r) {
		return strings.ToUpper(string(r))
	}
	return "0–9"
}
