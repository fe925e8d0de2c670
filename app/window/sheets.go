package window

import (
	"context"
	"errors"
	"image"

	"pullbook/app/window/places"
	"pullbook/app/window/words"
	"pullbook/catalog"
	"pullbook/imaging"
	"pullbook/pdfout"
	"pullbook/pdfout/book"
)

// Sheets registers two photographs on the plate of the first.
func (h *house) Sheets(ctx context.Context, a, b catalog.ID, p places.Progress) (*places.Pair, error) {
	return nil, errors.New(words.T("Laid down by their plate marks."))
}

// Compare finds the work that made a state.
func (h *house) Compare(ctx context.Context, state catalog.ID, p places.Progress) error {
	return errors.New("states cannot be compared yet")
}

var _ = imaging.Method
var _ image.Image

var errNoPage = errors.New("this plate has no page in the book yet; give it a title and a number")

// entryParts are the parts an entry can stand in.
func entryParts() []pdfout.Part {
	return []pdfout.Part{{Kind: book.Plates}, {Kind: book.Addenda}, {Kind: book.DoubtfulPart}, {Kind: book.RejectedPart}}
}

func (h *house) bookPicture(ctx context.Context) func(catalog.ID) (string, error) {
	return func(id catalog.ID) (string, error) { return h.Proxy(ctx, id) }
}

func (h *house) bookPlate(ctx context.Context) func(catalog.ID) (string, error) {
	return func(id catalog.ID) (string, error) { return h.RectifiedPlate(ctx, id) }
}

func (h *house) bookDetail(ctx context.Context) func(catalog.ID, [4]float64) (string, error) {
	return func(id catalog.ID, box [4]float64) (string, error) { return h.Detail(ctx, id, box) }
}

// LayOut makes the printed catalogue.
func (h *house) LayOut(ctx context.Context, to string, p places.Progress) error {
	snap, err := h.Snapshot(ctx)
	if err != nil {
		return err
	}
	_, err = pdfout.WriteBook(ctx, to, snap, pdfout.BookOptions{Picture: h.bookPicture(ctx), Plate: h.bookPlate(ctx), Detail: h.bookDetail(ctx),
		Progress: func(done, total int, what string) { p(float64(done)/float64(max(total, 1)), what) }})
	return err
}

// Export writes exchange files.
func (h *house) Export(ctx context.Context, as, dir string, p places.Progress) error {
	return errors.New("there is no export yet")
}
