package places

import (
	"context"
	"errors"
	"slices"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2/test"

	"pullbook/catalog/exchange"
)

// Everything a catalogue can be written as is offered at the desk.
func TestEveryFormatIsOffered(t *testing.T) {
	var offered []string
	for _, x := range exportForms {
		offered = append(offered, x.code)
	}
	want := exchange.Formats()
	slices.Sort(offered)
	slices.Sort(want)
	if !slices.Equal(offered, want) {
		t.Errorf("offered are %q, written can be %q", offered, want)
	}
}

// slowExport is a house whose exports go on until they are stopped.
type slowExport struct {
	*fakeHouse
	mu  sync.Mutex
	was []string
}

func (h *slowExport) Export(ctx context.Context, as, dir, base string, p Progress) error {
	h.mu.Lock()
	h.was = append(h.was, as+" "+base)
	h.mu.Unlock()
	p(0.25, "writing "+as)
	<-ctx.Done()
	return ctx.Err()
}

// An export from the desk is a job: it says how far it is, and it stops when
// it is told to, without a word of trouble.
func TestExportIsAJob(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	slow := &slowExport{fakeHouse: s.h}
	s.f.house = slow
	s.f.run("export")
	s.q.run()
	test.Tap(s.buttonNamed("Export"))
	job := func() JobStatus {
		var st JobStatus
		for end := time.Now().Add(20 * time.Second); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
			s.q.run()
			if jobs := s.h.Jobs(); len(jobs) > 0 {
				if st = jobs[len(jobs)-1].Status(); st.Done > 0 || st.Finished {
					return st
				}
			}
		}
		return st
	}
	if st := job(); st.Done != 0.25 || st.Name != "Exporting" || st.Finished {
		t.Fatalf("the job stands at %+v", st)
	}
	slow.mu.Lock()
	was := slices.Clone(slow.was)
	slow.mu.Unlock()
	if !slices.Equal(was, []string{exportForms[0].code + " "}) {
		t.Errorf("exported was %q", was)
	}
	jobs := s.h.Jobs()
	jobs[len(jobs)-1].Cancel()
	s.settle()
	if st := jobs[len(jobs)-1].Status(); !st.Finished || !st.Cancelled || !errors.Is(st.Err, context.Canceled) {
		t.Errorf("stopped, the job stands at %+v", st)
	}
}
