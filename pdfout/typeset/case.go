package typeset

import (
	"fmt"
	"sort"

	"github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/harfbuzz"

	"pullbook/assets/fonts"
)

// Case is a type case: the faces of one job, in the cuts the book uses, and
// what was found missing in them.
type Case struct {
	Roman, Italic               *Cut // running text, lining figures
	Tabular, TabularItalic      *Cut // figures of one width, for tables
	SmallCaps                   *Cut // lower case as small capitals
	Medium, MediumTabular       *Cut // a little heavier: numbers, main references
	SemiBold                    *Cut
	faces                       []*Face
	missing                     map[rune]string // character -> a piece of the text it stood in
	hyphenators                 map[string]*Hyphenator
	roman, italic, fallR, fallI *Face
}

// NewCase opens the faces of the book.
func NewCase() (*Case, error) {
	c := &Case{missing: map[rune]string{}, hyphenators: map[string]*Hyphenator{}}
	var medium, semi *Face
	for _, f := range []struct {
		into    **Face
		key, ps string
		data    []byte
	}{
		{&c.roman, "roman", "EBGaramond-Regular", fonts.BookRegular},
		{&c.italic, "italic", "EBGaramond-Italic", fonts.BookItalic},
		{&medium, "medium", "EBGaramond-Medium", fonts.BookMedium},
		{&semi, "semibold", "EBGaramond-SemiBold", fonts.BookSemiBold},
		{&c.fallR, "standin", "LiberationSerif", fonts.FallbackRegular},
		{&c.fallI, "standinitalic", "LiberationSerif-Italic", fonts.FallbackItalic},
	} {
		face, err := newFace(f.key, f.ps, f.data)
		if err != nil {
			return nil, err
		}
		*f.into = face
		c.faces = append(c.faces, face)
	}
	c.Roman = c.cut(c.roman, c.fallR, "lnum", "pnum")
	c.Italic = c.cut(c.italic, c.fallI, "lnum", "pnum")
	c.Tabular = c.cut(c.roman, c.fallR, "lnum", "tnum")
	c.TabularItalic = c.cut(c.italic, c.fallI, "lnum", "tnum")
	c.SmallCaps = c.cut(c.roman, c.fallR, "smcp", "lnum", "pnum")
	c.Medium = c.cut(medium, c.fallR, "lnum", "pnum")
	c.MediumTabular = c.cut(medium, c.fallR, "lnum", "tnum")
	c.SemiBold = c.cut(semi, c.fallR, "lnum", "pnum")
	return c, nil
}

// Faces returns the faces of which at least one glyph was used.
func (c *Case) Faces() []*Face {
	var out []*Face
	for _, f := range c.faces {
		if len(f.Used()) > 0 {
			out = append(out, f)
		}
	}
	return out
}

// Missing is a character no face of the case has. A raised dot was set in its
// place.
type Missing struct {
	Char rune
	In   string // the word or phrase it stood in
}

// String says what is missing, in words.
func (m Missing) String() string {
	return fmt.Sprintf("the character U+%04X in “%s” is not in the book’s type", m.Char, m.In)
}

// Missing lists the characters that could not be set, by code point.
func (c *Case) Missing() []Missing {
	var out []Missing
	for r, in := range c.missing {
		out = append(out, Missing{r, in})
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Char < out[j].Char })
	return out
}

// Cut is a face with a choice of figures and capitals.
type Cut struct {
	face, standIn *Face
	features      []harfbuzz.Feature
	runs          map[string]*Run
	owner         *Case
}

// cut makes a cut of a face with OpenType features switched on.
func (c *Case) cut(face, standIn *Face, features ...string) *Cut {
	k := &Cut{face: face, standIn: standIn, runs: map[string]*Run{}, owner: c}
	for _, f := range features {
		k.features = append(k.features, harfbuzz.Feature{Tag: opentype.MustNewTag(f), Value: 1,
			Start: harfbuzz.FeatureGlobalStart, End: harfbuzz.FeatureGlobalEnd})
	}
	return k
}

// Style is a cut at a size, in an ink.
type Style struct {
	Cut   *Cut
	Size  float64 // points
	Ink   Ink
	Track float64 // letterspacing, 1/1000 em
	Rise  float64 // points above the baseline
}

// Shape sets a string in one piece.
func (s Style) Shape(text string) *Run { return s.Cut.shape(text) }

// Width returns the set width of a string in points.
func (s Style) Width(text string) float64 { return s.RunWidth(s.Cut.shape(text)) }

// RunWidth returns the width of a run of this style in points, letterspacing
// included.
func (s Style) RunWidth(r *Run) float64 {
	return (r.Width + s.Track*float64(len(r.Glyphs))) * s.Size / 1000
}

// In returns the style in another ink.
func (s Style) In(k Ink) Style { s.Ink = k; return s }

// With returns the style in another cut.
func (s Style) With(c *Cut) Style { s.Cut = c; return s }

// At returns the style at another size.
func (s Style) At(size float64) Style { s.Size = size; return s }

// Cutoff shortens text so that it sets no wider than width, ending it with an
// ellipsis at a space where there is one near.
func (s Style) Cutoff(text string, width float64) (string, bool) {
	text = Clean(text)
	if len(text) <= 400 && s.Width(text) <= width {
		return text, false
	}
	r := []rune(text)
	if len(r) > 400 {
		r = r[:400]
	}
	lo, hi := 0, len(r)
	for lo < hi {
		mid := (lo + hi + 1) / 2
		if s.Width(string(r[:mid])+"…") <= width {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	for k := lo; k > lo-16 && k > 1; k-- {
		if r[k-1] == ' ' {
			lo = k - 1
			break
		}
	}
	return string(r[:lo]) + "…", true
}
