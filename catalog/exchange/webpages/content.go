package webpages

import (
	"context"
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/runes"
	"golang.org/x/text/transform"
	"golang.org/x/text/unicode/norm"

	"pullbook/catalog"
	"pullbook/catalog/exchange/entry"
	"pullbook/catalog/notation"
)

// card is one plate in the list.
type card struct {
	File, Number, Title, Line, Standing, Words string
	Thumb                                      file
}

// indexPage is what the first page says.
type indexPage struct {
	Title, Subtitle, By, Introduction, Rights, Colophon string
	Plates                                              []card
	Literature, Exhibitions                             []string
}

// fact is one line of a plate's data.
type fact struct{ Label, Text string }

// link is a page before or after.
type link struct{ File, Name string }

// stateLine, editionLine and sheetLine are rows of a plate's page.
type stateLine struct {
	Roman, Text, Note string
	Picture           *shot
}
type editionLine struct{ Name, State, Date, Count, Paper, Printer string }
type sheetLine struct {
	Picture                                     *shot
	State, Number, Size, Paper, Printed, Holder string
	Chain                                       []string
}

// platePage is what a plate's page says.
type platePage struct {
	Catalogue, Number, Title, Also, Date, Technique, Size, Standing, Remarks, Rights string
	Before, After                                                                    *link
	Main                                                                             *shot
	Facts                                                                            []fact
	States                                                                           []stateLine
	Compare                                                                          []shot
	Editions                                                                         []editionLine
	Sheets                                                                           []sheetLine
	Literature, Exhibitions                                                          []string
}

// catalogueTitle is the title of the whole, never empty.
func (w *writer) catalogueTitle() string {
	if t := w.Snap.Imprint.Title; t != "" {
		return t
	}
	return "The plates"
}

// index gathers the first page.
func (w *writer) index(cards []card) indexPage {
	m := w.Snap.Imprint
	p := indexPage{Title: w.catalogueTitle(), Subtitle: m.Subtitle, Introduction: m.Introduction, Rights: m.Rights, Colophon: m.Colophon, Plates: cards}
	p.By = joinSome(", ", m.Author, joinSome(" ", joinSome(": ", m.Place, m.Publisher), m.Year))
	for i := range w.Snap.Literature {
		p.Literature = append(p.Literature, workText(&w.Snap.Literature[i]))
	}
	for i := range w.Snap.Exhibitions {
		p.Exhibitions = append(p.Exhibitions, exhibitionText(&w.Snap.Exhibitions[i]))
	}
	return p
}

func workText(l *catalog.Literature) string {
	s := joinSome(", ", l.Authors, l.Title, l.Published, entry.DateText(l.Year))
	if l.Short != "" && s != "" {
		return l.Short + ": " + s
	}
	return l.Short + s
}

func exhibitionText(e *catalog.Exhibition) string {
	title := e.Title
	if title == "" {
		title = e.Short
	}
	place := e.Place
	if strings.Contains(e.Venue, place) {
		place = ""
	}
	return joinSome(", ", title, e.Venue, place, entry.DateText(e.Date))
}

// joinSome joins what is not empty.
func joinSome(sep string, parts ...string) string {
	var some []string
	for _, p := range parts {
		if p != "" {
			some = append(some, p)
		}
	}
	return strings.Join(some, sep)
}

// card makes the list entry of a plate from its page.
func (w *writer) card(i int, page platePage) card {
	c := card{File: w.files[i], Number: page.Number, Title: page.Title, Standing: page.Standing,
		Line: joinSome(" · ", page.Date, page.Technique)}
	c.Words = joinSome(" ", page.Number, page.Title, page.Also, page.Date, page.Technique, strings.Join(w.Snap.Plates[i].Subjects, " "))
	if page.Main != nil {
		c.Thumb = page.Main.Thumb
		c.Thumb.Src = strings.TrimPrefix(c.Thumb.Src, "../")
	}
	return c
}

// plate gathers the page of a plate and makes its pictures.
func (w *writer) plate(ctx context.Context, i int) (platePage, error) {
	p := &w.Snap.Plates[i]
	clear(w.shots) // photographs belong to one plate
	page := platePage{Catalogue: w.catalogueTitle(), Number: p.Number.String(), Title: w.Title(p), Date: entry.DateText(p.Date),
		Technique: entry.TechniqueText(p.Techniques), Size: sizeText(p.MeasureSize()), Remarks: p.Remarks, Rights: w.Snap.Imprint.Rights}
	if p.Title() == "" {
		page.Number = "" // it is in the title already
	}
	if p.Standing != "" && p.Standing != catalog.Accepted {
		page.Standing = string(p.Standing)
	}
	var also []string
	for k, t := range p.Titles {
		if k > 0 && t.Text != "" {
			also = append(also, t.Text)
		}
	}
	page.Also = strings.Join(also, " · ")
	if i > 0 {
		page.Before = w.link(i - 1)
	}
	if i+1 < len(w.Snap.Plates) {
		page.After = w.link(i + 1)
	}
	page.Facts = w.facts(p)
	page.Editions = w.editionLines(p)
	page.Literature, page.Exhibitions = w.citations(p), w.showings(p)
	if err := w.statesAndSheets(ctx, p, &page); err != nil {
		return page, err
	}
	return page, nil
}

func (w *writer) link(i int) *link {
	p := &w.Snap.Plates[i]
	return &link{w.files[i], joinSome(" ", p.Number.String(), p.Title())}
}

// facts are the data of a plate in label and text.
func (w *writer) facts(p *catalog.Plate) []fact {
	copper := sizeText(p.Copper)
	if p.Mark.IsZero() {
		copper = "" // shown as the plate's size already
	}
	var groups, inscriptions []string
	for _, g := range p.GroupIDs {
		if r := w.Group(g); r != nil {
			groups = append(groups, joinSome(", ", r.Title, entry.DateText(r.Date)))
		}
	}
	for _, in := range p.Inscriptions {
		inscriptions = append(inscriptions, joinSome(", ", "‘"+in.Text+"’", in.Place))
	}
	fate := joinSome(". ", capital(joinSome(", ", string(p.Fate), entry.DateText(p.FateDate))), p.FateNote)
	maker := ""
	if r := w.Person(p.MakerID); r != nil {
		maker = r.Name
	}
	steel := ""
	if p.SteelFaced {
		steel = "steel-faced"
	}
	var out []fact
	for _, f := range []fact{{"Printmaker", maker}, {"Metal", joinSome(", ", p.Metal, steel)}, {"Metal size", copper}, {"In the plate", strings.Join(inscriptions, "\n")},
		{"Portfolio", strings.Join(groups, "\n")}, {"The plate now", fate}, {"Subjects", strings.Join(p.Subjects, ", ")}} {
		if f.Text != "" {
			out = append(out, f)
		}
	}
	return out
}

// editionLines are the rows of the editions.
func (w *writer) editionLines(p *catalog.Plate) []editionLine {
	var out []editionLine
	for _, e := range w.Editions(p.ID) {
		name := e.Name
		if name == "" {
			name = e.Kind
		}
		l := editionLine{Name: name, State: w.StateText(w.State(e.StateID)), Date: entry.DateText(e.Date), Count: strings.TrimPrefix(entry.EditionText(e), e.Kind+" of ")}
		if r := w.Paper(e.PaperID); r != nil {
			l.Paper = r.Name
		}
		if r := w.Person(e.PrinterID); r != nil {
			l.Printer = r.Name
		}
		out = append(out, l)
	}
	return out
}

// statesAndSheets fills states, comparison and impressions, with pictures.
func (w *writer) statesAndSheets(ctx context.Context, p *catalog.Plate, page *platePage) error {
	for _, s := range w.States(p.ID) {
		roman := notation.Roman(s.N)
		pic, err := w.shoot(ctx, p, w.StatePhotograph(s), fmt.Sprintf("%s, state %s", w.Title(p), roman), true)
		if err != nil {
			return err
		}
		line := stateLine{Roman: roman, Text: s.Description, Note: joinSome(" · ", entry.DateText(s.Date), s.Remarks), Picture: pic.ofPlate()}
		page.States = append(page.States, line)
		if pic == nil {
			continue
		}
		pic.Caption = "State " + roman
		if pic.Plate.View.Src != "" {
			page.Compare = append(page.Compare, *pic.ofPlate())
		}
		page.Main = pic.ofPlate() // the last state shown stands at the head
	}
	if len(page.States) == 1 && page.States[0].Text == "" {
		page.States = nil
	}
	if len(page.Compare) < 2 {
		page.Compare = nil
	} else {
		page.Compare[len(page.Compare)-1].Last = true
	}
	for _, im := range w.Impressions(p.ID) {
		pic, err := w.shoot(ctx, p, w.Whole(im.ID), w.Title(p)+", "+w.SheetLabel(im), page.Main == nil)
		if err != nil {
			return err
		}
		if err := w.step(ctx); err != nil {
			return err
		}
		page.Sheets = append(page.Sheets, w.sheetLine(im, pic))
		if page.Main == nil && pic != nil {
			main := *pic
			main.Caption = capital(w.SheetLabel(im))
			page.Main = main.ofPlate()
		}
	}
	return nil
}

func (w *writer) sheetLine(im *catalog.Impression, pic *shot) sheetLine {
	l := sheetLine{Picture: pic, State: w.StateText(w.State(im.StateID)), Number: w.NumberText(im), Size: sizeText(im.Sheet),
		Printed: entry.DateText(w.Made(im)), Holder: w.HolderText(im.HolderID)}
	if r := w.Paper(im.PaperID); r != nil {
		l.Paper = joinSome(", ", r.Name, r.Kind)
	}
	if im.Inventory != "" && w.Public(im.HolderID) {
		l.Holder = joinSome(", ", l.Holder, "no. "+im.Inventory)
	}
	for _, o := range im.Provenance {
		l.Chain = append(l.Chain, w.OwnerText(o))
	}
	return l
}

func (w *writer) citations(p *catalog.Plate) []string {
	var out []string
	for _, c := range p.Literature {
		r := w.Work(c.WorkID)
		if r == nil {
			continue
		}
		name := r.Short
		if name == "" {
			name = r.Title
		}
		number, pages := "", ""
		if c.Number != "" {
			number = "no. " + c.Number
		}
		if c.Pages != "" {
			pages = "p. " + c.Pages
		}
		out = append(out, joinSome(", ", name, number, pages, c.Note))
	}
	return out
}

func (w *writer) showings(p *catalog.Plate) []string {
	var out []string
	for _, s := range p.Exhibitions {
		if e := w.Exhibition(s.ExhibitionID); e != nil {
			number := ""
			if s.Number != "" {
				number = "no. " + s.Number
			}
			out = append(out, joinSome(", ", exhibitionText(e), number))
		}
	}
	return out
}

// sizeText writes a size with the sign of multiplication.
func sizeText(s catalog.Size) string {
	return strings.Replace(notation.FormatSize(s), " x ", " × ", 1)
}

func capital(s string) string {
	for i, r := range s {
		return string(unicode.ToUpper(r)) + s[i+len(string(r)):]
	}
	return s
}

// nameFiles gives each plate's page a name from its number and title that is
// used once.
func (w *writer) nameFiles() {
	used := map[string]bool{"": true}
	for i := range w.Snap.Plates {
		p := &w.Snap.Plates[i]
		name := slug(joinSome(" ", p.Number.String(), p.Title()))
		for n := 2; used[name]; n++ {
			name = slug(joinSome(" ", p.Number.String(), p.Title(), fmt.Sprint(n)))
		}
		used[name] = true
		w.files = append(w.files, name+".html")
	}
}

// slug writes a text with the letters a to z, figures and hyphens.
func slug(s string) string {
	unaccent := transform.Chain(norm.NFD, runes.Remove(runes.In(unicode.Mn)), norm.NFC)
	t, _, err := transform.String(unaccent, strings.ToLower(s))
	if err != nil {
		t = strings.ToLower(s)
	}
	words := strings.FieldsFunc(t, func(r rune) bool { return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9') })
	out := strings.Join(words, "-")
	if len(out) > 60 {
		out = strings.Trim(out[:60], "-")
	}
	return out
}
