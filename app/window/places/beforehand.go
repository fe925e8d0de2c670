package places

import (
	"context"
	"sync"
	"sync/atomic"
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

// glanceRead is the reading of one small picture, done once by whoever asks
// first; who comes meanwhile waits for it.
type glanceRead struct {
	once sync.Once
	done atomic.Bool
	g    glance
	err  error
}

func (r *glanceRead) read(f *Frame, id catalog.ID) (glance, error) {
	r.once.Do(func() {
		r.g, r.err = readGlance(f.ctx, f.house.Glance, id)
		r.done.Store(true)
	})
	return r.g, r.err
}

// ready reports whether it was read and can be shown.
func (r *glanceRead) ready() bool { return r != nil && r.done.Load() && r.err == nil }

// beforehand keeps the small pictures of the photographs that will most likely
// be looked at next, so that each stands in the first picture that the window
// draws of it. It is used from the interface goroutine.
type beforehand struct {
	f    *Frame
	kept map[catalog.ID]*glanceRead
	stop context.CancelFunc // of those not begun
}

// want reads what is not there yet of a few photographs, in their order, and
// forgets all others: each takes some 6 MB. It begins when nothing else was
// wished for during quiet.
func (b *beforehand) want(quiet time.Duration, ids ...catalog.ID) {
	if b.stop != nil {
		b.stop()
	}
	kept := map[catalog.ID]*glanceRead{}
	var todo []catalog.ID
	for _, id := range ids {
		if id == "" {
			continue
		}
		if kept[id] = b.kept[id]; kept[id] == nil {
			kept[id] = &glanceRead{}
		}
		if !kept[id].done.Load() {
			todo = append(todo, id)
		}
	}
	b.kept = kept
	if len(todo) == 0 {
		return
	}
	f := b.f
	ctx, stop := context.WithCancel(f.ctx)
	b.stop = stop
	f.work(func(context.Context) func() {
		defer stop()
		select {
		case <-ctx.Done():
			return nil
		case <-time.After(quiet):
		}
		for _, id := range todo {
			if ctx.Err() == nil {
				kept[id].read(f, id) // what goes wrong is said when it is looked at
			}
		}
		return nil
	})
}

// quietBefore is how long a plate or a photograph stands before pictures are
// read that nobody has asked for yet.
const quietBefore = 120 * time.Millisecond

// expect has the photograph read that the camera would show for the plate in
// hand, while another place is shown.
func (c *cameraPlace) expect(quiet time.Duration, b *book, plate *catalog.Plate) {
	if c.f.at == AtCamera {
		return
	}
	first := catalog.ID("")
	for _, it := range c.trayOf(b, plate) {
		switch {
		case it.head != "":
		case it.taken.PhotoID == c.chosen: // it is shown already
			c.near.want(quiet)
			return
		case first == "":
			first = it.taken.PhotoID
		}
	}
	c.near.want(quiet, first)
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
	c.near.want(quietBefore, after, before)
}
