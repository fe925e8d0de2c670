package typeset

import (
	"unicode"

	"github.com/go-text/typesetting/harfbuzz"
	"github.com/go-text/typesetting/language"
)

// maxRuns bounds the memory of one cut's shaped words.
const maxRuns = 100_000

// Glyph is one set glyph; measures in 1/1000 em.
type Glyph struct {
	Face   *Face
	ID     uint16
	Adv    float32 // to the next glyph
	DX, DY float32 // from the pen, y upwards
}

// Run is shaped text. It is shared by all places where the same word stands
// and must not be altered.
type Run struct {
	Glyphs []Glyph
	Width  float64 // 1/1000 em
	Text   string
}

// shape sets a string, from memory where it was set before.
func (k *Cut) shape(s string) *Run {
	if r, ok := k.runs[s]; ok {
		return r
	}
	run := &Run{Text: Clean(s)}
	for _, seg := range k.segments([]rune(run.Text)) {
		k.shapeIn(run, seg)
	}
	if len(k.runs) >= maxRuns {
		clear(k.runs)
	}
	k.runs[s] = run
	return run
}

// segment is a stretch of text set from one face.
type segment struct {
	face  *Face
	runes []rune
	turn  bool // written from right to left
}

// segments divides text by the face that can set it. A letter and its
// combining marks stay together. What no face has becomes a raised dot and is
// recorded as missing.
func (k *Cut) segments(rs []rune) []segment {
	var out []segment
	add := func(f *Face, turn bool, part ...rune) {
		if n := len(out) - 1; n >= 0 && out[n].face == f && out[n].turn == turn {
			out[n].runes = append(out[n].runes, part...)
			return
		}
		out = append(out, segment{f, append([]rune(nil), part...), turn})
	}
	for i := 0; i < len(rs); {
		if rs[i] == softHyphen {
			i++
			continue
		}
		j := i + 1
		for j < len(rs) && unicode.Is(unicode.Mn, rs[j]) {
			j++
		}
		letter := rs[i:j]
		turn := rightToLeft(rs[i])
		switch {
		case hasAll(k.face, letter):
			add(k.face, turn, letter...)
		case hasAll(k.standIn, letter):
			add(k.standIn, turn, letter...)
		default:
			for _, r := range letter {
				if !k.face.Has(r) && !k.standIn.Has(r) || r == '\ufffd' {
					k.owner.note(r, rs)
				}
			}
			add(k.face, false, '·')
		}
		i = j
	}
	return out
}

// hasAll reports whether a face has every character of a letter.
func hasAll(f *Face, letter []rune) bool {
	for _, r := range letter {
		if r == '\ufffd' || !f.Has(r) {
			return false
		}
	}
	return true
}

// note records a missing character with a little of the text round it.
func (c *Case) note(r rune, in []rune) {
	if _, ok := c.missing[r]; ok || len(c.missing) >= 1000 {
		return
	}
	if len(in) > 40 {
		in = in[:40]
	}
	c.missing[r] = string(in)
}

// rightToLeft reports whether a character belongs to a script written from
// right to left.
func rightToLeft(r rune) bool {
	return r >= 0x590 && (unicode.Is(unicode.Hebrew, r) || unicode.Is(unicode.Arabic, r))
}

// shapeIn shapes one segment and appends it to the run.
func (k *Cut) shapeIn(run *Run, seg segment) {
	buf := harfbuzz.NewBuffer()
	buf.AddRunes(seg.runes, 0, -1)
	buf.GuessSegmentProperties()
	buf.Props.Direction = harfbuzz.LeftToRight
	if seg.turn {
		buf.Props.Direction = harfbuzz.RightToLeft
	}
	buf.Props.Language = language.NewLanguage("en")
	buf.Shape(seg.face.shaper, k.features)
	em := 1000 / seg.face.perEm
	first := len(run.Glyphs)
	for i, in := range buf.Info {
		p := buf.Pos[i]
		g := Glyph{Face: seg.face, ID: uint16(in.Glyph), Adv: float32(float64(p.XAdvance) * em),
			DX: float32(float64(p.XOffset) * em), DY: float32(float64(p.YOffset) * em)}
		seg.face.used[g.ID] = true
		run.Glyphs = append(run.Glyphs, g)
		run.Width += float64(g.Adv)
	}
	recordText(seg, buf.Info, run.Glyphs[first:])
}

// recordText remembers what text each glyph stands for, by the clusters
// HarfBuzz reports: the first glyph of a cluster stands for its text, and of a
// letter with marks each glyph stands for its own character.
func recordText(seg segment, info []harfbuzz.GlyphInfo, glyphs []Glyph) {
	for i := range info {
		start := info[i].Cluster
		place := 0 // which glyph of its cluster
		for j := i; j > 0 && info[j-1].Cluster == start; j-- {
			place++
		}
		end := clusterEnd(seg, info, i)
		size := 1
		for j := i + 1; j < len(info) && info[j].Cluster == start; j++ {
			size++
		}
		var text string
		switch {
		case place == 0 && size == 1:
			text = string(seg.runes[start:end])
		case start+place < end:
			text = string(seg.runes[start+place])
		default:
			continue
		}
		old, known := seg.face.text[glyphs[i].ID]
		if !known || len(text) < len(old) {
			seg.face.text[glyphs[i].ID] = text
		}
	}
}

// clusterEnd returns where the text of glyph i's cluster ends. Clusters ascend
// along the text, and descend where it was turned; so the next one is near, and
// a word of any length costs time in proportion.
func clusterEnd(seg segment, info []harfbuzz.GlyphInfo, i int) int {
	step := 1
	if seg.turn {
		step = -1
	}
	for j := i; j >= 0 && j < len(info); j += step {
		if info[j].Cluster > info[i].Cluster {
			return info[j].Cluster
		}
	}
	return len(seg.runes)
}
