package makeup

import (
	"strconv"
	"strings"

	"pullbook/pdfout/display"
	"pullbook/pdfout/typeset"
)

// Maker makes up pages one after the other.
type Maker struct {
	Format
	Styles
	Case     *typeset.Case
	Doc      *display.Document
	Page     *display.Page // the page in hand
	Y        float64       // top of what comes next
	Verso    string        // running head of left-hand pages
	Recto    string        // running head of right-hand pages
	Language string
	// Warn receives sentences about what could not be set as wanted.
	Warn func(string)

	arabicFrom int // index of the page numbered 1; -1 while in the front matter
}

// New starts a document in a format.
func New(c *typeset.Case, f Format) *Maker {
	return &Maker{Format: f, Styles: NewStyles(c, f), Case: c, arabicFrom: -1,
		Doc: &display.Document{Case: c}, Warn: func(string) {}}
}

// TextWidth is the width of the type area.
func (m *Maker) TextWidth() float64 { return (m.Width - m.Inner - m.Outer) * MM }

// Top is the top of the type area.
func (m *Maker) Top() float64 { return m.Head * MM }

// Bottom is its bottom.
func (m *Maker) Bottom() float64 { return (m.Height - m.Foot) * MM }

// Depth is the height of the type area.
func (m *Maker) Depth() float64 { return m.Bottom() - m.Top() }

// Room is the height left on the page in hand.
func (m *Maker) Room() float64 {
	if m.Page == nil {
		return 0
	}
	return m.Bottom() - m.Y
}

// Left is the left edge of the type area of the page in hand.
func (m *Maker) Left() float64 {
	if m.OnRecto() {
		return m.Inner * MM
	}
	return m.Outer * MM
}

// OnRecto reports whether the page in hand is a right-hand page.
func (m *Maker) OnRecto() bool { return len(m.Doc.Pages)%2 == 1 }

// Index is the index of the page in hand.
func (m *Maker) Index() int { return len(m.Doc.Pages) - 1 }

// StartArabic numbers the next page 1, on a right-hand page.
func (m *Maker) StartArabic() {
	if m.arabicFrom < 0 {
		m.EvenOut()
		m.arabicFrom = len(m.Doc.Pages)
	}
}

// EvenOut adds a blank page where the next would be a left-hand one.
func (m *Maker) EvenOut() {
	if len(m.Doc.Pages)%2 == 1 {
		m.Blank()
	}
}

// Blank adds a page with nothing on it, not even a folio.
func (m *Maker) Blank() {
	m.Page = &display.Page{Width: m.Width * MM, Height: m.Height * MM, Label: m.folio(len(m.Doc.Pages))}
	m.Doc.Pages = append(m.Doc.Pages, m.Page)
	m.Y = m.Top()
}

// Open begins a page without running head, as parts do.
func (m *Maker) Open() {
	m.Blank()
	y := m.Bottom() + 11*MM
	if m.OnRecto() {
		m.Page.TextRight(m.Folio, m.Left()+m.TextWidth(), y, m.Page.Label)
	} else {
		m.Page.Text(m.Folio, m.Left(), y, m.Page.Label)
	}
}

// Next begins a page with running head and folio on one line.
func (m *Maker) Next() {
	m.Blank()
	y := m.Top() - 11*MM
	x, w := m.Left(), m.TextWidth()
	if m.OnRecto() {
		m.Page.TextRight(m.Folio, x+w, y, m.Page.Label)
		head, _ := m.Running.Cutoff(m.Recto, w*.7)
		m.Page.TextRight(m.Running, x+w-11*MM, y, head)
		return
	}
	m.Page.Text(m.Folio, x, y, m.Page.Label)
	head, _ := m.Running.Cutoff(m.Verso, w*.7)
	m.Page.Text(m.Running, x+11*MM, y, head)
}

// folio names the page at an index: roman before the page numbered 1.
func (m *Maker) folio(i int) string {
	if m.arabicFrom < 0 || i < m.arabicFrom {
		return Roman(i + 1)
	}
	return strconv.Itoa(i - m.arabicFrom + 1)
}

// Roman writes a small roman figure, for folios.
func Roman(n int) string {
	var b strings.Builder
	for _, p := range []struct {
		v int
		s string
	}{{1000, "m"}, {900, "cm"}, {500, "d"}, {400, "cd"}, {100, "c"}, {90, "xc"}, {50, "l"}, {40, "xl"}, {10, "x"}, {9, "ix"}, {5, "v"}, {4, "iv"}, {1, "i"}} {
		for n >= p.v {
			b.WriteString(p.s)
			n -= p.v
		}
	}
	return b.String()
}

// Bookmark adds a line to the outline, pointing at the page in hand.
func (m *Maker) Bookmark(level int, title string) {
	if n := len(m.Doc.Outline); n == 0 || level > m.Doc.Outline[n-1].Level+1 {
		level = 0 // an outline cannot begin, or step down, more than one level
		if n > 0 {
			level = m.Doc.Outline[n-1].Level + 1
		}
	}
	m.Doc.Outline = append(m.Doc.Outline, display.Bookmark{Title: title, Level: level, Page: m.Index(), Y: 0})
}

// Anchor makes the current place one that links lead to.
func (m *Maker) Anchor(key string) {
	m.Page.Anchors = append(m.Page.Anchors, display.Anchor{Key: key, Y: m.Y})
}
