package window

import (
	"cmp"
	"context"
	"errors"
	"image"
	"sync"

	"pullbook/app/window/words"
	"pullbook/catalog"
	"pullbook/pdfout"
	"pullbook/pdfout/book"
	"pullbook/pdfout/display"
)

// preview draws one page at a time.
type preview struct{ mu sync.Mutex }

var errNoPage = errors.New("this plate has no page in the book yet; give it a title and a number")

// entryParts are the parts of the book an entry can stand in.
var entryParts = []pdfout.Part{{Kind: book.Plates}, {Kind: book.Addenda}, {Kind: book.DoubtfulPart}, {Kind: book.RejectedPart}}

// Preview draws one page of the entry of a plate as the book will print it.
func (h *house) Preview(ctx context.Context, plate catalog.ID, page, widthPX int) (image.Image, int, error) {
	h.preview.mu.Lock()
	defer h.preview.mu.Unlock()
	snap, err := h.Snapshot(ctx)
	if err != nil {
		return nil, 0, err
	}
	o := pdfout.BookOptions{Parts: entryParts, SimpleOrder: true}
	h.BookPictures(ctx, &o)
	doc, _, err := pdfout.LayBook(ctx, only(snap, plate), o)
	if err != nil {
		return nil, 0, err
	}
	pages := entryPages(doc)
	if len(pages) == 0 {
		return nil, 0, errNoPage
	}
	p := pages[min(max(page, 0), len(pages)-1)]
	return pdfout.Preview(p, float64(widthPX)/(p.Width/pointsPerInch)), len(pages), nil
}

// BookParts are the parts of the printed catalogue and what they are called.
func (h *house) BookParts(m *catalog.Imprint) ([]catalog.BookPart, map[string]string) {
	var parts []catalog.BookPart
	for _, p := range pdfout.PartsOf(m) {
		parts = append(parts, catalog.BookPart{Kind: string(p.Kind), Heading: p.Heading, Text: p.Text, Off: p.Off})
	}
	names := map[string]string{}
	for k, s := range pdfout.Heads(words.Code()) {
		names[string(k)] = s
	}
	return parts, names
}

// platesShown is how many entries stand for all in the preview of a part.
const platesShown = 3

// PreviewPart draws a page of one part of the book. The contents need the
// whole book laid out; of the entries the first few stand for all.
func (h *house) PreviewPart(ctx context.Context, m *catalog.Imprint, part, page, widthPX int) (image.Image, int, error) {
	h.preview.mu.Lock()
	defer h.preview.mu.Unlock()
	snap, err := h.Snapshot(ctx)
	if err != nil {
		return nil, 0, err
	}
	c := *snap
	c.Imprint = *m
	parts := pdfout.PartsOf(m)
	p := parts[part]
	o := pdfout.BookOptions{Parts: []pdfout.Part{p}, SimpleOrder: true}
	switch p.Kind {
	case book.Contents:
		o.Parts = parts
	case book.Plates, book.Addenda, book.DoubtfulPart, book.RejectedPart:
		c.Plates = keep(c.Plates, func(pl *catalog.Plate) bool { return book.PartOf(pl) == p.Kind })
		c.Plates = c.Plates[:min(len(c.Plates), platesShown)]
	}
	h.BookPictures(ctx, &o)
	doc, _, err := pdfout.LayBook(ctx, &c, o)
	if errors.Is(err, pdfout.ErrNoPages) {
		return nil, 0, nil
	}
	if err != nil {
		return nil, 0, err
	}
	pages := printedPages(doc.Pages)
	if p.Kind == book.Contents {
		pages = contentsPages(doc, cmp.Or(p.Heading, pdfout.Heads(m.Language)[book.Contents]))
	}
	if len(pages) == 0 {
		return nil, 0, nil
	}
	x := pages[min(max(page, 0), len(pages)-1)]
	return pdfout.Preview(x, float64(widthPX)/(x.Width/pointsPerInch)), len(pages), nil
}

// printedPages are those that are not blank.
func printedPages(all []*display.Page) []*display.Page {
	var pages []*display.Page
	for _, p := range all {
		if len(p.Items) > 0 {
			pages = append(pages, p)
		}
	}
	return pages
}

// contentsPages are the pages from the bookmark of the contents to the next.
func contentsPages(doc *pdfout.Document, title string) []*display.Page {
	for i, b := range doc.Outline {
		if b.Title == title {
			end := len(doc.Pages)
			if i+1 < len(doc.Outline) {
				end = doc.Outline[i+1].Page
			}
			return printedPages(doc.Pages[b.Page:end])
		}
	}
	return nil
}

// entryPages are the pages of the entry itself: from the page its bookmark
// names, without the title of its part before it and blank pages.
func entryPages(doc *pdfout.Document) []*display.Page {
	from := 0
	for _, b := range doc.Outline {
		if b.Level > 0 {
			from = b.Page
			break
		}
	}
	var pages []*display.Page
	for _, p := range doc.Pages[min(from, len(doc.Pages)):] {
		if len(p.Items) > 0 {
			pages = append(pages, p)
		}
	}
	return pages
}

// only is the snapshot with one plate: what its entry needs.
func only(s *catalog.Snapshot, plate catalog.ID) *catalog.Snapshot {
	c := *s
	c.Plates = keep(s.Plates, func(p *catalog.Plate) bool { return p.ID == plate })
	c.States = keep(s.States, func(p *catalog.State) bool { return p.PlateID == plate })
	c.Impressions = keep(s.Impressions, func(p *catalog.Impression) bool { return p.PlateID == plate })
	c.Editions = keep(s.Editions, func(p *catalog.Edition) bool { return p.PlateID == plate })
	mine := map[catalog.ID]bool{}
	for _, i := range c.Impressions {
		mine[i.ID] = true
	}
	c.Photographs = keep(s.Photographs, func(p *catalog.Photograph) bool { return mine[p.ImpressionID] })
	c.Scores = keep(s.Scores, func(p *catalog.Score) bool { return mine[p.ImpressionID] })
	return &c
}

func keep[T any](l []T, yes func(*T) bool) []T {
	var out []T
	for i := range l {
		if yes(&l[i]) {
			out = append(out, l[i])
		}
	}
	return out
}

// pointsPerInch: pages are laid out in PDF points (ISO 32000-1, 8.3.2.3).
const pointsPerInch = 72
