package studio

import (
	"runtime"
	"sync"
	"syscall"

	"pullbook/imaging/hands"
)

// workNice is how much nicer than the window a worker's thread is.
const workNice = 15

// quietly runs f on a thread of lowered priority. The thread stays locked and
// ends with the goroutine, since an ordinary user cannot raise it again.
func quietly(f func() error) error {
	result := make(chan error, 1)
	go func() {
		runtime.LockOSThread()
		// Refusal only means that the work is not so quiet.
		_ = syscall.Setpriority(syscall.PRIO_PROCESS, syscall.Gettid(), workNice)
		result <- guarded(f)
	}()
	return <-result
}

// BesideWindow has the measuring take part in the processors as a window needs
// it: its work goes to threads of lowered priority only, and there are places
// enough to run that the window need not wait for one of them to give way.
// It is called once, before any work.
func BesideWindow() { beside() }

var beside = sync.OnceFunc(func() {
	runtime.GOMAXPROCS(runtime.NumCPU() + 2)
	work := make(chan func())
	for range runtime.NumCPU() {
		go func() {
			_ = quietly(func() error {
				for f := range work {
					f()
				}
				return nil
			})
		}()
	}
	hands.Lend(func(f func()) bool {
		select {
		case work <- f:
			return true
		default:
			return false
		}
	})
})
