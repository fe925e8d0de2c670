// Package pdf writes a laid-out document as a PDF file. gofpdf writes pages,
// outline, links and font subsets; package finish turns its output into the
// file we want.
package pdf

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"time"

	"github.com/jung-kurt/gofpdf"

	"pullbook/pdfout/display"
	"pullbook/pdfout/finish"
	"pullbook/pdfout/typeset"
)

// BleedPt is the bleed round a page for the printer: 3 mm in points.
const BleedPt = 3 * 72 / 25.4

// slug is the paper round the bleed that carries the crop marks.
const slug = 7 * 72 / 25.4

// Options say how a document is written.
type Options struct {
	Palette  Palette
	Bleed    bool // bleed, crop marks and page boxes
	Archive  bool // PDF/A-2b rules; else PDF/X-4 rules where ICC is a printer's profile
	ICC      []byte
	ICCName  string
	Created  time.Time
	Progress func(done, total int)
	// Discard gives up each page's items once they are drawn, to save memory.
	Discard bool
}

// writer draws pages through gofpdf.
type writer struct {
	pdf      *gofpdf.Fpdf
	doc      *display.Document
	opt      Options
	margin   float64 // from the sheet's edge to the trim
	height   float64 // of the sheet
	pictures map[string]*placedFile
	files    []finish.Picture
	links    map[string]int
	style    typeset.Style
	hasStyle bool
	face     *typeset.Face
	buf      []byte
}

// placedFile is a picture file registered with gofpdf.
type placedFile struct{ name string }

// Write writes the document. It returns an error, not a panic, whatever gofpdf
// does.
func Write(ctx context.Context, w io.Writer, doc *display.Document, o Options) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("the PDF could not be written: %v", r)
		}
	}()
	if len(doc.Pages) == 0 {
		return fmt.Errorf("there is nothing to print: the document has no pages")
	}
	d := &writer{doc: doc, opt: o, pictures: map[string]*placedFile{}, links: map[string]int{}}
	if err := d.draw(ctx); err != nil {
		return err
	}
	var raw whole
	if err := d.pdf.Output(&raw); err != nil {
		return fmt.Errorf("the PDF could not be written: %w", err)
	}
	d.pdf = nil
	return finish.Write(ctx, w, raw, finish.Options{
		Title: doc.Title, Author: doc.Author, Subject: doc.Subject, Language: doc.Language,
		Created: o.Created, Archive: o.Archive, ICC: o.ICC, ICCName: o.ICCName,
		Labels: labels(doc), Faces: doc.Case.Faces(), Pictures: d.files,
	})
}

// whole takes over the one slice that gofpdf's buffer writes, without copying
// it: the buffer is not used again.
type whole []byte

func (w *whole) Write(b []byte) (int, error) {
	if *w == nil {
		*w = b
	} else {
		*w = append(*w, b...)
	}
	return len(b), nil
}

// draw draws all pages.
func (d *writer) draw(ctx context.Context) error {
	first := d.doc.Pages[0]
	if d.opt.Bleed {
		d.margin = BleedPt + slug
	}
	d.height = first.Height + 2*d.margin
	d.pdf = gofpdf.NewCustom(&gofpdf.InitType{UnitStr: "pt",
		Size: gofpdf.SizeType{Wd: first.Width + 2*d.margin, Ht: d.height}})
	d.pdf.SetAutoPageBreak(false, 0)
	d.pdf.SetMargins(0, 0, 0)
	d.pdf.SetCompression(false) // the finisher compresses, at a better level
	d.pdf.SetCatalogSort(true)
	d.pdf.SetCreationDate(d.opt.Created)
	d.pdf.SetModificationDate(d.opt.Created)
	for _, f := range d.doc.Case.Faces() {
		d.pdf.AddUTF8FontFromBytes(f.Key, "", f.ByGlyph())
	}
	marks := d.doc.Outline
	for i, p := range d.doc.Pages {
		if err := ctx.Err(); err != nil {
			return err
		}
		d.page(p)
		for len(marks) > 0 && marks[0].Page <= i {
			d.pdf.SetFont(d.doc.Case.Faces()[0].Key, "", 10) // titles become UTF-16 only under such a font
			d.hasStyle = false
			d.pdf.Bookmark(typeset.Clean(marks[0].Title), marks[0].Level, marks[0].Y+d.margin)
			marks = marks[1:]
		}
		if err := d.pdf.Error(); err != nil {
			return fmt.Errorf("page %d could not be drawn: %w", i+1, err)
		}
		if d.opt.Discard {
			p.Items, p.Links, p.Anchors = nil, nil, nil
		}
		if d.opt.Progress != nil {
			d.opt.Progress(i+1, len(d.doc.Pages))
		}
	}
	d.registerGlyphs()
	return d.pdf.Error()
}

// registerGlyphs tells gofpdf's subsetter which glyphs were drawn: text in a
// template that is never placed marks them.
func (d *writer) registerGlyphs() {
	for _, f := range d.doc.Case.Faces() {
		var codes []rune
		for _, g := range f.Used() {
			codes = append(codes, rune(g))
		}
		d.pdf.CreateTemplateCustom(gofpdf.PointType{}, gofpdf.SizeType{Wd: 10, Ht: 10}, func(t *gofpdf.Tpl) {
			t.SetFont(f.Key, "", 10)
			t.Text(0, 0, string(codes))
		})
	}
}

// page draws one page.
func (d *writer) page(p *display.Page) {
	d.pdf.AddPage()
	d.hasStyle = false
	d.face = nil
	if d.opt.Bleed {
		d.pdf.SetPageBox("trim", d.margin, d.margin, p.Width, p.Height)
		d.pdf.SetPageBox("bleed", slug, slug, p.Width+2*BleedPt, p.Height+2*BleedPt)
		d.cropMarks(p)
	}
	for _, a := range p.Anchors {
		d.pdf.SetLink(d.link(a.Key), a.Y+d.margin, d.pdf.PageNo())
	}
	for _, it := range p.Items {
		switch it := it.(type) {
		case *display.Text:
			d.text(it)
		case *display.Picture:
			d.picture(it)
		default:
			d.shape(it)
		}
	}
	if d.opt.Archive {
		for _, l := range p.Links {
			d.pdf.Link(l.Area.X+d.margin, l.Area.Y+d.margin, l.Area.W, l.Area.H, d.link(l.Key))
		}
	}
}

// link returns gofpdf's number for an anchor.
func (d *writer) link(key string) int {
	id, ok := d.links[key]
	if !ok {
		id = d.pdf.AddLink()
		d.links[key] = id
	}
	return id
}

// picture places a stub for a JPEG file under the picture's matrix.
func (d *writer) picture(p *display.Picture) {
	file, ok := d.pictures[p.Path]
	if !ok {
		file = d.register(p)
		d.pictures[p.Path] = file
	}
	clipped := p.Clip.W > 0
	if clipped {
		d.pdf.ClipRect(p.Clip.X+d.margin, p.Clip.Y+d.margin, p.Clip.W, p.Clip.H, false)
	}
	// The unit square at gofpdf's lower left corner, carried to its place: page
	// y runs down, PDF y up.
	t := p.To
	d.pdf.TransformBegin()
	d.pdf.Transform(gofpdf.TransformMatrix{A: t[0], B: -t[1], C: -t[2], D: t[3],
		E: t[2] + t[4] + d.margin, F: d.height - d.margin - t[3] - t[5]})
	d.pdf.ImageOptions(file.name, 0, d.height-1, 1, 1, false, gofpdf.ImageOptions{ImageType: "JPG"}, 0, "")
	d.pdf.TransformEnd()
	if clipped {
		d.pdf.ClipEnd()
	}
	d.hasStyle = false
}

// register tells gofpdf of a picture file by its stub.
func (d *writer) register(p *display.Picture) *placedFile {
	name := fmt.Sprintf("%06d", len(d.files))
	d.files = append(d.files, finish.Picture{Path: p.Path, Info: p.Info})
	d.pdf.RegisterImageOptionsReader(name, gofpdf.ImageOptions{ImageType: "JPG"}, bytes.NewReader(p.Info.Stub(name)))
	return &placedFile{name: name}
}

// cropMarks draws hairlines outside the bleed that point at the trim.
func (d *writer) cropMarks(p *display.Page) {
	gap := BleedPt + 2.8
	ink := typeset.Mark
	line := func(x1, y1, x2, y2 float64) {
		d.shape(&display.Rule{X1: x1, Y1: y1, X2: x2, Y2: y2, Width: .25, Ink: ink})
	}
	end := d.margin
	for _, x := range []float64{0, p.Width} {
		line(x, -end, x, -gap)
		line(x, p.Height+gap, x, p.Height+end)
	}
	for _, y := range []float64{0, p.Height} {
		line(-end, y, -gap, y)
		line(p.Width+gap, y, p.Width+end, y)
	}
}
