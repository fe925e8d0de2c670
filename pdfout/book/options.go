// Package book makes up the printed catalogue: front matter, an entry for each
// plate in the order of the trade, back matter. It reads a catalogue snapshot
// and asks for pictures through the options; it measures nothing.
package book

import (
	"context"
	"slices"

	"pullbook/catalog"
	"pullbook/catalog/say"
	"pullbook/pdfout/makeup"
)

// Kind names a part of the book.
type Kind string

// Parts of the book, in their usual order.
const (
	HalfTitle     Kind = "half-title"
	TitlePage     Kind = "title page"
	ImprintPage   Kind = "imprint"
	Contents      Kind = "contents"
	Introduction  Kind = "introduction"
	Notes         Kind = "notes to the reader"
	Abbreviations Kind = "abbreviations"
	Chronology    Kind = "chronology"
	Plates        Kind = "the plates"
	Addenda       Kind = "addenda"
	DoubtfulPart  Kind = "doubtful works"
	RejectedPart  Kind = "rejected works"
	Groups        Kind = "portfolios and series"
	Watermarks    Kind = "watermarks"
	Concordances  Kind = "concordances"
	TitleIndex    Kind = "index of titles"
	PersonIndex   Kind = "index of persons"
	MethodIndex   Kind = "index of techniques"
	PaperIndex    Kind = "index of papers"
	HolderIndex   Kind = "index of holders"
	Credits       Kind = "picture credits"
	Colophon      Kind = "colophon"
	OwnText       Kind = "own text" // a part of the user's own: Heading and Text
)

// Part is one part of the book. Heading, where set, replaces the usual one.
// Text is the user's own, with *italic*, **strong**, empty lines between
// paragraphs and "## " before heads; it replaces the text of the introduction,
// notes, colophon and rights, and stands before the matter of other parts.
type Part struct {
	Kind    Kind
	Heading string
	Text    string
	Off     bool
}

// DefaultParts returns all parts in their usual order, all switched on.
func DefaultParts() []Part {
	var out []Part
	for _, k := range []Kind{HalfTitle, TitlePage, ImprintPage, Contents, Introduction, Notes, Abbreviations, Chronology,
		Plates, Addenda, DoubtfulPart, RejectedPart, Groups, Watermarks, Concordances,
		TitleIndex, PersonIndex, MethodIndex, PaperIndex, HolderIndex, Credits, Colophon} {
		out = append(out, Part{Kind: k})
	}
	return out
}

// PartsOf are the parts of the book as a catalogue says they are put together:
// those it names in their order, then those it does not name, each after the
// part it usually follows. Kinds of a later version are left out.
func PartsOf(im *catalog.Imprint) []Part {
	var out []Part
	for _, p := range im.Book {
		k := Kind(p.Kind)
		if k == OwnText || slices.ContainsFunc(DefaultParts(), func(d Part) bool { return d.Kind == k }) {
			out = append(out, Part{Kind: k, Heading: p.Heading, Text: p.Text, Off: p.Off})
		}
	}
	before := -1 // place of the part that usually stands before
	for _, d := range DefaultParts() {
		at := slices.IndexFunc(out, func(p Part) bool { return p.Kind == d.Kind })
		if at < 0 {
			at = before + 1
			out = slices.Insert(out, at, d)
		}
		before = at
	}
	return out
}

// Heads names the usual heading of each part, for those who choose among them.
func Heads(language string) map[Kind]string {
	l := tongueOf(language)
	out := map[Kind]string{}
	for k, head := range heads {
		out[k] = l.Text(head)
	}
	return out
}

var heads = map[Kind]string{HalfTitle: "Half-title", TitlePage: "Title page", ImprintPage: "Imprint", Contents: "Contents", Introduction: "Introduction",
	Notes: "Notes to the reader", Abbreviations: "Abbreviations", Chronology: "Chronology", Plates: "The plates", Addenda: "Addenda", DoubtfulPart: "Doubtful works",
	RejectedPart: "Rejected works", Groups: "Portfolios and series", Watermarks: "Watermarks", Concordances: "Concordances", TitleIndex: "Index of titles",
	PersonIndex: "Index of persons", MethodIndex: "Index of techniques", PaperIndex: "Index of papers", HolderIndex: "Index of holders",
	Credits: "Picture credits", Colophon: "Colophon", OwnText: "A text of your own"}

// Options say how the book is made. The zero value is a book of 230 x 300 mm
// with all parts and no pictures.
type Options struct {
	Format   makeup.Format
	Parts    []Part // nil: those of the imprint
	Language string // BCP 47, of the book's own words and for hyphenation; empty: the imprint's, else en-GB
	// Picture gives the photograph as an upright or EXIF-turned JPEG file.
	Picture func(photo catalog.ID) (path string, err error)
	// Plate gives the plate alone, rectified, its edges the plate mark; nil or an
	// error: the photograph is used, cropped by its marked corners.
	Plate func(photo catalog.ID) (path string, err error)
	// Detail gives a rectified part of the plate, box x0, y0, x1, y1 in mm; nil or
	// an error: it is cropped out of the photograph.
	Detail func(photo catalog.ID, box [4]float64) (path string, err error)
	// Archive refuses what an archive file must not hold.
	Archive bool
	// SimpleOrder begins every entry on the next page; else an entry of two pages
	// begins on a left-hand one, so that picture and facts face each other.
	SimpleOrder bool
	// ShowPrivate prints the names of private holders; else "private collection".
	ShowPrivate bool
	Progress    func(done, total int, what string)
}

// book is the work of making up one book.
type book struct {
	*makeup.Maker
	*lookup
	ctx      context.Context
	opt      Options
	warnings []string
	listed   []listing // lines of the contents
	standIns []standIn // pages kept for the contents
	done     int
	views    map[catalog.ID]seen // by photograph
	lang     *say.Language
	sharing  bool // the page in hand is back matter that short parts may share
}

// listing is one line of the contents.
type listing struct {
	kind   int // 0 a part, 1 an entry
	number string
	title  string
	page   int // index
	key    string
}

// standIn is a run of pages kept free for the contents.
type standIn struct{ first, n int }
