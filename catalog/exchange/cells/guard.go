package cells

import "strings"

// openers are the signs with which a spreadsheet program begins to reckon or
// to run something (OWASP, "CSV Injection").
const openers = "=+-@\t\r'"

// Guard makes a text harmless in a spreadsheet: one that begins with = + - @,
// a tab or a carriage return gets an apostrophe in front. A text that begins
// with an apostrophe gets another, so that Unguard gives every text back.
func Guard(s string) string {
	if s != "" && strings.IndexByte(openers, s[0]) >= 0 {
		return "'" + s
	}
	return s
}

// Unguard takes off the apostrophe that Guard put in front.
func Unguard(s string) string {
	if len(s) > 1 && s[0] == '\'' && strings.IndexByte(openers, s[1]) >= 0 {
		return s[1:]
	}
	return s
}
