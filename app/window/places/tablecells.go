package places

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog/exchange/cells"
	"pullbook/catalog/exchange/sheet"
)

// tableColumn is one column of the table: its heading, what it holds, and its
// first cells as they are understood.
type tableColumn struct {
	pick *choice
	box  *fyne.Container
}

func newTableColumn(heading string, meanings []string, chosen func(int)) *tableColumn {
	c := &tableColumn{}
	c.pick = newSelect(meanings, func(string) {
		if i := c.pick.SelectedIndex(); i >= 0 {
			chosen(i)
		}
	})
	if heading == "" {
		heading = words.T("no heading")
	}
	c.box = look.Column(6, look.Column(4, look.Label(heading).Giving(), c.pick), look.Column(5))
	return c
}

// seenColumn is what the first cells of a column say and how each is
// understood.
type seenColumn struct {
	texts []string
	read  []sheet.Understanding
}

// firstRows reads the first cells of every column.
func firstRows(t cells.Sheet, m sheet.Matching) []seenColumn {
	out := make([]seenColumn, len(t.Heading))
	for i := range out {
		for _, row := range t.Rows[:min(shownRows, len(t.Rows))] {
			text := ""
			if i < len(row) {
				text = row[i]
			}
			out[i].texts = append(out[i].texts, text)
			out[i].read = append(out[i].read, m.Understand(i, text))
		}
	}
	return out
}

// objects draws the cells: the text, and under it how it is understood.
func (s seenColumn) objects(leftOut bool) []fyne.CanvasObject {
	var l []fyne.CanvasObject
	for k, text := range s.texts {
		u := s.read[k]
		say, ink := "", look.Within
		switch {
		case strings.TrimSpace(text) == "":
		case leftOut:
			say, ink = words.T("left out"), look.Faint
		case len(u.Doubts) > 0 && u.Value == "":
			say, ink = words.T("not read: %s", words.T(u.Doubts[0])), look.Unsure
		case len(u.Doubts) > 0:
			say, ink = words.T("%s, in doubt: %s", u.Value, words.T(u.Doubts[0])), look.Unsure
		case u.Value == "":
			say, ink = words.T("kept in the remarks"), look.Muted
		default:
			say = words.T("read as %s", u.Value)
			if u.Value == strings.TrimSpace(text) {
				say, ink = words.T("as written"), look.Faint
			}
		}
		one := strings.Join(strings.Fields(text), " ")
		l = append(l, look.Column(0, look.Line(one).Giving(), look.Small(say).Giving().Coloured(ink)))
	}
	return l
}

// columnsLayout sets columns of one width side by side.
type columnsLayout struct{}

// columnWide is the width of a column before the text scale.
const columnWide = 184

func columnWidth() float32 { return columnWide * theme.TextSize() / 13 }

func (columnsLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	w := columnWidth()
	for i, c := range o {
		c.Move(fyne.NewPos(float32(i)*(w+12), 0))
		c.Resize(fyne.NewSize(w, s.Height))
	}
}

func (columnsLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	m := fyne.NewSize(0, 0)
	for _, c := range o {
		m.Height = max(m.Height, c.MinSize().Height)
	}
	m.Width = float32(len(o)) * (columnWidth() + 12)
	m.Height += 12 // room for the bar that scrolls
	return m
}
