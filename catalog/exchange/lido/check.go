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

// find returns every element at a path below e.
func (e *element) find(path ...string) []*element {
	at := []*element{e}
	for _, name := range path {
		var next []*element
		for _, x := range at {
			next = append(next, x.all(name)...)
		}
		at = next
	}
	return at
}

func (e *element) lang() string {
	for _, a := range e.attrs {
		if a.Name.Local == "lang" {
			return a.Value
		}
	}
	return ""
}

// identificationOrder is the fixed order within objectIdentificationWrap
// (lido-v1.1.xsd, objectIdentificationComplexType: a sequence).
var identificationOrder = []string{"titleWrap", "inscriptionsWrap", "repositoryWrap", "displayStateEditionWrap",
	"objectDescriptionWrap", "objectMeasurementsWrap", "objectMaterialsTechWrap"}

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

// checkRecord tests one lido element.
func checkRecord(e *element) (wrong []string) {
	say := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
	need := func(what string, path ...string) {
		got := e.find(path...)
		full := 0
		for _, g := range got {
			if strings.TrimSpace(g.text) != "" || len(g.children) > 0 {
				full++
			}
		}
		if full == 0 {
			say("has no %s (lido-v1.1.xsd, mandatory)", what)
		}
	}
	need("lidoRecID", "lidoRecID")
	need("objectWorkType", "descriptiveMetadata", "objectClassificationWrap", "objectWorkTypeWrap", "objectWorkType")
	need("title", "descriptiveMetadata", "objectIdentificationWrap", "titleWrap", "titleSet", "appellationValue")
	need("recordID", "administrativeMetadata", "recordWrap", "recordID")
	need("recordType", "administrativeMetadata", "recordWrap", "recordType")
	need("recordSource", "administrativeMetadata", "recordWrap", "recordSource")
	if n := len(e.find("administrativeMetadata", "recordWrap", "recordType")); n > 1 {
		say("has %d recordType where one belongs (lido-v1.1.xsd)", n)
	}
	for _, part := range []string{"descriptiveMetadata", "administrativeMetadata"} {
		for _, m := range e.all(part) {
			if m.lang() == "" {
				say("has a %s without xml:lang (lido-v1.1.xsd, required)", part)
			}
		}
	}
	for _, id := range e.find("descriptiveMetadata", "objectIdentificationWrap") {
		at := 0
		for _, c := range id.children {
			i := slices.Index(identificationOrder, c.name)
			switch {
			case i < 0:
				say("has %s within objectIdentificationWrap (lido-v1.1.xsd)", c.name)
			case i < at:
				say("has %s out of its order within objectIdentificationWrap (lido-v1.1.xsd, sequence)", c.name)
			default:
				at = i
			}
		}
	}
	for _, set := range e.find("descriptiveMetadata", "objectIdentificationWrap", "objectMeasurementsWrap", "objectMeasurementsSet", "objectMeasurements", "measurementsSet") {
		for _, name := range []string{"measurementType", "measurementUnit", "measurementValue"} {
			if len(set.all(name)) == 0 {
				say("has a measurementsSet without %s (lido-v1.1.xsd)", name)
			}
		}
	}
	for _, d := range e.find("descriptiveMetadata", "eventWrap", "eventSet", "event") {
		if len(d.all("eventType")) == 0 {
			say("has an event without eventType (lido-v1.1.xsd)")
		}
	}
	return wrong
}
