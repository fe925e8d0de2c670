package places

import (
	"context"
	"errors"
	"sync"
)

type fakeJob struct {
	mu     sync.Mutex
	st     JobStatus
	cancel context.CancelFunc
}

func (j *fakeJob) Cancel() { j.cancel() }

func (j *fakeJob) Status() JobStatus {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.st
}

func (h *fakeHouse) Start(name string, run func(context.Context, Progress) error) Job {
	ctx, cancel := context.WithCancel(context.Background())
	j := &fakeJob{cancel: cancel, st: JobStatus{Name: name}}
	h.jobsMu.Lock()
	h.jobs = append(h.jobs, j)
	h.jobsMu.Unlock()
	go func() {
		err := run(ctx, func(d float64, what string) {
			j.mu.Lock()
			j.st.Done, j.st.What = d, what
			j.mu.Unlock()
		})
		j.mu.Lock()
		j.st.Finished, j.st.Err, j.st.Cancelled = true, err, errors.Is(err, context.Canceled)
		j.mu.Unlock()
		if h.onJobs != nil {
			h.onJobs()
		}
	}()
	return j
}

func (h *fakeHouse) Jobs() []Job {
	h.jobsMu.Lock()
	defer h.jobsMu.Unlock()
	var out []Job
	for _, j := range h.jobs {
		out = append(out, j)
	}
	return out
}

func (h *fakeHouse) OnJobs(f func()) { h.onJobs = f }

func (h *fakeHouse) Input() {}
