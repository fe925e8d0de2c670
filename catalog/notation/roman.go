package notation

import "strings"

// romanSteps are the values and letters of roman figures, subtractive pairs
// included, highest first.
var romanSteps = []struct {
	n       int
	letters string
}{
	{1000, "M"}, {900, "CM"}, {500, "D"}, {400, "CD"}, {100, "C"}, {90, "XC"},
	{50, "L"}, {40, "XL"}, {10, "X"}, {9, "IX"}, {5, "V"}, {4, "IV"}, {1, "I"},
}

// Roman writes n in upper-case roman figures. It returns "" outside 1 to 3999,
// which have no customary roman form.
func Roman(n int) string {
	if n < 1 || n > 3999 {
		return ""
	}
	var b strings.Builder
	for _, s := range romanSteps {
		for n >= s.n {
			b.WriteString(s.letters)
			n -= s.n
		}
	}
	return b.String()
}

// ParseRoman reads a roman figure in upper or lower case (not mixed). Only the
// canonical form is accepted: "IIII", "IIX" and "VX" are not figures.
func ParseRoman(s string) (n int, ok bool) {
	up := strings.ToUpper(s)
	if s == "" || (s != up && s != strings.ToLower(s)) {
		return 0, false
	}
	rest := up
	for _, step := range romanSteps {
		for strings.HasPrefix(rest, step.letters) {
			n += step.n
			rest = rest[len(step.letters):]
		}
	}
	// Writing the figure back is the whole test of canonical form.
	if rest != "" || Roman(n) != up {
		return 0, false
	}
	return n, true
}
