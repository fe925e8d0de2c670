package typeset

import (
	"math"
	"slices"
	"strings"
	"testing"
	"unicode"
)

// letters are the characters of a text that may neither be lost nor added in
// setting it: all but spaces, hyphens and what is not seen, in order of code,
// since lines of right-to-left words are set in another order.
func letters(s string) []rune {
	var out []rune
	for _, r := range s {
		if !unicode.IsSpace(r) && !unicode.Is(unicode.Cf, r) && r != '-' && r != '\u2010' {
			out = append(out, r)
		}
	}
	slices.Sort(out)
	return out
}

// FuzzBreak sets any text on any measure: every letter is set once, and no word
// stands outside the measure by more than a hanging point.
func FuzzBreak(f *testing.F) {
	c := newCase(f)
	for i, s := range []string{prose, "", "a", strings.Repeat("Werk", 80), "in\u00adta\u00adglio", "205 × 290 mm – IV/IV", "שלום Weir 12", "Z\u030c\u0323algo",
		"ties\u00a0that\u00a0hold", "12–19, (a) “b” l’eau-forte", "🛶 ﬁ ﬄ \ufeff\u202e", "a mark\x18\u030c after a D\x18\u030c"} {
		f.Add(s, uint16(60+47*i), uint8(i))
	}
	languages := []string{"en-GB", "de", "fr", "", "pl"}
	f.Fuzz(func(t *testing.T, text string, measure uint16, choice uint8) {
		text = Clean(text)
		width := 30 + float64(measure%600)
		st := Style{Cut: c.Roman, Size: 10.4}
		p := Paragraph{Spans: []Span{{st, text}}, Width: width, Language: languages[int(choice)%len(languages)], Ragged: choice&128 != 0}
		var set strings.Builder
		for i, l := range c.Break(p) {
			for _, w := range l.Words {
				end := w.X + w.Style.RunWidth(w.Run)
				if math.IsNaN(end) || w.X < -st.Size || end > width+st.Size {
					t.Errorf("line %d of %q on %.0f: %q stands at %.1f to %.1f", i+1, text, width, w.Run.Text, w.X, end)
				}
				set.WriteString(w.Run.Text)
			}
		}
		if got, want := letters(set.String()), letters(text); !slices.Equal(got, want) {
			t.Errorf("%q on %.0f is set as %q", text, width, set.String())
		}
	})
}
