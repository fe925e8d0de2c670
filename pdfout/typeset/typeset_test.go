package typeset

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"
)

// newCase opens the faces, or fails.
func newCase(t testing.TB) *Case {
	t.Helper()
	c, err := NewCase()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// prose is invented running text with the traps of the trade in it.
const prose = "The plate was bitten in three stages, stopped out between them with a hard varnish, and afterwards taken up again with the drypoint; " +
	"impressions from state II, 205 × 290 mm, are recorded in no. 31 of the ledger and on fol. 12 of the album. The unfinished proof, which " +
	"measures 98 × 148 mm, was found in an office at the affable ferryman’s, and is described on pp. 212–19 of the printmaker’s account of the " +
	"estuary; the watermark, three reeds in a ring, is that of the paper used for the etchings of the same winter, and the roulette work in the " +
	"foreground, which the earlier hand-lists call mezzotint, is an afterthought of the second campaign."

// marked shows a word with its hyphenation points.
func marked(h *Hyphenator, word string) string {
	rs := []rune(word)
	var b strings.Builder
	at := 0
	for _, p := range h.Points(word) {
		b.WriteString(string(rs[at:p]) + "-")
		at = p
	}
	return b.String() + string(rs[at:])
}

// TestHyphenation compares with divisions from outside: the exceptions that
// stand in hyph-en-gb.tex itself; German and French divisions as dictionaries
// give them (from memory); and the trade's words, by their parts.
func TestHyphenation(t *testing.T) {
	c := newCase(t)
	for _, w := range []struct{ lang, want string }{
		{"en-GB", "uni-ver-sity"}, {"en-GB", "ma-nu-script"}, {"en-GB", "re-ci-pro-city"}, {"en-GB", "through-out"},
		{"en-GB", "dry-point"}, {"en-GB", "aqua-tint"}, {"en-GB", "mezzo-tint"}, {"en-GB", "inta-glio"}, {"en-GB", "plate-mark"},
		{"de", "Sil-ben-tren-nung"}, {"de", "Kup-fer-stich"}, {"de", "Ra-die-rung"}, {"de", "Was-ser-zei-chen"},
		{"fr", "gra-vure"}, {"fr", "in-té-res-sant"}, {"fr", "es-tampe"},
	} {
		if got := marked(c.hyphenator(w.lang), strings.ReplaceAll(w.want, "-", "")); got != w.want {
			t.Errorf("%s: %s, want %s", w.lang, got, w.want)
		}
	}
	for _, whole := range []string{"burr", "wove", "I9II", "x"} {
		if got := marked(c.hyphenator("en"), whole); got != whole {
			t.Errorf("%s is divided: %s", whole, got)
		}
	}
	if c.hyphenator("pl") != nil {
		t.Error("a language without patterns has a hyphenator")
	}
}

// A word within marks is divided where the word alone is, the marks counted in;
// a soft hyphen overrules the patterns, except at either end, where there is
// nothing to part.
func TestWordsWithinMarks(t *testing.T) {
	h := newCase(t).hyphenator("en-GB")
	for word, want := range map[string]string{
		"“manuscript”,": "“ma-nu-script”,", "(manuscript": "(ma-nu-script", "manus\u00adcript": "manus-\u00adcript",
		"\u00admanuscript": "\u00adma-nu-script", "manuscript\u00ad": "ma-nu-script\u00ad", "—": "—",
	} {
		rs, got, at := []rune(word), "", 0
		for _, p := range letterPoints(h, word) {
			got += string(rs[at:p]) + "-"
			at = p
		}
		if got += string(rs[at:]); got != want {
			t.Errorf("%q is divided as %q, want %q", word, got, want)
		}
	}
}

// TestLinesFillTheMeasure: every justified line but the last ends exactly at
// the measure, hanging points aside; word spaces stay within bounds; nothing is
// lost or added but hyphens.
func TestLinesFillTheMeasure(t *testing.T) {
	c := newCase(t)
	st := Style{Cut: c.Roman, Size: 10.4}
	for width := 170.0; width <= 520; width += 25 {
		lines := c.Break(Paragraph{Spans: []Span{{st, prose}}, Width: width, Language: "en-GB"})
		var set strings.Builder
		for i, l := range lines {
			last := l.Words[len(l.Words)-1]
			end := last.X + last.Style.RunWidth(last.Run)
			over := end - width
			if i < len(lines)-1 && (over < -.01 || over > hang(st, last.Run.Text)+.01) {
				t.Errorf("width %.0f, line %d ends %.3f from the measure", width, i+1, over)
			}
			// Narrower than 65 mm a line can be looser: there is less to choose from.
			if most := map[bool]float64{true: .75, false: .62}[width < 185]; l.Gap > most {
				t.Errorf("width %.0f, line %d has a word space of %.2f em", width, i+1, l.Gap)
			}
			for k, w := range l.Words {
				text := w.Run.Text
				if k == len(l.Words)-1 && i < len(lines)-1 && strings.HasSuffix(text, "-") && !strings.Contains(prose, text) {
					text = strings.TrimSuffix(text, "-")
				} else {
					text += " "
				}
				set.WriteString(text)
			}
		}
		if got := strings.ReplaceAll(set.String(), " ", ""); got != strings.ReplaceAll(prose, " ", "") {
			t.Errorf("width %.0f: the set text differs", width)
		}
	}
}

// TestMeasuresAreNotBroken: no line ends inside "205 × 290 mm", "no. 31",
// "state II", "fol. 12", "pp. 212–19".
func TestMeasuresAreNotBroken(t *testing.T) {
	c := newCase(t)
	st := Style{Cut: c.Roman, Size: 10.4}
	seen := 0
	for width := 120.0; width <= 520; width += 7 {
		for _, ragged := range []bool{false, true} {
			lines := c.Break(Paragraph{Spans: []Span{{st, prose}}, Width: width, Ragged: ragged})
			for i, l := range lines[:len(lines)-1] {
				seen++
				end := l.Words[len(l.Words)-1].Run.Text
				next := lines[i+1].Words[0].Run.Text
				switch end {
				case "no.", "fol.", "pp.", "state", "×", "205", "290", "98", "148":
					t.Errorf("width %.0f: a line ends %q, the next begins %q", width, end, next)
				}
			}
		}
	}
	if seen < 500 {
		t.Errorf("only %d line ends were seen", seen)
	}
}

// TestTotalFitBeatsFirstFit compares the sum of squared gaps with that of
// breaking line by line.
func TestTotalFitBeatsFirstFit(t *testing.T) {
	c := newCase(t)
	st := Style{Cut: c.Roman, Size: 10.4}
	rough := func(lines []Line) float64 {
		sum := 0.0
		for _, l := range lines[:len(lines)-1] {
			sum += math.Pow(l.Gap-.25, 2)
		}
		return sum
	}
	better := 0
	for _, width := range []float64{180, 200, 240, 300} {
		p := Paragraph{Spans: []Span{{st, prose}}, Width: width}
		b := builder{width: width, hyphens: c.hyphenator("en")}
		b.span(p.Spans[0])
		b.finish()
		greedy := setLines(b.items, firstFit(b.items, func(int) float64 { return width }), p)
		fit, first := rough(c.Break(p)), rough(greedy)
		if fit > first {
			t.Errorf("width %.0f: total fit %.4f, line by line %.4f", width, fit, first)
		}
		if fit < first*.9 {
			better++
		}
	}
	if better < 2 {
		t.Errorf("total fit is clearly better at %d of four widths", better)
	}
}

func TestShaping(t *testing.T) {
	c := newCase(t)
	st := Style{Cut: c.Roman, Size: 10}
	if n := len(st.Shape("office").Glyphs); n >= 6 {
		t.Errorf("office is set from %d glyphs: no ligature", n)
	}
	if pair, single := st.Width("AV"), st.Width("A")+st.Width("V"); pair >= single-.5 {
		t.Errorf("AV is %.2f wide, A and V %.2f: no kerning", pair, single)
	}
	if a, b := st.With(c.Tabular).Width("1111"), st.With(c.Tabular).Width("8888"); math.Abs(a-b) > .001 {
		t.Errorf("tabular figures differ: %.3f, %.3f", a, b)
	}
	if a, b := st.Width("1111"), st.Width("8888"); math.Abs(a-b) < .5 {
		t.Error("text figures are not proportional")
	}
	if st.With(c.SmallCaps).Shape("a").Glyphs[0].ID == st.Shape("a").Glyphs[0].ID {
		t.Error("small capitals are the ordinary letters")
	}
	if f, g := c.faces[0].TextOf(st.Shape("office").Glyphs[1].ID), "ffi"; f != g {
		t.Errorf("the ligature stands for %q, want %q", f, g)
	}
	// Decomposed and composed text give the same glyphs (Unicode NFC).
	if a, b := st.Shape("Z\u030c"), st.Shape("Ž"); len(a.Glyphs) != 1 || a.Glyphs[0].ID != b.Glyphs[0].ID {
		t.Error("Z with a combining caron is not Ž")
	}
	// A letter without a composed form keeps its mark, over the letter.
	if r := st.Shape("q\u0301"); len(r.Glyphs) != 2 || r.Glyphs[1].ID == 0 || r.Width > st.Shape("q").Width+1 {
		t.Errorf("q with acute: %+v", r)
	}
}

func TestFallbackAndMissing(t *testing.T) {
	c := newCase(t)
	st := Style{Cut: c.Roman, Size: 10}
	faces := map[string]bool{}
	for _, g := range st.Shape("a ● ש b").Glyphs {
		faces[g.Face.Key] = true
		if g.ID == 0 {
			t.Error("a missing glyph is shown")
		}
	}
	if !faces["roman"] || !faces["standin"] {
		t.Errorf("faces used: %v", faces)
	}
	if len(c.Missing()) != 0 {
		t.Errorf("missing: %v", c.Missing())
	}
	for _, g := range st.Shape("boat 🛶 \U00010000 \xff").Glyphs {
		if g.ID == 0 {
			t.Error("a missing glyph is shown")
		}
	}
	var got []rune
	for _, m := range c.Missing() {
		got = append(got, m.Char)
	}
	if string(got) != "\ufffd\U00010000🛶" {
		t.Errorf("missing: %q", string(got))
	}
}

// TestWordsFromRightToLeft sets the mixed line of Unicode Standard Annex 9: in
// a line that runs from left to right, Hebrew words follow each other leftwards
// and the words after them stand to their right.
func TestWordsFromRightToLeft(t *testing.T) {
	c := newCase(t)
	st := Style{Cut: c.Roman, Size: 10}
	lines := c.Break(Paragraph{Spans: []Span{{Style: st, Text: "called שער הנהר by him"}}, Width: 400})
	if len(lines) != 1 || len(lines[0].Words) != 5 {
		t.Fatalf("%d lines", len(lines))
	}
	w := lines[0].Words
	if w[1].Run.Text != "שער" {
		t.Fatalf("the reading order is lost: %q", w[1].Run.Text)
	}
	for _, pair := range [][2]int{{0, 2}, {2, 1}, {1, 3}, {3, 4}} {
		left, right := w[pair[0]], w[pair[1]]
		if end := left.X + left.Style.RunWidth(left.Run); end >= right.X {
			t.Errorf("%q ends at %.1f, %q begins at %.1f", left.Run.Text, end, right.Run.Text, right.X)
		}
	}
}

func TestClean(t *testing.T) {
	for in, want := range map[string]string{
		"plain": "plain", "a\tb\r\nc": "a b  c", "e\u0301": "é", "a\u200db\u202ec": "abc", "1\u202f000": "1\u00a0000",
		"\xc3\x28": "\ufffd(", "a\x00b": "ab", "in\u00adta": "in\u00adta",
	} {
		if got := Clean(in); got != want {
			t.Errorf("Clean(%q) = %q, want %q", in, got, want)
		}
	}
	if n := utf8.RuneCountInString(Clean("Z" + strings.Repeat("\u0323", 99))); n > 1+maxMarks {
		t.Errorf("a tower of %d marks was left", n)
	}
}

func TestCutoff(t *testing.T) {
	c := newCase(t)
	st := Style{Cut: c.Italic, Size: 9}
	text := strings.Repeat("harbour wall ", 800)
	for _, w := range []float64{20, 80, 300} {
		got, cut := st.Cutoff(text, w)
		if !cut || st.Width(got) > w || !strings.HasSuffix(got, "…") {
			t.Errorf("at %.0f: %q is %.1f wide", w, got, st.Width(got))
		}
	}
	if got, cut := st.Cutoff("ebb", 80); cut || got != "ebb" {
		t.Errorf("a short text was cut to %q", got)
	}
}
