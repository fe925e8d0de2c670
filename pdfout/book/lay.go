package book

import (
	"context"
	"fmt"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/say"
	"pullbook/pdfout/display"
	"pullbook/pdfout/makeup"
	"pullbook/pdfout/typeset"
)

// ErrNoPages is returned for a book of which nothing is printed.
var ErrNoPages = say.Errorf("the book has no pages: switch on at least one part that has something to print")

// Lay makes up the whole book. The warnings are sentences about what the
// maker of the book should see to; they do not stop it.
func Lay(ctx context.Context, snap *catalog.Snapshot, o Options) (*display.Document, []string, error) {
	if o.Format.Width == 0 {
		o.Format = makeup.Large
	}
	if o.Parts == nil {
		o.Parts = PartsOf(&snap.Imprint)
	}
	b, err := newBook(ctx, snap, o)
	if err != nil {
		return nil, nil, err
	}
	b.Doc.Title = typeset.Clean(b.title())
	b.Doc.Author = typeset.Clean(strings.TrimSpace(snap.Imprint.Author))
	b.Doc.Subject = typeset.Clean(strings.TrimSpace(snap.Imprint.Subtitle))
	b.Verso = strings.ToLower(b.title())
	for _, p := range o.Parts {
		if p.Off {
			continue
		}
		if err := b.part(p); err != nil {
			return nil, nil, err
		}
	}
	if len(b.Doc.Pages) == 0 {
		return nil, nil, ErrNoPages
	}
	b.contents()
	for _, m := range b.Case.Missing() {
		b.warn(b.t("A raised dot stands in its place: %s.", m.String()))
	}
	return b.Doc, b.warnings, nil
}

// warn adds a warning once.
func (b *book) warn(s string) {
	for _, w := range b.warnings {
		if w == s {
			return
		}
	}
	b.warnings = append(b.warnings, s)
}

// title is the title of the book.
func (b *book) title() string {
	if t := strings.TrimSpace(b.snap.Imprint.Title); t != "" {
		return t
	}
	if n := b.personName(b.snap.Imprint.MakerID); n != "" {
		return n
	}
	return b.t("Catalogue of prints")
}

// isFront reports whether a part belongs to the front matter, which is numbered
// in roman figures.
func isFront(k Kind) bool {
	switch k {
	case HalfTitle, TitlePage, ImprintPage, Contents, Introduction, Notes, Abbreviations, Chronology:
		return true
	}
	return false
}

// part makes up one part. Parts with nothing to print leave no page.
func (b *book) part(p Part) error {
	if err := b.ctx.Err(); err != nil {
		return err
	}
	if !isFront(p.Kind) && p.Kind != OwnText && len(b.Doc.Pages) > 0 {
		b.StartArabic()
	}
	switch p.Kind {
	case TitleIndex, PersonIndex, MethodIndex, PaperIndex, HolderIndex, Credits:
	default:
		b.sharing = false
	}
	switch p.Kind {
	case HalfTitle:
		b.halfTitle()
	case TitlePage:
		b.titlePage()
	case ImprintPage:
		b.imprintPage(p)
	case Contents:
		b.keepContents(p)
	case Introduction:
		b.prosePart(p, b.t("Introduction"), b.snap.Imprint.Introduction)
	case Notes:
		b.notes(p)
	case Abbreviations:
		b.abbreviations(p)
	case Chronology:
		b.chronology(p)
	case Plates, Addenda, DoubtfulPart, RejectedPart:
		return b.entries(p)
	case Groups:
		b.groupsPart(p)
	case Watermarks:
		b.watermarks(p)
	case Concordances:
		b.concordances(p)
	case TitleIndex, PersonIndex, MethodIndex, PaperIndex, HolderIndex:
		b.indexPart(p)
	case Credits:
		b.credits(p)
	case Colophon:
		b.colophon(p)
	case OwnText:
		b.prosePart(p, p.Heading, "")
	}
	return nil
}

// heading of a part: the user's own or the usual one.
func (p Part) heading(usual string) string {
	if p.Heading != "" {
		return p.Heading
	}
	return usual
}

// chapter opens a part with its heading and lists it.
func (b *book) chapter(heading string, recto bool) {
	if recto {
		b.EvenOut()
	}
	b.Open()
	key := fmt.Sprintf("part-%d", len(b.listed))
	b.Recto = strings.ToLower(heading)
	b.Anchor(key)
	b.Bookmark(0, heading)
	b.listed = append(b.listed, listing{title: heading, page: b.Index(), key: key})
	b.Y = b.Top() + b.Lead
	b.Flow(b.headBlocks(heading))
}

// section opens a part of the back matter on the page in hand, where that is
// back matter too and has room; else on a new one.
func (b *book) section(heading string) {
	if !b.sharing || b.Room() < 16*b.Lead {
		b.chapter(heading, false)
		b.sharing = true
		return
	}
	b.Y += 2.4 * b.Lead
	key := fmt.Sprintf("part-%d", len(b.listed))
	b.Anchor(key)
	b.Bookmark(0, heading)
	b.listed = append(b.listed, listing{title: heading, page: b.Index(), key: key})
	b.Flow(b.headBlocks(heading))
}

// headBlocks sets the heading of a part.
func (b *book) headBlocks(heading string) []makeup.Block {
	lead := b.Chapter.Size * 1.16
	blocks := makeup.LineBlocks(b.Case.Break(typeset.Paragraph{
		Spans: []typeset.Span{{Style: b.Chapter, Text: heading}}, Width: b.TextWidth(), Ragged: true, MaxLines: 4}), lead)
	for i := range blocks {
		blocks[i].Keep = true
	}
	return append(blocks, makeup.Block{Height: 1.6 * b.Lead})
}

// prosePart makes up a part of running text.
func (b *book) prosePart(p Part, usual, text string) {
	if strings.TrimSpace(p.Text) != "" {
		text = p.Text
	}
	if strings.TrimSpace(text) == "" {
		return
	}
	b.chapter(p.heading(usual), true)
	b.Flow(b.Prose(text, b.proseWidth()))
}

// proseWidth is the width of running text: short enough for the eye, about 75
// letters (common practice).
func (b *book) proseWidth() float64 { return min(b.TextWidth(), 34*b.TextSize*1.18) }
