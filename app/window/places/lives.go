package places

import (
	"context"
	"fmt"
	"hash/fnv"
	"strings"
	"sync"

	"pullbook/app/window/words"
	"pullbook/catalog"
	"pullbook/catalog/life"
)

// lifeView is a forecast as the list shows it.
type lifeView struct {
	share    float64
	words    string
	forecast *life.Forecast
	rests    string // what it rests on, to see when it must be made anew
	ended    bool   // the plate prints no more, so nothing is forecast
}

// lives keeps the forecasts, made one after another on a worker.
type lives struct {
	mu   sync.Mutex
	done map[catalog.ID]lifeView
}

func (l *lives) get(id catalog.ID) (lifeView, bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	v, ok := l.done[id]
	return v, ok
}

func (l *lives) copy() map[catalog.ID]lifeView {
	l.mu.Lock()
	defer l.mu.Unlock()
	m := make(map[catalog.ID]lifeView, len(l.done))
	for k, v := range l.done {
		m[k] = v
	}
	return m
}

func (l *lives) put(id catalog.ID, v lifeView) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.done == nil {
		l.done = map[catalog.ID]lifeView{}
	}
	l.done[id] = v
}

// lifeOf is the life of a plate as far as it is known now.
func (f *Frame) lifeOf(id catalog.ID) lifeView {
	v, ok := f.lives.get(id)
	if !ok {
		v = lifeView{share: -1, words: words.T("life not yet measured")}
	}
	if f.book != nil {
		if say := fateWords(f.book.plates[id]); say != "" { // the curve of its sheets stays
			v.share, v.words, v.ended = 0, say, true
		}
	}
	return v
}

// lifeRank sorts plates by the life they have left: those of which it cannot be
// told come after the others, and last those that print no more.
func lifeRank(v lifeView, ended bool) float64 {
	switch {
	case ended:
		return 3
	case v.forecast == nil || v.share < 0:
		return 2
	}
	return v.share
}

// fateWords is "cancelled 2004" for a plate that prints no more, else "".
func fateWords(p *catalog.Plate) string {
	if p == nil {
		return ""
	}
	switch p.Fate {
	case catalog.FateCancelled, catalog.FateDestroyed, catalog.FateLost:
		when := p.FateDate.Text
		if when == "" {
			when = p.FateDate.EDTF
		}
		return spaced(words.T(string(p.Fate)), when)
	}
	return ""
}

// foretell makes the forecasts of all plates that have scores, the plate in
// hand first, and shows each as it comes.
func (f *Frame) foretell(b *book) {
	f.foretelling++
	turn, hand := f.foretelling, f.plate
	var ids []catalog.ID
	if hand != "" {
		ids = append(ids, hand)
	}
	for _, p := range b.Plates {
		if p.ID != hand {
			ids = append(ids, p.ID)
		}
	}
	f.work(func(ctx context.Context) func() {
		for n, id := range ids {
			rests := restsOn(b, id)
			if old, have := f.lives.get(id); have && old.rests == rests {
				continue
			}
			if !strings.Contains(rests, "scores") {
				f.lives.put(id, lifeView{share: -1, words: words.T("life not yet measured"), rests: rests})
				continue
			}
			fc, err := f.house.Forecast(ctx, id)
			if err != nil || ctx.Err() != nil {
				continue
			}
			share, say := lifeLeft(fc)
			f.lives.put(id, lifeView{share: share, words: say, forecast: fc, rests: rests})
			if n == 0 {
				f.post.do(func() { f.lifeCame(turn) })
			}
		}
		return func() { f.lifeCame(turn) }
	})
}

// restsOn says what the forecast of a plate rests on: its pulls, its scores,
// the limits. Forecasts of a thousand plates are not made anew for a change in
// one.
func restsOn(b *book, plate catalog.ID) string {
	h := fnv.New64a()
	n := 0
	for _, i := range b.impressionsOf[plate] {
		fmt.Fprint(h, i.ID, i.Pull, i.StateID, ";")
		if sc := b.scoreOf[i.ID]; sc != nil {
			fmt.Fprint(h, sc.ID, sc.At.UnixNano())
			n++
		}
	}
	if p := b.plates[plate]; p != nil {
		fmt.Fprint(h, p.LossLimit, p.SteelFaced, p.SteelFacedAtPull)
	}
	for _, s := range b.statesOf[plate] {
		fmt.Fprint(h, s.ReferencePhotoID)
	}
	fmt.Fprint(h, b.Imprint.LossLimit)
	if n == 0 {
		return fmt.Sprintf("%x", h.Sum64())
	}
	return fmt.Sprintf("%x, %d scores", h.Sum64(), n)
}

func (f *Frame) lifeCame(turn int) {
	if turn != f.foretelling {
		return
	}
	f.list.list.Refresh()
	f.showHead()
	for _, p := range f.places {
		if l, ok := p.(interface{ lifeCame() }); ok {
			l.lifeCame()
		}
	}
}
