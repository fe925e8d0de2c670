package book

import (
	"context"
	"fmt"
	"strings"
	"time"

	"pullbook/catalog"
	"pullbook/catalog/say"
	"pullbook/pdfout/display"
	"pullbook/pdfout/makeup"
	"pullbook/pdfout/typeset"
)

// DaySheet says what the sheet of a printing day is about.
type DaySheet struct {
	PlateID, StateID catalog.ID
	Day              time.Time // zero: left to be written in
	Pulls            int       // how many are meant; 0: as many lines as the page holds
	// Cautions are the usual ones for the work in hand, whole sentences; nil: those
	// of press, ink and hot plate.
	Cautions []string
}

// usualCautions are those of printing (common practice).
var usualCautions = []string{
	"Press: keep fingers, hair, cord and sleeves from rollers and bed; one person turns.",
	"Ink and solvents: gloves, moving air, no flame; oily rags into a closed metal bin.",
	"Hot plate: it burns without glowing; no solvent near it, off when you leave.",
}

// LayDaySheet makes up the sheet that hangs in the shop on a printing day: what
// is printed, the counts to go on from, a line for each pull to be written by
// hand, and the cautions.
func LayDaySheet(ctx context.Context, snap *catalog.Snapshot, d DaySheet, o Options) (*display.Document, []string, error) {
	if o.Format.Width == 0 {
		o.Format = makeup.A4
	}
	b, err := newBook(ctx, snap, o)
	if err != nil {
		return nil, nil, err
	}
	var pl *catalog.Plate
	for _, q := range b.ordered {
		if q.ID == d.PlateID {
			pl = q
		}
	}
	if pl == nil {
		return nil, nil, fmt.Errorf("the plate %s is not in the catalogue", d.PlateID)
	}
	b.Doc.Title = typeset.Clean(b.t("Printing day: %s", b.titleText(pl)))
	b.StartArabic()
	b.Blank()
	b.Y = b.Top() - 10*makeup.MM
	b.dayHead(pl, d)
	b.Flow(b.twoColumns(b.dayFacts(pl, d)))
	b.dayLines(pl, d)
	for _, m := range b.Case.Missing() {
		b.warn(b.t("A raised dot stands in its place: %s.", m.String()))
	}
	return b.Doc, b.warnings, nil
}

// dayHead sets plate, state and day.
func (b *book) dayHead(pl *catalog.Plate, d DaySheet) {
	p, x, w := b.Page, b.Left(), b.TextWidth()
	y := b.Y + 10
	p.Text(b.Section, x, y, strings.ToLower(b.t("printing day")))
	day := b.t("date ____________________")
	if !d.Day.IsZero() {
		day = b.t("%s, %s", say.Word(d.Day.Weekday().String()), say.Day(d.Day))
	}
	p.TextRight(b.Sub, x+w, y, day)
	p.Rule(x, y+6, w, .5, typeset.Accent)
	title := b.titleText(pl)
	size := b.titleSize(title, b.Styles.Title.Size*1.1, w*.7, 2)
	lines := b.Case.Break(typeset.Paragraph{Spans: []typeset.Span{{Style: b.Styles.Title.At(size), Text: joinNonEmpty("\u2002", numberText(pl), title)}}, Width: w * .72, Ragged: true, MaxLines: 3})
	y = p.Lines(x, y+12+size*1.05, size*1.12, lines) - size*1.12
	if s := b.state[d.StateID]; s != nil {
		p.TextRight(b.Styles.Title.With(b.Case.Roman).At(size*.8), x+w, y, b.t("state %s", b.stateText(s)))
	}
	b.Y = y + b.Lead
}

// dayFacts lists what the printer wants before his eyes.
func (b *book) dayFacts(pl *catalog.Plate, d DaySheet) []fact {
	var out []fact
	add := func(label, text string) {
		if text = strings.TrimSpace(text); text != "" {
			out = append(out, fact{label, text})
		}
	}
	add(b.t("plate"), joinNonEmpty(", ", b.word(pl.Metal), b.sizeText(pl.MeasureSize())))
	last := 0
	var lastSheet *catalog.Impression
	for _, im := range b.impressions[pl.ID] {
		if im.Pull > last {
			last, lastSheet = im.Pull, im
		}
	}
	if last > 0 {
		add(b.t("last pull"), joinNonEmpty(", ", fmt.Sprint(last), b.sheetName(lastSheet), b.printedDate(lastSheet)))
	}
	if st := b.state[d.StateID]; st != nil {
		if ref := b.impression[st.ReferenceID]; ref != nil {
			add(b.t("print to"), joinNonEmpty(", ", b.sheetName(ref), b.pullWords(ref)))
		}
	}
	for _, e := range b.editions[pl.ID] {
		add(b.t("edition"), joinNonEmpty(", ", b.editionName(e), b.editionCount(e)))
	}
	limit := pl.LossLimit
	if limit == 0 {
		limit = b.snap.Imprint.LossLimit
	}
	if limit > 0 {
		add(b.t("limit of ink loss"), b.percentPlain(limit))
	}
	hours := b.snap.Imprint.DryHours
	if hours == 0 {
		hours = 48
	}
	add(b.t("drying"), b.t("%d hours before a sheet is handled", hours))
	return out
}

// dayLines draws a table to be written in, down to the cautions at the foot.
func (b *book) dayLines(pl *catalog.Plate, d DaySheet) {
	cautions := d.Cautions
	if cautions == nil {
		for _, c := range usualCautions {
			cautions = append(cautions, b.word(c))
		}
	}
	text := strings.Join(cautions, " ") + " " + b.t("The maker’s data sheet, local rules and trained practice come first.")
	note := makeup.Stack(b.note(text, b.TextWidth()))
	next := 0
	for _, im := range b.impressions[pl.ID] {
		next = max(next, im.Pull)
	}
	heads := []makeup.Column{{Head: b.t("pull"), Width: 26, Right: true}, {Head: b.t("paper"), Share: 1.1}, {Head: b.t("ink, wiping"), Share: 1.3}, {Head: b.t("kind, number"), Share: .9}, {Head: b.t("remarks"), Share: 1.8}, {Head: b.t("dry from"), Share: .8}}
	row := 8.6 * makeup.MM
	t := makeup.Table{Lead: b.tableLead(), Gap: 9, Columns: heads}
	b.Y += b.Lead
	head := b.TableBlocks(t, b.TextWidth())[0]
	b.Flow([]makeup.Block{head})
	foot := b.Bottom() + 10*makeup.MM - note.Height
	p, x, w := b.Page, b.Left(), b.TextWidth()
	for n := 1; b.Y+row < foot-8 && (d.Pulls == 0 || n <= d.Pulls); n++ {
		p.TextRight(b.Table.In(typeset.Grey), x+26, b.Y+row*.72, fmt.Sprint(next+n))
		b.Y += row
		p.Rule(x, b.Y, w, .25, typeset.Hair)
	}
	note.Draw(p, x, foot)
}
