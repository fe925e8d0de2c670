package pdfout

import (
	"context"
	"io"

	"pullbook/catalog"
	"pullbook/pdfout/book"
)

// RecordOptions say how the record of an impression is made.
type RecordOptions struct {
	Format      Format // zero: A4
	Language    string
	ShowPrivate bool
	Picture     func(photo catalog.ID) (path string, err error)
	Plate       func(photo catalog.ID) (path string, err error)
	PrintOptions
}

// LabelOptions say on what labels are printed.
type LabelOptions struct {
	Sheet LabelSheet // zero: plain A4 to cut
	Start int        // place of the first label on its sheet, from 0
	// Language of the words on them, BCP 47; empty: the catalogue's.
	Language string
	PrintOptions
}

// LabelSheet is how labels lie on a page.
type LabelSheet = book.LabelSheet

// LabelSheets lists common label sheets.
func LabelSheets() []LabelSheet { return book.LabelSheets() }

// DaySheet says what the sheet of a printing day is about.
type DaySheet = book.DaySheet

// Code is the text of the code on an impression's label.
func Code(impression catalog.ID) string { return book.Code(impression) }

// ReadCode finds the impression that the text of a code names.
func ReadCode(text string) (catalog.ID, bool) { return book.ReadCode(text) }

// LayRecord makes up the record of one impression without writing it.
func LayRecord(ctx context.Context, snap *catalog.Snapshot, impression catalog.ID, o RecordOptions) (*Document, []string, error) {
	return book.LayRecord(ctx, snap, impression, book.Options{Format: o.Format, Language: o.Language, ShowPrivate: o.ShowPrivate,
		Picture: o.Picture, Plate: o.Plate, Archive: o.Preset == ScreenAndArchive})
}

// WriteRecord writes the record of one impression at path.
func WriteRecord(ctx context.Context, path string, snap *catalog.Snapshot, impression catalog.ID, o RecordOptions) (Report, error) {
	doc, warnings, err := LayRecord(ctx, snap, impression, o)
	return toPath(ctx, path, snap, doc, warnings, err, o.PrintOptions)
}

// LayLabels makes up labels for impressions without writing them.
func LayLabels(ctx context.Context, snap *catalog.Snapshot, impressions []catalog.ID, o LabelOptions) (*Document, []string, error) {
	if o.Sheet.Columns == 0 {
		o.Sheet, _ = book.LabelSheetNamed("")
	}
	return book.LayLabels(ctx, snap, impressions, o.Sheet, o.Start, o.Language)
}

// WriteLabels writes labels with codes for impressions at path.
func WriteLabels(ctx context.Context, path string, snap *catalog.Snapshot, impressions []catalog.ID, o LabelOptions) (Report, error) {
	doc, warnings, err := LayLabels(ctx, snap, impressions, o)
	return toPath(ctx, path, snap, doc, warnings, err, o.PrintOptions)
}

// LayDaySheet makes up the sheet of a printing day without writing it.
func LayDaySheet(ctx context.Context, snap *catalog.Snapshot, d DaySheet, format Format) (*Document, []string, error) {
	return book.LayDaySheet(ctx, snap, d, book.Options{Format: format})
}

// WriteDaySheet writes the sheet of a printing day at path.
func WriteDaySheet(ctx context.Context, path string, snap *catalog.Snapshot, d DaySheet, format Format) (Report, error) {
	doc, warnings, err := LayDaySheet(ctx, snap, d, format)
	return toPath(ctx, path, snap, doc, warnings, err, PrintOptions{})
}

// toPath writes a laid-out document at path, unless laying it out failed.
func toPath(ctx context.Context, path string, snap *catalog.Snapshot, doc *Document, warnings []string, err error, o PrintOptions) (Report, error) {
	if err != nil {
		return Report{}, err
	}
	if o.Created.IsZero() {
		o.Created = newest(snap)
	}
	return toFile(path, func(w io.Writer) (Report, error) { return Write(ctx, w, doc, warnings, o) })
}
