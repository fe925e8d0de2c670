package lido

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
)

// element is an element with what stands in it. Its name is that of LIDO, or
// the vocabulary's where it is of another one: then nothing more is known.
type element struct {
	name     string
	attrs    []xml.Attr
	children []*element
	text     string
	foreign  bool
}

func (e *element) all(name string) []*element {
	var out []*element
	for _, c := range e.children {
		if c.name == name {
			out = append(out, c)
		}
	}
	return out
}

// attr returns an attribute by its local name.
func (e *element) attr(name string) string {
	for _, a := range e.attrs {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// Check reads LIDO records, one in memory at a time, and tests each against the
// LIDO 1.1 schema (lido-v1.1.xsd): which elements and attributes may stand
// where, what must be there, how often and in which order; and against the
// fatal rules of its Schematron part on mixed content and collections. It
// returns what is wrong, a sentence each, and the number of records read.
func Check(r io.Reader) (found []string, records int) {
	d := xml.NewDecoder(r)
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			if records == 0 {
				found = append(found, "The file holds no lido record.")
			}
			return found, records
		}
		if err != nil {
			return append(found, "The file is not well-formed XML: "+err.Error()+"."), records
		}
		start, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		if start.Name.Space != Namespace || start.Name.Local != "lido" && start.Name.Local != "lidoWrap" {
			return append(found, fmt.Sprintf("The element %s does not belong here (lido-v1.1.xsd, lidoWrap).", start.Name.Local)), records
		}
		if start.Name.Local == "lidoWrap" {
			c := checker{}
			c.attributes(&element{name: "lidoWrap", attrs: start.Attr}, grammar["lidoWrap"])
			for _, w := range c.wrong {
				found = append(found, "The file "+w+".")
			}
			continue
		}
		e, err := build(d, start, 0)
		if err != nil {
			return append(found, "The file is not well-formed XML: "+err.Error()+"."), records
		}
		records++
		var c checker
		c.visit(e)
		for _, w := range c.wrong {
			found = append(found, fmt.Sprintf("Record %d %s.", records, w))
		}
	}
}

// maxDepth bounds how deep elements may stand in each other.
const maxDepth = 200

// build reads an element with everything in it.
func build(d *xml.Decoder, start xml.StartElement, depth int) (*element, error) {
	if depth > maxDepth {
		return nil, fmt.Errorf("elements stand more than %d deep in each other", maxDepth)
	}
	e := &element{name: start.Name.Local, attrs: start.Attr}
	if start.Name.Space != Namespace {
		if e.name, e.foreign = others[start.Name.Space], true; e.name == "" {
			e.name = "{" + start.Name.Space + "}" + start.Name.Local
		}
	}
	for {
		tok, err := d.Token()
		if err != nil {
			return nil, err
		}
		switch t := tok.(type) {
		case xml.StartElement:
			c, err := build(d, t, depth+1)
			if err != nil {
				return nil, err
			}
			e.children = append(e.children, c)
		case xml.EndElement:
			return e, nil
		case xml.CharData:
			e.text += string(t)
		}
	}
}

// checker gathers what is wrong with one record.
type checker struct{ wrong []string }

func (c *checker) say(format string, args ...any) {
	c.wrong = append(c.wrong, fmt.Sprintf(format, args...))
}

// visit tests an element and all within it against the grammar.
func (c *checker) visit(e *element) {
	r := grammar[e.name]
	c.attributes(e, r)
	words := strings.TrimSpace(e.text) != ""
	switch {
	case words && !r.text:
		c.say("has text beside the elements within %s (lido-v1.1.xsd)", e.name)
	case words && len(e.children) > 0:
		c.say("has both text and elements within %s (lido-v1.1.xsd, Schematron: either free text or index element)", e.name)
	}
	if e.name == "collection" && len(e.all("object")) > 0 && len(e.all("object")[0].all("objectName")) == 0 {
		c.say("has a collection without an object's name (lido-v1.1.xsd, Schematron)")
	}
	at := 0
	for _, in := range e.children {
		i := slices.IndexFunc(r.children, func(p child) bool { return p.name == in.name })
		switch {
		case i < 0:
			c.say("has %s within %s (lido-v1.1.xsd)", in.name, e.name)
			continue
		case i < at:
			c.say("has %s out of its order within %s (lido-v1.1.xsd, sequence)", in.name, e.name)
		default:
			at = i
		}
		if !in.foreign {
			c.visit(in)
		}
	}
	for _, p := range r.children {
		n := len(e.all(p.name))
		if n < p.min {
			c.say("has no %s within %s (lido-v1.1.xsd, mandatory)", p.name, e.name)
		}
		if p.max > 0 && n > p.max {
			c.say("has %d %s within %s where %d may be (lido-v1.1.xsd)", n, p.name, e.name, p.max)
		}
	}
}

const (
	xmlSpace      = "http://www.w3.org/XML/1998/namespace"
	instanceSpace = "http://www.w3.org/2001/XMLSchema-instance"
)

// attributes tests which attributes an element has and what they hold. The
// schema has all of them in LIDO's namespace but xml:lang.
func (c *checker) attributes(e *element, r rule) {
	for _, a := range e.attrs {
		space, name := a.Name.Space, a.Name.Local
		if space == "xmlns" || space == "" && name == "xmlns" || space == instanceSpace {
			continue
		}
		_, known := r.attrs[name]
		if known {
			known = space == Namespace && name != "lang" || space == xmlSpace && name == "lang"
		}
		switch {
		case !known:
			c.say("has the attribute %s at %s, which the schema does not have there (lido-v1.1.xsd)", name, e.name)
		case name == "sortorder" || name == "mostNotableEvent":
			if _, err := strconv.Atoi(strings.TrimSpace(a.Value)); err != nil {
				c.say("has the %s %q, which is no whole number (lido-v1.1.xsd, xs:integer)", name, a.Value)
			}
		case name == "addedSearchTerm" && a.Value != "yes" && a.Value != "no":
			c.say("has the addedSearchTerm %q, which is neither yes nor no (lido-v1.1.xsd)", a.Value)
		}
	}
	for name, must := range r.attrs {
		if must && strings.TrimSpace(e.attr(name)) == "" {
			c.say("has a %s without the attribute %s (lido-v1.1.xsd, required)", e.name, name)
		}
	}
	// The schema lets an identifier be empty; one that names nothing is an
	// error all the same.
	if _, typed := r.attrs["type"]; typed && r.attrs["type"] && strings.TrimSpace(e.text) == "" {
		c.say("has an empty %s", e.name)
	}
}
