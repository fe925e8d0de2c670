package book

import (
	"fmt"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/notation"
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
	usual := map[Kind]string{Plates: "The plates", Addenda: "Addenda", DoubtfulPart: "Doubtful works", RejectedPart: "Rejected works"}[p.Kind]
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
			b.opt.Progress(b.done, len(b.snap.Plates), titleText(pl))
		}
	}
	b.Verso = strings.ToLower(b.title())
	return nil
}

// partNote says in a sentence what the part holds.
func (b *book) partNote(k Kind, plates []*catalog.Plate) string {
	n := fmt.Sprintf("%d entries", len(plates))
	if len(plates) == 1 {
		n = "One entry"
	}
	switch k {
	case Addenda:
		return n + ": works that came to light after the numbering was fixed."
	case DoubtfulPart:
		return n + ": works that may be by the printmaker, without certain proof."
	case RejectedPart:
		return n + ": works once given to the printmaker and not by that hand."
	}
	return ""
}

// entry makes up one entry in the order of the trade: number, title, date,
// technique, dimensions; the reproduction; facts; states; editions;
// impressions; wear; remarks; exhibitions; literature.
func (b *book) entry(pl *catalog.Plate) {
	title := titleText(pl)
	b.Recto = strings.ToLower(strings.TrimSpace(numberText(pl) + "\u2002" + title))
	if !b.opt.SimpleOrder && len(b.Doc.Pages)%2 == 0 {
		b.Blank()
	}
	b.Next()
	key := "plate-" + string(pl.ID)
	b.Anchor(key)
	b.Bookmark(1, joinNonEmpty("  ", numberText(pl), typeset.Clean(cutText(title, 200))))
	b.listed = append(b.listed, listing{kind: 1, number: numberText(pl), title: title, page: b.Index(), key: key})
	b.entryHead(pl, title)
	facts := b.factBlock(pl)
	b.reproduction(pl, facts.Height)
	b.Flow([]makeup.Block{facts})
	body := b.stateBlocks(pl)
	if len(body) > 0 && b.Room() < b.Depth()*.45 && b.heightFits(body) {
		b.Next()
	}
	b.Flow(body)
	b.Flow(b.editionBlocks(pl))
	b.Flow(b.impressionBlocks(pl))
	b.Flow(b.wearBlocks(pl))
	b.remarks(pl)
	b.Flow(b.sourceBlocks(pl))
}

// heightFits reports whether blocks would fit one empty page.
func (b *book) heightFits(blocks []makeup.Block) bool {
	return makeup.Stack(blocks).Height <= b.Depth()
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
	date := dateText(pl.Date)
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
		b.warn(fmt.Sprintf("No. %s: the title is too long for its place and was cut there; it stands whole under “titles”.", num))
	}
	y := p.Lines(tx, base-5, size*1.12, lines) - size*1.12
	p.TextRight(dateStyle, x+w, base-5, date)
	y += b.Lead * 1.25
	technique := upperFirst(techniqueText(pl.Techniques))
	if pl.Metal != "" {
		technique = joinNonEmpty(" on ", technique, pl.Metal)
	}
	size2 := b.sizeLine(pl)
	sw := b.Body.Width(size2)
	tl := b.Case.Break(typeset.Paragraph{Spans: []typeset.Span{{Style: b.Sub, Text: technique}}, Width: w - (tx - x) - sw - 14, Ragged: true, MaxLines: 3})
	p.TextRight(b.Body.In(typeset.Grey), x+w, y, size2)
	end := p.Lines(tx, y, b.Lead, tl)
	b.Y = max(end-b.Lead, y) + b.Lead*.9
}

// sizeLine states the sizes: what the title line has room for.
func (b *book) sizeLine(pl *catalog.Plate) string {
	switch {
	case !pl.Mark.IsZero():
		return "plate mark " + sizeText(pl.Mark)
	case !pl.Copper.IsZero():
		return "plate " + sizeText(pl.Copper)
	}
	return ""
}

// reproduction places the picture of the last state, as large as the page
// allows with the facts below it, never above actual size.
func (b *book) reproduction(pl *catalog.Plate, below float64) {
	states := b.states[pl.ID]
	size := pl.MeasureSize()
	var photo *catalog.Photograph
	var shown *catalog.State
	for i := len(states) - 1; i >= 0 && photo == nil; i-- {
		photo, shown = b.bestPhoto(states[i]), states[i]
	}
	if photo == nil {
		return
	}
	v, err := b.plateView(photo, size)
	if err == nil && v != nil && b.opt.Archive && v.info.Components == 4 && v.info.ICC == nil {
		err = fmt.Errorf("the picture %s is in printing inks without a colour profile; save it as RGB", v.path)
	}
	if err != nil || v == nil {
		if err != nil {
			b.warn(fmt.Sprintf("No. %s: no reproduction: %v.", numberText(pl), err))
		}
		return
	}
	caption := 22.0
	maxH := min(b.Room()-min(below, b.Depth()*.36)-caption-12, b.Depth()*.66)
	if maxH < 40 {
		maxH = b.Room() - caption
	}
	x, w := b.Left(), b.TextWidth()
	p, y := b.Page, b.Y
	scale := ""
	var r display.Rect
	if v.located {
		m := v.margins(.07 * max(size.WidthMM, size.HeightMM))
		box := [4]float64{-m[0], -m[1], size.WidthMM + m[2], size.HeightMM + m[3]}
		if fitScale(size.WidthMM, size.HeightMM, w, maxH) == 1 && fitScale(box[2]-box[0], box[3]-box[1], w, maxH) < 1 {
			// Actual size comes before a paper margin.
			mx := (w/makeup.MM - size.WidthMM) / 2
			my := (maxH/makeup.MM - size.HeightMM) / 2
			d := max(0, min(m[0], mx, my))
			box = [4]float64{-d, -d, size.WidthMM + d, size.HeightMM + d}
		}
		k := fitScale(box[2]-box[0], box[3]-box[1], w, maxH)
		r = display.Rect{W: (box[2] - box[0]) * makeup.MM * k, H: (box[3] - box[1]) * makeup.MM * k}
		r.X, r.Y = x+(w-r.W)/2, y
		v.draw(p, box, r)
		b.checkPPI(v, k, fmt.Sprintf("No. %s", numberText(pl)))
		scale = scaleWords(k)
	} else {
		r = display.Rect{W: w, H: w * v.aspect()}
		if r.H > maxH {
			r = display.Rect{W: maxH / v.aspect(), H: maxH}
		}
		r.X, r.Y = x+(w-r.W)/2, y
		v.whole(p, r)
		scale = "not to scale"
	}
	b.Y = r.Y + r.H + 12.5
	words := b.captionWords(pl, shown, photo)
	sw := b.CaptionRoman.Width(scale)
	words, _ = b.Caption.Cutoff(words, w-sw-16)
	left, right := r.X, r.X+r.W
	if r.W < b.Caption.Width(words)+sw+16 {
		left, right = x, x+w
	}
	p.Text(b.Caption, left, b.Y, words)
	p.TextRight(b.CaptionRoman, right, b.Y, scale)
	b.Y += b.Lead * 1.3
}

// captionWords says which impression is shown.
func (b *book) captionWords(pl *catalog.Plate, st *catalog.State, ph *catalog.Photograph) string {
	words := ""
	if n := len(b.states[pl.ID]); n > 1 {
		words = "State " + notation.Roman(st.N)
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
	return string(im.Kind)
}
