package places

import (
	"context"
	"image"
	"math"
	"time"

	"pullbook/app/window/sheetview"
	"pullbook/catalog"
)

// photoLong is the length of the longer side of a photograph in the viewer's
// millimetres: whatever picture of it is shown lies in the same place.
const photoLong = 2400.0

// closerAfter is how long a photograph stands before the large picture of it is
// read: leafing through many is not held up by it, nor the first of them.
const closerAfter = 200 * time.Millisecond

// asPhoto lays a picture of a whole photograph down for the viewer; w and h are
// the photograph's sides there.
func asPhoto(img *image.RGBA) (s *sheetview.Sheet, w, h float64) {
	pw, ph := float64(img.Rect.Dx()), float64(img.Rect.Dy())
	k := photoLong / max(pw, ph)
	return sheetview.NewSheet(img, 1/k, 0, 0), pw * k, ph * k
}

// load reads a photograph on a worker: first the small picture that is as sharp
// as most windows can show it, then its report, then the large one to look into
// it with.
func (c *cameraPlace) load(id catalog.ID) {
	if id == "" {
		return
	}
	c.turn++
	turn, f := c.turn, c.f
	same := id == c.shown // seen as it was, while its corners are being set
	if !same {
		c.view.SetCorners(nil)
		c.began = time.Now()
	}
	near := c.near.kept[id]
	laid := !same && near.ready()
	if laid {
		c.lay(id, near.g, false)
	}
	own := 0
	if f.book != nil && f.book.photos[id] != nil {
		own = max(f.book.photos[id].WidthPX, f.book.photos[id].HeightPX)
	}
	if own == 0 {
		own = math.MaxInt // not known
	}
	if c.stop != nil {
		c.stop()
	}
	ctx, stop := context.WithCancel(f.ctx)
	c.stop, c.looked = stop, ctx
	f.work(func(context.Context) func() {
		whole := false // it is shown as large as it is
		if !same {
			g, err := c.glance(ctx, near, id)
			if err != nil {
				return func() { c.failed(ctx, err) }
			}
			if !laid {
				c.layLater(turn, id, g, false)
			}
			whole = g.long >= own
		}
		rep, err := f.house.Report(ctx, id)
		if err != nil {
			return func() { c.failed(ctx, err) }
		}
		f.post.do(func() {
			if turn == c.turn {
				c.report(rep)
			}
		})
		select {
		case <-ctx.Done(): // another was chosen: nobody looks closer
			return nil
		case <-time.After(closerAfter):
		}
		if !whole {
			var g glance
			if g, err = readGlance(ctx, f.house.Proxy, id); err == nil {
				c.layLater(turn, id, g, true)
			}
		}
		return func() {
			c.failed(ctx, err)
			if turn == c.turn {
				c.expectBeside()
			}
		}
	})
}

// glance is the small picture of a photograph, read before or now.
func (c *cameraPlace) glance(ctx context.Context, near *glanceRead, id catalog.ID) (glance, error) {
	if near != nil {
		if g, err := near.read(c.f, id); err == nil {
			return g, ctx.Err()
		}
	}
	return readGlance(ctx, c.f.house.Glance, id)
}

// layLater puts a picture that a worker has read into the viewer, unless another
// photograph has been chosen meanwhile; keep holds the motion.
func (c *cameraPlace) layLater(turn int, id catalog.ID, g glance, keep bool) {
	c.f.post.do(func() {
		if turn == c.turn {
			c.lay(id, g, keep)
		}
	})
}

// lay puts a picture of a photograph into the viewer.
func (c *cameraPlace) lay(id catalog.ID, g glance, keep bool) {
	c.w, c.h, c.shown = g.w, g.h, id
	c.view.ShowPair(nil, g.sheet, keep)
}

// failed says why a photograph cannot be shown, if it still should be.
func (c *cameraPlace) failed(ctx context.Context, err error) {
	if err != nil && ctx.Err() == nil {
		c.f.fail(err)
	}
}

// painted tells the log how long the photograph took to come to the screen,
// once the picture of the window with it is out.
func (c *cameraPlace) painted() {
	if _, b := c.view.Sheets(); b == nil || c.began.IsZero() || c.shown != c.chosen {
		return
	}
	began := c.began
	c.began = time.Time{}
	c.f.post.do(func() { c.f.log("photograph shown in %d ms", time.Since(began).Milliseconds()) })
}
