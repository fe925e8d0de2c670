// Package hands shares work among processors. Whoever runs the measuring
// beside something that must not be kept waiting, as a window must not, lends
// hands of lowered priority; otherwise plain goroutines take part.
package hands

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// lent are the hands lent, nil for none.
var lent atomic.Pointer[func(f func()) bool]

// Lend has free do from now on what would be done by goroutines: it begins f
// and reports true, or reports false at once where no hand is free, and its
// caller does the work alone. nil takes the hands back.
func Lend(free func(f func()) bool) {
	if free == nil {
		lent.Store(nil)
		return
	}
	lent.Store(&free)
}

// Most is how many take part in one piece of work at most.
func Most() int { return min(runtime.GOMAXPROCS(0), runtime.NumCPU()) }

// Share runs work on its caller and on others, most together at most, and
// returns when all have come to their end. work takes parts of the whole until
// none is left, so that it does not matter how many do it. A panic on any hand
// is the caller's.
func Share(most int, work func()) {
	free := lent.Load()
	var wg sync.WaitGroup
	var fault atomic.Pointer[any]
	help := func() {
		defer wg.Done()
		defer func() {
			if v := recover(); v != nil {
				fault.Store(&v)
			}
		}()
		work()
	}
	for range min(most, Most()) - 1 {
		wg.Add(1)
		if free == nil {
			go help()
		} else if !(*free)(help) {
			wg.Done()
		}
	}
	func() {
		defer wg.Wait() // before a panic of the caller's own goes on
		work()
	}()
	if v := fault.Load(); v != nil {
		panic(*v)
	}
}
