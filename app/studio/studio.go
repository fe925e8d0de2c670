package studio

import (
	"context"
	"path/filepath"
	"sync"
	"time"

	"pullbook/catalog"
	"pullbook/catalog/archive"
	"pullbook/catalog/store"
	"pullbook/imaging"
)

// Studio is one open catalogue and what is under way in it. Its methods may
// be called from any goroutine.
type Studio struct {
	dir     string
	store   *store.Store
	archive *archive.Archive
	jobs    *Jobs
	making  making
	refs    references
	blanks  blanks
	plates  keep[*laidPlate]
	seen    keep[[]*imaging.Glimpse]
	now     func() time.Time

	close    sync.Once
	closeErr error
}

// Options say how to open a catalogue. The zero value is for a user at the
// window.
type Options struct {
	ReadOnly bool
	Who      string // entered in the history
	Now      func() time.Time
}

func (o Options) store() store.Options {
	return store.Options{ReadOnly: o.ReadOnly, Who: o.Who, Now: o.Now}
}

// Create makes a new, empty catalogue in the folder dir, which must not exist
// or be empty, and opens it.
func Create(dir string, o Options) (*Studio, error) {
	st, err := store.CreateWith(dir, o.store())
	if err != nil {
		return nil, err
	}
	return newStudio(st, o), nil
}

// Open opens the catalogue in the folder dir. When somebody else has it open it
// is opened for reading only, and Notice says who has it.
func Open(dir string, o Options) (*Studio, error) {
	st, err := store.Open(dir, o.store())
	if err != nil {
		return nil, err
	}
	return newStudio(st, o), nil
}

func newStudio(st *store.Store, o Options) *Studio {
	s := &Studio{dir: st.Dir(), store: st, archive: st.Archive(), jobs: NewJobs(2), now: o.Now}
	s.plates.most, s.seen.most = laidKept, glimpsesKept
	if s.now == nil {
		s.now = time.Now
	}
	return s
}

// Close stops all jobs, waits for them, and ends the sitting.
func (s *Studio) Close() error {
	s.close.Do(func() {
		s.jobs.Close()
		s.closeErr = s.store.Close()
	})
	return s.closeErr
}

// Dir is the catalogue's folder.
func (s *Studio) Dir() string { return s.dir }

// Name is the catalogue's name: its folder's without the ending.
func (s *Studio) Name() string {
	base := filepath.Base(s.dir)
	return base[:len(base)-len(suffixOf(base))]
}

func suffixOf(base string) string {
	if filepath.Ext(base) == store.Suffix {
		return store.Suffix
	}
	return ""
}

// Store is the catalogue's records, for reading and editing.
func (s *Studio) Store() *store.Store { return s.store }

// Jobs are the long works under way in this catalogue.
func (s *Studio) Jobs() *Jobs { return s.jobs }

// Notice says in a sentence what the user should know of how the catalogue was
// opened, "" for nothing.
func (s *Studio) Notice() string { return s.store.Notice() }

// ReadOnly reports whether nothing can be changed.
func (s *Studio) ReadOnly() bool { return s.store.ReadOnly() }

// Original is the path of a photograph as it was taken in; it must only be
// read.
func (s *Studio) Original(ctx context.Context, photo catalog.ID) (string, error) {
	p, err := s.store.Photograph(ctx, photo)
	if err != nil {
		return "", err
	}
	return s.archive.Path(p.SHA256, p.Ext), nil
}

// sizeOfPhotograph is the plate size to measure a photograph by.
func (s *Studio) sizeOfPhotograph(ctx context.Context, p *catalog.Photograph) (catalog.Size, error) {
	if p.ImpressionID == "" {
		return catalog.Size{}, sentence("The photograph %s is not filed yet; say first which impression it shows.", p.Name)
	}
	i, err := s.store.Impression(ctx, p.ImpressionID)
	if err != nil {
		return catalog.Size{}, err
	}
	plate, err := s.store.Plate(ctx, i.PlateID)
	if err != nil {
		return catalog.Size{}, err
	}
	return sizeOf(plate)
}

// sizeOf is the plate's size for measuring, or a sentence.
func sizeOf(p *catalog.Plate) (catalog.Size, error) {
	size := p.MeasureSize()
	if size.HeightMM <= 0 || size.WidthMM <= 0 {
		return size, sentence("The size of the plate %q is not recorded; enter the height and width of its plate mark in millimetres first.", p.Title())
	}
	return size, nil
}
