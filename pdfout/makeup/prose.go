package makeup

import (
	"strings"

	"pullbook/pdfout/display"
	"pullbook/pdfout/typeset"
)

// Emphasis reads simple marks in a user's text: *italic*, **strong**. A mark
// without its fellow stands as written.
func Emphasis(text string, body, italic, strong typeset.Style) []typeset.Span {
	var out []typeset.Span
	for text != "" {
		i := strings.IndexByte(text, '*')
		if i < 0 {
			break
		}
		mark, st := "*", italic
		if strings.HasPrefix(text[i:], "**") {
			mark, st = "**", strong
		}
		rest := text[i+len(mark):]
		j := strings.Index(rest, mark)
		if j <= 0 || rest[0] == ' ' || rest[j-1] == ' ' {
			out = append(out, typeset.Span{Style: body, Text: text[:i+len(mark)]})
			text = rest
			continue
		}
		if i > 0 {
			out = append(out, typeset.Span{Style: body, Text: text[:i]})
		}
		out = append(out, typeset.Span{Style: st, Text: rest[:j]})
		text = rest[j+len(mark):]
	}
	if text != "" {
		out = append(out, typeset.Span{Style: body, Text: text})
	}
	return out
}

// Paragraphs divides a text at empty lines.
func Paragraphs(text string) []string {
	var out []string
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	for _, p := range strings.Split(text, "\n\n") {
		if p = strings.TrimSpace(p); p != "" {
			out = append(out, p)
		}
	}
	return out
}

// Prose sets a user's text as justified paragraphs of a width: the first flush,
// the others indented; lines that begin with "## " are heads, with "- " items.
func (m *Maker) Prose(text string, width float64) []Block {
	var out []Block
	indent := false
	for _, p := range Paragraphs(text) {
		if head, ok := strings.CutPrefix(p, "## "); ok {
			out = append(out, m.heading(head, width)...)
			indent = false
			continue
		}
		if strings.HasPrefix(p, "- ") {
			for _, item := range strings.Split(p, "\n") {
				out = append(out, m.item(strings.TrimPrefix(strings.TrimSpace(item), "- "), width)...)
			}
			indent = false
			continue
		}
		par := typeset.Paragraph{Spans: Emphasis(p, m.Body, m.Italic, m.Strong), Width: width, Language: m.Language}
		if indent {
			par.Indent = 1.4 * m.TextSize
		}
		lines := LineBlocks(m.Case.Break(par), m.Lead)
		if len(lines) > 0 {
			lines[0].OnGrid = true
		}
		out = append(out, lines...)
		indent = true
	}
	return out
}

// heading sets a head within prose; it stays with what follows.
func (m *Maker) heading(text string, width float64) []Block {
	lines := LineBlocks(m.Case.Break(typeset.Paragraph{Spans: []typeset.Span{{Style: m.Heading, Text: strings.ToLower(text)}}, Width: width, Ragged: true}), m.Lead)
	for i := range lines {
		lines[i].Keep = true
		draw := lines[i].Draw
		lines[i].Draw = func(p *display.Page, x, y float64) { draw(p, x, y-.16*m.Lead) } // nearer the space above
	}
	if len(lines) > 0 {
		lines[0].Before = m.Lead
		lines[0].OnGrid = true
	}
	return lines
}

// item sets an item of a list, with an en rule in the margin of the text.
func (m *Maker) item(text string, width float64) []Block {
	in := 1.2 * m.TextSize
	lines := LineBlocks(m.Case.Break(typeset.Paragraph{Spans: Emphasis(text, m.Body, m.Italic, m.Strong), Width: width - in, Language: m.Language}), m.Lead)
	for i := range lines {
		draw := lines[i].Draw
		lines[i].Draw = func(p *display.Page, x, y float64) {
			if i == 0 {
				p.Text(m.Body.In(typeset.Grey), x, y+m.Lead*baseline, "–")
			}
			draw(p, x+in, y)
		}
	}
	return lines
}
