package lido

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// element is a LIDO element with what stands in it.
type element struct {
	name     string
	attrs    []xml.Attr
	children []*element
	text     string
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
// rules of the LIDO 1.1 schema (lido-v1.1.xsd): what must be there, how often,
// and in which order. It returns what is wrong, a sentence each, and the number
// of records read.
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
		if !ok || start.Name.Local == "lidoWrap" {
			continue
		}
		if start.Name.Space != Namespace || start.Name.Local != "lido" {
			return append(found, fmt.Sprintf("The element %s does not belong here (lido-v1.1.xsd, lidoWrap).", start.Name.Local)), records
		}
		e, err := build(d, start)
		if err != nil {
			return append(found, "The file is not well-formed XML: "+err.Error()+"."), records
		}
		records++
		for _, w := range checkRecord(e) {
			found = append(found, fmt.Sprintf("Record %d %s.", records, w))
		}
	}
}

// build reads an element with everything in it.
func build(d *xml.Decoder, start xml.StartElement) (*element, error) {
	e := &element{name: start.Name.Local, attrs: start.Attr}
	for {
		tok, err := d.Token()
		if err != nil {
			return nil, err
		}
		switch t := tok.(type) {
		case xml.StartElement:
			c, err := build(d, t)
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

// checkRecord tests one lido element and all within it against the grammar.
func checkRecord(e *element) (wrong []string) {
	say := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
	var visit func(e *element)
	visit = func(e *element) {
		rule, structured := grammar[e.name]
		switch {
		case !structured && !leaves[e.name]:
			say("has the element %s, which the schema does not have here (lido-v1.1.xsd)", e.name)
			return
		case !structured && len(e.children) > 0:
			say("has elements within %s, which holds text (lido-v1.1.xsd)", e.name)
			return
		}
		if language[e.name] && e.attr("lang") == "" {
			say("has a %s without xml:lang (lido-v1.1.xsd, required)", e.name)
		}
		if identifiers[e.name] && (e.attr("type") == "" || strings.TrimSpace(e.text) == "") {
			say("has an empty %s, or one without lido:type (lido-v1.1.xsd, identifierComplexType)", e.name)
		}
		at := 0
		for _, c := range e.children {
			i := slices.IndexFunc(rule, func(r child) bool { return r.name == c.name })
			switch {
			case i < 0:
				say("has %s within %s (lido-v1.1.xsd)", c.name, e.name)
				continue
			case i < at:
				say("has %s out of its order within %s (lido-v1.1.xsd, sequence)", c.name, e.name)
			default:
				at = i
			}
			visit(c)
		}
		for _, r := range rule {
			n := len(e.all(r.name))
			if n < r.min {
				say("has no %s within %s (lido-v1.1.xsd, mandatory)", r.name, e.name)
			}
			if r.max > 0 && n > r.max {
				say("has %d %s within %s where %d may be (lido-v1.1.xsd)", n, r.name, e.name, r.max)
			}
		}
	}
	visit(e)
	return wrong
}
