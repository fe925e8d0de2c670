package window

import (
	"context"
	"image"
	"sync"

	"pullbook/catalog"
	"pullbook/pdfout"
)

// preview keeps the pages last set, so that leafing does not set them again.
type preview struct {
	mu    sync.Mutex
	plate catalog.ID
	doc   *pdfout.Document
	stale bool
}

// Preview draws one page of the entry of a plate as the book will print it.
func (h *house) Preview(ctx context.Context, plate catalog.ID, page, widthPX int) (image.Image, int, error) {
	h.preview.mu.Lock()
	defer h.preview.mu.Unlock()
	snap, err := h.Snapshot(ctx)
	if err != nil {
		return nil, 0, err
	}
	doc, _, err := pdfout.LayBook(ctx, only(snap, plate), pdfout.BookOptions{Parts: entryParts(), SimpleOrder: true, Picture: h.bookPicture(ctx), Plate: h.bookPlate(ctx), Detail: h.bookDetail(ctx)})
	if err != nil {
		return nil, 0, err
	}
	if len(doc.Pages) == 0 {
		return nil, 0, errNoPage
	}
	page = min(max(page, 0), len(doc.Pages)-1)
	p := doc.Pages[page]
	dpi := float64(widthPX) / (p.Width / pointsPerInch)
	return pdfout.Preview(p, dpi), len(doc.Pages), nil
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
