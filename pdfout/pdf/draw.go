package pdf

import (
	"encoding/hex"
	"math"
	"strconv"

	"pullbook/pdfout/display"
	"pullbook/pdfout/typeset"
)

// text draws a line of words: one text object for each stretch in one style,
// glyph by glyph, with what kerning the shaper asked for.
func (d *writer) text(t *display.Text) {
	open := false
	for i, w := range t.Words {
		if len(w.Run.Glyphs) == 0 {
			continue
		}
		face := w.Run.Glyphs[0].Face
		if !d.hasStyle || d.style.Size != w.Style.Size || d.style.Ink != w.Style.Ink || d.face != face {
			if open {
				d.buf = append(d.buf, "ET"...)
				d.flush()
				open = false
			}
			d.setStyle(w.Style, face)
		}
		if !open {
			d.buf = append(d.buf, "BT "...)
			open = true
		}
		space := i+1 < len(t.Words) && apart(w, t.Words[i+1]) > .08*w.Style.Size
		d.word(t.X+w.X, t.Y, w, space)
	}
	if open {
		d.buf = append(d.buf, "ET"...)
		d.flush()
	}
}

// apart returns the space between two words, whichever stands to the left.
func apart(a, b typeset.Placed) float64 {
	return max(b.X-a.X-a.Style.RunWidth(a.Run), a.X-b.X-b.Style.RunWidth(b.Run))
}

// byFace divides glyphs where the face changes.
func byFace(glyphs []typeset.Glyph) [][]typeset.Glyph {
	var out [][]typeset.Glyph
	from := 0
	for i := 1; i <= len(glyphs); i++ {
		if i == len(glyphs) || glyphs[i].Face != glyphs[from].Face {
			out = append(out, glyphs[from:i])
			from = i
		}
	}
	return out
}

// setStyle sets face, size and ink for the text that follows.
func (d *writer) setStyle(st typeset.Style, f *typeset.Face) {
	d.pdf.SetFont(f.Key, "", st.Size)
	if !d.hasStyle || d.style.Ink != st.Ink {
		d.pdf.RawWriteStr(d.opt.Palette.operator(st.Ink, false))
	}
	d.style, d.face, d.hasStyle = st, f, true
}

// flush hands the buffer to gofpdf's page.
func (d *writer) flush() {
	d.pdf.RawWriteStr(string(d.buf))
	d.buf = d.buf[:0]
}

// word draws one word. A space glyph is drawn after it where a space follows,
// so that copied text has its spaces.
func (d *writer) word(x, y float64, w typeset.Placed, space bool) {
	st := w.Style
	parts := byFace(w.Run.Glyphs)
	for i, glyphs := range parts {
		if i > 0 {
			d.buf = append(d.buf, "ET"...)
			d.flush()
			d.setStyle(st, glyphs[0].Face)
			d.buf = append(d.buf, "BT "...)
		}
		if space && i == len(parts)-1 {
			glyphs = append(append([]typeset.Glyph(nil), glyphs...), spaceIn(st, glyphs[0].Face)...)
		}
		d.glyphs(x, y-st.Rise, st, glyphs)
		for _, g := range glyphs {
			x += (float64(g.Adv) + st.Track) * st.Size / 1000
		}
	}
}

// spaceIn returns the space glyph where it is of the same face.
func spaceIn(st typeset.Style, f *typeset.Face) []typeset.Glyph {
	if g := st.Shape(" ").Glyphs; len(g) == 1 && g[0].Face == f {
		return g
	}
	return nil
}

// glyphs draws glyphs of one face. In TJ arrays numbers move the pen left by
// 1/1000 em (PDF 32000-1:2008, 9.4.3).
func (d *writer) glyphs(x, y float64, st typeset.Style, glyphs []typeset.Glyph) {
	b := append(d.buf, "1 0 0 1 "...)
	b = number(b, x+d.margin, 2)
	b = append(b, ' ')
	b = number(b, d.height-d.margin-y, 2)
	b = append(b, " Tm ["...)
	var codes []byte
	flush := func() {
		if len(codes) > 0 {
			b = append(b, '<')
			b = hex.AppendEncode(b, codes)
			b = append(b, '>')
			codes = codes[:0]
		}
	}
	owed, rise := 0.0, 0.0 // pen movement not yet written; height of marks
	for _, g := range glyphs {
		if float64(g.DY) != rise {
			flush()
			rise = float64(g.DY)
			b = append(b, "] TJ "...)
			b = number(b, rise*st.Size/1000, 3)
			b = append(b, " Ts ["...)
		}
		if off := owed + float64(g.DX); math.Abs(off) > .5 {
			flush()
			b = number(b, -off, 0)
			owed = off - math.Round(off) - float64(g.DX)
		} else {
			owed = off - float64(g.DX)
		}
		codes = append(codes, byte(g.ID>>8), byte(g.ID))
		owed += float64(g.Adv) - g.Face.Nominal(g.ID) + st.Track
	}
	flush()
	b = append(b, "] TJ "...)
	if rise != 0 {
		b = append(b, "0 Ts "...)
	}
	d.buf = b
}

// number appends a number with at most the given decimals.
func number(b []byte, v float64, decimals int) []byte {
	p := math.Pow(10, float64(decimals))
	v = math.Round(v*p) / p
	if v == 0 {
		v = 0 // no negative zero
	}
	return strconv.AppendFloat(b, v, 'f', -1, 64)
}

// shape draws rules, boxes, curves and dots.
func (d *writer) shape(it display.Item) {
	m := d.margin
	switch it := it.(type) {
	case *display.Rule:
		d.pdf.RawWriteStr(d.opt.Palette.operator(it.Ink, true))
		d.pdf.SetLineWidth(it.Width)
		if it.Dash > 0 {
			d.pdf.SetDashPattern([]float64{it.Dash, it.Dash}, 0)
		}
		d.pdf.Line(it.X1+m, it.Y1+m, it.X2+m, it.Y2+m)
		if it.Dash > 0 {
			d.pdf.SetDashPattern(nil, 0)
		}
	case *display.Box:
		d.fill(it.Ink)
		d.pdf.Rect(it.X+m, it.Y+m, it.W, it.H, "F")
	case *display.Dot:
		d.fill(it.Ink)
		d.pdf.Circle(it.X+m, it.Y+m, it.R, "F")
	case *display.Curve:
		d.curve(it)
	}
}

// fill sets the fill colour, which text shares.
func (d *writer) fill(k typeset.Ink) {
	d.pdf.RawWriteStr(d.opt.Palette.operator(k, false))
	d.style.Ink = k
	d.hasStyle = false
}

// curve draws a polyline.
func (d *writer) curve(c *display.Curve) {
	if len(c.Points) < 2 {
		return
	}
	style := "D"
	if c.Fill {
		style = "F"
		d.fill(c.Ink)
	} else {
		d.pdf.RawWriteStr(d.opt.Palette.operator(c.Ink, true))
		d.pdf.SetLineWidth(c.Width)
	}
	d.pdf.MoveTo(c.Points[0][0]+d.margin, c.Points[0][1]+d.margin)
	for _, p := range c.Points[1:] {
		d.pdf.LineTo(p[0]+d.margin, p[1]+d.margin)
	}
	d.pdf.DrawPath(style)
}
