package book

import (
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/notation"
	"pullbook/catalog/say"
	"pullbook/pdfout/display"
	"pullbook/pdfout/makeup"
	"pullbook/pdfout/typeset"
)

// entries makes up the entries of a part, each on its own pages.
func (b *book) entries(p Part) error {
	plates := b.platesIn(p.Kind)
	if len(plates) == 0 {
		return nil
	}
	usual := b.word(map[Kind]string{Plates: "The plates", Addenda: "Addenda", DoubtfulPart: "Doubtful works", RejectedPart: "Rejected works"}[p.Kind])
	b.chapter(p.heading(usual), true)
	if s := strings.TrimSpace(p.Text); s != "" {
		b.Flow(b.Prose(s, b.proseWidth()))
	} else if s := b.partNote(p.Kind, plates); s != "" {
		b.Flow(b.Prose(s, b.proseWidth()))
	}
	b.Verso = strings.ToLower(p.heading(usual))
	for _, pl := range plates {
		if err := b.ctx.Err(); err != nil {
			return err
		}
		b.entry(pl)
		b.done++
		if b.opt.Progress != nil {
			b.opt.Progress(b.done, len(b.snap.Plates), b.titleText(pl))
		}
	}
	b.Verso = strings.ToLower(b.title())
	return nil
}

// partNote says in a sentence what the part holds.
func (b *book) partNote(k Kind, plates []*catalog.Plate) string {
	n := upperFirst(b.count(len(plates), "one entry", "%s entries"))
	switch k {
	case Addenda:
		return b.t("%s: works that came to light after the numbering was fixed.", n)
	case DoubtfulPart:
		return b.t("%s: works that may be by the printmaker, without certain proof.", n)
	case RejectedPart:
		return b.t("%s: works once given to the printmaker and not by that hand.", n)
	}
	return ""
}

// entry makes up one entry in the order of the trade: number, title, date,
// technique, dimensions; the reproduction; facts; states; editions;
// impressions; wear; remarks; exhibitions; literature.
func (b *book) entry(pl *catalog.Plate) {
	title := b.titleText(pl)
	facts := b.factBlocks(pl)
	body, states := b.bodyBlocks(pl)
	short := makeup.Stack(body).Height+makeup.Stack(facts).Height < b.Depth()*.4
	b.Recto = strings.ToLower(strings.TrimSpace(numberText(pl) + "\u2002" + title))
	head := b.Top() + b.Number.Size*.66 + 2.6*b.Lead // about where the head will end
	_, _, pages := b.choosePicture(pl, facts, body, short, head)
	if !short && makeup.Stack(body[:states]).Height < b.Depth()*.8 {
		// States stand together for comparison, where that costs no page.
		keepTogether(body[:states], true)
		if _, _, n := b.choosePicture(pl, facts, body, short, head); n > pages {
			keepTogether(body[:states], false)
		}
	}
	if !b.opt.SimpleOrder && !short && pages == 2 && len(b.Doc.Pages)%2 == 0 {
		b.Blank() // a blank page only where two pages are to face each other
	}
	b.Next()
	key := "plate-" + string(pl.ID)
	b.Anchor(key)
	b.Bookmark(1, joinNonEmpty("  ", numberText(pl), typeset.Clean(cutText(title, 200))))
	b.listed = append(b.listed, listing{kind: 1, number: numberText(pl), title: title, page: b.Index(), key: key})
	b.entryHead(pl, title)
	pic, stay, _ := b.choosePicture(pl, facts, body, short, b.Y)
	b.Flow(append([]makeup.Block{pic}, facts...))
	if !stay {
		b.Next() // the facing page holds what follows
	}
	b.Flow(body)
}

// choosePicture finds the largest reproduction with which an entry whose head
// ends at y takes the fewest pages, whether what follows the facts begins under
// them, and how many pages that is.
func (b *book) choosePicture(pl *catalog.Plate, facts, body []makeup.Block, short bool, y float64) (pic makeup.Block, stay bool, pages int) {
	pages = 1 << 30
	factsHeight := min(makeup.Stack(facts).Height, b.Depth()*.45)
	room := b.Bottom() - y - factsHeight - 40
	if short {
		room -= makeup.Stack(body).Height
	}
	for _, share := range []float64{.66, .58, .5, .42} {
		try := b.reproduction(pl, max(min(b.Depth()*share, room), b.Depth()*.2))
		before, foot := b.Pages(append([]makeup.Block{try}, facts...), y)
		inPlace, _ := b.Pages(body, foot)
		facing, _ := b.Pages(body, b.Top())
		facing += before
		inPlace += before - 1
		n, here := facing, false
		if inPlace < facing || len(body) == 0 {
			n, here = inPlace, true
		}
		if n < pages {
			pages, pic, stay = n, try, here
		}
		if n <= 2 {
			break
		}
	}
	return pic, stay, pages
}

// keepTogether joins blocks that were several, head and last apart, or lets
// them go again.
func keepTogether(blocks []makeup.Block, keep bool) {
	for i := 1; i < len(blocks)-2; i++ {
		blocks[i].Keep = keep
	}
}

// bodyBlocks sets all that follows the list of facts, and says how many of the
// blocks are the states'.
func (b *book) bodyBlocks(pl *catalog.Plate) (out []makeup.Block, states int) {
	out = b.stateBlocks(pl)
	states = len(out)
	out = append(out, b.editionBlocks(pl)...)
	out = append(out, b.impressionBlocks(pl)...)
	out = append(out, b.wearBlocks(pl)...)
	out = append(out, b.remarkBlocks(pl)...)
	return append(out, b.sourceBlocks(pl)...), states
}

// cutText shortens a text to n runes.
func cutText(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n]) + "…"
	}
	return s
}

// entryHead sets number, title and date, and the line of technique and size.
func (b *book) entryHead(pl *catalog.Plate, title string) {
	p, x, w := b.Page, b.Left(), b.TextWidth()
	num := numberText(pl)
	base := b.Y + b.Number.Size*.66
	numStyle := b.Number
	if len(num) > 3 {
		numStyle = numStyle.At(numStyle.Size * .75)
	}
	tx := x
	if num != "" {
		tx = x + max(p.Text(numStyle, x-1, base, num)+11, 34)
	}
	date := b.dateText(pl.Date)
	dateStyle := b.Sub
	dw := dateStyle.Width(date)
	if dw > w*.3 {
		dateStyle = b.Body
		date, _ = dateStyle.Cutoff(date, w*.35)
		dw = dateStyle.Width(date)
	}
	room := w - (tx - x) - dw - 18
	size := b.titleSize(title, b.Styles.Title.Size, room, 2)
	st := b.Styles.Title.At(size)
	lines := b.Case.Break(typeset.Paragraph{Spans: []typeset.Span{{Style: st, Text: title}}, Width: room, Ragged: true, MaxLines: 3})
	if len(lines) > 0 && lines[len(lines)-1].Cut {
		b.warn(b.t("No. %s: the title is too long for its place and was cut there; it stands whole under “titles”.", num))
	}
	y := p.Lines(tx, base-5, size*1.12, lines) - size*1.12
	p.TextRight(dateStyle, x+w, base-5, date)
	y += b.Lead * 1.25
	technique := upperFirst(b.techniqueText(pl.Techniques))
	if pl.Metal != "" {
		if technique != "" {
			technique = b.t("%s on %s", technique, say.Word(pl.Metal))
		} else {
			technique = upperFirst(b.word(pl.Metal))
		}
	}
	size2 := b.sizeLine(pl)
	sw := b.Body.Width(size2)
	tl := b.Case.Break(typeset.Paragraph{Spans: []typeset.Span{{Style: b.Sub, Text: technique}}, Width: w - (tx - x) - sw - 14, Ragged: true, MaxLines: 3})
	p.TextRight(b.Body.In(typeset.Grey), x+w, y, size2)
	end := p.Lines(tx, y, b.Lead, tl)
	b.Y = max(end-b.Lead, y) + b.Lead*1.15
}

// sizeLine states the sizes: what the title line has room for.
func (b *book) sizeLine(pl *catalog.Plate) string {
	switch {
	case !pl.Mark.IsZero():
		return b.t("plate mark %s", b.sizeText(pl.Mark))
	case !pl.Copper.IsZero():
		return b.t("plate %s", b.sizeText(pl.Copper))
	}
	return ""
}

// reproduction makes the picture of the last state, at most maxH high with its
// caption below, never above actual size. It is empty where there is none.
func (b *book) reproduction(pl *catalog.Plate, maxH float64) makeup.Block {
	states := b.states[pl.ID]
	size := pl.MeasureSize()
	var photo *catalog.Photograph
	var shown *catalog.State
	for i := len(states) - 1; i >= 0 && photo == nil; i-- {
		photo, shown = b.bestPhoto(states[i]), states[i]
	}
	if photo == nil {
		return makeup.Block{}
	}
	v, err := b.plateView(photo, size)
	if err != nil || v == nil {
		if err != nil {
			b.warn(b.t("No. %s: no reproduction: %v.", numberText(pl), err))
		}
		return makeup.Block{}
	}
	w := b.TextWidth()
	r, scale, paint := b.shownAt(v, size, maxH, b.t("No. %s", numberText(pl)))
	scaleWidth := b.CaptionRoman.Width(scale)
	words, _ := b.Caption.Cutoff(b.captionWords(pl, shown, photo), w-scaleWidth-16)
	wide := r.W < b.Caption.Width(words)+scaleWidth+16
	return makeup.Block{Height: r.H + 12.5 + b.Lead*.9, Keep: true, Draw: func(p *display.Page, x, y float64) {
		at := display.Rect{X: x + (w-r.W)/2, Y: y, W: r.W, H: r.H}
		paint(p, at)
		left, right := at.X, at.X+at.W
		if wide {
			left, right = x, x+w
		}
		p.Text(b.Caption, left, y+r.H+12.5, words)
		p.TextRight(b.CaptionRoman, right, y+r.H+12.5, scale)
	}}
}

// shownAt fits a view into the text's width and maxH, never above actual size:
// the room it takes, at what scale it stands there, in words, and how it is
// painted. A picture too coarse for that is reported under the name given.
func (b *book) shownAt(v *view, size catalog.Size, maxH float64, name string) (r display.Rect, scale string, paint func(*display.Page, display.Rect)) {
	w := b.TextWidth()
	if !v.located {
		r = display.Rect{W: w, H: w * v.aspect()}
		if r.H > maxH {
			r = display.Rect{W: maxH / v.aspect(), H: maxH}
		}
		return r, b.t("not to scale"), v.whole
	}
	box := v.surround(size, w, maxH)
	k := fitScale(box[2]-box[0], box[3]-box[1], w, maxH)
	r = display.Rect{W: (box[2] - box[0]) * makeup.MM * k, H: (box[3] - box[1]) * makeup.MM * k}
	return r, b.scaleWords(k), func(p *display.Page, at display.Rect) {
		v.draw(p, box, at)
		b.checkPPI(v, k, name)
	}
}

// surround is the part of the sheet shown: the plate with a margin of paper,
// where the picture has one. Actual size comes before a margin.
func (v *view) surround(size catalog.Size, w, maxH float64) [4]float64 {
	d := v.margins(.07 * max(size.WidthMM, size.HeightMM))
	if fitScale(size.WidthMM, size.HeightMM, w, maxH) == 1 {
		d = max(0, min(d, (w/makeup.MM-size.WidthMM)/2, (maxH/makeup.MM-size.HeightMM)/2))
	}
	return [4]float64{-d, -d, size.WidthMM + d, size.HeightMM + d}
}

// captionWords says which impression is shown.
func (b *book) captionWords(pl *catalog.Plate, st *catalog.State, ph *catalog.Photograph) string {
	words := ""
	if n := len(b.states[pl.ID]); n > 1 {
		words = b.t("State %s", notation.Roman(st.N))
	}
	im := b.impression[ph.ImpressionID]
	if im == nil {
		return words
	}
	sheet := b.sheetName(im)
	if pp := b.papers[im.PaperID]; pp != nil {
		sheet = joinNonEmpty(", ", sheet, pp.Name)
	}
	return upperFirst(joinNonEmpty(", ", words, sheet))
}

// sheetName names an impression: "7/30", "A.P. I/III", "bon à tirer".
func (b *book) sheetName(im *catalog.Impression) string {
	switch {
	case im.Written != "":
		return im.Written
	case im.Ordinal > 0 || im.Kind == catalog.KindArtist || im.Kind == catalog.KindPrinter || im.Kind == catalog.KindHorsCommerce || im.Kind == catalog.KindTrial:
		return notation.FormatEdition(im.Kind, im.Ordinal, im.OutOf)
	}
	return b.word(string(im.Kind))
}
