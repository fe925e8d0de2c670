package studio

import (
	"context"
	"sync"
)

// making lets one goroutine at a time make the thing of a name; others who
// want the same thing wait for it.
type making struct {
	mu   sync.Mutex
	busy map[string]chan struct{}
}

// enter waits until nobody makes name and takes it; release gives it back.
func (m *making) enter(ctx context.Context, name string) (release func(), err error) {
	for {
		m.mu.Lock()
		wait, taken := m.busy[name]
		if !taken {
			done := make(chan struct{})
			if m.busy == nil {
				m.busy = map[string]chan struct{}{}
			}
			m.busy[name] = done
			m.mu.Unlock()
			return func() {
				m.mu.Lock()
				delete(m.busy, name)
				m.mu.Unlock()
				close(done)
			}, nil
		}
		m.mu.Unlock()
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-wait:
		}
	}
}
