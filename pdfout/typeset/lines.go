package typeset

import (
	"slices"
	"unicode"
	"unicode/utf8"
)

// setLines sets the lines between the chosen breaks. Gaps are measured again
// from the words as shaped, so that the right edge is exact.
func setLines(items []item, breaks []chosen, p Paragraph) []Line {
	lines := make([]Line, 0, len(breaks))
	start := 0
	for n, br := range breaks {
		for start < len(items) && items[start].kind != box {
			start++
		}
		l := lineSetter{}
		for j := start; j < br.pos; j++ {
			switch it := &items[j]; it.kind {
			case box:
				for _, b := range it.bits {
					l.add(b)
				}
			case glue:
				l.gap(it)
			}
		}
		end := &items[br.pos]
		if end.hyphenated {
			l.add(bit{end.hyphen, "-"})
		}
		l.flush()
		indent := 0.0
		switch {
		case n == 0:
			indent = max(p.Indent, 0)
		case p.Indent < 0:
			indent = -p.Indent
		}
		width := p.Width - indent
		last := n == len(breaks)-1
		lines = append(lines, l.place(indent, width, end.hang, p.Ragged, last))
		start = br.pos
	}
	return lines
}

// lineSetter collects the words and gaps of one line.
type lineSetter struct {
	words []Placed
	gaps  []gapBefore // one per word, zero where words touch
	open  bit
	glue  gapBefore
}

// gapBefore is the space before a word.
type gapBefore struct{ width, stretch, shrink float64 }

// add appends part of a word; parts in one style are shaped together.
func (l *lineSetter) add(b bit) {
	if l.open.text != "" && l.open.style != b.style {
		l.flush()
	}
	l.open.style = b.style
	l.open.text += b.text
}

// flush closes the word in hand.
func (l *lineSetter) flush() {
	if l.open.text == "" {
		return
	}
	l.words = append(l.words, Placed{Style: l.open.style, Run: l.open.style.Shape(l.open.text)})
	l.gaps = append(l.gaps, l.glue)
	l.open, l.glue = bit{}, gapBefore{}
}

// gap adds a word space.
func (l *lineSetter) gap(it *item) {
	l.flush()
	l.glue.width += it.width
	l.glue.stretch += it.stretch
	l.glue.shrink += it.shrink
}

// widestStretch caps the word space of a line that cannot be filled, in
// natural spaces: a loose line is better left short than torn open.
const widestStretch = 4.0

// place gives every word its x. Lines but the last of a justified paragraph
// are filled to the width; opening quotation marks and points hang.
func (l *lineSetter) place(indent, width, hangRight float64, ragged, last bool) Line {
	line := Line{Words: l.words}
	if len(l.words) == 0 {
		return line
	}
	natural, stretch, shrink := 0.0, 0.0, 0.0
	for i, w := range l.words {
		natural += w.Style.RunWidth(w.Run)
		if i > 0 {
			natural += l.gaps[i].width
			stretch += l.gaps[i].stretch
			shrink += l.gaps[i].shrink
		}
	}
	x := indent
	if !ragged {
		hangLeft := openingHang(l.words[0])
		x -= hangLeft
		width += hangLeft + hangRight
	}
	ratio := 0.0
	switch short := width - natural; {
	case ragged:
	case short < 0 && shrink > 0:
		ratio = short / shrink
	case short > 0 && !last && stretch > 0:
		ratio = min(short/stretch, widestStretch/.55)
	}
	for n, i := range visualOrder(line.Words) {
		if n > 0 {
			g := l.gaps[n]
			space := g.width + ratio*g.stretch
			if ratio < 0 {
				space = g.width + ratio*g.shrink
			}
			x += space
			line.Gap = max(line.Gap, space/line.Words[i].Style.Size)
		}
		line.Words[i].X = x
		x += line.Words[i].Style.RunWidth(line.Words[i].Run)
	}
	line.Width = x - indent
	return line
}

// visualOrder returns the order in which the words of a line stand from left
// to right: as read, but neighbours of a script written from right to left
// change places (Unicode Standard Annex 9, rule L2, for a line that runs from
// left to right).
func visualOrder(words []Placed) []int {
	order := make([]int, len(words))
	for i := range order {
		order[i] = i
	}
	for i := 0; i < len(words); {
		j := i
		for j < len(words) && turned(words[j].Run.Text) {
			j++
		}
		slices.Reverse(order[i:j])
		i = max(j, i+1)
	}
	return order
}

// turned reports whether the first letter of a word belongs to a script
// written from right to left.
func turned(word string) bool {
	for _, r := range word {
		if unicode.IsLetter(r) {
			return rightToLeft(r)
		}
	}
	return false
}

// openingHang returns how far the first character of a line stands in the
// left margin.
func openingHang(w Placed) float64 {
	r, _ := utf8.DecodeRuneInString(w.Run.Text)
	switch r {
	case '‘', '“', '\'', '"', '«', '„', '‚':
		return .45 * w.Style.Width(string(r))
	}
	return 0
}

// shift moves a line to the right.
func shift(l *Line, dx float64) {
	for i := range l.Words {
		l.Words[i].X += dx
	}
}

// cutLines ends the last line with an ellipsis, giving up words until it fits.
func cutLines(lines []Line, width float64) []Line {
	last := &lines[len(lines)-1]
	last.Cut = true
	for n := len(last.Words) - 1; n >= 0; n-- {
		w := &last.Words[n]
		text := w.Run.Text + "…"
		if w.X+w.Style.Width(text) > width {
			if n > 0 {
				last.Words = last.Words[:n]
				continue
			}
			text, _ = w.Style.Cutoff(text, width-w.X)
		}
		w.Run = w.Style.Shape(text)
		last.Width = w.X + w.Style.RunWidth(w.Run)
		break
	}
	return lines
}
