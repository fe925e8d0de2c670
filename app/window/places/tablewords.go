package places

import (
	"regexp"
	"strings"

	"pullbook/app/window/words"
)

// said are the sentences in which the catalogue speaks of the rows of a table,
// with what stands in their blanks, to say them in the user's language.
var said = []struct {
	form  *regexp.Regexp
	words func(blanks []string) string
}{
	{regexp.MustCompile(`^Plate (.+) stands in row (\d+) already\.$`), func(b []string) string { return words.T("Plate %s stands in row %s already.", b[0], b[1]) }},
	{regexp.MustCompile(`^Plate (.+) stands in the catalogue already\.$`), func(b []string) string { return words.T("Plate %s stands in the catalogue already.", b[0]) }},
	{regexp.MustCompile(`^Plate (.+) is called “(.*)”, this row says “(.*)”\.$`), func(b []string) string {
		return words.T("Plate %s is called “%s”, this row says “%s”.", b[0], b[1], b[2])
	}},
	{regexp.MustCompile(`^Pull (\d+) of this plate stands in row (\d+) already\.$`), func(b []string) string {
		return words.T("Pull %s of this plate stands in row %s already.", b[0], b[1])
	}},
	{regexp.MustCompile(`^Pull (\d+) of this plate stands in the catalogue already\.$`), func(b []string) string {
		return words.T("Pull %s of this plate stands in the catalogue already.", b[0])
	}},
	{regexp.MustCompile(`^The number (.+) of this edition stands in row (\d+) already\.$`), func(b []string) string {
		return words.T("The number %s of this edition stands in row %s already.", b[0], b[1])
	}},
	{regexp.MustCompile(`^The number (.+) of this edition stands in the catalogue already\.$`), func(b []string) string {
		return words.T("The number %s of this edition stands in the catalogue already.", b[0])
	}},
	{regexp.MustCompile(`^There are more cells than headings; “(.*)” has none\.$`), func(b []string) string {
		return words.T("There are more cells than headings; “%s” has none.", b[0])
	}},
	{regexp.MustCompile(`^“(.*)” is no catalogue number\.$`), func(b []string) string { return words.T("“%s” is no catalogue number.", b[0]) }},
	{regexp.MustCompile(`^There is neither a catalogue number nor a title\.$`), func([]string) string { return words.T("There is neither a catalogue number nor a title.") }},
	{regexp.MustCompile(`^(.*) “(.*)” is no count of pulls; it is kept as written\.$`), func(b []string) string {
		return words.T("%s “%s” is no count of pulls; it is kept as written.", b[0], b[1])
	}},
	{regexp.MustCompile(`^(.*) “(.*)” is not the printmaker of this plate; it is kept in the remarks\.$`), func(b []string) string {
		return words.T("%s “%s” is not the printmaker of this plate; it is kept in the remarks.", b[0], b[1])
	}},
}

// rowWords says a sentence about a row in the user's language, or as it is
// where it is none of those known. Remarks on a cell end in a sentence of
// their own.
func rowWords(sentence string) string {
	for _, x := range said {
		if m := x.form.FindStringSubmatch(sentence); m != nil {
			return x.words(m[1:])
		}
	}
	if at := strings.LastIndex(sentence, "”: "); at >= 0 {
		at += len("”: ")
		return sentence[:at] + words.T(sentence[at:])
	}
	return words.T(sentence)
}
