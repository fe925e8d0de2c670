package places

import (
	"context"
	"time"

	"pullbook/app/window/words"
	"pullbook/catalog"
)

// pull writes the next impression.
func (p *pressPlace) pull() {
	f := p.f
	if p.plate == nil || f.book == nil || p.work[p.plate.ID] == nil || f.house.ReadOnly() {
		return
	}
	w := p.work[p.plate.ID]
	i, records := w.pull(f.book, p.plate, time.Now())
	w.ahead = append(w.ahead, i)
	p.count(f.book, p.plate, w)
	f.tell(words.T("Written: %s", pulledName(i)))
	f.change(func(ctx context.Context) error {
		err := f.house.Save(ctx, words.T("pull %s", sheetName(i)), records...)
		if err != nil {
			f.post.do(func() { p.gone(i.ID) })
		}
		return err
	})
}

// unpull takes the last pull of the day back.
func (p *pressPlace) unpull() {
	f := p.f
	if p.plate == nil || len(p.rows) == 0 {
		return
	}
	last := p.rows[0].imp
	f.change(func(ctx context.Context) error {
		err := f.house.Delete(ctx, words.T("take back pull %s", sheetName(last)), last)
		if err == nil {
			f.post.do(func() {
				p.gone(last.ID)
				f.tell(words.T("Taken back: %s", sheetName(last)))
			})
		}
		return err
	})
}

// gone drops a pull that is no longer ahead.
func (p *pressPlace) gone(id catalog.ID) {
	if p.plate == nil || p.work[p.plate.ID] == nil {
		return
	}
	w := p.work[p.plate.ID]
	kept := w.ahead[:0]
	for _, i := range w.ahead {
		if i.ID != id {
			kept = append(kept, i)
		}
	}
	w.ahead = kept
	p.count(p.f.book, p.plate, w)
}
