package iiif

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"sort"
	"strings"
	"time"
)

// known are the properties the schema allows where it allows no others.
var known = map[string][]string{
	"Manifest": {"@context", "id", "label", "type", "metadata", "summary", "requiredStatement", "rendering", "service", "services", "viewingDirection",
		"placeholderCanvas", "accompanyingCanvas", "rights", "start", "navDate", "navPlace", "provider", "seeAlso", "thumbnail", "homepage", "behavior",
		"partOf", "items", "structures", "annotations"},
	"AnnotationPage": {"@context", "id", "type", "rendering", "label", "service", "thumbnail", "items", "partOf", "next", "prev", "first", "last"},
}

// labelled are the classes that must have a label (Presentation 3.0, 3.1); a
// range should have one, and those written here do.
var labelled = map[string]bool{"Manifest": true, "Collection": true, "Range": true}

// The patterns of the schema.
var (
	languageTag = regexp.MustCompile(`^[a-zA-Z-]+$`)
	mediaType   = regexp.MustCompile(`^[a-z]+/.`)
)

var behaviors = []string{"auto-advance", "no-auto-advance", "repeat", "no-repeat", "unordered", "individuals", "continuous", "paged", "facing-pages", "non-paged",
	"multi-part", "together", "sequence", "thumbnail-nav", "no-nav", "hidden"}

var directions = []string{"left-to-right", "right-to-left", "top-to-bottom", "bottom-to-top"}

// resource checks what may stand in any resource of the API, and its class.
func (c *checker) resource(where string, v map[string]any, class string) {
	if v["type"] != class {
		c.wrong(where, fmt.Sprintf("is of type %q, not %s (Presentation 3.0, 3.2: type, upper case)", v["type"], class))
	}
	c.id(where, v)
	c.label(where, v, labelled[class])
	if s, ok := v["summary"]; ok {
		c.langMap(where+" > summary", s, true)
	}
	for _, p := range c.list(where, v, "metadata") {
		c.pair(where, p)
	}
	if p, ok := v["requiredStatement"]; ok {
		c.pair(where, p)
	}
	if r, ok := v["rights"]; ok {
		if s, isText := r.(string); !isText || !rightsAddress.MatchString(s) {
			c.wrong(where, "has rights that are no address of Creative Commons or RightsStatements.org (Presentation 3.0, 3.1)")
		}
	}
	for _, b := range c.list(where, v, "behavior") {
		if s, ok := b.(string); !ok || !slices.Contains(behaviors, s) {
			c.wrong(where, fmt.Sprintf("has the unknown behavior %v (Presentation 3.0, 3.2)", b))
		}
	}
	if d, ok := v["viewingDirection"]; ok && !slices.Contains(directions, fmt.Sprint(d)) {
		c.wrong(where, "has an unknown viewingDirection (Presentation 3.0, 3.2)")
	}
	if d, ok := v["navDate"]; ok {
		if _, err := time.Parse(time.RFC3339, fmt.Sprint(d)); err != nil {
			c.wrong(where, "has a navDate that is no date and time (Presentation 3.0, 3.1)")
		}
	}
	c.pictures(where, v, "thumbnail")
	c.services(where, v)
	for _, k := range []string{"rendering", "seeAlso", "homepage", "partOf"} {
		for _, x := range c.list(where, v, k) {
			c.class(where+" > "+k, x)
		}
	}
	for _, x := range c.list(where, v, "provider") {
		if m := c.class(where+" > provider", x); m != nil {
			if m["type"] != "Agent" {
				c.wrong(where+" > provider", "is not an Agent (Presentation 3.0, 3.1)")
			}
			c.label(where+" > provider", m, true)
		}
	}
	if known[class] == nil {
		return
	}
	var odd []string
	for k := range v {
		if !slices.Contains(known[class], k) {
			odd = append(odd, k)
		}
	}
	sort.Strings(odd)
	for _, k := range odd {
		c.wrong(where, fmt.Sprintf("has the property %q, which a %s does not have (schema, additionalProperties)", k, class))
	}
}

// list is the value of a property that must be a list where it is there.
func (c *checker) list(where string, v map[string]any, property string) []any {
	x, ok := v[property]
	if !ok {
		return nil
	}
	l, isList := x.([]any)
	if !isList {
		c.wrong(where, "has "+property+" that is not a list (Presentation 3.0, 4.1)")
	}
	return l
}

// id wants an absolute http(s) address, used once (Presentation 3.0, 3.2).
func (c *checker) id(where string, v map[string]any) {
	id, _ := v["id"].(string)
	switch {
	case !isAddress(id):
		c.wrong(where, "has no http(s) id (Presentation 3.0, 3.2)")
	case c.ids[id]:
		c.wrong(where, "has an id that is used twice (Presentation 3.0, 3.2)")
	}
	c.ids[id] = true
}

func isAddress(s string) bool {
	return (strings.HasPrefix(s, "http://") || strings.HasPrefix(s, "https://")) && !strings.ContainsAny(s, " <>\"")
}

// class wants what every reference has: an id and a type (schema, class).
func (c *checker) class(where string, x any) map[string]any {
	m, _ := x.(map[string]any)
	id, _ := m["id"].(string)
	typ, _ := m["type"].(string)
	if !isAddress(id) || typ == "" {
		c.wrong(where, "has no http(s) id or no type (Presentation 3.0, 3.2)")
		return nil
	}
	c.label(where, m, false)
	c.format(where, m)
	return m
}

func (c *checker) format(where string, m map[string]any) {
	if f, ok := m["format"]; ok && !mediaType.MatchString(fmt.Sprint(f)) {
		c.wrong(where, "has a format that is no media type (Presentation 3.0, 3.2)")
	}
}

// pictures checks a list of pictures.
func (c *checker) pictures(where string, v map[string]any, property string) {
	for _, x := range c.list(where, v, property) {
		m, _ := x.(map[string]any)
		c.picture(where+" > "+property, m)
	}
}

// picture checks an image: a class with a size and a service.
func (c *checker) picture(where string, m map[string]any) {
	if c.class(where, any(m)) != nil {
		c.size(where, m, false)
		c.services(where, m)
	}
}

// size wants height and width together, whole and above nought (schema,
// dimension); needed for a canvas, which has no duration here.
func (c *checker) size(where string, v map[string]any, needed bool) {
	h, okH := v["height"]
	w, okW := v["width"]
	whole := func(x any) bool {
		f, ok := x.(float64)
		return ok && f > 0 && f == math.Trunc(f)
	}
	switch {
	case okH != okW || needed && !okH:
		c.wrong(where, "lacks height or width (Presentation 3.0, 3.2: both together)")
	case okH && !(whole(h) && whole(w)):
		c.wrong(where, "has a height or width that is no whole number above nought (Presentation 3.0, 3.2)")
	}
}

// services wants each service to be named as those of version 3 are, or as
// those of older ones, not both (schema, service).
func (c *checker) services(where string, v map[string]any) {
	for _, x := range c.list(where, v, "service") {
		m, _ := x.(map[string]any)
		has := func(id, typ string) bool {
			i, _ := m[id].(string)
			t, _ := m[typ].(string)
			return isAddress(i) && t != ""
		}
		if has("id", "type") == has("@id", "@type") {
			c.wrong(where, "has a service without id and type of one version (Presentation 3.0, 3.4)")
		}
	}
}

// pair wants a label and a value (schema, keyValueString).
func (c *checker) pair(where string, p any) {
	m, _ := p.(map[string]any)
	if m["label"] == nil || m["value"] == nil {
		c.wrong(where, "has a statement without label or value (Presentation 3.0, 3.1)")
		return
	}
	c.langMap(where+" > label of a statement", m["label"], false)
	c.langMap(where+" > value of a statement", m["value"], true)
}

func (c *checker) label(where string, v map[string]any, required bool) {
	l, ok := v["label"]
	if !ok {
		if required {
			c.wrong(where, "has no label (Presentation 3.0, 3.1)")
		}
		return
	}
	c.langMap(where+" > label", l, false)
}

// langMap wants {"en": ["..."]} (Presentation 3.0, 4.2).
func (c *checker) langMap(where string, value any, html bool) {
	m, ok := value.(map[string]any)
	if !ok {
		c.wrong(where, "is not a language map (Presentation 3.0, 4.2)")
		return
	}
	for tag, texts := range m {
		if !languageTag.MatchString(tag) {
			c.wrong(where, fmt.Sprintf("has %q where a language belongs (Presentation 3.0, 4.2)", tag))
		}
		list, ok := texts.([]any)
		if !ok {
			c.wrong(where, "has a language whose value is not a list (Presentation 3.0, 4.2)")
			continue
		}
		for _, t := range list {
			s, ok := t.(string)
			if !ok {
				c.wrong(where, "holds what is not a text (Presentation 3.0, 4.2)")
			} else if !html && strings.HasPrefix(s, "<") && strings.HasSuffix(s, ">") {
				c.wrong(where, "holds HTML, which may stand only in summaries and values (Presentation 3.0, 4.5)")
			}
		}
	}
}
