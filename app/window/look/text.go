package look

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Face is a typeface of the window.
type Face int

// Faces.
const (
	Plain Face = iota
	Bold
	Italic
	Serif
	SerifItalic
)

// Text is one line in one face, size and colour of the theme. Too long a line
// ends in an ellipsis; nothing is ever cut through.
type Text struct {
	widget.BaseWidget
	face   Face
	size   fyne.ThemeSizeName
	factor float32
	colour fyne.ThemeColorName
	align  fyne.TextAlign
	fixed  bool // MinSize is the whole text
	text   string
	grown  func() // lays the parent out anew when the text asks for more room
}

// NewText is a line of interface text.
func NewText(s string, face Face, size fyne.ThemeSizeName, colour fyne.ThemeColorName) *Text {
	t := &Text{face: face, size: size, factor: 1, colour: colour, text: s, fixed: true}
	t.ExtendBaseWidget(t)
	return t
}

// Line is ordinary text; it asks for its whole length.
func Line(s string) *Text { return NewText(s, Plain, theme.SizeNameText, Ink) }

// Small is the second line: caption size, muted.
func Small(s string) *Text { return NewText(s, Plain, theme.SizeNameCaptionText, Muted) }

// Title is a serif title of the size of a row.
func Title(s string) *Text { return NewText(s, Serif, TitleSize, Ink) }

// Head is a serif heading.
func Head(s string) *Text { return NewText(s, Serif, HeadSize, Ink) }

// Label is the bold small heading over a group of facts.
func Label(s string) *Text { return NewText(s, Bold, theme.SizeNameCaptionText, Muted) }

// Giving lets the line give way: it asks for little width and ends in an
// ellipsis where it does not fit.
func (t *Text) Giving() *Text { t.fixed = false; return t }

// Aligned sets the alignment.
func (t *Text) Aligned(a fyne.TextAlign) *Text { t.align = a; return t }

// Times multiplies the size.
func (t *Text) Times(f float32) *Text { t.factor = f; return t }

// Coloured sets the colour.
func (t *Text) Coloured(n fyne.ThemeColorName) *Text { t.colour = n; return t }

// SetText changes the words.
func (t *Text) SetText(s string) {
	if t.text == s {
		return
	}
	old := t.MinSize()
	t.text = s
	t.Refresh()
	if t.grown != nil && t.MinSize() != old {
		t.grown()
	}
}

// SetColour changes the colour.
func (t *Text) SetColour(n fyne.ThemeColorName) {
	if t.colour == n {
		return
	}
	t.colour = n
	t.Refresh()
}

// Words is what the line says.
func (t *Text) Words() string { return t.text }

// CreateRenderer is the toolkit's hook.
func (t *Text) CreateRenderer() fyne.WidgetRenderer {
	r := &textRenderer{t: t, c: canvas.NewText("", color.Black)}
	r.read()
	return r
}

type textRenderer struct {
	t    *Text
	c    *canvas.Text
	full fyne.Size
}

func (r *textRenderer) read() {
	style(r.c, r.t.face)
	r.c.TextSize = theme.Size(r.t.size) * r.t.factor
	r.c.Color = Colour(r.t.colour)
	r.c.Alignment = r.t.align
	r.c.Text = r.t.text
	r.full = whole(r.c.MinSize())
	r.fit(r.t.Size())
}

// style sets the face of a canvas text.
func style(c *canvas.Text, f Face) {
	c.TextStyle = fyne.TextStyle{Bold: f == Bold, Italic: f == Italic}
	switch f {
	case Serif:
		c.FontSource = faces.serif
	case SerifItalic:
		c.FontSource = faces.serifItalic
	default:
		c.FontSource = nil
	}
}

// fit shortens the text to the width it has. Letters are measured one by one,
// which the toolkit remembers, and the whole only to be sure.
func (r *textRenderer) fit(size fyne.Size) {
	r.c.Text = r.t.text
	if r.t.fixed || size.Width <= 0 || r.full.Width <= size.Width+0.5 {
		return
	}
	runes := []rune(r.t.text)
	left, n := size.Width-r.wide("…"), 0
	for n < len(runes) && left >= 0 {
		left -= r.wide(string(runes[n]))
		n++
	}
	for n = min(n, len(runes)-1); n > 0; n-- {
		if r.c.Text = string(runes[:n]) + "…"; r.c.MinSize().Width <= size.Width {
			return
		}
	}
	r.c.Text = "…"
}

// wide is the width of some letters in the text's face.
func (r *textRenderer) wide(letters string) float32 {
	r.c.Text = letters
	return r.c.MinSize().Width
}

func (r *textRenderer) Layout(size fyne.Size) {
	r.fit(size)
	h := r.full.Height
	r.c.Resize(fyne.NewSize(size.Width, h))
	r.c.Move(fyne.NewPos(0, round((size.Height-h)/2)))
}

func (r *textRenderer) MinSize() fyne.Size {
	if r.t.fixed {
		return r.full
	}
	return fyne.NewSize(24, r.full.Height)
}

func (r *textRenderer) Refresh() {
	r.read()
	r.Layout(r.t.Size())
	canvas.Refresh(r.c)
}

func (r *textRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.c} }
func (r *textRenderer) Destroy()                     {}

// whole rounds a size up and round a position to whole units: letters between
// two device pixels come out blurred.
func whole(s fyne.Size) fyne.Size {
	return fyne.NewSize(float32(math.Ceil(float64(s.Width))), float32(math.Ceil(float64(s.Height))))
}

func round(v float32) float32 { return float32(math.Round(float64(v))) }
