package sheet

import (
	"strconv"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/notation"
)

// Understanding is how one cell will be read.
type Understanding struct {
	// Value is what the catalogue would hold, in its own notation; empty when
	// nothing could be read.
	Value string
	// Doubts are sentences on what is odd about the text; where there are
	// any, the text itself is kept in the remarks.
	Doubts []string
}

// Understand says how the text of a cell in the given column would be read. It
// is for showing before anything is prepared; what rows say together, such as
// the same number twice, is told by Prepare.
func (m Matching) Understand(column int, text string) Understanding {
	if column >= len(m.Columns) || strings.TrimSpace(text) == "" {
		return Understanding{}
	}
	switch f := m.Columns[column]; f {
	case LeaveOut:
		return Understanding{}
	case Number:
		r := notation.ParseNumber(text)
		return understood(r.Flags, r.Certain(), r.Number.String())
	case Date, Printed:
		r := notation.ParseDate(text)
		return understood(r.Flags, r.Date.EDTF != "", notation.DateWords(r.Date.EDTF))
	case Dimensions, PlateSize, SheetSize:
		return m.understandSize(f, text)
	case PlateHeight, PlateWidth, SheetHeight, SheetWidth:
		v, ok := length(text, m.UnitMM)
		if !ok {
			return Understanding{Doubts: []string{string(notation.FlagNoUnit)}}
		}
		return Understanding{Value: strconv.FormatFloat(v, 'f', -1, 64) + " mm"}
	case State:
		r := notation.ParseState(text)
		return understood(r.Flags, r.Certain(), notation.FormatState(r.From, r.Total))
	case Edition:
		r := notation.ParseEdition(text)
		return understood(r.Flags, r.Found(), notation.FormatEdition(r.Kind, r.N, r.Of))
	case Pull:
		if n, err := strconv.Atoi(strings.TrimSpace(text)); err == nil && n > 0 {
			return Understanding{Value: strconv.Itoa(n)}
		}
		return Understanding{Doubts: []string{"This is no count of pulls."}}
	case Technique:
		found, _ := techniques(text)
		return Understanding{Value: joined(found)}
	case Reference:
		r := notation.ParseReferences(text)
		var works []string
		for _, ref := range r.References {
			works = append(works, strings.TrimSpace(ref.Work+" "+ref.Number))
		}
		return understood(r.Flags, len(works) > 0, strings.Join(works, "; "))
	}
	return Understanding{Value: text}
}

// understandSize reads a size text as Prepare does: with the unit of the table
// where the text has none.
func (m Matching) understandSize(f Field, text string) Understanding {
	r := notation.ParseSize(text)
	if word := unitWord(m.UnitMM); word != "" && len(r.Parts) == 1 && r.Parts[0].Flags.Has(notation.FlagNoUnit) {
		r = notation.ParseSize(text + " " + word)
	}
	flags := r.Flags
	var values []string
	for _, part := range r.Parts {
		flags = append(flags, part.Flags...)
		if part.Flags.Doubtful() {
			continue
		}
		value := notation.FormatSize(part.Size)
		if f == Dimensions && part.Label != "" {
			value = part.Label + " " + value
		}
		values = append(values, value)
	}
	return understood(flags, len(values) > 0, strings.Join(values, "; "))
}

func understood(flags notation.Flags, have bool, value string) Understanding {
	u := Understanding{}
	if have {
		u.Value = value
	}
	for _, f := range flags {
		u.Doubts = append(u.Doubts, string(f))
	}
	return u
}

func joined(list []catalog.Technique) string {
	words := make([]string, len(list))
	for i, t := range list {
		words[i] = string(t)
	}
	return strings.Join(words, ", ")
}
