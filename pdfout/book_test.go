package pdfout

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"pullbook/catalog"
)

// TestMain removes the sample's pictures when all tests are done.
func TestMain(m *testing.M) {
	code := m.Run()
	if sample.dir != "" {
		if err := os.RemoveAll(sample.dir); err != nil {
			fmt.Fprintln(os.Stderr, err)
		}
	}
	os.Exit(code)
}

// sample is the sample catalogue, made once for all tests.
var sample struct {
	once sync.Once
	dir  string
	snap *catalog.Snapshot
	pic  func(catalog.ID) (string, error)
	pdf  string
	rep  Report
	err  error
}

// theSample returns the snapshot and its pictures. With PULLBOOK_KEEP set to a
// folder the pictures are finer, and the PDF files of the tests are left there
// to be looked at.
func theSample(t testing.TB) (*catalog.Snapshot, func(catalog.ID) (string, error)) {
	t.Helper()
	sample.once.Do(func() {
		if sample.dir, sample.err = os.MkdirTemp("", "pullbook-pdfout"); sample.err != nil {
			return
		}
		fine := 4.0
		if os.Getenv("PULLBOOK_KEEP") != "" {
			fine = 9
		}
		sample.snap, sample.pic = sampleBook(t, sample.dir, fine)
		sample.pdf = filepath.Join(sample.dir, "book.pdf")
		sample.rep, sample.err = WriteBook(context.Background(), sample.pdf, sample.snap, BookOptions{Picture: sample.pic})
		keep(t, sample.pdf, "book.pdf")
	})
	if sample.err != nil {
		t.Fatal(sample.err)
	}
	return sample.snap, sample.pic
}

// keep leaves a copy of a PDF where PULLBOOK_KEEP asks for it.
func keep(t testing.TB, path, name string) {
	t.Helper()
	dir := os.Getenv("PULLBOOK_KEEP")
	if dir == "" {
		return
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Error(err)
		return
	}
	if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
		t.Error(err)
	}
}

func TestBookIsWritten(t *testing.T) {
	theSample(t)
	if sample.rep.Pages < 40 || sample.rep.Pictures < 20 {
		t.Errorf("the sample book has %d pages and %d pictures", sample.rep.Pages, sample.rep.Pictures)
	}
	st, err := os.Stat(sample.pdf)
	if err != nil || st.Size() != sample.rep.Bytes {
		t.Errorf("the report says %d bytes, the file has %v (%v)", sample.rep.Bytes, st, err)
	}
}
