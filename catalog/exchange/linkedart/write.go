package linkedart

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"unicode"

	"pullbook/catalog"
	"pullbook/catalog/exchange/entry"
)

// Options say how a catalogue is written. The zero Options are ready to use.
type Options struct {
	// Base is the address below which the documents will be published; empty
	// gives urn:uuid identifiers that need no address.
	Base string
	// Progress is told the share done, 0 to 1; may be nil.
	Progress func(float64)
}

// writer writes the documents of one catalogue.
type writer struct {
	*entry.Catalogue
	base, dir string
	index     []node
	buf       bytes.Buffer // one document at a time
	made      map[string]bool
}

// Write writes a catalogue into the folder dir, one file for each resource
// below object, visual, set, group and person, and index.json. Memory grows only by
// the index.
func Write(ctx context.Context, dir string, c *entry.Catalogue, o Options) error {
	w := &writer{Catalogue: c, base: o.Base, dir: dir, made: map[string]bool{}}
	done, all := 0, len(c.Snap.Plates)+len(c.Snap.Impressions)+1
	step := func() error {
		if done++; o.Progress != nil {
			o.Progress(float64(done) / float64(all))
		}
		return ctx.Err()
	}
	for i := range c.Snap.People {
		if err := w.put("person", string(c.Snap.People[i].ID), w.person(&c.Snap.People[i])); err != nil {
			return err
		}
	}
	for i := range c.Snap.Holders {
		if h := &c.Snap.Holders[i]; c.Public(h.ID) {
			if err := w.put("group", string(h.ID), w.holder(h)); err != nil {
				return err
			}
		}
	}
	for i := range c.Snap.Groups {
		if err := w.put("set", string(c.Snap.Groups[i].ID), w.group(&c.Snap.Groups[i])); err != nil {
			return err
		}
	}
	for i := range c.Snap.Plates {
		if err := w.plateAndStates(&c.Snap.Plates[i]); err != nil {
			return err
		}
		if err := step(); err != nil {
			return err
		}
		for _, im := range c.Impressions(c.Snap.Plates[i].ID) {
			if err := w.put("object", string(im.ID), w.impression(&c.Snap.Plates[i], im)); err != nil {
				return err
			}
			if err := step(); err != nil {
				return err
			}
		}
	}
	return entry.WriteJSON(filepath.Join(dir, "index.json"), w.index)
}

// plateAndStates writes a plate, the image of each state, and each edition.
func (w *writer) plateAndStates(p *catalog.Plate) error {
	if err := w.put("object", string(p.ID), w.plate(p)); err != nil {
		return err
	}
	for _, s := range w.States(p.ID) {
		if err := w.put("visual", string(s.ID), w.image(p, s)); err != nil {
			return err
		}
	}
	for _, e := range w.Editions(p.ID) {
		if err := w.put("set", string(e.ID), w.edition(p, e)); err != nil {
			return err
		}
	}
	return nil
}

// put writes one document and enters it in the index.
func (w *writer) put(kind, id string, n node) error {
	n.Context = Context
	n.ID = entry.Address(w.base, kind, id)
	w.index = append(w.index, node{ID: n.ID, Type: n.Type, Label: n.Label})
	folder := filepath.Join(w.dir, kind)
	if !w.made[kind] {
		if err := os.MkdirAll(folder, 0o755); err != nil {
			return fmt.Errorf("the folder %s cannot be made: %w", folder, err)
		}
		w.made[kind] = true
	}
	// Documents are many and small, so they are written straight to their
	// names; the index, written last, shows that all are there.
	w.buf.Reset()
	e := json.NewEncoder(&w.buf)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	if err := e.Encode(n); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(folder, fileName(id)+".json"), w.buf.Bytes(), 0o644)
}

// ref points to another document.
func (w *writer) ref(kind, id, typ, label string) node {
	return node{ID: entry.Address(w.base, kind, id), Type: typ, Label: label}
}

// fileName keeps identifiers made elsewhere from leaving the folder.
func fileName(id string) string {
	if s := slug(id); s != "" {
		return s
	}
	return "unnamed"
}

// slug writes a word for use in an address.
func slug(s string) string {
	return strings.Trim(strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || r == '_' {
			return unicode.ToLower(r)
		}
		return '-'
	}, s), "-")
}
