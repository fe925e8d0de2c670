package studio

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"
	"time"
)

func TestJobTellsProgress(t *testing.T) {
	jobs := NewJobs(1)
	defer jobs.Close()
	var notices atomic.Int64
	jobs.OnChange(func() { notices.Add(1) })
	began := time.Now()
	job := jobs.Start("count", func(ctx context.Context, p Progress) error {
		for i := range 2000 {
			p(float64(i)/2000, "counting")
			time.Sleep(100 * time.Microsecond)
		}
		return nil
	})
	if err := job.Wait(); err != nil {
		t.Fatal(err)
	}
	time.Sleep(2 * noticeEvery) // the last change is told too
	if s := job.Status(); !s.Finished || s.Done != 1 || s.Cancelled() {
		t.Errorf("status of a job that ended: %+v", s)
	}
	most := int64(time.Since(began)/noticeEvery) + 2
	if n := notices.Load(); n < 1 || n > most {
		t.Errorf("%d notices for 2000 reports, want 1 to %d", n, most)
	}
	if len(jobs.Running()) != 0 {
		t.Error("a job that ended is still listed as running")
	}
}

func TestJobsWaitTheirTurnAndStop(t *testing.T) {
	jobs := NewJobs(1)
	started := make(chan struct{})
	first := jobs.Start("first", func(ctx context.Context, p Progress) error {
		close(started)
		<-ctx.Done()
		return ctx.Err()
	})
	<-started
	ran := false
	second := jobs.Start("second", func(context.Context, Progress) error { ran = true; return nil })
	time.Sleep(20 * time.Millisecond)
	if s := second.Status(); !s.Waiting {
		t.Errorf("the second job does not wait: %+v", s)
	}
	jobs.Close()
	if !first.Status().Cancelled() || !second.Status().Cancelled() || ran {
		t.Errorf("after closing: %+v, %+v, ran %v", first.Status(), second.Status(), ran)
	}
	late := jobs.Start("late", func(context.Context, Progress) error { return nil })
	if err := late.Wait(); !errors.Is(err, context.Canceled) {
		t.Errorf("a job begun after closing: %v", err)
	}
}

func TestJobThatPanics(t *testing.T) {
	jobs := NewJobs(1)
	defer jobs.Close()
	err := jobs.Start("fault", func(context.Context, Progress) error { panic("a fault") }).Wait()
	if err == nil {
		t.Error("a panic was no error")
	}
}

func TestInputLetsWorkRest(t *testing.T) {
	jobs := NewJobs(1)
	defer jobs.Close()
	var waited time.Duration
	err := jobs.Start("work", func(ctx context.Context, p Progress) error {
		jobs.Input()
		began := time.Now()
		err := rest(ctx)
		waited = time.Since(began)
		return err
	}).Wait()
	if err != nil {
		t.Fatal(err)
	}
	if waited < restAfterInput*8/10 || waited > longestRest+time.Second {
		t.Errorf("work rested %v after input, want about %v", waited, restAfterInput)
	}
}

func TestEach(t *testing.T) {
	var now, most, calls atomic.Int64
	err := each(context.Background(), 2, 40, func(ctx context.Context, i int) error {
		most.Store(max(most.Load(), now.Add(1)))
		calls.Add(1)
		time.Sleep(time.Millisecond)
		now.Add(-1)
		return nil
	})
	if err != nil || calls.Load() != 40 || most.Load() > 2 {
		t.Errorf("err %v, %d calls, %d at once", err, calls.Load(), most.Load())
	}
	calls.Store(0)
	fault := errors.New("fault")
	err = each(context.Background(), 2, 1000, func(ctx context.Context, i int) error {
		calls.Add(1)
		if i == 3 {
			return fault
		}
		return nil
	})
	if !errors.Is(err, fault) || calls.Load() > 500 {
		t.Errorf("err %v after %d calls", err, calls.Load())
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if err := each(ctx, 2, 5, func(context.Context, int) error { return nil }); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	if err := each(context.Background(), 2, 0, nil); err != nil {
		t.Errorf("nothing to do: %v", err)
	}
}

func TestMakingOneAtATime(t *testing.T) {
	var m making
	release, err := m.enter(context.Background(), "thumb")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 20*time.Millisecond)
	defer cancel()
	if _, err := m.enter(ctx, "thumb"); err == nil {
		t.Error("two made the same thing at once")
	}
	if other, err := m.enter(context.Background(), "proxy"); err != nil {
		t.Error("another thing had to wait")
	} else {
		other()
	}
	release()
	again, err := m.enter(context.Background(), "thumb")
	if err != nil {
		t.Fatal(err)
	}
	again()
}
