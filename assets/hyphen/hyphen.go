// Package hyphen carries hyphenation patterns for some languages, as text, with
// the licence (MIT) of each at its head. Reading them is the typesetter's work.
package hyphen

import _ "embed" // the patterns are part of the binary

// Patterns in the form of Liang's thesis (F. M. Liang, Word Hy-phen-a-tion by
// Com-put-er, Stanford 1983), one a line; lines beginning with % are comments.
var (
	//go:embed en-gb.pat
	EnglishBritish string
	//go:embed de-1996.pat
	German string
	//go:embed fr.pat
	French string
)
