package studio

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"pullbook/catalog"
	"pullbook/pdfout"
)

// LayOutLabelsOn makes labels with codes for impressions on a label sheet of
// [pdfout.LabelSheets], named; start is the place of the first label on its
// sheet, from 0.
func (s *Studio) LayOutLabelsOn(ctx context.Context, path string, impressions []catalog.ID, sheet string, start int) (pdfout.Report, error) {
	o := pdfout.LabelOptions{Start: start}
	for _, l := range pdfout.LabelSheets() {
		if l.Name == sheet {
			o.Sheet = l
		}
	}
	if o.Sheet.Columns == 0 {
		return pdfout.Report{}, sentence("There is no label sheet called %q.", sheet)
	}
	if len(impressions) == 0 {
		return pdfout.Report{}, sentence("No sheet is chosen to print a label for.")
	}
	snap, err := s.store.Snapshot(ctx)
	if err != nil {
		return pdfout.Report{}, err
	}
	return pdfout.WriteLabels(ctx, path, snap, impressions, o)
}

// LayOutDaySheet makes the sheet of a printing day at path.
func (s *Studio) LayOutDaySheet(ctx context.Context, path string, d pdfout.DaySheet) (pdfout.Report, error) {
	snap, err := s.store.Snapshot(ctx)
	if err != nil {
		return pdfout.Report{}, err
	}
	return pdfout.WriteDaySheet(ctx, path, snap, d, pdfout.A4)
}

// LayOutRecords makes the records of impressions: of one at path, of several
// each at path with the sheet's name added. made are the files written.
func (s *Studio) LayOutRecords(ctx context.Context, path string, impressions []catalog.ID, p Progress) (made, warnings []string, err error) {
	if len(impressions) == 0 {
		return nil, nil, sentence("No sheet is chosen to make a record of.")
	}
	used := map[string]bool{}
	for k, id := range impressions {
		tell(p, float64(k)/float64(len(impressions)), "record %d of %d", k+1, len(impressions))
		to := path
		if len(impressions) > 1 {
			if to, err = s.recordPath(ctx, path, id, used); err != nil {
				return made, warnings, err
			}
		}
		r, err := s.LayOutRecord(ctx, to, id)
		if err != nil {
			return made, warnings, err
		}
		made, warnings = append(made, to), append(warnings, r.Warnings...)
	}
	return made, warnings, nil
}

// recordPath adds the name of a sheet to a file's name, never the same twice.
func (s *Studio) recordPath(ctx context.Context, path string, id catalog.ID, used map[string]bool) (string, error) {
	i, err := s.store.Impression(ctx, id)
	if err != nil {
		return "", err
	}
	plate, err := s.store.Plate(ctx, i.PlateID)
	if err != nil {
		return "", err
	}
	ext := filepath.Ext(path)
	name := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) || r < ' ' {
			return '-'
		}
		return r
	}, plate.Name()+", "+i.Name())
	to := strings.TrimSuffix(path, ext) + " " + name
	for n, base := 2, to; used[to]; n++ {
		to = fmt.Sprintf("%s (%d)", base, n)
	}
	used[to] = true
	return to + ext, nil
}
