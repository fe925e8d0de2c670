package notation

import (
	"math"
	"regexp"
	"strings"

	"pullbook/catalog"
)

// Part is one measured part of a size statement.
type Part struct {
	// Label is what was measured, in one consistent word: "plate", "sheet",
	// "image", "mount", "frame", "book", "overall", "other"; "" when the text
	// does not say.
	Label string
	// As is the label as written.
	As string
	// Size is height x width; zero when the figures could not be taken.
	Size catalog.Size
	// DepthMM is a third figure, 0 when there is none.
	DepthMM float64
	// Inches is the size as written in inches, zero when not given.
	Inches catalog.Size
	Flags  Flags
	Raw    string
}

// Certain reports whether a size was read and nothing casts doubt on it.
func (p Part) Certain() bool { return !p.Size.IsZero() && !p.Flags.Doubtful() }

// SizeReading is a size statement: one or more measured parts.
type SizeReading struct {
	Parts []Part
	Flags Flags
	Raw   string
}

// Part returns the first part with a label, and whether there is one.
func (r SizeReading) Part(label string) (Part, bool) {
	for _, p := range r.Parts {
		if p.Label == label {
			return p, true
		}
	}
	return Part{}, false
}

// Certain reports whether every part was read and none is doubtful.
func (r SizeReading) Certain() bool {
	for _, p := range r.Parts {
		if !p.Certain() {
			return false
		}
	}
	return len(r.Parts) > 0 && !r.Flags.Doubtful()
}

// disagreeMM is how far centimetres and inches of one measurement may differ.
// Centimetres to one place (0.5 mm either way) and sixteenths of an inch
// (0.8 mm either way) account for 1.3 mm; reading two rulers, for the rest.
const disagreeMM = 2.05

// largestMM bounds what a plate, sheet or frame can measure.
const largestMM = 10_000

// One number: vulgar and mixed fractions, decimals with point or comma.
const (
	numberPattern = `(?:\d+\s*['′]\s*\d+(?:\s+\d+/\d+)?|\d+\s*-?\s+\d+\s*/\s*\d+|\d+-\d+/\d+|\d+\s*/\s*\d+|\d*[.,]\d+|\d+\.|\d+\s*[¼½¾⅛⅜⅝⅞]|[¼½¾⅛⅜⅝⅞]|\d+)`
	timesPattern  = `\s*(?:[x×X✕*]|by|par|auf|mal)\s*`
	unitPattern   = `(?:millimet(?:er|re)s?|centimet(?:er|re)s?|inch(?:es)?|mm\.?|cms?\.?|in\b\.?|ins\.?|po\.?|pouces?|zoll|["″”“]|''|['′]|ft\.?|feet\b|m\b)`
	sidePattern   = `(?:\b(?:h|height|hoogte|hauteur|höhe|w|width|b|breite|l|largeur|d|depth)\.?\s*:?\s*)?`
)

// sizePattern is one group of figures with a unit after any of them.
var sizePattern = regexp.MustCompile(`(?i)` + sidePattern + `(` + numberPattern + `)\s*(` + unitPattern + `)?` +
	`(?:` + timesPattern + sidePattern + `(` + numberPattern + `)\s*(` + unitPattern + `)?)?` +
	`(?:` + timesPattern + sidePattern + `(` + numberPattern + `)\s*(` + unitPattern + `)?)?`)

// group is one match of sizePattern.
type group struct {
	start, end int
	n          []float64
	unit       string // "mm", "cm", "in", "m", ""
	odd        bool
	text       string
}

// ParseSize reads the dimensions of a print as museums and dealers write them:
// "plate: 15.2 x 21.0 cm (6 x 8 1/4 in.); sheet: …". Height stands first. The
// metric figures are read where both systems are given; where they disagree
// by more than 2 mm the part is flagged.
func ParseSize(s string) SizeReading {
	r := SizeReading{Raw: s}
	if strings.TrimSpace(s) == "" {
		r.Flags.add(FlagEmpty)
		return r
	}
	text := strings.ReplaceAll(s, "\u00a0", " ")
	groups := findGroups(text)
	end := 0
	for i := 0; i < len(groups); i++ {
		g := groups[i]
		label := text[end:g.start]
		p := Part{Raw: text[g.start:g.end]}
		metric, inches := &group{}, &group{}
		paired := i+1 < len(groups) && other(g, groups[i+1]) && onlyBracket(text[g.end:groups[i+1].start])
		if paired && g.unit == "" && groups[i+1].unit != "in" {
			// Figures without a unit before centimetres can only be the inches.
			g.unit = "in"
		}
		assign(g, metric, inches)
		// The same measurement in the other system stands in brackets, or
		// after a stroke or comma, with nothing else between.
		if paired {
			assign(groups[i+1], metric, inches)
			i++
			p.Raw = text[g.start:groups[i].end]
		}
		end = groups[i].end
		p.As = cleanLabel(label)
		p.Label = labelOf(p.As)
		p.read(*metric, *inches)
		p.describe(label, text[end:min(len(text), end+40)])
		if len(g.n) == 1 && p.Size.IsZero() && p.Label == "" && g.unit == "" {
			continue // a bare figure among words is no size: "Print (14)"
		}
		r.Parts = append(r.Parts, p)
	}
	if len(r.Parts) == 0 {
		r.Flags.add(FlagUnread)
	}
	return r
}

// findGroups returns the groups of figures of a text, in order.
func findGroups(text string) []group {
	var out []group
	for _, m := range sizePattern.FindAllStringSubmatchIndex(text, -1) {
		g := group{start: m[0], end: m[1], text: text[m[0]:m[1]]}
		for k := 0; k < 3; k++ {
			if m[2+4*k] < 0 {
				continue
			}
			n, odd := readNumber(text[m[2+4*k]:m[3+4*k]])
			g.n, g.odd = append(g.n, n), g.odd || odd
			if m[4+4*k] >= 0 {
				g.unit = unitOf(text[m[4+4*k]:m[5+4*k]])
				if g.unit == "ft" {
					g.n[len(g.n)-1] *= 12
					g.unit = "in"
				}
			}
		}
		// A figure glued to letters is part of a name ("H2", "No5").
		if g.start > 0 && len(g.n) == 1 && isLetter(rune(text[g.start-1])) {
			continue
		}
		out = append(out, g)
	}
	return out
}

// readNumber reads one number. odd is true for a fraction whose halves do not
// belong together, such as 237/16 or 3/0.
func readNumber(s string) (n float64, odd bool) {
	for sign, value := range map[string]string{"¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"} {
		s = strings.ReplaceAll(s, sign, value)
	}
	s = strings.TrimSpace(strings.ReplaceAll(strings.ReplaceAll(s, "-", " "), " /", "/"))
	s = strings.ReplaceAll(s, "/ ", "/")
	feet := 0.0
	if i := strings.IndexAny(s, "'′"); i > 0 {
		feet, s = 12*decimal(s[:i]), strings.TrimSpace(strings.TrimLeft(s[i:], "'′"))
	}
	whole, frac, mixed := strings.Cut(s, " ")
	if !mixed && strings.Contains(s, "/") {
		whole, frac = "0", s
	}
	n = feet + decimal(whole)
	if frac = strings.TrimSpace(frac); frac != "" {
		a, b, _ := strings.Cut(frac, "/")
		num, den := decimal(a), decimal(b)
		if den == 0 || num >= den {
			return n, true
		}
		n += num / den
		// Rulers are cut in powers of two, or in tenths and twelfths.
		odd = den != 2 && den != 4 && den != 8 && den != 16 && den != 32 && den != 64 && den != 3 && den != 10 && den != 12
	}
	return n, odd
}

// decimal reads figures with a point or comma before the decimals.
func decimal(s string) float64 {
	var n, scale float64 = 0, 1
	seen := false
	for _, r := range s {
		switch {
		case isDigit(r):
			n = n*10 + float64(r-'0')
			if seen {
				scale *= 10
			}
		case r == '.' || r == ',':
			seen = true
		}
	}
	return n / scale
}

func unitOf(s string) string {
	switch l := strings.ToLower(s); {
	case strings.HasPrefix(l, "mm"), strings.HasPrefix(l, "milli"):
		return "mm"
	case strings.HasPrefix(l, "c"):
		return "cm"
	case l == "m":
		return "m"
	case l == "'", l == "′", strings.HasPrefix(l, "f"):
		return "ft"
	}
	return "in"
}

// assign puts a group where its unit belongs.
func assign(g group, metric, inches *group) {
	if g.unit == "in" {
		*inches = g
		return
	}
	*metric = g
}

// other reports whether two neighbouring groups give one measurement in two
// systems: as many figures, one metric and one in inches or without a unit.
func other(a, b group) bool {
	metric := func(g group) bool { return g.unit == "cm" || g.unit == "mm" || g.unit == "m" }
	return len(a.n) == len(b.n) && len(a.n) > 1 && metric(a) != metric(b)
}

// onlyBracket reports whether the text between two groups joins them.
func onlyBracket(s string) bool {
	switch strings.TrimSpace(s) {
	case "(", "[", ") (", "/", ",", "=", "", ";(", ", (", ".", ". (", ".(":
		return true
	}
	return false
}

// read fills the size from the metric group, else from the inches.
func (p *Part) read(metric, inches group) {
	scale := map[string]float64{"mm": 1, "cm": 10, "m": 1000}[metric.unit]
	mm := scaled(metric.n, scale)
	in := scaled(inches.n, 25.4)
	if len(inches.n) >= 2 {
		p.Inches = catalog.Size{HeightMM: inches.n[0], WidthMM: inches.n[1]}
	}
	if metric.odd || inches.odd {
		p.Flags.add(FlagOddFraction)
	}
	take := mm
	switch {
	case len(mm) == 0 && len(in) == 0:
		p.Flags.add(FlagNoUnit)
		return
	case len(mm) == 0:
		if len(metric.n) > 0 {
			p.Flags.add(FlagNoUnit)
			return
		}
		take = in
		p.Flags.add(FlagInchesOnly)
	case len(in) > 0:
		p.compare(mm, in)
	}
	if len(take) < 2 {
		p.Flags.add(FlagOneFigure)
		return
	}
	for _, v := range take {
		if v <= 0 || v > largestMM {
			p.Flags.add(FlagOddSize)
			return
		}
	}
	p.Size = catalog.Size{HeightMM: take[0], WidthMM: take[1]}
	if len(take) > 2 {
		p.DepthMM = take[2]
	}
}

// compare flags a part whose two systems disagree.
func (p *Part) compare(mm, in []float64) {
	n := min(len(mm), len(in))
	gap := 0.0
	for i := range n {
		gap = math.Max(gap, math.Abs(mm[i]-in[i]))
	}
	if gap <= disagreeMM {
		return
	}
	p.Flags.add(FlagDisagree)
	if n >= 2 && math.Abs(mm[0]-in[1]) <= disagreeMM && math.Abs(mm[1]-in[0]) <= disagreeMM {
		p.Flags.add(FlagSwapped)
	}
}

// scaled multiplies, rounding to the micrometre so that 15.2 cm is 152 mm;
// scale 0 (no unit) gives nothing.
func scaled(n []float64, scale float64) []float64 {
	if scale == 0 {
		return nil
	}
	out := make([]float64, len(n))
	for i, v := range n {
		out[i] = math.Round(v*scale*1000) / 1000
	}
	return out
}

// describe adds what the words around the figures say.
func (p *Part) describe(before, after string) {
	words := strings.ToLower(before)
	if i := strings.IndexAny(after, ";\n"); i >= 0 {
		after = after[:i]
	}
	tail := strings.ToLower(after)
	for word, f := range map[string]Flag{"irreg": FlagIrregular, "unregelm": FlagIrregular, "approx": FlagApproximate,
		"about": FlagApproximate, "ca.": FlagApproximate, "each": FlagEach, "various": FlagEach} {
		if strings.Contains(words, word) || (f != FlagEach && strings.HasPrefix(strings.TrimLeft(tail, " )("), word)) {
			p.Flags.add(f)
		}
	}
	if widthFirst.MatchString(p.Raw) && !p.Size.IsZero() {
		p.Size.HeightMM, p.Size.WidthMM = p.Size.WidthMM, p.Size.HeightMM
		p.Flags.add(FlagWideFirst)
	}
}

// widthFirst recognises "W: 20 x H: 15".
var widthFirst = regexp.MustCompile(`(?i)[x×]\s*(?:h|height|hoogte|hauteur|höhe)\b`)

// FormatSize writes a size as height x width in millimetres, to the tenth
// where it is not whole: "152 x 210 mm". The zero Size is "".
func FormatSize(s catalog.Size) string {
	if s.IsZero() {
		return ""
	}
	return millimetres(s.HeightMM) + " x " + millimetres(s.WidthMM) + " mm"
}

func millimetres(v float64) string {
	s := strings.TrimSuffix(formatFloat(math.Round(v*10)/10, 1), ".0")
	return s
}
