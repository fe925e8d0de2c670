package typeset

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Span is text in one style.
type Span struct {
	Style Style
	Text  string
}

// Paragraph is text to be broken into lines.
type Paragraph struct {
	Spans    []Span
	Width    float64
	Indent   float64 // of the first line; below 0: the others hang
	Ragged   bool    // lines end freely, words are not divided
	Centred  bool    // ragged, and each line in the middle
	Language string  // BCP 47; empty is British English
	MaxLines int     // above 0: what is over is cut, with an ellipsis
}

// Placed is a run with its left end.
type Placed struct {
	X     float64
	Style Style
	Run   *Run
}

// Line is one set line. Width is that of the text; Gap the widest word space
// in em, for checks; Cut is set where the paragraph was cut at this line.
type Line struct {
	Words []Placed
	Width float64
	Gap   float64
	Cut   bool
}

// bit is part of a word in one style.
type bit struct {
	style Style
	text  string
}

// Break sets a paragraph. Text with nothing to print gives no lines.
func (c *Case) Break(p Paragraph) []Line {
	if p.Centred {
		p.Ragged = true
	}
	items := p.items(nil)
	if len(items) == 0 {
		return nil
	}
	breaks, ok := p.fitWhole(items)
	if !ok {
		if !p.Ragged {
			if h := c.hyphenator(p.Language); h != nil {
				items = p.items(h)
			}
		}
		breaks = chooseBreaks(items, p)
	}
	lines := setLines(items, breaks, p)
	if p.MaxLines > 0 && len(lines) > p.MaxLines {
		lines = cutLines(lines[:p.MaxLines], p.Width)
	}
	if p.Centred {
		for i := range lines {
			shift(&lines[i], (p.Width-lines[i].Width)/2)
		}
	}
	return lines
}

// items makes the items of the paragraph; with a hyphenator words may be
// divided.
func (p Paragraph) items(h *Hyphenator) []item {
	b := builder{width: p.Width - max(p.Indent, -p.Indent), ragged: p.Ragged, hyphens: h}
	for _, s := range p.Spans {
		b.span(s)
	}
	if len(b.items) > 0 {
		b.finish()
	}
	return b.items
}

// wholeWords is the tolerance of a first attempt that divides no word, as
// TeX's pretolerance: below it a paragraph looks better without hyphens.
const wholeWords = .8

// fitWhole tries to set a justified paragraph without dividing words.
func (p Paragraph) fitWhole(items []item) ([]chosen, bool) {
	if p.Ragged {
		return nil, false
	}
	return fit(items, fitRules{tolerance: wholeWords, width: p.lineWidth})
}

// lineWidth is the width of a line, counted from 0.
func (p Paragraph) lineWidth(line int) float64 {
	if line == 0 {
		return p.Width - max(p.Indent, 0)
	}
	return p.Width - max(-p.Indent, 0)
}

// chooseBreaks tries ever looser rules until the paragraph can be set.
func chooseBreaks(items []item, p Paragraph) []chosen {
	rules := fitRules{width: p.lineWidth}
	em := 10.0
	for i := range items {
		if items[i].kind == box && len(items[i].bits) > 0 {
			em = items[i].bits[0].style.Size
			break
		}
	}
	if p.Ragged {
		rules.ragged = 2.5 * em
	}
	for _, try := range []struct{ tolerance, emergency float64 }{{1.6, 0}, {3, 0}, {4, p.Width * .06}, {12, p.Width * .2}, {1e6, p.Width}} {
		rules.tolerance, rules.emergency = try.tolerance, try.emergency
		if breaks, ok := fit(items, rules); ok {
			return breaks
		}
	}
	return firstFit(items, rules.width)
}

// firstFit breaks line by line, at tied spaces too where nothing else keeps a
// line within the width; it always succeeds.
func firstFit(items []item, width func(int) float64) []chosen {
	var out []chosen
	w, last, spare, start := 0.0, -1, -1, 0
	for i := 0; i < len(items); i++ {
		it := &items[i]
		if i > start {
			switch {
			case it.kind == penalty && it.penalty < never || it.kind == glue && items[i-1].kind == box:
				last = i
			case it.kind == glue && items[i-1].penalty >= never && i < len(items)-2:
				spare = i
			}
		}
		if it.kind != penalty {
			w += it.width
		}
		if it.kind != box || w <= width(len(out))+1e-6 {
			continue
		}
		if last < 0 {
			last = spare
		}
		if last >= 0 {
			out = append(out, chosen{pos: last})
			i, start, w, last, spare = last, last+1, 0, -1, -1
		}
	}
	return append(out, chosen{pos: len(items) - 1})
}

// builder makes the items of a paragraph.
type builder struct {
	items   []item
	width   float64 // a box wider than this is chopped
	ragged  bool
	hyphens *Hyphenator
	before  string // the word before the space now met, for ties
	gap     *Span  // a space met and not yet set
	tied    bool   // that space must not end a line
}

// span adds the words of a span.
func (b *builder) span(s Span) {
	text := Clean(s.Text)
	word := 0
	for i, r := range text {
		if r == ' ' || r == '\u00a0' {
			b.word(s.Style, text[word:i])
			word = i + utf8.RuneLen(r)
			b.tied = r == '\u00a0' || b.gap != nil && b.tied
			at := s
			b.gap = &at
		}
	}
	b.word(s.Style, text[word:])
}

// word adds a word, or part of one where the style changes inside it.
func (b *builder) word(st Style, text string) {
	if text == "" {
		return
	}
	if b.gap != nil {
		if len(b.items) > 0 {
			b.space(text)
		}
		b.gap, b.before = nil, ""
	}
	b.before += text
	pieces := splitAtDashes(text)
	for i, piece := range pieces {
		b.piece(st, piece)
		if i < len(pieces)-1 {
			b.items = append(b.items, item{kind: penalty, penalty: dashPrice, flagged: true, hang: hang(st, piece)})
		}
	}
}

// space adds the word space before a word.
func (b *builder) space(next string) {
	st := b.gap.Style
	w := st.Width(" ")
	g := item{kind: glue, width: w, stretch: w * .55, shrink: w * .25}
	if n := len(b.items) - 1; b.items[n].kind == box && len(b.items[n].bits) > 0 {
		last := b.items[n].bits[len(b.items[n].bits)-1]
		g.hang = hang(last.style, last.text)
	}
	if b.ragged {
		g.stretch, g.shrink, g.hang = 0, 0, 0
	}
	if b.tied || ties(b.before, next) {
		b.items = append(b.items, item{kind: penalty, penalty: never})
		b.tied = false
	}
	b.items = append(b.items, g)
}

// piece adds an unbroken stretch of letters with its hyphenation points. Widths
// are differences of prefixes, so that ligatures and kerns count once.
func (b *builder) piece(st Style, text string) {
	whole := st.Width(text)
	if whole > b.width && b.width > 0 {
		b.chop(st, text)
		return
	}
	var points []int
	if b.hyphens != nil && st.Track == 0 {
		points = letterPoints(b.hyphens, text)
	}
	done, from := 0.0, 0
	rs := []rune(text)
	hyphenWidth := 0.0
	if len(points) > 0 {
		hyphenWidth = st.Width("-")
	}
	for _, at := range points {
		upTo := st.Width(string(rs[:at]))
		b.items = append(b.items,
			item{kind: box, width: upTo - done, bits: []bit{{st, string(rs[from:at])}}},
			item{kind: penalty, width: hyphenWidth, penalty: hyphenPrice, flagged: true,
				hang: hyphenWidth * .5, hyphen: st, hyphenated: true})
		done, from = upTo, at
	}
	b.items = append(b.items, item{kind: box, width: whole - done, bits: []bit{{st, string(rs[from:])}}})
}

// chop divides a word wider than the line wherever it fills one.
func (b *builder) chop(st Style, text string) {
	rs := []rune(text)
	for len(rs) > 0 {
		n := 1
		for n < len(rs) && n < 400 && st.Width(string(rs[:n+1])) <= b.width*.92 {
			n++
		}
		for n < len(rs) && unicode.Is(unicode.Mn, rs[n]) {
			n++
		}
		part := string(rs[:n])
		rs = rs[n:]
		b.items = append(b.items, item{kind: box, width: st.Width(part), bits: []bit{{st, part}}})
		if len(rs) > 0 {
			b.items = append(b.items, item{kind: penalty, penalty: chopPrice})
		}
	}
}

// finish closes the paragraph: its last line ends freely.
func (b *builder) finish() {
	b.items = append(b.items,
		item{kind: penalty, penalty: never},
		item{kind: glue, stretch: 1e6},
		item{kind: penalty, penalty: forced})
}

// letterPoints finds the hyphenation points of a word that may begin and end
// with points or quotation marks.
func letterPoints(h *Hyphenator, text string) []int {
	rs := []rune(text)
	a, z := 0, len(rs)
	for a < z && !unicode.IsLetter(rs[a]) {
		a++
	}
	for z > a && !unicode.IsLetter(rs[z-1]) {
		z--
	}
	if soft := softPoints(rs); soft != nil {
		return soft
	}
	points := h.Points(string(rs[a:z]))
	if a == 0 {
		return points
	}
	out := make([]int, len(points))
	for i, p := range points {
		out[i] = p + a
	}
	return out
}

// softPoints returns the places of soft hyphens, which overrule the patterns.
func softPoints(rs []rune) []int {
	var out []int
	for i, r := range rs {
		if r == softHyphen && i > 0 && i < len(rs)-1 {
			out = append(out, i)
		}
	}
	return out
}

// splitAtDashes divides a word after hyphens, dashes and slashes, but not
// before a figure: "drypoint-|and-|etching", "1911–12".
func splitAtDashes(word string) []string {
	var out []string
	from := 0
	for i, r := range word {
		after := i + utf8.RuneLen(r)
		if (r == '-' || r == '–' || r == '—' || r == '/') && i > 0 && after < len(word) {
			if next, _ := utf8.DecodeRuneInString(word[after:]); !unicode.IsDigit(next) {
				out = append(out, word[from:after])
				from = after
			}
		}
	}
	return append(out, word[from:])
}

// ties reports whether a space between two words must not end a line: between
// a figure and its unit, after an abbreviation that a figure follows, before
// a state number, round a multiplication sign.
func ties(before, after string) bool {
	first, _ := utf8.DecodeRuneInString(after)
	last, _ := utf8.DecodeLastRuneInString(before)
	bare := strings.Trim(after, ".,;:)’”")
	switch bare {
	case "mm", "cm", "m", "in", "g", "g/m²", "kg", "%", "°C", "ml", "min", "h", "×", "ppi", "dpi":
		return unicode.IsDigit(last) || bare == "×"
	}
	if before == "×" || before == "±" || bare == "±" {
		return true
	}
	switch strings.ToLower(strings.TrimLeft(before, "(‘“")) {
	case "no.", "nos.", "p.", "pp.", "fol.", "fols.", "vol.", "vols.", "pl.", "pls.", "fig.", "figs.", "c.", "ca.",
		"cat.", "nr.", "s.", "bd.", "n°", "t.", "f.", "lot", "no", "±":
		return unicode.IsDigit(first) || isRoman(bare)
	case "state", "states", "zustand", "état":
		return isRoman(bare)
	}
	return utf8.RuneCountInString(before) == 2 && strings.HasSuffix(before, ".") && unicode.IsUpper(first) // initials
}

// isRoman reports whether a word is made of roman capitals.
func isRoman(word string) bool {
	return word != "" && strings.Trim(word, "IVXLCDM/–-") == ""
}

// hang returns how far the last character of a word may stand in the margin.
func hang(st Style, text string) float64 {
	r, _ := utf8.DecodeLastRuneInString(text)
	share := 0.0
	switch r {
	case '-', '‐', '–':
		share = .5
	case '.', ',':
		share = .55
	case ';', ':', '’', '”', '!', '?':
		share = .3
	}
	if share == 0 {
		return 0
	}
	return share * st.Width(string(r))
}
