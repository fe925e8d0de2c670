package studio

import (
	"runtime"
	"syscall"
)

// workNice is how much nicer than the window a worker's thread is.
const workNice = 10

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
