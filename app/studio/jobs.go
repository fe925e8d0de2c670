package studio

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"
	"time"

	"pullbook/imaging"
)

// Progress is told how far a long work is, 0..1, and what it is doing. It may
// be nil.
type Progress = imaging.Progress

// tell calls p if anybody listens.
func tell(p Progress, done float64, format string, a ...any) {
	if p != nil {
		p(done, fmt.Sprintf(format, a...))
	}
}

// part is p for one stretch, from..to, of a longer work.
func part(p Progress, from, to float64) Progress {
	if p == nil {
		return nil
	}
	return func(done float64, what string) { p(from+(to-from)*done, what) }
}

const (
	// noticeEvery is how often listeners hear of progress at most. The window
	// repaints all of itself for one changed word.
	noticeEvery = 100 * time.Millisecond
	// restAfterInput is how long work waits once somebody has used the window.
	restAfterInput = 150 * time.Millisecond
	// longestRest bounds one wait, so that work goes on under a moving mouse.
	longestRest = 600 * time.Millisecond
)

// Jobs are the long works under way. The zero value is not usable; call
// [NewJobs].
type Jobs struct {
	slots chan struct{}
	input atomic.Int64 // when the window was last used, Unix nanoseconds
	wg    sync.WaitGroup

	mu       sync.Mutex
	list     []*Job
	closed   bool
	onChange func()
	told     time.Time
	pending  bool
}

// NewJobs returns a place for jobs of which at most atOnce run together; the
// others wait their turn.
func NewJobs(atOnce int) *Jobs {
	return &Jobs{slots: make(chan struct{}, max(1, atOnce))}
}

// Job is one long work.
type Job struct {
	jobs   *Jobs
	cancel context.CancelFunc
	done   chan struct{}

	mu     sync.Mutex
	status Status
}

// Status is where a job stands.
type Status struct {
	Name     string
	What     string  // what it is doing
	Done     float64 // 0..1
	Waiting  bool    // for its turn
	Finished bool
	Err      error // of a finished job; context.Canceled when it was stopped
	Began    time.Time
	// Left is the time left, judged by the pace so far; 0 while unknown.
	Left time.Duration
}

// Cancelled reports whether the job ended because it was stopped.
func (s Status) Cancelled() bool { return s.Finished && errors.Is(s.Err, context.Canceled) }

// Start begins a job, or has it wait its turn. run must return soon after its
// context ends. Nothing starts once the jobs are closed.
func (j *Jobs) Start(name string, run func(context.Context, Progress) error) *Job {
	ctx, cancel := context.WithCancel(context.Background())
	job := &Job{jobs: j, cancel: cancel, done: make(chan struct{}), status: Status{Name: name, Waiting: true}}
	j.mu.Lock()
	if j.closed {
		cancel()
	} else {
		j.list = append(j.list, job)
	}
	j.wg.Add(1)
	j.mu.Unlock()
	j.notice()
	go func() {
		defer j.wg.Done()
		defer cancel()
		job.finish(job.inTurn(ctx, run))
	}()
	return job
}

// inTurn waits for a slot and runs.
func (b *Job) inTurn(ctx context.Context, run func(context.Context, Progress) error) error {
	select {
	case <-ctx.Done():
		return ctx.Err()
	case b.jobs.slots <- struct{}{}:
	}
	defer func() { <-b.jobs.slots }()
	if err := ctx.Err(); err != nil {
		return err
	}
	b.mu.Lock()
	b.status.Waiting, b.status.Began = false, time.Now()
	b.mu.Unlock()
	b.jobs.notice()
	return quietly(func() error {
		return run(context.WithValue(ctx, restKey{}, b.jobs), b.report)
	})
}

// report is the Progress of a job.
func (b *Job) report(done float64, what string) {
	b.mu.Lock()
	b.status.Done = min(max(done, b.status.Done), 1)
	if what != "" {
		b.status.What = what
	}
	b.mu.Unlock()
	b.jobs.notice()
}

func (b *Job) finish(err error) {
	b.mu.Lock()
	b.status.Waiting, b.status.Finished, b.status.Err = false, true, err
	if err == nil {
		b.status.Done = 1
	}
	b.mu.Unlock()
	close(b.done)
	b.jobs.notice()
}

// Cancel stops the job; it ends soon after.
func (b *Job) Cancel() { b.cancel() }

// Done is closed once the job has ended.
func (b *Job) Done() <-chan struct{} { return b.done }

// Wait waits for the end of the job and returns its error.
func (b *Job) Wait() error {
	<-b.done
	return b.Status().Err
}

// Status says where the job stands.
func (b *Job) Status() Status {
	b.mu.Lock()
	defer b.mu.Unlock()
	s := b.status
	if !s.Finished && s.Done > 0.02 {
		spent := time.Since(s.Began)
		s.Left = time.Duration(float64(spent) * (1 - s.Done) / s.Done).Round(time.Second)
	}
	return s
}

// Running lists the jobs that have not ended, oldest first.
func (j *Jobs) Running() []*Job {
	j.mu.Lock()
	defer j.mu.Unlock()
	kept := make([]*Job, 0, len(j.list))
	for _, b := range j.list {
		select {
		case <-b.done:
		default:
			kept = append(kept, b)
		}
	}
	j.list = kept
	return append([]*Job(nil), kept...)
}

// OnChange calls f soon after a job has begun, moved on or ended; many changes
// in a short time make one call, at most ten a second, and the last change is
// always told. f runs on a goroutine of its own.
func (j *Jobs) OnChange(f func()) {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.onChange = f
}

func (j *Jobs) notice() {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.pending || j.onChange == nil {
		return
	}
	j.pending = true
	time.AfterFunc(max(0, noticeEvery-time.Since(j.told)), func() {
		j.mu.Lock()
		j.pending, j.told = false, time.Now()
		f := j.onChange
		j.mu.Unlock()
		f()
	})
}

// Input tells that the window is being used: heavy work rests a moment.
func (j *Jobs) Input() { j.input.Store(time.Now().UnixNano()) }

// Close cancels every job and waits until all have ended.
func (j *Jobs) Close() {
	j.mu.Lock()
	j.closed = true
	list := append([]*Job(nil), j.list...)
	j.mu.Unlock()
	for _, b := range list {
		b.Cancel()
	}
	j.wg.Wait()
}

type restKey struct{}

// rest lets heavy work wait while the window is in use; it returns the
// context's error.
func rest(ctx context.Context) error {
	j, ok := ctx.Value(restKey{}).(*Jobs)
	if !ok {
		return ctx.Err()
	}
	for began := time.Now(); time.Since(began) < longestRest; {
		since := time.Since(time.Unix(0, j.input.Load()))
		if since >= restAfterInput {
			break
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(restAfterInput - since):
		}
	}
	return ctx.Err()
}

// quiet is a context in which work is done as beside the window, without being
// one of its jobs.
func (s *Studio) quiet(ctx context.Context) context.Context {
	return context.WithValue(ctx, restKey{}, s.jobs)
}

// asBefits is how work of a context is run: quietly when it is a job beside the
// window, at full priority in a batch command, where nobody waits for a
// picture to move.
func asBefits(ctx context.Context) func(func() error) error {
	if _, job := ctx.Value(restKey{}).(*Jobs); job {
		return quietly
	}
	return guarded
}

// each calls f for 0..n-1 on at most workers goroutines, of lowered priority
// within a job. It returns the first error, after which no further call is begun.
func each(ctx context.Context, workers, n int, f func(ctx context.Context, i int) error) error {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(max(1, workers), n) {
		wg.Go(func() {
			err := asBefits(ctx)(func() error {
				for {
					i := int(next.Add(1)) - 1
					if i >= n {
						return nil
					}
					if err := rest(ctx); err != nil {
						return err
					}
					if err := f(ctx, i); err != nil {
						return err
					}
				}
			})
			if err != nil {
				cancel(err)
			}
		})
	}
	wg.Wait()
	return context.Cause(ctx)
}

// guarded runs f; a fault of ours in it ends the work, not the program.
func guarded(f func() error) (err error) {
	defer func() {
		if v := recover(); v != nil {
			err = fmt.Errorf("something went wrong inside the program: %v. Nothing recorded before was lost.\n%s", v, debug.Stack())
		}
	}()
	return f()
}

// bothCores is how many photographs are worked on together. Two overlap the
// decoding of one with the measuring of the other; more would cost memory.
func bothCores() int { return min(2, runtime.NumCPU()) }
