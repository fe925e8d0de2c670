package notation

import (
	"fmt"
	"strings"
)

// Form says how the terms of an EDTF expression belong together.
type Form int

// Forms of an EDTF expression.
const (
	FormDate     Form = iota // one date
	FormInterval             // "1964/2008"
	FormOneOf                // "[1667,1668]": one of these
	FormAllOf                // "{1667,1668}": all of these
)

// EDTF is one valid expression of the Extended Date/Time Format (ISO
// 8601-2:2019, Library of Congress specification of 4 February 2019). The zero
// EDTF holds no date. An EDTF is a value and may be copied.
type EDTF struct {
	form  Form
	parts []edtfPart
	level int
}

// edtfPart is one member: a term, or a stretch between two terms. For an
// interval there is one part with both ends.
type edtfPart struct {
	from, to edtfEnd
	stretch  bool
}

// edtfEnd is one end of a stretch: a term, or open, or unknown.
type edtfEnd struct {
	kind BoundKind
	term term
}

// BoundKind says what is known of one end of a span.
type BoundKind int

// Kinds of bound.
const (
	BoundKnown   BoundKind = iota
	BoundOpen              // no limit: "1985/.."
	BoundUnknown           // there is a limit, it is not known: "1985/"
)

// Bound is the earliest or latest day an expression allows. Day is meaningful
// only when Kind is BoundKnown.
type Bound struct {
	Kind BoundKind
	Day  Day
}

// String returns the day as yyyy-mm-dd, "open" or "unknown".
func (b Bound) String() string {
	switch b.Kind {
	case BoundOpen:
		return "open"
	case BoundUnknown:
		return "unknown"
	}
	return b.Day.String()
}

// ParseEDTF reads one EDTF expression, level 0, 1 or 2. It accepts nothing
// else: no spaces, no older drafts, no impossible days, no interval that ends
// before it begins. The error is a sentence.
func ParseEDTF(s string) (EDTF, error) {
	if s == "" {
		return EDTF{}, fmt.Errorf("an empty text is not a date")
	}
	if strings.ContainsAny(s, " \t\r\n\u00a0") {
		return EDTF{}, fmt.Errorf("%q contains a space; this date format has none", s)
	}
	switch {
	case strings.HasPrefix(s, "[") && strings.HasSuffix(s, "]"):
		return parseSet(s, FormOneOf)
	case strings.HasPrefix(s, "{") && strings.HasSuffix(s, "}"):
		return parseSet(s, FormAllOf)
	case strings.Contains(s, "/"):
		return parseInterval(s)
	}
	t, err := parseTerm(s)
	if err != nil {
		return EDTF{}, err
	}
	return EDTF{form: FormDate, level: t.level,
		parts: []edtfPart{{from: edtfEnd{term: t}, to: edtfEnd{term: t}}}}, nil
}

// parseInterval reads "a/b" where an end may be open ("..") or empty.
func parseInterval(s string) (EDTF, error) {
	left, right, _ := strings.Cut(s, "/")
	if strings.Contains(right, "/") {
		return EDTF{}, fmt.Errorf("%q has more than one stroke; an interval has two ends", s)
	}
	p := edtfPart{stretch: true}
	level := 0
	for i, text := range []string{left, right} {
		end := &p.from
		if i == 1 {
			end = &p.to
		}
		switch text {
		case "":
			end.kind, level = BoundUnknown, max(level, 1)
		case "..":
			end.kind, level = BoundOpen, max(level, 1)
		default:
			t, err := parseTerm(text)
			if err != nil {
				return EDTF{}, err
			}
			if t.clock != "" {
				return EDTF{}, fmt.Errorf("%q gives a time of day within an interval, which the format does not allow", s)
			}
			if t.unspecified() { // unspecified digits within an interval are level 2
				level = 2
			}
			end.term, level = t, max(level, t.level)
		}
	}
	if p.from.kind != BoundKnown && p.to.kind != BoundKnown {
		return EDTF{}, fmt.Errorf("%q has no date at either end", s)
	}
	if p.from.kind == BoundKnown && p.to.kind == BoundKnown && reversed(p.from.term, p.to.term) {
		return EDTF{}, fmt.Errorf("%q ends before it begins", s)
	}
	return EDTF{form: FormInterval, parts: []edtfPart{p}, level: level}, nil
}

// reversed reports whether b lies wholly before a. Seasons of one year are
// compared by their code, since their days depend on the hemisphere.
func reversed(a, b term) bool {
	if a.season > 0 && b.season > 0 && a.year == b.year {
		return b.season < a.season
	}
	first, _ := a.span()
	_, last := b.span()
	return last.Before(first)
}

// parseSet reads "[...]" or "{...}": members parted by commas, each a date, a
// stretch "a..b", or open to one side.
func parseSet(s string, form Form) (EDTF, error) {
	e := EDTF{form: form, level: 2}
	members := strings.Split(s[1:len(s)-1], ",")
	for i, m := range members {
		var p edtfPart
		left, right, stretch := strings.Cut(m, "..")
		if !stretch {
			right = left
		}
		if strings.Contains(right, "..") || (left == "" && right == "") {
			return EDTF{}, fmt.Errorf("%q has a member that is not a date", s)
		}
		p.stretch = stretch
		if left == "" {
			if i != 0 {
				return EDTF{}, fmt.Errorf("%q is open towards the past after its first member", s)
			}
			p.from.kind = BoundOpen
		} else {
			t, err := parseTerm(left)
			if err != nil {
				return EDTF{}, err
			}
			p.from.term = t
		}
		if right == "" {
			if i != len(members)-1 {
				return EDTF{}, fmt.Errorf("%q is open towards the future before its last member", s)
			}
			p.to.kind = BoundOpen
		} else {
			t, err := parseTerm(right)
			if err != nil {
				return EDTF{}, err
			}
			p.to.term = t
		}
		if p.from.kind == BoundKnown && p.to.kind == BoundKnown {
			if p.from.term.clock != "" || p.to.term.clock != "" {
				return EDTF{}, fmt.Errorf("%q gives a time of day within a set, which the format does not allow", s)
			}
			if stretch && reversed(p.from.term, p.to.term) {
				return EDTF{}, fmt.Errorf("%q has a stretch that ends before it begins", s)
			}
		}
		e.parts = append(e.parts, p)
	}
	return e, nil
}

// IsZero reports whether e holds no date.
func (e EDTF) IsZero() bool { return len(e.parts) == 0 }

// Level is the lowest level of the format (0, 1 or 2) that allows e.
func (e EDTF) Level() int { return e.level }

// Form says how the terms of e belong together.
func (e EDTF) Form() Form { return e.form }

// String writes e as it is written in the format; parsing it again gives e.
func (e EDTF) String() string {
	if e.IsZero() {
		return ""
	}
	switch e.form {
	case FormInterval:
		return e.parts[0].from.text("..", "") + "/" + e.parts[0].to.text("..", "")
	case FormOneOf, FormAllOf:
		open, shut := "[", "]"
		if e.form == FormAllOf {
			open, shut = "{", "}"
		}
		members := make([]string, len(e.parts))
		for i, p := range e.parts {
			members[i] = p.from.text("", "")
			if p.stretch {
				members[i] += ".." + p.to.text("", "")
			}
		}
		return open + strings.Join(members, ",") + shut
	}
	return e.parts[0].from.term.String()
}

// text writes one end, with the given signs for open and unknown ends.
func (e edtfEnd) text(open, unknown string) string {
	switch e.kind {
	case BoundOpen:
		return open
	case BoundUnknown:
		return unknown
	}
	return e.term.String()
}

// Span returns the earliest and the latest day that e allows. "Circa" and
// "probably" do not widen it: how wide they are is for the reader to judge.
// Seasons 21 to 24, which name no hemisphere, span their whole year.
func (e EDTF) Span() (earliest, latest Bound) {
	if e.IsZero() {
		return Bound{Kind: BoundUnknown}, Bound{Kind: BoundUnknown}
	}
	for i, p := range e.parts {
		lo, hi := Bound{Kind: p.from.kind}, Bound{Kind: p.to.kind}
		if lo.Kind == BoundKnown {
			lo.Day, _ = p.from.term.span()
		}
		if hi.Kind == BoundKnown {
			_, hi.Day = p.to.term.span()
		}
		if i == 0 {
			earliest, latest = lo, hi
			continue
		}
		if earliest.Kind == BoundKnown && (lo.Kind != BoundKnown || lo.Day.Before(earliest.Day)) {
			earliest = lo
		}
		if latest.Kind == BoundKnown && (hi.Kind != BoundKnown || latest.Day.Before(hi.Day)) {
			latest = hi
		}
	}
	return earliest, latest
}

// Years returns the first and last year that e allows, and whether each is
// known: what a chronology sorts by.
func (e EDTF) Years() (first, last int64, firstKnown, lastKnown bool) {
	lo, hi := e.Span()
	return lo.Day.Year, hi.Day.Year, lo.Kind == BoundKnown, hi.Kind == BoundKnown
}
