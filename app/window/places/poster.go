package places

import "sync"

// poster hands functions to the interface goroutine with at most one post
// pending: the toolkit runs about one posted function a frame once frames are
// slow, so everything waiting is run by one.
type poster struct {
	post func(func())

	mu      sync.Mutex
	waiting []func()
	pending bool
	closed  bool
}

// close drops what waits and what is posted from now on: the window is gone.
func (p *poster) close() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.closed, p.waiting = true, nil
}

// do queues f; it may be called from any goroutine.
func (p *poster) do(f func()) {
	p.mu.Lock()
	if p.closed {
		p.mu.Unlock()
		return
	}
	p.waiting = append(p.waiting, f)
	first := !p.pending
	p.pending = true
	p.mu.Unlock()
	if first {
		p.post(p.drain)
	}
}

func (p *poster) drain() {
	p.mu.Lock()
	run := p.waiting
	p.waiting, p.pending = nil, false
	p.mu.Unlock()
	for _, f := range run {
		f()
	}
}
