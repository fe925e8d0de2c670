package window

import (
	"context"
	"runtime/debug"
	"strings"

	"pullbook/app/window/places"
	"pullbook/app/window/words"
	"pullbook/catalog"
	"pullbook/pdfout"
)

// Sheets lays two photographs on the plate of the first.
func (h *house) Sheets(ctx context.Context, a, b catalog.ID, p places.Progress) (*places.Pair, error) {
	defer debug.FreeOSMemory() // what registering took is more than the window itself
	s, err := h.Studio.Sheets(ctx, a, b, p)
	if err != nil {
		return nil, err
	}
	return &places.Pair{A: s.A, B: s.B, PxPerMM: s.PxPerMM, OX: s.OX, OY: s.OY, Residual: s.ResidualMM, Words: words.Say(s.Said)}, nil
}

// ToneMap is the plate tone over a sheet.
func (h *house) ToneMap(ctx context.Context, impression catalog.ID) (*places.Map, error) {
	m, err := h.Studio.ToneMap(ctx, impression)
	if err != nil {
		return nil, err
	}
	return &places.Map{StepMM: m.StepMM, Rows: m.Rows, Cols: m.Cols, V: m.V}, nil
}

// Compare finds the work that made a state.
func (h *house) Compare(ctx context.Context, state catalog.ID, p places.Progress) error {
	_, err := h.Studio.Compare(ctx, state, p)
	return err
}

// LayOut makes the printed catalogue.
func (h *house) LayOut(ctx context.Context, to string, w places.BookWish, p places.Progress) ([]string, error) {
	o := pdfout.BookOptions{ShowPrivate: w.ShowPrivate}
	o.Format = []pdfout.Format{pdfout.Large, pdfout.Small, pdfout.A4, pdfout.Letter}[w.Format]
	if w.ForPrinter {
		o.Preset, o.ProfilePath = pdfout.ForThePrinter, w.Profile
	}
	r, err := h.Studio.LayOut(ctx, to, o, p)
	return r.Warnings, err
}

// LabelSheets are the label sheets there are.
func (h *house) LabelSheets() []places.LabelSheet {
	var out []places.LabelSheet
	for _, l := range pdfout.LabelSheets() {
		page, _, _ := strings.Cut(l.Name, ",")
		out = append(out, places.LabelSheet{Name: l.Name, Page: page, Count: l.Columns * l.Rows, Width: l.W, Height: l.H, Cut: l.CutMarks})
	}
	return out
}

// Print makes what is printed for sheets.
func (h *house) Print(ctx context.Context, x places.Printing, p places.Progress) (made, warnings []string, err error) {
	var r pdfout.Report
	switch x.Kind {
	case places.PrintRecords:
		return h.LayOutRecords(ctx, x.To, x.Impressions, p)
	case places.PrintLabels:
		r, err = h.LayOutLabelsOn(ctx, x.To, x.Impressions, x.LabelSheet, x.Start)
	case places.PrintDay:
		r, err = h.LayOutDaySheet(ctx, x.To, pdfout.DaySheet{PlateID: x.Plate, StateID: x.State, Day: x.Day, Pulls: x.Pulls})
	}
	return []string{x.To}, r.Warnings, err
}

// Verify reads every byte and says in words what was found.
func (h *house) Verify(ctx context.Context, p places.Progress) (string, error) {
	r, err := h.Studio.Verify(ctx, p)
	if err != nil {
		return "", err
	}
	lines := []string{words.T("%d records and %d photographs (%s MB) were read.", r.Records, r.Photographs, words.Num(float64(r.Bytes)/1e6, 1))}
	if r.Clean() {
		lines = append(lines, words.T("Nothing is wrong."))
	}
	for _, f := range r.Findings {
		lines = append(lines, words.Say(f.Said))
	}
	return strings.Join(lines, "\n"), nil
}

// Export writes exchange files.
func (h *house) Export(ctx context.Context, as, dir, base string, p places.Progress) error {
	return h.Studio.ExportAt(ctx, as, dir, base, p)
}
