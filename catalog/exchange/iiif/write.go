package iiif

import (
	"context"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/exchange/entry"
)

// DefaultBase is the address used when none is given: that of a plain web
// server on one's own machine, for trying the folder out.
const DefaultBase = "http://localhost:8000"

// Options say how a catalogue is written. The zero Options are ready to use.
type Options struct {
	// Base is the http(s) address at which the folder will stand; empty means
	// DefaultBase.
	Base string
	// Progress is told the share done, 0 to 1; may be nil.
	Progress func(float64)
}

type writer struct {
	*entry.Catalogue
	base, dir string
	pics      entry.Pictures
	done, all int // plates and photographs
	progress  func(float64)
}

// step tells that one more plate or photograph is done, and returns the
// context's error.
func (w *writer) step(ctx context.Context) error {
	if w.done++; w.progress != nil {
		w.progress(min(1, float64(w.done)/float64(w.all)))
	}
	return ctx.Err()
}

// Write writes collection.json, a manifest for each plate that has a
// photograph, and the tiles, into the folder dir. pics may be nil: then
// nothing can be shown and only the collection is written. Memory grows by one
// plate at a time.
func Write(ctx context.Context, dir string, c *entry.Catalogue, pics entry.Pictures, o Options) error {
	base := strings.TrimRight(o.Base, "/")
	if base == "" {
		base = DefaultBase
	}
	if !strings.HasPrefix(base, "http://") && !strings.HasPrefix(base, "https://") {
		return fmt.Errorf("the address %q does not begin with http:// or https://, which the format wants", o.Base)
	}
	w := &writer{Catalogue: c, base: base, dir: dir, pics: pics, all: len(c.Snap.Plates) + len(c.Snap.Photographs), progress: o.Progress}
	title := c.Snap.Imprint.Title
	if title == "" {
		title = "Catalogue"
	}
	all := node{Context: presentation, ID: base + "/collection.json", Type: "Collection", Label: en(title), Items: []node{}}
	for i := range c.Snap.Plates {
		if err := ctx.Err(); err != nil {
			return err
		}
		m, ok, err := w.manifest(ctx, &c.Snap.Plates[i])
		if err != nil {
			return err
		}
		if ok {
			if err := entry.WriteJSON(filepath.Join(dir, "plates", fileName(string(c.Snap.Plates[i].ID)), "manifest.json"), m); err != nil {
				return err
			}
			all.Items = append(all.Items, node{ID: m.ID, Type: "Manifest", Label: m.Label, Thumbnail: m.Thumbnail})
		}
		if err := w.step(ctx); err != nil {
			return err
		}
	}
	if err := entry.WriteJSON(filepath.Join(dir, "collection.json"), collection{all, all.Items}); err != nil {
		return err
	}
	if o.Progress != nil {
		o.Progress(1)
	}
	return entry.WriteFile(filepath.Join(dir, "README.txt"), func(f io.Writer) error {
		_, err := fmt.Fprintf(f, readme, base, base)
		return err
	})
}

// collection writes items even when there are none, as the API requires.
type collection struct {
	node
	Items []node `json:"items"`
}

const presentation = "http://iiif.io/api/presentation/3/context.json"

const readme = `These files follow IIIF Presentation 3.0 and Image 3.0 (level 0).
They are plain files: copy this folder to any web server so that it stands at

    %s

and open %s/collection.json, or the manifest of one plate, in a IIIF viewer.
The server must allow other sites to read the files (the HTTP header
Access-Control-Allow-Origin: *). To place them at another address, export
again with that address.
`

// manifest makes the manifest of a plate; ok is false when no impression of it
// has a photograph.
func (w *writer) manifest(ctx context.Context, p *catalog.Plate) (m node, ok bool, err error) {
	at := w.base + "/plates/" + fileName(string(p.ID))
	label := w.Title(p)
	if n := p.Number.String(); n != "" && p.Title() != "" {
		label = n + ". " + label
	}
	m = node{Context: presentation, ID: at + "/manifest.json", Type: "Manifest", Label: en(label), Metadata: w.plateMetadata(p), Behavior: []string{"individuals"}}
	if t := entry.TechniqueText(p.Techniques); t != "" {
		m.Summary = en(t)
	}
	w.rights(&m)
	if press := w.Snap.Imprint.Publisher; press != "" {
		m.Provider = []node{{ID: w.base + "/#publisher", Type: "Agent", Label: en(press)}}
	}
	if w.pics == nil {
		return m, false, nil
	}
	ranges := map[catalog.ID]*node{}
	for _, im := range w.Impressions(p.ID) {
		for _, photo := range w.Photographs(im.ID) {
			canvas, err := w.canvas(ctx, at, p, im, photo, len(m.Items)+1)
			if err != nil {
				return m, false, fmt.Errorf("the pictures of %s, %s, were not made: %w", w.Title(p), w.SheetLabel(im), err)
			}
			if err := w.step(ctx); err != nil {
				return m, false, err
			}
			m.Items = append(m.Items, canvas)
			if len(m.Thumbnail) == 0 {
				m.Thumbnail = canvas.Thumbnail
			}
			if s := w.State(im.StateID); s != nil {
				if ranges[s.ID] == nil {
					ranges[s.ID] = &node{ID: at + "/range/" + strconv.Itoa(s.N), Type: "Range", Label: en(stateLabel(w.StateText(s)))}
				}
				ranges[s.ID].Items = append(ranges[s.ID].Items, node{ID: canvas.ID, Type: "Canvas"})
			}
		}
	}
	for _, s := range w.States(p.ID) {
		if r := ranges[s.ID]; r != nil {
			m.Structures = append(m.Structures, *r)
		}
	}
	return m, len(m.Items) > 0, nil
}

// stateLabel words a state on its own: "state II/IV", "only state".
func stateLabel(s string) string {
	if s == "only state" {
		return s
	}
	return "state " + s
}

// rights gives the statement of rights: an address where it is one, and always
// as words to be shown.
func (w *writer) rights(m *node) {
	r := w.Snap.Imprint.Rights
	if r == "" {
		return
	}
	if rightsAddress.MatchString(r) {
		m.Rights = r
	}
	m.RequiredStatement = &pair{en("Rights"), en(plain(r))}
}

// rightsAddress matches the addresses the API allows as rights: those of
// Creative Commons and RightsStatements.org, both http (Presentation 3.0, 3.1).
var rightsAddress = regexp.MustCompile(`^http://(?:creativecommons\.org/(?:licenses|publicdomain)/|rightsstatements\.org/vocab/)\S+$`)

// plain keeps a text from being taken for HTML, which the API recognises by
// its first and last sign.
func plain(s string) string {
	if strings.HasPrefix(s, "<") && strings.HasSuffix(s, ">") {
		return " " + s
	}
	return s
}

func (w *writer) plateMetadata(p *catalog.Plate) []pair {
	return pairs(
		"Number", p.Number.String(), "Date", entry.DateText(p.Date), "Printmaker", w.name(p.MakerID),
		"Technique", entry.TechniqueText(p.Techniques), "Plate", entry.DimensionsText(p, nil), "Metal", p.Metal)
}

func (w *writer) name(id catalog.ID) string {
	if r := w.Person(id); r != nil {
		return r.Name
	}
	return ""
}

// pairs makes metadata of labels and values in turn, leaving out empty values.
func pairs(list ...string) []pair {
	var out []pair
	for i := 0; i+1 < len(list); i += 2 {
		if list[i+1] != "" {
			out = append(out, pair{en(list[i]), none(plain(list[i+1]))})
		}
	}
	return out
}

// canvas makes the canvas of one photograph, and its files.
func (w *writer) canvas(ctx context.Context, at string, p *catalog.Plate, im *catalog.Impression, photo *catalog.Photograph, n int) (node, error) {
	img, err := w.writeImage(ctx, photo)
	if err != nil {
		return node{}, err
	}
	id := fmt.Sprintf("%s/canvas/%d", at, n)
	label := w.SheetLabel(im)
	if photo.View != catalog.ViewWhole && photo.View != "" {
		label += ", " + string(photo.View)
	}
	paper := ""
	if r := w.Paper(im.PaperID); r != nil {
		paper = r.Name
	}
	c := node{ID: id, Type: "Canvas", Label: en(label), Height: img.height, Width: img.width,
		Metadata: pairs("State", w.StateText(w.State(im.StateID)), "Edition", w.SheetEditionText(im), "Size", entry.DimensionsText(p, im),
			"Printed", entry.DateText(w.Made(im)), "Paper", paper, "Watermark", im.Watermark, "Signature", im.Signature,
			"Holder", w.HolderText(im.HolderID), "Photograph", photo.Credit)}
	t := img.thumb()
	service := imageService{img.id, "ImageService3", "level0"}
	c.Thumbnail = []node{{ID: fmt.Sprintf("%s/full/%d,%d/0/default.jpg", img.id, t.Width, t.Height), Type: "Image", Format: "image/jpeg",
		Width: t.Width, Height: t.Height, Service: []any{service}}}
	c.Items = []node{{ID: id + "/page", Type: "AnnotationPage", Items: []node{{ID: id + "/painting", Type: "Annotation", Motivation: "painting", Target: id,
		Body: &node{ID: img.id + "/full/max/0/default.jpg", Type: "Image", Format: "image/jpeg", Width: img.width, Height: img.height, Service: []any{service}}}}}}
	if mm := millimetresPerPixel(p, photo); mm > 0 {
		c.Service = []any{scale{"http://iiif.io/api/annex/services/physdim/1/context.json", id + "/scale", "PhysicalDimensionsService",
			"http://iiif.io/api/annex/services/physdim", mm, "mm"}}
	}
	return c, nil
}

// millimetresPerPixel is the scale of a photograph of a whole sheet, from its
// plate mark: the geometric mean of both directions, 0 when not known. Stored
// and upright pixels have the same scale.
func millimetresPerPixel(p *catalog.Plate, photo *catalog.Photograph) float64 {
	size := p.MeasureSize()
	if size.IsZero() || photo.MarkBy == "" || (photo.View != catalog.ViewWhole && photo.View != "") {
		return 0
	}
	side := func(a, b int) float64 {
		return math.Hypot(photo.Mark[a][0]-photo.Mark[b][0], photo.Mark[a][1]-photo.Mark[b][1])
	}
	wide, high := (side(0, 1)+side(3, 2))/2, (side(0, 3)+side(1, 2))/2
	if wide <= 0 || high <= 0 || size.WidthMM <= 0 || size.HeightMM <= 0 {
		return 0
	}
	mm := math.Sqrt(size.WidthMM / wide * size.HeightMM / high)
	return math.Round(mm*1e6) / 1e6
}

// fileName keeps identifiers made elsewhere from leaving the folder.
func fileName(id string) string {
	s := strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-' {
			return r
		}
		return '_'
	}, strings.ToLower(id))
	if s == "" {
		return "unnamed"
	}
	return s
}
