package book

import (
	"context"
	"fmt"
	"strings"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
	"github.com/makiuchi-d/gozxing/qrcode/decoder"

	"pullbook/catalog"
	"pullbook/pdfout/display"
	"pullbook/pdfout/makeup"
	"pullbook/pdfout/typeset"
)

// codeMark begins the text of a slip's code.
const codeMark = "PULLBOOK:IMPRESSION:"

// Code is the text of the code on the slip of an impression: capitals, which
// make small codes.
func Code(impression catalog.ID) string { return codeMark + strings.ToUpper(string(impression)) }

// ReadCode finds the impression a code's text names.
func ReadCode(text string) (catalog.ID, bool) {
	rest, ok := strings.CutPrefix(strings.ToUpper(strings.TrimSpace(text)), codeMark)
	if !ok || rest == "" {
		return "", false
	}
	return catalog.ID(strings.ToLower(rest)), true
}

// LabelSheet is how labels lie on a page; lengths in millimetres.
type LabelSheet struct {
	Name          string
	PageW, PageH  float64
	Columns, Rows int
	W, H          float64 // of a label
	Left, Top     float64 // of the first
	StepX, StepY  float64 // from one to the next
	CutMarks      bool    // plain paper, to be cut
}

// LabelSheets lists common sheets: die-cut ones by their label size, and plain
// A4 with cut marks for drawer slips.
func LabelSheets() []LabelSheet {
	return []LabelSheet{
		{Name: "A4, 24 labels of 70 x 37 mm", PageW: 210, PageH: 297, Columns: 3, Rows: 8, W: 70, H: 37, Left: 0, Top: .5, StepX: 70, StepY: 37},
		{Name: "A4, 21 labels of 63.5 x 38.1 mm", PageW: 210, PageH: 297, Columns: 3, Rows: 7, W: 63.5, H: 38.1, Left: 7.2, Top: 15.1, StepX: 66, StepY: 38.1},
		{Name: "A4, 14 labels of 99.1 x 38.1 mm", PageW: 210, PageH: 297, Columns: 2, Rows: 7, W: 99.1, H: 38.1, Left: 4.7, Top: 15.1, StepX: 101.6, StepY: 38.1},
		{Name: "Letter, 30 labels of 2 5/8 x 1 in", PageW: 215.9, PageH: 279.4, Columns: 3, Rows: 10, W: 66.7, H: 25.4, Left: 4.8, Top: 12.7, StepX: 69.85, StepY: 25.4},
		{Name: "A4, 10 drawer slips of 90 x 54 mm, to cut", PageW: 210, PageH: 297, Columns: 2, Rows: 5, W: 90, H: 54, Left: 15, Top: 13.5, StepX: 90, StepY: 54, CutMarks: true},
	}
}

// LabelSheetNamed returns the sheet of a name; the last, to cut, where there is
// none.
func LabelSheetNamed(name string) (LabelSheet, bool) {
	list := LabelSheets()
	for _, s := range list {
		if s.Name == name {
			return s, true
		}
	}
	return list[len(list)-1], false
}

// LayLabels makes up labels for impressions, beginning at a place on the first
// sheet (0 its first), so that a begun sheet can be used up.
func LayLabels(ctx context.Context, snap *catalog.Snapshot, impressions []catalog.ID, sheet LabelSheet, start int, language string) (*display.Document, []string, error) {
	if sheet.W <= 0 || sheet.Columns <= 0 || sheet.Rows <= 0 {
		return nil, nil, fmt.Errorf("the label sheet has no labels")
	}
	b, err := newBook(ctx, snap, Options{Language: language, Format: makeup.Format{Name: sheet.Name, Width: sheet.PageW, Height: sheet.PageH, TextSize: 10.4, Lead: 13.2}})
	if err != nil {
		return nil, nil, err
	}
	b.Doc.Title = b.t("Labels")
	b.StartArabic()
	per := sheet.Columns * sheet.Rows
	at := max(0, start) % per
	for i, id := range impressions {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		im := b.impression[id]
		if im == nil {
			b.warn(b.t("The impression %s is not in the catalogue and has no label.", id))
			continue
		}
		if b.Page == nil || i > 0 && at == 0 {
			b.Blank()
			if sheet.CutMarks {
				b.cutMarks(sheet)
			}
		}
		r := display.Rect{X: (sheet.Left + float64(at%sheet.Columns)*sheet.StepX) * makeup.MM, Y: (sheet.Top + float64(at/sheet.Columns)*sheet.StepY) * makeup.MM,
			W: sheet.W * makeup.MM, H: sheet.H * makeup.MM}
		if err := b.label(im, r); err != nil {
			return nil, nil, err
		}
		at = (at + 1) % per
	}
	if len(b.Doc.Pages) == 0 {
		return nil, nil, fmt.Errorf("there is no label to print: choose at least one impression")
	}
	return b.Doc, b.warnings, nil
}

// label sets one label: code left, then number and title, the sheet, paper and
// date, holder.
func (b *book) label(im *catalog.Impression, r display.Rect) error {
	pad := min(3.2*makeup.MM, r.H*.1)
	side := min(r.H-2*pad, r.W*.34)
	if err := b.code(Code(im.ID), r.X+pad, r.Y+(r.H-side)/2, side); err != nil {
		return err
	}
	k := min(1.05, r.H/(38*makeup.MM))
	x, w := r.X+pad+side+2.2*makeup.MM, r.W-2*pad-side-2.2*makeup.MM
	lead := 11.6 * k
	pl := b.plateOf(im)
	p := b.Page
	y := r.Y + (r.H-side)/2 + side*.07 + lead*.76 // level with the top of the code
	line := func(st typeset.Style, s string) {
		if s == "" || y > r.Y+r.H-pad*.5 {
			return
		}
		s, _ = st.Cutoff(s, w)
		p.Text(st, x, y, s)
		y += lead
	}
	small := b.Small.At(8.6 * k)
	if pl != nil {
		num := numberText(pl)
		title := b.Styles.Italic.At(11 * k)
		used := 0.0
		if num != "" {
			used = p.Text(b.Body.With(b.Case.Medium).At(11*k).In(typeset.Accent), x, y, num) + 5
		}
		text := b.Case.Break(typeset.Paragraph{Spans: []typeset.Span{{Style: title, Text: b.titleText(pl)}}, Width: w, Indent: used, Ragged: true, MaxLines: 2})
		y = p.Lines(x, y, lead*1.02, text)
		y += lead * .12
	}
	st := ""
	if s := b.state[im.StateID]; s != nil {
		st = b.t("state %s", b.stateText(s))
		if len(b.states[im.PlateID]) == 1 {
			st = b.t("only state")
		}
	}
	line(b.Body.At(9.8*k), joinNonEmpty("\u2002", b.sheetName(im), st))
	paper := ""
	if pp := b.papers[im.PaperID]; pp != nil {
		paper = pp.Name
	}
	line(small, joinNonEmpty(", ", paper, b.printedDate(im)))
	line(small, joinNonEmpty(", ", b.holderName(im.HolderID), im.Inventory))
	line(b.Small.At(7.4*k).In(typeset.Grey), string(im.ID))
	return nil
}

// code draws a QR code (ISO/IEC 18004) with its quiet zone into a square.
func (b *book) code(text string, x, y, side float64) error {
	m, err := qrcode.NewQRCodeWriter().Encode(text, gozxing.BarcodeFormat_QR_CODE, 1, 1,
		map[gozxing.EncodeHintType]any{gozxing.EncodeHintType_ERROR_CORRECTION: decoder.ErrorCorrectionLevel_M, gozxing.EncodeHintType_MARGIN: 2})
	if err != nil {
		return fmt.Errorf("the code of a label could not be made: %w", err)
	}
	n := m.GetWidth()
	k := side / float64(n)
	for row := range n {
		for from := 0; from < n; {
			if !m.Get(from, row) {
				from++
				continue
			}
			to := from
			for to < n && m.Get(to, row) {
				to++
			}
			b.Page.Add(&display.Box{X: x + float64(from)*k, Y: y + float64(row)*k, W: float64(to-from) * k, H: k * 1.002, Ink: typeset.Text})
			from = to
		}
	}
	return nil
}

// cutMarks draws short strokes at the edges of the page, where the slips are
// cut.
func (b *book) cutMarks(s LabelSheet) {
	p := b.Page
	stroke := func(x1, y1, x2, y2 float64) {
		p.Add(&display.Rule{X1: x1 * makeup.MM, Y1: y1 * makeup.MM, X2: x2 * makeup.MM, Y2: y2 * makeup.MM, Width: .25, Ink: typeset.Mark})
	}
	right, foot := s.Left+float64(s.Columns)*s.StepX, s.Top+float64(s.Rows)*s.StepY
	for c := 0; c <= s.Columns; c++ {
		x := s.Left + float64(c)*s.StepX
		stroke(x, s.Top-7, x, s.Top-2)
		stroke(x, foot+2, x, foot+7)
	}
	for r := 0; r <= s.Rows; r++ {
		y := s.Top + float64(r)*s.StepY
		stroke(s.Left-7, y, s.Left-2, y)
		stroke(right+2, y, right+7, y)
	}
}
