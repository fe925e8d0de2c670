package places

import (
	"context"
	"slices"
	"strings"
	"sync/atomic"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"pullbook/app/window/look"
	"pullbook/app/window/sheetview"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// ownText is the kind of a part of the user's own.
const ownText = "own text"

// wordless are the parts that take no text of the user's.
var wordless = []string{"half-title", "title page", "contents"}

// bookDesk is the screen on which the printed catalogue is put together: which
// parts, in what order, with what heading and text, and how each will look.
type bookDesk struct {
	f     *Frame
	im    catalog.Imprint
	parts []catalog.BookPart
	names map[string]string // of the kinds, in the user's language
	at    int               // the part in hand

	list    *fyne.Container
	scroll  *container.Scroll
	heading *field
	text    *field
	forText *fyne.Container
	remove  *look.Button
	img     *canvas.Image
	say     *look.Text
	prev    *look.Button
	next    *look.Button
	page    int
	pages   int
	newest  atomic.Int64
	quiet   bool // fields are being filled, not written in
}

// putTogether opens the screen.
func (f *Frame) putTogether() {
	if f.book == nil {
		return
	}
	d := &bookDesk{f: f, im: f.book.Imprint}
	d.parts, d.names = f.house.BookParts(&d.im)
	d.build()
	d.fill()
	d.choose(max(slices.IndexFunc(d.parts, func(p catalog.BookPart) bool { return p.Kind == "introduction" }), 0))
}

func (d *bookDesk) build() {
	f := d.f
	d.list = look.Column(1)
	d.scroll = container.NewVScroll(look.InsetEach(d.list, 0, 0, 10, 0))
	own := look.NewButton(words.T("Add a text of your own"), look.IconPlus, d.add)
	usual := look.QuietButton(words.T("As usual"), look.IconUndo, func() {
		d.parts, _ = f.house.BookParts(&catalog.Imprint{})
		d.fill()
		d.choose(0)
	})
	left := look.Border(nil, look.InsetEach(look.Row(4, own, usual), 0, 8, 0, 0), nil, nil, d.scroll)

	d.heading, d.text = blank(), newField("", true, nil)
	d.text.SetMinRowsVisible(9)
	d.heading.OnChanged = func(s string) { d.written(func(p *catalog.BookPart) { p.Heading = strings.TrimSpace(s) }) }
	d.text.OnChanged = func(s string) { d.written(func(p *catalog.BookPart) { p.Text = strings.TrimSpace(s) }) }
	d.forText = look.Column(4, labelled(words.T("Your own text"), d.text),
		look.Para(words.T("*italic*, **strong**, an empty line between paragraphs, ## before a head. Left empty, the part says what it usually says."), true))
	d.remove = look.QuietButton(words.T("Remove this text"), look.IconCross, d.drop)
	d.img = &canvas.Image{FillMode: canvas.ImageFillContain, ScaleMode: canvas.ImageScaleFastest}
	d.img.Hide()
	d.say = look.Small("").Giving().Aligned(fyne.TextAlignCenter)
	d.prev = look.QuietButton("‹", "", func() { d.leaf(-1) })
	d.next = look.QuietButton("›", "", func() { d.leaf(1) })
	shown := look.Border(nil, look.Border(nil, nil, nil, look.Row(0, d.prev, d.next), d.say), nil, nil,
		container.NewStack(look.NewFill(look.Surround), look.Inset(container.New(&least{fyne.NewSize(200, 240)}, d.img), 10, 10)))
	middle := look.Column(8, labelled(words.T("Heading"), d.heading), d.forText, look.Row(0, d.remove))
	right := look.NewSide(look.InsetEach(shown, 12, 0, 0, 0), look.InsetEach(container.NewVScroll(look.InsetEach(middle, 2, 0, 12, 0)), 4, 0, 4, 0), 320, 220, true)
	content := look.NewSide(right.Box(), look.InsetEach(left, 0, 0, 12, 0), 640, 420, true)
	var do func() error
	if !f.house.ReadOnly() {
		do = func() error {
			m := f.book.Imprint
			m.Book = slices.Clone(d.parts)
			f.save(words.T("put the printed catalogue together"), &m)
			return nil
		}
	}
	f.ask(words.T("Put the printed catalogue together"), content.Box(), fyne.NewSize(1080, 700), words.T("Keep"), do)
}

// least gives what it holds all the room there is, and asks for some.
type least struct{ size fyne.Size }

func (l *least) Layout(o []fyne.CanvasObject, s fyne.Size) {
	for _, x := range o {
		x.Resize(s)
	}
}
func (l *least) MinSize([]fyne.CanvasObject) fyne.Size { return l.size }

// name is how a part is listed.
func (d *bookDesk) name(p *catalog.BookPart) string {
	if p.Heading != "" {
		return p.Heading
	}
	return d.names[p.Kind]
}

// fill lists the parts.
func (d *bookDesk) fill() {
	d.list.RemoveAll()
	for i := range d.parts {
		p := &d.parts[i]
		on := newTick("", !p.Off, func(on bool) { d.parts[i].Off = !on; d.fill(); d.draw() })
		name := look.QuietButton(d.name(p), "", func() { d.choose(i) })
		name.SetOn(i == d.at)
		up := look.QuietButton("↑", "", func() { d.move(i, -1) })
		down := look.QuietButton("↓", "", func() { d.move(i, 1) })
		up.SetEnabled(i > 0)
		down.SetEnabled(i+1 < len(d.parts))
		d.list.Add(look.Border(nil, nil, on, look.Row(0, up, down), look.Row(0, name)))
	}
	d.list.Refresh()
	d.scroll.Refresh()
}

// move changes places with a neighbour.
func (d *bookDesk) move(i, by int) {
	if j := i + by; j >= 0 && j < len(d.parts) {
		d.parts[i], d.parts[j] = d.parts[j], d.parts[i]
		d.choose(j)
	}
}

// choose takes a part in hand.
func (d *bookDesk) choose(i int) {
	d.at, d.page = min(max(i, 0), len(d.parts)-1), 0
	p := &d.parts[d.at]
	d.quiet = true
	d.heading.SetText(p.Heading)
	d.heading.SetPlaceHolder(d.names[p.Kind])
	d.text.SetText(p.Text)
	d.text.SetPlaceHolder(map[string]string{"introduction": d.im.Introduction, "colophon": d.im.Colophon}[p.Kind])
	d.quiet = false
	d.forText.Hidden = slices.Contains(wordless, p.Kind)
	d.remove.Hidden = p.Kind != ownText
	d.fill()
	d.draw()
}

// add puts a text of the user's own after the part in hand.
func (d *bookDesk) add() {
	d.parts = slices.Insert(d.parts, d.at+1, catalog.BookPart{Kind: ownText, Heading: words.T("A text of your own")})
	d.choose(d.at + 1)
	d.f.win.Canvas().Focus(d.text)
}

// drop takes the user's own text in hand out again.
func (d *bookDesk) drop() {
	if d.parts[d.at].Kind == ownText {
		d.parts = slices.Delete(d.parts, d.at, d.at+1)
		d.choose(d.at)
	}
}

// written keeps what was typed in the part in hand.
func (d *bookDesk) written(change func(*catalog.BookPart)) {
	if d.quiet {
		return
	}
	change(&d.parts[d.at])
	d.fill()
	d.draw()
}

func (d *bookDesk) leaf(n int) {
	if at := d.page + n; at >= 0 && at < d.pages {
		d.page = at
		d.draw()
	}
}

// draw sets the page of the part in hand anew, once typing rests.
func (d *bookDesk) draw() {
	turn := d.newest.Add(1)
	im := d.im
	im.Book = slices.Clone(d.parts)
	at, page, width := d.at, d.page, d.f.devicePixels(max(d.img.Size().Width, 260))
	if d.parts[at].Off {
		d.img.Hide()
		d.say.SetText(words.T("this part is left out"))
		return
	}
	d.say.SetText(words.T("setting the page…"))
	d.f.work(func(ctx context.Context) func() {
		select {
		case <-time.After(drawAfter):
		case <-ctx.Done():
			return nil
		}
		if d.newest.Load() != turn {
			return nil // overtaken
		}
		img, pages, err := d.f.house.PreviewPart(ctx, &im, at, page, width)
		return func() {
			if d.newest.Load() != turn {
				return
			}
			d.pages = pages
			d.prev.SetEnabled(page > 0)
			d.next.SetEnabled(page+1 < pages)
			switch {
			case err != nil:
				d.img.Hide()
				d.say.SetText(words.Error(err))
			case pages == 0:
				d.img.Hide()
				d.say.SetText(words.T("this part has nothing to print yet"))
			default:
				d.img.Image = sheetview.Tight(img)
				d.img.Show()
				d.img.Refresh()
				d.say.SetText(words.T("page %d of %d of this part", page+1, pages))
			}
		}
	})
}
