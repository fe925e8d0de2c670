package studio

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/exchange"
	"pullbook/catalog/store"
	"pullbook/pdfout"
)

// steps is p for those who count steps.
func steps(p Progress) func(done, total int, what string) {
	if p == nil {
		return nil
	}
	return func(done, total int, what string) { p(float64(done)/float64(max(total, 1)), what) }
}

// share is p for those who only tell the share done.
func share(p Progress, what string) func(float64) {
	if p == nil {
		return nil
	}
	return func(done float64) { p(done, what) }
}

// BookPictures fills in how the book gets its pictures: the photographs for
// the screen, the rectified plates, the details.
func (s *Studio) BookPictures(ctx context.Context, o *pdfout.BookOptions) {
	o.Picture = func(id catalog.ID) (string, error) { return s.Proxy(ctx, id) }
	o.Plate = func(id catalog.ID) (string, error) { return s.RectifiedPlate(ctx, id) }
	o.Detail = func(id catalog.ID, box [4]float64) (string, error) { return s.Detail(ctx, id, box) }
}

// LayOut makes the printed catalogue at path, whole or not at all. Picture,
// Plate and Detail of the options are filled in.
func (s *Studio) LayOut(ctx context.Context, path string, o pdfout.BookOptions, p Progress) (pdfout.Report, error) {
	snap, err := s.store.Snapshot(ctx)
	if err != nil {
		return pdfout.Report{}, err
	}
	if len(snap.Plates) == 0 {
		return pdfout.Report{}, sentence("There is no plate in this catalogue yet; enter one before laying out the book.")
	}
	s.BookPictures(ctx, &o)
	o.Progress = steps(p)
	return pdfout.WriteBook(ctx, path, snap, o)
}

// LayOutRecord makes the record of one impression at path.
func (s *Studio) LayOutRecord(ctx context.Context, path string, impression catalog.ID) (pdfout.Report, error) {
	snap, err := s.store.Snapshot(ctx)
	if err != nil {
		return pdfout.Report{}, err
	}
	var b pdfout.BookOptions
	s.BookPictures(ctx, &b)
	return pdfout.WriteRecord(ctx, path, snap, impression, pdfout.RecordOptions{Picture: b.Picture, Plate: b.Plate})
}

// LayOutLabels makes labels with codes for impressions at path; start is the
// place of the first label on its sheet, from 0.
func (s *Studio) LayOutLabels(ctx context.Context, path string, impressions []catalog.ID, start int) (pdfout.Report, error) {
	snap, err := s.store.Snapshot(ctx)
	if err != nil {
		return pdfout.Report{}, err
	}
	return pdfout.WriteLabels(ctx, path, snap, impressions, pdfout.LabelOptions{Start: start})
}

// Exports are the formats [Studio.Export] writes.
func Exports() []string { return exchange.Formats() }

// Export writes the catalogue for others into the folder dir, which is made if
// need be. Private holders stay private in all but csv, which is the owner's
// own copy of everything.
func (s *Studio) Export(ctx context.Context, as, dir string, p Progress) error {
	return s.ExportAt(ctx, as, dir, "", p)
}

// ExportAt is [Studio.Export] for a folder that will stand at a web address,
// from which the records then take their identifiers; "" is none.
func (s *Studio) ExportAt(ctx context.Context, as, dir, base string, p Progress) error {
	snap, err := s.store.Snapshot(ctx)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return sentence("The folder %s cannot be made (%v); choose another.", dir, err)
	}
	return exchange.WriteWith(ctx, as, dir, snap, pieces{s}, exchange.Options{Base: base, Progress: share(p, "writing "+as)})
}

// Verify reads every byte and checks every rule.
func (s *Studio) Verify(ctx context.Context, p Progress) (store.Report, error) {
	return s.store.Verify(ctx, steps(p))
}

// Pack writes the whole catalogue into one file.
func (s *Studio) Pack(ctx context.Context, path string, p Progress) error {
	return s.store.Pack(ctx, path, steps(p))
}

// Unpack makes a catalogue folder of a packed file.
func Unpack(ctx context.Context, packed, dir string, p Progress) error {
	return store.Unpack(ctx, packed, dir, steps(p))
}

// IsPacked reports whether a file's name says that a catalogue is packed in it.
func IsPacked(path string) bool { return strings.HasSuffix(path, store.PackedSuffix) }

// OpenPacked unpacks a catalogue into a new folder beside the packed file, of
// its name without ".zip", and opens it.
func OpenPacked(ctx context.Context, packed string, o Options, p Progress) (*Studio, error) {
	dir := strings.TrimSuffix(packed, filepath.Ext(packed))
	if _, err := os.Lstat(dir); err == nil {
		return nil, sentence("%s is packed, and beside it there is %s already. Open that, or give the packed file another name and open it again.",
			filepath.Base(packed), filepath.Base(dir))
	}
	if err := Unpack(ctx, packed, dir, p); err != nil {
		return nil, err
	}
	return Open(dir, o)
}

// VerifyWords says what Verify found in lines for people.
func VerifyWords(r store.Report) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d records and %d photographs (%.1f MB) read to the last byte.\n", r.Records, r.Photographs, float64(r.Bytes)/1e6)
	for _, f := range r.Findings {
		mark := "note"
		if f.Grave {
			mark = "WRONG"
		}
		fmt.Fprintf(&b, "%s: %s\n", mark, f.Sentence)
	}
	if r.Clean() {
		b.WriteString("Nothing is wrong.\n")
	} else {
		fmt.Fprintf(&b, "The newest backups are in the folder %s of the catalogue.\n", store.BackupsDir)
	}
	return b.String()
}
