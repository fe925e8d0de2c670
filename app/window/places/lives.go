package places

import (
	"context"
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
	if v, ok := f.lives.get(id); ok {
		return v
	}
	return lifeView{share: -1, words: words.T("life not yet measured")}
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
	scored := map[catalog.ID]bool{}
	for id := range b.scoreOf {
		if i := b.impressions[id]; i != nil {
			scored[i.PlateID] = true
		}
	}
	f.work(func(ctx context.Context) func() {
		for n, id := range ids {
			if !scored[id] {
				f.lives.put(id, lifeView{share: -1, words: words.T("life not yet measured")})
				continue
			}
			fc, err := f.house.Forecast(ctx, id)
			if err != nil || ctx.Err() != nil {
				continue
			}
			share, say := lifeLeft(fc)
			f.lives.put(id, lifeView{share, say, fc})
			if n == 0 {
				f.post.do(func() { f.lifeCame(turn) })
			}
		}
		return func() { f.lifeCame(turn) }
	})
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
