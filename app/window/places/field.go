package places

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/window/words"
)

// field is an entry that tells what was written when it is left or Return is
// pressed, so that one piece of writing is one step of undo.
type field struct {
	widget.Entry
	done func(string)
	was  string
}

// newField is a field with text in it; many lets it have several lines.
func newField(text string, many bool, done func(string)) *field {
	e := &field{done: done, was: text}
	e.MultiLine = many
	e.Wrapping = fyne.TextWrapOff
	if many {
		e.Wrapping = fyne.TextWrapWord
		e.SetMinRowsVisible(min(max(2, strings.Count(text, "\n")+1+len(text)/70), 9))
	}
	e.ExtendBaseWidget(e)
	e.Text = text
	e.OnSubmitted = func(string) { e.commit() }
	return e
}

func (e *field) commit() {
	if e.Text == e.was {
		return
	}
	e.was = e.Text
	if e.done != nil {
		e.done(strings.TrimSpace(e.Text))
	}
}

// FocusLost keeps what was written.
func (e *field) FocusLost() {
	e.Entry.FocusLost()
	e.commit()
}

// newSelect is the toolkit's choice with our own word for none.
func newSelect(options []string, changed func(string)) *widget.Select {
	s := widget.NewSelect(options, changed)
	s.PlaceHolder = words.T("choose")
	return s
}
