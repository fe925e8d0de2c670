package places

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"sync"
	"testing"

	"pullbook/catalog"
)

// fakeHouse keeps a catalogue in memory and draws its photographs. Workers of
// the frame write into it under mu; a test reads it once they are at rest
// (settle), or by a method that takes mu.
type fakeHouse struct {
	t        testing.TB
	dir      string
	mu       sync.Mutex
	snap     catalog.Snapshot
	undo     []func()
	labels   []string
	change   func()
	jobsMu   sync.Mutex
	jobs     []*fakeJob
	onJobs   func()
	taken    []string
	measured []catalog.ID
	confirm  []Taken
	laidOut  string
	wish     BookWish
	printed  []Printing
	history  []Altered
	packed   string
	mapped   int
	kept     sessionsKept
	readOnly bool
	notice   string
	trouble  string
}

func (h *fakeHouse) Dir() string { return filepath.Join(h.dir, "estuary.pullbook") }

func (h *fakeHouse) Notice() string { return h.notice }

func (h *fakeHouse) BackupTrouble() string { return h.trouble }

func (h *fakeHouse) ReadOnly() bool { return h.readOnly }

func (h *fakeHouse) Snapshot(context.Context) (*catalog.Snapshot, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	c := h.snap
	c.Plates = append([]catalog.Plate(nil), c.Plates...)
	c.States = append([]catalog.State(nil), c.States...)
	c.Impressions = append([]catalog.Impression(nil), c.Impressions...)
	c.Photographs = append([]catalog.Photograph(nil), c.Photographs...)
	c.Scores = append([]catalog.Score(nil), c.Scores...)
	c.Editions = append([]catalog.Edition(nil), c.Editions...)
	return &c, nil
}

func put[T any](l *[]T, v *T, id func(*T) *catalog.ID) {
	if *id(v) == "" {
		*id(v) = catalog.NewID()
	}
	for i := range *l {
		if *id(&(*l)[i]) == *id(v) {
			(*l)[i] = *v
			return
		}
	}
	*l = append(*l, *v)
}

func (h *fakeHouse) Save(_ context.Context, label string, records ...any) error {
	h.mu.Lock()
	old := h.snap
	s := &h.snap
	s.Plates, s.States, s.Impressions = clone(s.Plates), clone(s.States), clone(s.Impressions)
	s.People, s.Groups, s.Exhibitions = clone(s.People), clone(s.Groups), clone(s.Exhibitions)
	s.Editions, s.Papers, s.Inks, s.Holders, s.Literature = clone(s.Editions), clone(s.Papers), clone(s.Inks), clone(s.Holders), clone(s.Literature)
	s.Days = clone(s.Days)
	var err error
	for _, r := range records {
		switch r := r.(type) {
		case *catalog.Plate:
			put(&s.Plates, r, func(p *catalog.Plate) *catalog.ID { return &p.ID })
		case *catalog.State:
			put(&s.States, r, func(p *catalog.State) *catalog.ID { return &p.ID })
		case *catalog.Impression:
			put(&s.Impressions, r, func(p *catalog.Impression) *catalog.ID { return &p.ID })
		case *catalog.Edition:
			put(&s.Editions, r, func(p *catalog.Edition) *catalog.ID { return &p.ID })
		case *catalog.PrintingDay:
			put(&s.Days, r, func(p *catalog.PrintingDay) *catalog.ID { return &p.ID })
		case *catalog.Paper:
			put(&s.Papers, r, func(p *catalog.Paper) *catalog.ID { return &p.ID })
		case *catalog.Ink:
			put(&s.Inks, r, func(p *catalog.Ink) *catalog.ID { return &p.ID })
		case *catalog.Holder:
			put(&s.Holders, r, func(p *catalog.Holder) *catalog.ID { return &p.ID })
		case *catalog.Person:
			put(&s.People, r, func(p *catalog.Person) *catalog.ID { return &p.ID })
		case *catalog.Group:
			put(&s.Groups, r, func(p *catalog.Group) *catalog.ID { return &p.ID })
		case *catalog.Exhibition:
			put(&s.Exhibitions, r, func(p *catalog.Exhibition) *catalog.ID { return &p.ID })
		case *catalog.Imprint:
			s.Imprint = *r
		case *catalog.Literature:
			put(&s.Literature, r, func(p *catalog.Literature) *catalog.ID { return &p.ID })
		default:
			err = fmt.Errorf("the fake cannot keep a %T", r)
		}
	}
	h.undo = append(h.undo, func() { h.snap = old })
	h.labels = append(h.labels, label)
	h.mu.Unlock()
	h.changed()
	return err
}

func clone[T any](l []T) []T { return append([]T(nil), l...) }

func (h *fakeHouse) Delete(_ context.Context, label string, records ...any) error {
	h.mu.Lock()
	old := h.snap
	for _, r := range records {
		if p, is := r.(*catalog.Paper); is {
			h.snap.Papers = slices.DeleteFunc(clone(h.snap.Papers), func(x catalog.Paper) bool { return x.ID == p.ID })
			continue
		}
		i, ok := r.(*catalog.Impression)
		if !ok {
			h.mu.Unlock()
			return fmt.Errorf("the fake cannot delete a %T", r)
		}
		var kept []catalog.Impression
		for _, x := range h.snap.Impressions {
			if x.ID != i.ID {
				kept = append(kept, x)
			}
		}
		h.snap.Impressions = kept
	}
	h.undo = append(h.undo, func() { h.snap = old })
	h.labels = append(h.labels, label)
	h.mu.Unlock()
	h.changed()
	return nil
}

func (h *fakeHouse) Undo(context.Context) (string, error) {
	h.mu.Lock()
	n := len(h.undo)
	if n == 0 {
		h.mu.Unlock()
		return "", errors.New("There is nothing to undo.")
	}
	h.undo[n-1]()
	l := h.labels[n-1]
	h.undo, h.labels = h.undo[:n-1], h.labels[:n-1]
	h.mu.Unlock()
	h.changed()
	return l, nil
}

func (h *fakeHouse) Redo(context.Context) (string, error) {
	return "", errors.New("There is nothing to do again.")
}

func (h *fakeHouse) NextUndo() string {
	h.mu.Lock()
	defer h.mu.Unlock()
	if n := len(h.labels); n > 0 {
		return h.labels[n-1]
	}
	return ""
}

// steps is how many changes can be undone.
func (h *fakeHouse) steps() int {
	h.mu.Lock()
	defer h.mu.Unlock()
	return len(h.labels)
}

func (h *fakeHouse) NextRedo() string { return "" }

func (h *fakeHouse) OnChange(f func()) { h.change = f }

func (h *fakeHouse) changed() {
	if h.change != nil {
		h.change()
	}
}

func (h *fakeHouse) History(_ context.Context, most int, ids ...catalog.ID) ([]Altered, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	var l []Altered
	for _, a := range h.history {
		if len(ids) == 0 || slices.Contains(ids, a.Record) {
			l = append(l, a)
		}
	}
	return l[:min(len(l), most)], nil
}

func (h *fakeHouse) Search(context.Context, string) ([]catalog.ID, error) { return nil, nil }
