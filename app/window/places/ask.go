package places

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
)

// ask is what stands over the window until it is answered or put away.
type ask struct {
	pop *widget.PopUp
	yes *look.Button // nil when there is nothing to do
	say *look.Text
}

// away puts it away without doing anything.
func (a *ask) away() { a.pop.Hide() }

// dialog shows content over the window with one verb and a way out. Escape
// puts it away. The returned function does the same.
func (f *Frame) dialog(title string, content fyne.CanvasObject, size fyne.Size, verb string, do func() error) (away func()) {
	return f.ask(title, container.NewVScroll(look.InsetEach(content, 2, 0, 10, 4)), size, verb, do).away
}

// ask is dialog for content that fills it and scrolls by itself.
func (f *Frame) ask(title string, content fyne.CanvasObject, size fyne.Size, verb string, do func() error, others ...fyne.CanvasObject) *ask {
	a := &ask{say: look.NewText("", look.Plain, "text", look.Outside).Giving()}
	row := look.Row(8, others...)
	if do != nil {
		yes := func() {
			if a.yes.Disabled() {
				return
			}
			if err := do(); err != nil {
				a.say.SetText(words.Error(err))
				return
			}
			a.away()
		}
		row.Add(look.QuietButton(words.T("Leave it"), "", a.away))
		a.yes = look.StrongButton(verb, look.IconTick, yes)
		row.Add(a.yes)
		onReturn(content, func(string) { yes() })
	} else {
		row.Add(look.NewButton(words.T("Close"), "", a.away))
	}
	body := look.Border(look.InsetEach(look.Head(title).Giving(), 0, 0, 0, 10), look.InsetEach(look.Border(nil, nil, nil, row, a.say), 0, 12, 0, 0), nil, nil, content)
	a.pop = widget.NewModalPopUp(look.Inset(body, 14, 10), f.win.Canvas())
	all := f.win.Canvas().Size()
	scale := theme.TextSize() / 13 // sizes are given for text of the usual size
	a.pop.Resize(fyne.NewSize(min(size.Width*scale, all.Width-40), min(size.Height*scale, all.Height-40)))
	a.pop.Show()
	if first := firstInput(content); first != nil {
		f.win.Canvas().Focus(first)
	}
	return a
}

// firstInput is the first thing that can be written in or chosen, nil where
// there is none.
func firstInput(o fyne.CanvasObject) fyne.Focusable {
	var inside []fyne.CanvasObject
	switch x := o.(type) {
	case *field, *combo, *choice, *tick, *look.OneOf:
		return x.(fyne.Focusable)
	case *container.Scroll:
		inside = []fyne.CanvasObject{x.Content}
	case *fyne.Container:
		inside = x.Objects
	}
	for _, c := range inside {
		if first := firstInput(c); first != nil {
			return first
		}
	}
	return nil
}

// onReturn has Return in every one-line field do the dialog's work.
func onReturn(o fyne.CanvasObject, do func(string)) {
	switch x := o.(type) {
	case *field:
		if !x.MultiLine {
			x.OnSubmitted = do
		}
	case *combo:
		x.OnSubmitted = do
	case *container.Scroll:
		onReturn(x.Content, do)
	case *fyne.Container:
		for _, c := range x.Objects {
			onReturn(c, do)
		}
	}
}
