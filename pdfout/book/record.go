package book

import (
	"cmp"
	"context"
	"fmt"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/notation"
	"pullbook/catalog/say"
	"pullbook/pdfout/display"
	"pullbook/pdfout/makeup"
	"pullbook/pdfout/typeset"
)

// LayRecord makes up the record of one impression, for whoever has or buys the
// sheet: picture, facts, state, edition, measured scores, the photograph's
// fingerprint, and the facts that laws on the sale of prints usually ask.
func LayRecord(ctx context.Context, snap *catalog.Snapshot, impression catalog.ID, o Options) (*display.Document, []string, error) {
	if o.Format.Width == 0 {
		o.Format = makeup.A4
	}
	b, err := newBook(ctx, snap, o)
	if err != nil {
		return nil, nil, err
	}
	im := b.impression[impression]
	if im == nil {
		return nil, nil, fmt.Errorf("the impression %s is not in the catalogue; it may have been deleted", impression)
	}
	pl := b.plateOf(im)
	if pl == nil {
		return nil, nil, fmt.Errorf("the plate of the impression %s is not in the catalogue", impression)
	}
	b.StartArabic()
	b.Doc.Title = typeset.Clean(joinNonEmpty(", ", b.t("Impression record: %s", b.titleText(pl)), b.sheetName(im)))
	b.Doc.Author = typeset.Clean(b.personName(pl.MakerID))
	b.Verso, b.Recto = strings.ToLower(b.t("impression record")), strings.ToLower(b.t("impression record"))
	b.Blank()
	b.Y = b.Top() - 8*makeup.MM
	b.Bookmark(0, b.Doc.Title)
	b.recordHead(pl, im)
	b.recordPicture(pl, im)
	b.Flow(b.twoColumns(b.recordFacts(pl, im)))
	b.Flow(b.recordScores(im))
	b.Flow(b.fingerprint(im))
	facts := append(b.disclosureBlocks(pl, im), b.signatureBlocks()...)
	if h := makeup.Stack(facts).Height; h > b.Room() && h <= b.Depth() {
		b.Next()
	}
	b.Flow(facts)
	b.footers(im)
	for _, m := range b.Case.Missing() {
		b.warn(b.t("A raised dot stands in its place: %s.", m.String()))
	}
	return b.Doc, b.warnings, nil
}

// newBook prepares a job that is not the whole book.
func newBook(ctx context.Context, snap *catalog.Snapshot, o Options) (*book, error) {
	if o.Language == "" {
		o.Language = cmp.Or(strings.TrimSpace(snap.Imprint.Language), "en-GB")
	}
	c, err := typeset.NewCase()
	if err != nil {
		return nil, err
	}
	b := &book{Maker: makeup.New(c, o.Format), lookup: newLookup(snap), ctx: ctx, opt: o, lang: tongueOf(o.Language)}
	b.Language = o.Language
	b.Warn = b.warn
	b.Doc.Language = o.Language
	return b, nil
}

// recordHead sets what the sheet is.
func (b *book) recordHead(pl *catalog.Plate, im *catalog.Impression) {
	p, x, w := b.Page, b.Left(), b.TextWidth()
	y := b.Y + 10
	p.Text(b.Section, x, y, strings.ToLower(b.t("impression record")))
	if n := b.snap.Imprint.Publisher; n != "" {
		n, _ = b.Running.Cutoff(strings.ToLower(n), w*.5)
		p.TextRight(b.Running, x+w, y, n)
	}
	p.Rule(x, y+6, w, .5, typeset.Accent)
	y += 14
	if n := b.personName(pl.MakerID); n != "" {
		y += b.Lead
		p.Text(b.Sub.In(typeset.Grey), x, y, n)
	}
	title := b.titleText(pl)
	size := b.titleSize(title, b.Styles.Title.Size*.96, w*.74, 2)
	lines := b.Case.Break(typeset.Paragraph{Spans: []typeset.Span{{Style: b.Styles.Title.At(size), Text: title}}, Width: w * .74, Ragged: true, MaxLines: 3})
	y = p.Lines(x, y+size*1.1, size*1.12, lines) - size*1.12
	name, _ := b.Styles.Title.With(b.Case.Roman).At(size*.8).Cutoff(b.sheetName(im), w*.25)
	p.TextRight(b.Styles.Title.With(b.Case.Roman).At(size*.8), x+w, y, name)
	b.Y = y + b.Lead*1.1
}

// recordPicture shows this very sheet, else the reference of its state, and
// says which.
func (b *book) recordPicture(pl *catalog.Plate, im *catalog.Impression) {
	var photo *catalog.Photograph
	for _, ph := range b.ofSheet[im.ID] {
		if ph.View == catalog.ViewWhole || ph.View == "" {
			photo = ph
			break
		}
	}
	own := photo != nil
	if st := b.state[im.StateID]; photo == nil && st != nil {
		photo = b.bestPhoto(st)
	}
	if photo == nil {
		return
	}
	size := pl.MeasureSize()
	v, err := b.plateView(photo, size)
	if err != nil || v == nil {
		if err != nil {
			b.warn(b.t("No picture: %v.", err))
		}
		return
	}
	r, scale, paint := b.shownAt(v, size, b.Depth()*.4, b.t("The picture"))
	at := display.Rect{X: b.Left() + (b.TextWidth()-r.W)/2, Y: b.Y, W: r.W, H: r.H}
	paint(b.Page, at)
	words := b.t("This impression")
	if !own {
		words = b.t("Not this sheet: another impression of the state")
	}
	b.Page.Text(b.Caption, at.X, at.Y+r.H+11.5, words)
	b.Page.TextRight(b.CaptionRoman, at.X+r.W, at.Y+r.H+11.5, scale)
	b.Y = at.Y + r.H + 20
}

// recordFacts lists the facts of the sheet.
func (b *book) recordFacts(pl *catalog.Plate, im *catalog.Impression) []fact {
	var out []fact
	add := func(label, text string) {
		if text = strings.TrimSpace(text); text != "" {
			out = append(out, fact{label, text})
		}
	}
	add(b.t("catalogue"), joinNonEmpty(", ", b.t("no.\u00a0%s", tie(numberText(pl))), b.title()))
	add(b.t("made"), joinNonEmpty(", ", b.techniqueText(pl.Techniques), b.dateText(pl.Date)))
	add(b.t("plate mark"), b.sizeText(pl.Mark))
	add(b.t("sheet"), b.sizeText(im.Sheet))
	if st := b.state[im.StateID]; st != nil {
		first, _ := firstSentence(st.Description)
		add(b.t("state"), joinNonEmpty(": ", b.stateText(st), strings.TrimRight(first, ".;")))
	}
	if im.Pull > 0 {
		add(b.t("pull"), b.t("the %s from the plate", b.ordinal(im.Pull)))
	}
	add(b.t("printed"), joinNonEmpty(", ", b.printedDate(im), b.personName(im.PrinterID)))
	if pp := b.papers[im.PaperID]; pp != nil {
		add(b.t("paper"), joinNonEmpty("; ", b.paperWords(pp), im.Watermark))
	}
	if ink := b.inks[im.InkID]; ink != nil {
		add(b.t("printing ink"), inkWords(ink))
	}
	add(b.t("wiping"), im.Wiping)
	if e := b.edition[im.EditionID]; e != nil {
		add(b.t("edition"), joinNonEmpty(", ", b.editionName(e), b.dateText(e.Date), b.editionCount(e)))
	}
	add(b.t("signature"), im.Signature)
	add(b.t("inscribed"), b.inscriptionText(im.Inscriptions))
	add(b.t("condition"), im.Condition)
	add(b.t("provenance"), b.provenance(im))
	return out
}

// ordinal writes 1st, 2nd, 3rd, 4th.
func (b *book) ordinal(n int) string { return notation.OrdinalIn(b.lang, n) }

// printedDate is when the sheet was printed, as well as it is known.
func (b *book) printedDate(im *catalog.Impression) string {
	switch {
	case !im.PulledAt.IsZero():
		return b.lang.Say(say.Day(im.PulledAt.UTC()))
	case !im.Printed.IsZero():
		return b.dateText(im.Printed)
	}
	return ""
}

// editionCount states size and proofs: "30 numbered, 4 A.P., 1 P.P.".
func (b *book) editionCount(e *catalog.Edition) string {
	n := ""
	if e.Size > 0 {
		n = b.t("%d numbered", e.Size)
	}
	return joinNonEmpty(", ", n, b.outside(e))
}

// provenance tells who had the sheet.
func (b *book) provenance(im *catalog.Impression) string {
	var out []string
	for _, o := range im.Provenance {
		name := o.Name
		if name == "" {
			name = b.holderName(o.HolderID)
		}
		from, to := b.dateText(o.From), b.dateText(o.To)
		when := joinNonEmpty("–", from, to)
		switch {
		case from == "" && to != "":
			when = b.t("until %s", to)
		case from != "" && to == "":
			when = b.t("from %s", from)
		}
		out = append(out, joinNonEmpty(", ", name, o.How, when))
	}
	return strings.Join(out, "; ")
}

// recordScores sets the measured figures with their uncertainties and what
// they were measured against.
func (b *book) recordScores(im *catalog.Impression) []makeup.Block {
	sc := b.scores[im.ID]
	out := []makeup.Block{b.sectionHead(b.t("Measured against the reference pull"), b.TextWidth())}
	ref := b.state[im.StateID]
	if ref != nil && ref.ReferenceID == im.ID {
		return append(out, b.line(b.t("This sheet is the reference pull of its state: the others are measured against it."))...)
	}
	if sc == nil {
		return append(out, b.line(b.t("Not measured."))...)
	}
	if sc.Verdict == "refused" || sc.InkLoss == nil {
		return append(out, b.line(b.t("No figure is given, because none could be trusted: %s.", strings.TrimSuffix(b.lang.Say(sc.Why()), ".")))...)
	}
	t := makeup.Table{Lead: b.tableLead(), Gap: 10, Columns: []makeup.Column{{Head: b.t("quantity"), Share: 1.2}, {Head: b.t("value"), Width: 72, Right: true}, {Head: "", Width: 46}, {Head: b.t("meaning"), Share: 2}}}
	row := func(name string, v *catalog.Value, format func(catalog.Value) string, meaning string, bar float64) {
		if v == nil {
			return
		}
		cells := makeup.Cells(b.Table, b.word(name), format(*v), "", b.word(meaning))
		if bar >= 0 {
			cells[2] = makeup.Cell{Draw: func(p *display.Page, x, y, w float64) {
				p.Add(&display.Box{X: x, Y: y - 3.1, W: w, H: .5, Ink: typeset.Hair})
				p.Add(&display.Box{X: x, Y: y - 4.2, W: w * min(1, bar), H: 2.7, Ink: typeset.Bar})
			}}
		}
		t.Rows = append(t.Rows, cells)
	}
	left := func(v *catalog.Value) float64 {
		if v == nil {
			return -1
		}
		return max(0, 1-v.V)
	}
	row("ink loss", sc.InkLoss, b.percentWords, "share of the reference’s line ink missing; the bar is what is left", left(sc.InkLoss))
	row("wear", sc.WearLoss, b.percentWords, "what remains of the loss when the inking of the strong lines is divided out; a lower bound", left(sc.WearLoss))
	row("burr loss", sc.BurrLoss, b.percentWords, "share of the drypoint burr’s ink missing", left(sc.BurrLoss))
	row("plate tone", sc.PlateTone, func(v catalog.Value) string { return b.t("%.3f ± %.3f", v.V, v.U) }, "mean density of the ink film on the ground", -1)
	row("lines lost", sc.LinesLost, b.percentWords, "share of the reference’s line length not printed", -1)
	out = append(out, b.TableBlocks(t, b.TextWidth())...)
	words := b.t("± is the standard uncertainty (one standard deviation).")
	if sc.Limit > 0 {
		verdict := "The printer’s limit of ink loss is %s; whether the sheet is within it cannot be told."
		switch sc.Verdict {
		case "within":
			verdict = "The printer’s limit of ink loss is %s; this sheet is within it."
		case "outside":
			verdict = "The printer’s limit of ink loss is %s; this sheet is outside it."
		}
		words += " " + b.t(verdict, b.percentPlain(sc.Limit))
	}
	if r := b.impression[refID(ref)]; r != nil {
		words += " " + b.t("Reference: %s.", joinNonEmpty(", ", b.sheetName(r), b.pullWords(r)))
	}
	if sc.Method == "" {
		words += " " + b.t("Measured %s.", say.Day(sc.At.UTC()))
	} else {
		words += " " + b.t("Measured %s, method %s.", say.Day(sc.At.UTC()), sc.Method)
	}
	return append(out, b.note(words, b.TextWidth())...)
}

// refID is the reference pull of a state.
func refID(st *catalog.State) catalog.ID {
	if st == nil {
		return ""
	}
	return st.ReferenceID
}

// pullWords says which pull a sheet is.
func (b *book) pullWords(im *catalog.Impression) string {
	if im.Pull == 0 {
		return ""
	}
	return b.t("pull %d", im.Pull)
}

// line sets one sentence as a block.
func (b *book) line(text string) []makeup.Block {
	return makeup.LineBlocks(b.Case.Break(typeset.Paragraph{Spans: makeup.Emphasis(text, b.Body, b.Styles.Italic, b.Strong), Width: b.TextWidth(), Ragged: true, Language: b.Language}), b.Lead)
}

// fingerprint names the photographs of the sheet so that nobody can exchange
// them unnoticed.
func (b *book) fingerprint(im *catalog.Impression) []makeup.Block {
	var out []makeup.Block
	for _, ph := range b.ofSheet[im.ID] {
		if len(ph.SHA256) != 64 {
			continue
		}
		when := b.t("date of taking not known")
		if !ph.TakenAt.IsZero() {
			when = b.t("taken %s, %s", say.Day(ph.TakenAt.UTC()), ph.TakenAt.UTC().Format("15.04"))
		}
		var groups []string
		for i := 0; i < 64; i += 8 {
			groups = append(groups, ph.SHA256[i:i+8])
		}
		name := joinNonEmpty(", ", upperFirst(b.word(string(ph.View))), b.t("%d × %d pixels", ph.WidthPX, ph.HeightPX), when)
		hash := strings.Join(groups, " ")
		lead := b.Small.Size * 1.34
		out = append(out, makeup.Block{Height: 2*lead + 2, Draw: func(p *display.Page, x, y float64) {
			name, _ := b.Small.Cutoff(name, b.TextWidth())
			p.Text(b.Small, x, y+lead*.745, name)
			p.Text(b.Table.In(typeset.Grey), x, y+lead*1.745, "SHA-256  "+hash)
		}})
		if len(out) == 3 {
			break
		}
	}
	if len(out) == 0 {
		return nil
	}
	return append([]makeup.Block{b.sectionHead(b.t("Photographs of this sheet"), b.TextWidth())}, out...)
}

// signatureBlocks leaves room for place, date and signature.
func (b *book) signatureBlocks() []makeup.Block {
	w := b.TextWidth()
	return []makeup.Block{{Before: 3 * b.Lead, Height: b.Lead + 4, Draw: func(p *display.Page, x, y float64) {
		half := w*.5 - 5*makeup.MM
		for i, s := range []string{b.t("place and date"), b.t("signature of the printmaker or publisher")} {
			at := x + float64(i)*(w-half)
			p.Rule(at, y, half, .35, typeset.Rule)
			p.Text(b.Label, at, y+b.Lead*.8, strings.ToLower(s))
		}
	}}}
}

// footers sets the sheet's code and the page of so many at every foot.
func (b *book) footers(im *catalog.Impression) {
	n := len(b.Doc.Pages)
	for i, p := range b.Doc.Pages {
		x := b.Outer * makeup.MM
		if i%2 == 0 {
			x = b.Inner * makeup.MM
		}
		y := b.Bottom() + 12*makeup.MM
		p.Rule(x, y-10, b.TextWidth(), .25, typeset.Hair)
		p.Text(b.CaptionRoman, x, y, b.t("Impression %s", im.ID))
		p.TextRight(b.CaptionRoman, x+b.TextWidth(), y, b.t("%d of %d", i+1, n))
	}
}
