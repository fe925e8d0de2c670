package webpages

import (
	"context"
	"embed"
	"fmt"
	"html/template"
	"io"
	"path/filepath"

	"pullbook/assets/fonts"
	"pullbook/catalog/exchange/entry"
)

//go:embed page
var pages embed.FS

// templates are the two kinds of page.
var templates = template.Must(template.New("").Funcs(template.FuncMap{"cell": newCell}).ParseFS(pages, "page/*.html"))

// cell is a cell of a table; where tables become cards it names itself.
type cell struct {
	Label, Text string
	One         bool // stays on one line
}

func newCell(label, text string) cell {
	return cell{label, text, label == "Sheet" || label == "Printed"}
}

// Options say how the pages are written. The zero Options are ready to use.
type Options struct {
	// Progress is told the share done, 0 to 1; may be nil.
	Progress func(float64)
}

// writer writes the pages of one catalogue.
type writer struct {
	*entry.Catalogue
	dir   string
	pics  entry.Pictures
	files []string // page of each plate, in catalogue order
	shots map[string]shot
	done  int // plates and impressions
	told  func(float64)
}

// step tells that one more plate or impression is done, and returns the
// context's error.
func (w *writer) step(ctx context.Context) error {
	if w.done++; w.told != nil {
		w.told(min(1, float64(w.done)/float64(len(w.Snap.Plates)+len(w.Snap.Impressions)+1)))
	}
	return ctx.Err()
}

// Write writes the pages into the folder dir; index.html is where to begin.
// pics may be nil: then the pages have no pictures.
func Write(ctx context.Context, dir string, c *entry.Catalogue, pics entry.Pictures, o Options) error {
	w := &writer{Catalogue: c, dir: dir, pics: pics, shots: map[string]shot{}, told: o.Progress}
	w.nameFiles()
	if err := w.style(); err != nil {
		return err
	}
	cards := make([]card, 0, len(c.Snap.Plates))
	for i := range c.Snap.Plates {
		if err := ctx.Err(); err != nil {
			return err
		}
		page, err := w.plate(ctx, i)
		if err != nil {
			return err
		}
		if err := w.fill(filepath.Join("plates", w.files[i]), "plate", page); err != nil {
			return err
		}
		cards = append(cards, w.card(i, page))
		if err := w.step(ctx); err != nil {
			return err
		}
	}
	if err := w.fill("index.html", "index", w.index(cards)); err != nil {
		return err
	}
	if o.Progress != nil {
		o.Progress(1)
	}
	return nil
}

// fill writes one page.
func (w *writer) fill(name, kind string, data any) error {
	return entry.WriteFile(filepath.Join(w.dir, name), func(f io.Writer) error {
		return templates.ExecuteTemplate(f, kind, data)
	})
}

// style writes the style sheet, the script, and the book face with its licence.
func (w *writer) style() error {
	for _, f := range []struct {
		name string
		data []byte
	}{
		{"page.css", mustRead("page/page.css")}, {"page.js", mustRead("page/page.js")},
		{"book-regular.ttf", fonts.BookRegular}, {"book-italic.ttf", fonts.BookItalic}, {"book-licence.txt", []byte(fonts.BookLicence)},
	} {
		err := entry.WriteFile(filepath.Join(w.dir, "style", f.name), func(to io.Writer) error {
			_, err := to.Write(f.data)
			return err
		})
		if err != nil {
			return err
		}
	}
	return nil
}

func mustRead(name string) []byte {
	b, err := pages.ReadFile(name)
	if err != nil {
		panic(fmt.Sprintf("webpages: %s is not in the program: %v", name, err))
	}
	return b
}
