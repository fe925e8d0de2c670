package window

import (
	"fmt"
	"io"
	"runtime"
	"time"
)

// weigh writes to the log, every few seconds, how many goroutines live and how
// much memory the heap holds, for those who watch a long day from outside. It
// ends when stop is called.
func weigh(log io.Writer, every time.Duration) (stop func()) {
	done := make(chan struct{})
	go func() {
		tick := time.NewTicker(every)
		defer tick.Stop()
		for {
			select {
			case <-done:
				return
			case <-tick.C:
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				fmt.Fprintf(log, "weight: %d goroutines, %d MB heap\n", runtime.NumGoroutine(), m.HeapAlloc>>20)
			}
		}
	}()
	return func() { close(done) }
}
