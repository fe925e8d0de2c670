package places

import (
	"context"
	"image"

	"pullbook/catalog"
	"pullbook/catalog/exchange/cells"
	"pullbook/catalog/exchange/sheet"
)

func (h *fakeHouse) OpenTables(_ context.Context, path string) ([]cells.Sheet, error) {
	return cells.Open(path)
}

func (h *fakeHouse) PlanTable(ctx context.Context, t cells.Sheet, m sheet.Matching) (*sheet.Plan, error) {
	known, err := h.Snapshot(ctx)
	if err != nil {
		return nil, err
	}
	return sheet.Prepare(t, m, known)
}

func (h *fakeHouse) TakeInTable(ctx context.Context, p *sheet.Plan) error {
	var l []any
	for i := range p.New.Plates {
		l = append(l, &p.New.Plates[i])
	}
	for i := range p.New.States {
		l = append(l, &p.New.States[i])
	}
	for i := range p.New.Editions {
		l = append(l, &p.New.Editions[i])
	}
	for i := range p.New.Impressions {
		l = append(l, &p.New.Impressions[i])
	}
	return h.Save(ctx, "take in", l...)
}

func (h *fakeHouse) TakeInLiterature(context.Context, string) (int, []string, error) {
	return 2, []string{"An entry without a title."}, nil
}

func (h *fakeHouse) TakeInExport(_ context.Context, dir, _ string, _ Progress) error {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.taken = append(h.taken, dir)
	return nil
}

func (h *fakeHouse) Preview(_ context.Context, _ catalog.ID, _, width int) (image.Image, int, error) {
	img := image.NewRGBA(image.Rect(0, 0, width, width*4/3))
	for i := range img.Pix {
		img.Pix[i] = 0xfb
	}
	return img, 2, nil
}

// BookParts has four parts.
func (h *fakeHouse) BookParts(m *catalog.Imprint) ([]catalog.BookPart, map[string]string) {
	parts := m.Book
	if len(parts) == 0 {
		parts = []catalog.BookPart{{Kind: "title page"}, {Kind: "introduction"}, {Kind: "the plates"}, {Kind: "colophon"}}
	}
	return append([]catalog.BookPart(nil), parts...), map[string]string{"title page": "Title page", "introduction": "Introduction", "the plates": "The plates", "colophon": "Colophon", ownText: "Own text"}
}

func (h *fakeHouse) PreviewPart(_ context.Context, m *catalog.Imprint, part, page, width int) (image.Image, int, error) {
	return image.NewRGBA(image.Rect(0, 0, width, width)), 2, nil
}

func (h *fakeHouse) LayOut(_ context.Context, to string, o BookWish, p Progress) ([]string, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.laidOut, h.wish = to, o
	return []string{"One photograph is coarse."}, nil
}

func (h *fakeHouse) LabelSheets() []LabelSheet {
	return []LabelSheet{{Name: "a", Page: "A4", Count: 24, Width: 70, Height: 37}, {Name: "b", Page: "A4", Count: 10, Width: 90, Height: 54, Cut: true}}
}

func (h *fakeHouse) Print(_ context.Context, x Printing, p Progress) (made, warnings []string, err error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.printed = append(h.printed, x)
	return []string{x.To}, nil, nil
}

func (h *fakeHouse) Export(context.Context, string, string, string, Progress) error { return nil }

func (h *fakeHouse) Pack(_ context.Context, to string, _ Progress) error {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.packed = to
	return nil
}

func (h *fakeHouse) Verify(context.Context, Progress) (string, error) {
	return "Nothing is wrong.", nil
}
