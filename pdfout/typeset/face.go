package typeset

import (
	"bytes"
	"fmt"

	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/harfbuzz"
)

// Face is one font file. All cuts of a face share the record of which glyphs
// were used and what text they stand for, since they share one embedded font.
type Face struct {
	Key        string // short name, unique in a Case
	PostScript string // the font's PostScript name
	Data       []byte // the font file; shared, not to be written to

	face    *font.Face
	shaper  *harfbuzz.Font
	perEm   float64
	nominal []float32         // advance of each glyph, 1/1000 em; below 0: not yet read
	used    []bool            // glyphs that stand in some run
	text    map[uint16]string // what a used glyph stands for
}

// newFace reads a TrueType font.
func newFace(key, postScript string, data []byte) (*Face, error) {
	parsed, err := font.ParseTTF(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("the font %s cannot be read: %w", postScript, err)
	}
	f := &Face{Key: key, PostScript: postScript, Data: data, face: parsed,
		shaper: harfbuzz.NewFont(parsed), perEm: float64(parsed.Upem()), text: map[uint16]string{}}
	n := glyphCount(data)
	f.used = make([]bool, n)
	f.nominal = make([]float32, n)
	for i := range f.nominal {
		f.nominal[i] = -1
	}
	return f, nil
}

// Nominal returns the advance of a glyph in 1/1000 em, rounded to whole units
// as PDF width arrays hold it.
func (f *Face) Nominal(gid uint16) float64 {
	if f.nominal[gid] < 0 {
		w := float64(f.face.HorizontalAdvance(font.GID(gid))) * 1000 / f.perEm
		f.nominal[gid] = float32(int(w + .5))
	}
	return float64(f.nominal[gid])
}

// Used returns the glyphs used so far, in ascending order.
func (f *Face) Used() []uint16 {
	var ids []uint16
	for i, u := range f.used {
		if u {
			ids = append(ids, uint16(i))
		}
	}
	return ids
}

// TextOf returns the text a used glyph stands for: "ffi" for that ligature.
func (f *Face) TextOf(gid uint16) string { return f.text[gid] }

// Has reports whether the face can set a character.
func (f *Face) Has(r rune) bool {
	g, ok := f.face.NominalGlyph(r)
	return ok && g != 0
}

// Segment is one step of a glyph's outline: 'M' move, 'L' line, 'Q' quadratic,
// 'C' cubic curve; the last point of P is where it ends. Units are 1/1000 em, y
// upwards.
type Segment struct {
	Op byte
	P  [3][2]float32
}

// Outline returns the outline of a glyph; empty for a space.
func (f *Face) Outline(gid uint16) []Segment {
	o, ok := f.face.GlyphDataOutline(font.GID(gid))
	if !ok {
		return nil
	}
	k := float32(1000 / f.perEm)
	out := make([]Segment, 0, len(o.Segments))
	for _, s := range o.Segments {
		var t Segment
		switch s.Op {
		case opentype.SegmentOpMoveTo:
			t.Op = 'M'
		case opentype.SegmentOpLineTo:
			t.Op = 'L'
		case opentype.SegmentOpQuadTo:
			t.Op = 'Q'
		case opentype.SegmentOpCubeTo:
			t.Op = 'C'
		}
		for i, p := range s.ArgsSlice() {
			t.P[i] = [2]float32{p.X * k, p.Y * k}
		}
		out = append(out, t)
	}
	return out
}
