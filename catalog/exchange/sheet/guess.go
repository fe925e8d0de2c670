package sheet

import (
	"strings"
	"unicode"

	"golang.org/x/text/runes"
	"golang.org/x/text/transform"
	"golang.org/x/text/unicode/norm"

	"pullbook/catalog/exchange/cells"
	"pullbook/catalog/notation"
)

// Each says what one row of the table stands for.
type Each string

// What a row can be.
const (
	EachPlate      Each = "plate"
	EachImpression Each = "impression"
)

// Matching says what the columns of a table hold.
type Matching struct {
	// Columns has one field for each heading.
	Columns []Field
	// Each is what a row stands for.
	Each Each
	// UnitMM is the length of the unit of figures that have none beside them,
	// in millimetres: 1 for mm, 10 for cm, 25.4 for inches. 0 means that such
	// figures are not read.
	UnitMM float64
}

// Guess proposes a matching from the headings, and where those say nothing,
// from the cells. Columns it does not know are kept in the remarks.
func Guess(s cells.Sheet) Matching {
	m := Matching{Columns: make([]Field, len(s.Heading))}
	taken := map[Field]bool{}
	for i := range m.Columns {
		m.Columns[i] = Keep
	}
	take := func(i int, f Field) {
		if m.Columns[i] == Keep && (many[f] || !taken[f]) {
			m.Columns[i], taken[f] = f, true
		}
	}
	folded := make([]string, len(s.Heading))
	for i, h := range s.Heading {
		folded[i] = fold(h)
		if f, ok := byHeading(withoutUnit(folded[i])); ok {
			take(i, f)
		}
		if u := unitIn(folded[i]); u > 0 && m.UnitMM == 0 {
			m.UnitMM = u
		}
	}
	for i := range s.Heading {
		if m.Columns[i] == Keep {
			if f := byCells(s, i); f != Keep && !taken[f] {
				take(i, f)
			}
		}
	}
	m.Each = EachOf(m.Columns)
	return m
}

// EachOf proposes what a row stands for: a sheet as soon as a column speaks of
// one, else a plate.
func EachOf(columns []Field) Each {
	for _, f := range columns {
		if ofImpression[f] {
			return EachImpression
		}
	}
	return EachPlate
}

// fold writes a text in lower case without accents and punctuation, one space
// between words.
func fold(s string) string {
	t := strings.ToLower(strings.ReplaceAll(s, "ß", "ss"))
	if !ascii(t) {
		// A chain keeps state, so each call makes its own.
		bare := transform.Chain(norm.NFD, runes.Remove(runes.In(unicode.Mn)), norm.NFC)
		if u, _, err := transform.String(bare, t); err == nil {
			t = u
		}
	}
	return strings.Join(strings.FieldsFunc(t, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }), " ")
}

func ascii(s string) bool {
	for i := range len(s) {
		if s[i] >= 0x80 {
			return false
		}
	}
	return true
}

// byHeading finds the field whose words are the heading.
func byHeading(h string) (Field, bool) {
	if h == "" {
		return Keep, false
	}
	for _, f := range Fields() {
		for _, w := range headings[f] {
			if h == w {
				return f, true
			}
		}
	}
	// A heading of several words that ends or begins with known words:
	// "title of the print", "sheet size approx".
	best, length := Keep, 0
	for _, f := range Fields() {
		for _, w := range headings[f] {
			if len(w) > length && len(w) > 3 && (strings.HasPrefix(h, w+" ") || strings.HasSuffix(h, " "+w)) {
				best, length = f, len(w)
			}
		}
	}
	return best, length > 0
}

// units are the words for units in headings.
var units = map[string]float64{"mm": 1, "cm": 10, "in": 25.4, "inch": 25.4, "inches": 25.4, "zoll": 25.4}

func unitIn(h string) float64 {
	words := strings.Fields(h)
	if len(words) < 2 {
		return 0
	}
	return units[words[len(words)-1]]
}

func withoutUnit(h string) string {
	if unitIn(h) > 0 {
		return h[:strings.LastIndex(h, " ")]
	}
	return h
}

// byCells looks at the first cells of a column: where nearly all are sizes,
// dates or numbers within an edition, it holds those.
func byCells(s cells.Sheet, col int) Field {
	counts, n := map[Field]int{}, 0
	for _, row := range s.Rows {
		if col >= len(row) || strings.TrimSpace(row[col]) == "" {
			continue
		}
		if n++; n > 40 {
			break
		}
		c := row[col]
		switch {
		case notation.ParseSize(c).Certain():
			counts[Dimensions]++
		case strings.Contains(c, "/") && notation.ParseEdition(c).Certain():
			counts[Edition]++
		case notation.ParseDate(c).Certain() && !notation.ParseDate(c).Flags.Has(notation.FlagMoreText):
			counts[Date]++
		}
	}
	for _, f := range []Field{Dimensions, Edition, Date} {
		if n >= 3 && counts[f]*10 >= n*9 {
			return f
		}
	}
	return Keep
}
