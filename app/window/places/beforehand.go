package places

import (
	"context"
	"time"

	"pullbook/app/window/sheetview"
	"pullbook/catalog"
)

// glance is the small picture of a photograph, laid down for the viewer: w and
// h are the photograph's sides there, long its longer side in pixels.
type glance struct {
	sheet *sheetview.Sheet
	w, h  float64
	long  int
}

// readGlance reads the small picture of a photograph. Not for the interface
// goroutine.
func readGlance(ctx context.Context, kept func(context.Context, catalog.ID) (string, error), id catalog.ID) (glance, error) {
	path, err := kept(ctx, id)
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		return glance{}, err
	}
	img, err := readPicture(path)
	if err != nil {
		return glance{}, err
	}
	s, w, h := asPhoto(img)
	return glance{s, w, h, max(img.Rect.Dx(), img.Rect.Dy())}, nil
}

// beforehand keeps the small pictures of the photographs that will most likely
// be looked at next, so that each stands in the first picture that the window
// draws of it. It is used from the interface goroutine.
type beforehand struct {
	f    *Frame
	kept map[catalog.ID]glance
	turn int                // counts wishes, so that what comes late is dropped
	stop context.CancelFunc // of the reading under way
}

// quietBefore is how long nothing else may be wished for before a picture is
// read that nobody has asked for yet.
const quietBefore = 120 * time.Millisecond

// want reads what is not there yet of a few photographs, in their order, and
// forgets all others: each takes some 6 MB.
func (b *beforehand) want(ids ...catalog.ID) {
	if b.stop != nil {
		b.stop()
	}
	b.turn++
	turn, kept := b.turn, map[catalog.ID]glance{}
	var todo []catalog.ID
	for _, id := range ids {
		if g, ok := b.kept[id]; ok {
			kept[id] = g
		} else if id != "" {
			todo = append(todo, id)
		}
	}
	b.kept = kept
	if len(todo) == 0 {
		return
	}
	ctx, stop := context.WithCancel(b.f.ctx)
	b.stop = stop
	b.f.work(func(context.Context) func() {
		defer stop()
		select {
		case <-ctx.Done():
			return nil
		case <-time.After(quietBefore):
		}
		for _, id := range todo {
			g, err := readGlance(ctx, b.f.house.Glance, id)
			if err != nil {
				continue // it is said when the photograph is looked at
			}
			b.f.post.do(func() {
				if turn == b.turn {
					b.kept[id] = g
				}
			})
		}
		return nil
	})
}

// expect has the photograph read that the camera would show for the plate in
// hand, while another place is shown.
func (c *cameraPlace) expect(b *book, plate *catalog.Plate) {
	if c.f.at == AtCamera {
		return
	}
	first := catalog.ID("")
	for _, it := range c.trayOf(b, plate) {
		switch {
		case it.head != "":
		case it.taken.PhotoID == c.chosen: // it is shown already
			c.near.want()
			return
		case first == "":
			first = it.taken.PhotoID
		}
	}
	c.near.want(first)
}

// expectBeside has the photographs read that lie beside the one shown.
func (c *cameraPlace) expectBeside() {
	var before, after catalog.ID
	seen := false
	for _, it := range c.items {
		switch id := it.taken.PhotoID; {
		case it.head != "":
		case id == c.chosen:
			seen = true
		case !seen:
			before = id
		case after == "":
			after = id
		}
	}
	c.near.want(after, before)
}
