package places

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
)

// guide is the guide inside the program: a page for each place, searched as
// one types.
type guide struct {
	pages  []words.Page
	which  *look.OneOf
	find   *field
	text   *fyne.Container
	scroll *container.Scroll
}

// guidePages are the pages of the places, by the name of their file.
var guidePages = [4]string{"press", "camera", "table", "desk"}

// showGuide opens the guide at the page of the place one is in. While it is
// open it does nothing.
func (f *Frame) showGuide() {
	if f.guideOpen != nil && f.guideOpen.pop.Visible() {
		return
	}
	g := &guide{pages: words.Guide()}
	var titles []string
	now := 0
	for i, p := range g.pages {
		titles = append(titles, p.Title)
		if p.Name == guidePages[f.at] {
			now = i
		}
	}
	g.which = look.NewOneOf(func(int) { g.find.SetText(""); g.page() }, titles...)
	g.which.Chosen = now
	g.find = blank()
	g.find.SetPlaceHolder(words.T("Find in the guide"))
	g.find.OnChanged = func(string) { g.page() }
	g.text = look.Column(8)
	g.scroll = container.NewVScroll(look.InsetEach(g.text, 18, 0, 16, 10))
	keys := look.QuietButton(words.T("Keys"), "", f.showKeys)
	safely := look.QuietButton(words.T("Working safely"), look.IconWarn, f.showCautions)
	left := look.Column(10, look.Wide(190, g.find), g.which, look.HRule(), look.Row(0, keys), look.Row(0, safely))
	content := look.Border(nil, nil, container.NewVBox(left), nil, g.scroll)
	f.guideOpen = f.ask(words.T("Guide"), content, fyne.NewSize(900, 640), "", nil)
	g.page()
}

// page shows the page chosen, or every section that has the words looked for.
func (g *guide) page() {
	g.text.RemoveAll()
	want := strings.Fields(strings.ToLower(g.find.Text))
	found := 0
	for i, p := range g.pages {
		if len(want) == 0 && i != g.which.Chosen {
			continue
		}
		for _, s := range p.Sections {
			if !s.Says(want) {
				continue
			}
			found++
			if len(want) > 0 {
				g.text.Add(look.Label(p.Title))
			}
			g.section(s)
		}
	}
	if found == 0 {
		g.text.Add(look.Para(words.T("The guide says nothing about that. Try another word, or fewer."), true))
	}
	g.scroll.ScrollToTop()
	g.text.Refresh()
	g.scroll.Refresh()
}

func (g *guide) section(s words.Section) {
	g.text.Add(look.NewText(s.Head, look.Serif, look.TitleSize, look.Ink).Giving())
	for _, b := range s.Blocks {
		switch {
		case b.Caution:
			g.text.Add(look.Caution(b.Plain()))
		case b.Item:
			g.text.Add(look.Border(nil, nil, look.InsetEach(look.Line("–"), 4, 0, 8, 0), nil, rich(b.Text)))
		default:
			g.text.Add(rich(b.Text))
		}
	}
	g.text.Add(look.Space(1, 6))
}

// rich is a paragraph with **strong** and *emphasised* words.
func rich(markdown string) fyne.CanvasObject {
	var segs []widget.RichTextSegment
	for i, strong := range strings.Split(markdown, "**") {
		for k, part := range strings.Split(strong, "*") {
			if part == "" {
				continue
			}
			st := widget.RichTextStyle{Inline: true, SizeName: theme.SizeNameText, ColorName: theme.ColorNameForeground}
			st.TextStyle = fyne.TextStyle{Bold: i%2 == 1, Italic: k%2 == 1}
			segs = append(segs, &widget.TextSegment{Text: part, Style: st})
		}
	}
	r := widget.NewRichText(segs...)
	r.Wrapping = fyne.TextWrapWord
	return look.Flush(r)
}
