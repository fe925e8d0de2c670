// Package pdfout prints what the catalogue knows: the book, the record of one
// impression, labels, the sheet of a printing day. It typesets by itself (see
// package typeset), draws pages as display lists that the window can show, and
// writes them as PDF through gofpdf and a finisher.
//
// It knows the catalogue's plain values and asks for pictures through
// callbacks; it measures nothing and opens no database.
package pdfout

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"image"
	"io"
	"os"
	"path/filepath"
	"time"

	"pullbook/catalog"
	"pullbook/pdfout/book"
	"pullbook/pdfout/display"
	"pullbook/pdfout/finish"
	"pullbook/pdfout/makeup"
	"pullbook/pdfout/pdf"
	"pullbook/pdfout/preview"
)

// Format is a page size with its margins; Formats lists those a book can have.
type Format = makeup.Format

// Formats of pages.
var (
	Large  = makeup.Large  // 230 x 300 mm
	Small  = makeup.Small  // 170 x 240 mm
	A4     = makeup.A4     // 210 x 297 mm
	Letter = makeup.Letter // 8.5 x 11 in
)

// Formats lists the page sizes.
func Formats() []Format { return makeup.Formats() }

// Part is one part of the book; Kind names it.
type (
	Part = book.Part
	Kind = book.Kind
)

// DefaultParts returns all parts of the book in their usual order.
func DefaultParts() []Part { return book.DefaultParts() }

// PartsOf are the parts of the book as a catalogue says, Heads their usual
// headings in a language.
func PartsOf(im *catalog.Imprint) []Part    { return book.PartsOf(im) }
func Heads(language string) map[Kind]string { return book.Heads(language) }

// ErrNoPages is returned for a book of which nothing is printed.
var ErrNoPages = book.ErrNoPages

// OwnText is the kind of a part of the user's own.
const OwnText = book.OwnText

// Preset says what the file is for.
type Preset int

// Presets.
const (
	// ScreenAndArchive has colours in sRGB, links and an outline, made to the rules
	// of PDF/A-2b.
	ScreenAndArchive Preset = iota
	// ForThePrinter has bleed, crop marks, text on the black plate alone, and the
	// printer's profile as output intent, made to the rules of PDF/X-4 where a
	// profile is given.
	ForThePrinter
)

// PrintOptions say how a file is written.
type PrintOptions struct {
	Preset Preset
	// ProfilePath is the printer's ICC file, ProfileName what he calls it; only for
	// ForThePrinter.
	ProfilePath string
	ProfileName string
	// Created is the date written into the file. Zero takes the newest date in the
	// catalogue, so that the same catalogue gives the same bytes.
	Created time.Time
}

// BookOptions say how the book is made. Picture gives JPEG files of
// photographs; Plate and Detail, where set, rectified ones.
type BookOptions struct {
	Format      Format // zero: Large
	Parts       []Part // nil: as the catalogue says, else all
	Language    string // BCP 47, of the book's own words and for hyphenation; empty: the catalogue's
	SimpleOrder bool   // entries begin on the next page, not on a left-hand one
	ShowPrivate bool   // print the names of private holders
	Picture     func(photo catalog.ID) (path string, err error)
	Plate       func(photo catalog.ID) (path string, err error)
	Detail      func(photo catalog.ID, boxMM [4]float64) (path string, err error)
	Progress    func(done, total int, what string)
	PrintOptions
}

// Report says what was made.
type Report struct {
	Pages    int
	Bytes    int64
	Pictures int
	Warnings []string // sentences: what the maker should see to
}

// Document is a laid-out job whose pages can be shown and written.
type Document = display.Document

// LayBook makes up the book without writing it: for the window's preview.
func LayBook(ctx context.Context, snap *catalog.Snapshot, o BookOptions) (*Document, []string, error) {
	return book.Lay(ctx, snap, book.Options{Format: o.Format, Parts: o.Parts, Language: o.Language, Picture: o.Picture,
		Plate: o.Plate, Detail: o.Detail, Archive: o.Preset == ScreenAndArchive, SimpleOrder: o.SimpleOrder,
		ShowPrivate: o.ShowPrivate, Progress: o.Progress})
}

// WriteBook makes the printed catalogue at path. The file is written beside
// it and renamed when it is whole; on error or cancelling nothing is left.
func WriteBook(ctx context.Context, path string, snap *catalog.Snapshot, o BookOptions) (Report, error) {
	return toFile(path, func(w io.Writer) (Report, error) { return WriteBookTo(ctx, w, snap, o) })
}

// WriteBookTo writes the printed catalogue to a stream.
func WriteBookTo(ctx context.Context, w io.Writer, snap *catalog.Snapshot, o BookOptions) (Report, error) {
	if o.Created.IsZero() {
		o.Created = newest(snap)
	}
	doc, warnings, err := LayBook(ctx, snap, o)
	if err != nil {
		return Report{}, err
	}
	return write(ctx, w, doc, warnings, o.PrintOptions, true)
}

// Write writes a laid-out document. warnings are carried into the report.
func Write(ctx context.Context, w io.Writer, doc *Document, warnings []string, o PrintOptions) (Report, error) {
	return write(ctx, w, doc, warnings, o, false)
}

// write writes a document; discard gives its pages up on the way.
func write(ctx context.Context, w io.Writer, doc *Document, warnings []string, o PrintOptions, discard bool) (Report, error) {
	pictures := countPictures(doc)
	opt := pdf.Options{Palette: pdf.Screen(), Archive: true, Created: o.Created}
	if o.Preset == ForThePrinter {
		opt = pdf.Options{Palette: pdf.Press(), Bleed: true, Created: o.Created}
		switch {
		case o.ProfilePath == "":
			warnings = append(warnings, "No printer’s colour profile was given: ask the printer for his ICC file, or agree on colours with him.")
		default:
			icc, err := os.ReadFile(o.ProfilePath)
			if err != nil {
				return Report{}, fmt.Errorf("the printer’s colour profile cannot be read: %w", err)
			}
			if err := finish.CheckProfile(icc, false); err != nil {
				return Report{}, fmt.Errorf("%s: %w", filepath.Base(o.ProfilePath), err)
			}
			opt.ICC, opt.ICCName = icc, o.ProfileName
			if opt.ICCName == "" {
				opt.ICCName = filepath.Base(o.ProfilePath)
			}
		}
	}
	if opt.Created.IsZero() {
		opt.Created = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	opt.Discard = discard
	counted := &counter{w: w}
	if err := pdf.Write(ctx, counted, doc, opt); err != nil {
		return Report{}, err
	}
	return Report{Pages: len(doc.Pages), Bytes: counted.n, Pictures: pictures, Warnings: warnings}, nil
}

// Preview draws a page as it will be printed, on the screen colours. One page of
// a document is drawn at a time.
func Preview(page *display.Page, dpi float64) *image.RGBA { return preview.Draw(page, dpi) }

// counter counts the bytes written.
type counter struct {
	w io.Writer
	n int64
}

func (c *counter) Write(b []byte) (int, error) {
	n, err := c.w.Write(b)
	c.n += int64(n)
	return n, err
}

// countPictures counts the placed pictures.
func countPictures(doc *Document) int {
	n := 0
	for _, p := range doc.Pages {
		for _, it := range p.Items {
			if _, ok := it.(*display.Picture); ok {
				n++
			}
		}
	}
	return n
}

// newest is the newest date of a record, to the second.
func newest(s *catalog.Snapshot) time.Time {
	t := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	later := func(u time.Time) {
		if u.After(t) {
			t = u.UTC().Truncate(time.Second)
		}
	}
	for i := range s.Photographs {
		later(s.Photographs[i].AddedAt)
	}
	for i := range s.Scores {
		later(s.Scores[i].At)
	}
	for i := range s.Impressions {
		later(s.Impressions[i].PulledAt)
		later(s.Impressions[i].Decision.At)
	}
	return t
}

// toFile writes a file beside its place and renames it when it is whole.
func toFile(path string, write func(io.Writer) (Report, error)) (rep Report, err error) {
	f, err := os.CreateTemp(filepath.Dir(path), ".pullbook-*.pdf")
	if err != nil {
		return rep, fmt.Errorf("nothing can be written into the folder %s: %w", filepath.Dir(path), err)
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(f.Name()))
		}
	}()
	buf := bufio.NewWriterSize(f, 1<<20)
	if rep, err = write(buf); err != nil {
		f.Close()
		return rep, err
	}
	if err = errors.Join(buf.Flush(), f.Sync(), f.Close()); err != nil {
		return rep, fmt.Errorf("the file %s could not be written; is the disk full? %w", path, err)
	}
	if err = os.Chmod(f.Name(), 0o644); err != nil {
		return rep, fmt.Errorf("the file %s could not be written: %w", path, err)
	}
	if err = os.Rename(f.Name(), path); err != nil {
		return rep, fmt.Errorf("the file %s could not be put in its place; is it open in another program? %w", path, err)
	}
	return rep, nil
}
