package places

import (
	"context"

	"pullbook/app/window/words"
	"pullbook/catalog"
	"pullbook/catalog/life"
)

// placeByWear puts sheets whose pull was not recorded among the others by
// their loss, and says that this is no order of printing.
func (c *contactView) placeByWear() {
	c.turn++
	var placed []life.Placed
	open := 0
	for _, i := range c.sheets {
		p := life.Placed{ID: i.ID, Pull: i.Pull}
		if sc := c.t.b.scoreOf[i.ID]; sc != nil {
			p.Wear = sc.InkLoss
		}
		if i.Pull == 0 {
			open++
		}
		placed = append(placed, p)
	}
	if open == 0 {
		return
	}
	turn, said := c.turn, c.said
	c.t.f.work(func(context.Context) func() {
		o := life.InOrder(placed)
		return func() {
			if turn == c.turn {
				c.arrange(o, said, open)
			}
		}
	})
}

// arrange lays the sheets in the order found; those of which nothing can be
// said come last.
func (c *contactView) arrange(o life.Order, said string, open int) {
	byID := map[catalog.ID]*catalog.Impression{}
	for _, i := range c.sheets {
		byID[i.ID] = i
	}
	c.sheets = nil
	for _, id := range append(o.IDs, o.Unplaced...) {
		c.sheets = append(c.sheets, byID[id])
	}
	c.count.SetText(said + ". " + words.N("%d without a recorded pull stand by their wear, which is not the order of printing.", open))
	c.grid.Refresh()
}
