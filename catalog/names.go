package catalog

import (
	"cmp"
	"strconv"
	"strings"

	"pullbook/catalog/say"
)

// String writes the number as the catalogue prints it: "31a", "31 bis", "R 3";
// "" when there is none.
func (n Number) String() string {
	s := n.Prefix
	if n.N != 0 {
		if s != "" {
			s += " "
		}
		s += strconv.Itoa(n.N)
	}
	if len(n.Suffix) > 1 && s != "" {
		s += " "
	}
	return s + n.Suffix
}

// IsZero reports whether there is no number.
func (n Number) IsZero() bool { return n == Number{} }

// CompareNumbers puts catalogue numbers in catalogue order, negative when a
// comes first: plain numbers by size and suffix (31, 31a, 31b, 32), then each
// prefix by itself (D 1, R 1), then those without a number.
func CompareNumbers(a, b Number) int {
	if a.IsZero() != b.IsZero() {
		if a.IsZero() {
			return 1
		}
		return -1
	}
	return cmp.Or(
		strings.Compare(a.Prefix, b.Prefix),
		cmp.Compare(a.N, b.N),
		cmp.Compare(len(a.Suffix), len(b.Suffix)),
		strings.Compare(a.Suffix, b.Suffix),
	)
}

// Name is what to call the plate in an English sentence: "12, Low water".
func (p *Plate) Name() string { return p.Said().String() }

// Said is what to call the plate in a sentence.
func (p *Plate) Said() say.Sentence {
	n, t := p.Number.String(), p.Title()
	switch {
	case n == "" && t == "":
		return say.Of("a plate without number or title")
	case n == "":
		return say.Of("%s", t)
	case t == "":
		return say.Of("number %s", n)
	}
	return say.Of("%s, %s", n, t)
}

// Name is what to call the state in an English sentence: "state II".
func (s *State) Name() string { return s.Said().String() }

// Said is what to call the state in a sentence.
func (s *State) Said() say.Sentence { return say.Of("state %s", romanFigure(s.N)) }

// Called is what to call the edition in an English sentence: its name, else
// its kind.
func (e *Edition) Called() string { return e.Said().String() }

// Said is what to call the edition in a sentence.
func (e *Edition) Said() say.Sentence {
	switch {
	case e.Name != "":
		return say.Of("%s", e.Name)
	case e.Kind == "restrike":
		return say.Of("the restrike")
	case e.Kind == "posthumous":
		return say.Of("the posthumous edition")
	}
	return say.Of("the edition")
}

// Name is what to call the sheet in an English sentence: "7/30", "artist's
// proof 2/5", "pull 14", with the pull or the holder's number where they help
// to find it.
func (i *Impression) Name() string { return i.Said().String() }

// Said is what to call the sheet in a sentence.
func (i *Impression) Said() say.Sentence {
	name := say.Of("%s", i.Written)
	nameless := i.Written == ""
	if i.Kind != KindNumbered && i.Kind != KindUnrecorded {
		nameless = false
		name = say.Of("%s %s", say.Word(i.Kind), i.Written)
		if i.Written == "" {
			name = say.Of("%s", say.Word(i.Kind))
		}
	}
	switch {
	case nameless && i.Pull > 0:
		return say.Of("pull %d", i.Pull)
	case nameless && i.Inventory != "":
		return say.Of("sheet %s", i.Inventory)
	case nameless:
		return say.Of("a sheet without number")
	case i.Pull > 0:
		return say.Of("%s (pull %d)", name, i.Pull)
	case i.Inventory != "":
		return say.Of("%s (%s)", name, i.Inventory)
	}
	return name
}

// romanFigure writes states as they are printed; 0 and less are written in
// arabic figures, which shows that something is wrong.
func romanFigure(n int) string {
	if n < 1 || n > 399 {
		return strconv.Itoa(n)
	}
	var b strings.Builder
	for _, f := range []struct {
		v int
		s string
	}{{100, "C"}, {90, "XC"}, {50, "L"}, {40, "XL"}, {10, "X"}, {9, "IX"}, {5, "V"}, {4, "IV"}, {1, "I"}} {
		for ; n >= f.v; n -= f.v {
			b.WriteString(f.s)
		}
	}
	return b.String()
}
