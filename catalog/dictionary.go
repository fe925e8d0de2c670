package catalog

import (
	_ "embed" // the dictionary
	"encoding/csv"
	"strings"
)

// dictionary.csv is kept as a table so that it can be read with a spreadsheet
// too. Standards: CDWA by category number, CCO (2006), DCRM(G) 2013, Graphic
// Materials (LC 1982), LIDO 1.1, Linked Art 1.0, IIIF Presentation 3.0, EDTF
// (ISO 8601-2); the numbers of EXIF and IPTC fields, Dublin Core terms, GUM,
// VIM, FIPS 180-4, ISO 5-4 and ISO 536 are from memory.
//
//go:embed dictionary.csv
var dictionary string

// A Term is one field of the data dictionary.
type Term struct {
	Noun     string // "plate", or the name of a part such as "Size"
	Field    string // its name in JSON and in the history
	Meaning  string
	Unit     string // unit, or the form of what is in it
	Standard string // elements of published standards it answers to, "-" none
}

// Dictionary is the data dictionary: every field of every noun.
func Dictionary() []Term {
	rows, err := csv.NewReader(strings.NewReader(dictionary)).ReadAll()
	if err != nil {
		panic("catalog: the data dictionary cannot be read: " + err.Error()) // built in, and tested
	}
	terms := make([]Term, 0, len(rows))
	for _, r := range rows[1:] {
		terms = append(terms, Term{r[0], r[1], r[2], r[3], r[4]})
	}
	return terms
}
