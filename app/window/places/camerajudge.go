package places

import (
	"context"
	"errors"
	"time"

	"pullbook/app/window/words"
	"pullbook/catalog"
)

// warn says of the first photograph that is poor for measuring what to do.
func (c *cameraPlace) warn(taken []Taken) {
	for _, t := range taken {
		if len(t.Poor) > 0 {
			c.f.fail(errors.New(t.Name + ": " + words.T(t.Poor[0])))
			return
		}
	}
}

// readAgain has a grey wedge whose corners were set by hand read by them.
func (c *cameraPlace) readAgain(id catalog.ID) bool {
	for _, x := range c.f.book.Sessions {
		if x.WedgePhotoID == id {
			c.f.setUp(SetUp{Session: x})
			return true
		}
	}
	return false
}

// check judges a photograph that was never measured, and shows what was found:
// one at a time, for it holds the whole photograph in memory; of those leafed
// through meanwhile only the one in view then.
func (c *cameraPlace) check(id catalog.ID) {
	f := c.f
	if f.book == nil || c.checking || id == c.checked {
		return
	}
	c.checked = id // once, even where nothing can be told
	if p := f.book.photos[id]; p == nil || isAid(p) {
		return
	}
	c.checking = true
	plate, looked := f.plate, c.looked
	f.work(func(ctx context.Context) func() {
		select {
		case <-looked.Done(): // it was only leafed past
			return func() {
				c.checking, c.checked = false, ""
				c.check(c.chosen)
			}
		case <-time.After(closerAfter):
		}
		reason, err := f.house.Check(ctx, id, plate)
		var rep *Report
		if err == nil {
			rep, err = f.house.Report(ctx, id)
		}
		return func() {
			c.checking = false
			switch {
			case c.chosen != id:
				c.check(c.chosen)
			case err != nil:
				f.fail(err)
			default:
				c.panel.report(rep, reason)
			}
		}
	})
}
