package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Paragraph is text that wraps. It stands flush with other text: the
// toolkit's label keeps a padding of its own, which is taken off.
type Paragraph struct {
	widget.BaseWidget
	label *widget.Label
}

// Para is a paragraph; a quiet one is small and muted.
func Para(s string, quiet bool) *Paragraph {
	p := &Paragraph{label: widget.NewLabel(s)}
	p.label.Wrapping = fyne.TextWrapWord
	if quiet {
		p.label.Importance = widget.LowImportance
		p.label.SizeName = theme.SizeNameCaptionText
	}
	p.ExtendBaseWidget(p)
	return p
}

// Centred centres the lines.
func (p *Paragraph) Centred() *Paragraph { p.label.Alignment = fyne.TextAlignCenter; return p }

// SmallType sets it in caption size.
func (p *Paragraph) SmallType() *Paragraph {
	p.label.SizeName = theme.SizeNameCaptionText
	return p
}

// SetText changes the words.
func (p *Paragraph) SetText(s string) {
	if p.label.Text != s {
		p.label.SetText(s)
		p.Refresh()
	}
}

// Words is what it says.
func (p *Paragraph) Words() string { return p.label.Text }

// CreateRenderer is the toolkit's hook.
func (p *Paragraph) CreateRenderer() fyne.WidgetRenderer { return &paraRenderer{p} }

type paraRenderer struct{ p *Paragraph }

func (r *paraRenderer) pad() float32 { return theme.InnerPadding() }

func (r *paraRenderer) Layout(s fyne.Size) {
	d := r.pad()
	r.p.label.Move(fyne.NewPos(-d, -d))
	r.p.label.Resize(s.AddWidthHeight(2*d, 2*d))
}

func (r *paraRenderer) MinSize() fyne.Size {
	d := r.pad()
	m := r.p.label.MinSize()
	return whole(fyne.NewSize(max(m.Width-2*d, 20), max(m.Height-2*d, 0)))
}
func (r *paraRenderer) Refresh()                     { r.p.label.Refresh() }
func (r *paraRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.p.label} }
func (r *paraRenderer) Destroy()                     {}

// Flush takes the padding off a text of the toolkit's, so that it stands flush
// with other text.
func Flush(o fyne.CanvasObject) fyne.CanvasObject { return container.New(flush{}, o) }

type flush struct{}

func (flush) Layout(objs []fyne.CanvasObject, s fyne.Size) {
	d := theme.InnerPadding()
	for _, o := range objs {
		o.Move(fyne.NewPos(-d, -d))
		o.Resize(s.AddWidthHeight(2*d, 2*d))
	}
}

func (flush) MinSize(objs []fyne.CanvasObject) fyne.Size {
	d := theme.InnerPadding()
	var m fyne.Size
	for _, o := range objs {
		m = m.Max(o.MinSize())
	}
	return whole(fyne.NewSize(20, max(m.Height-2*d, 0)))
}
