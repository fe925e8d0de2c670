package iiif

import (
	"encoding/json"
	"fmt"
	"strings"
)

// Check tests a manifest against the rules of IIIF Presentation 3.0 (context,
// required properties, classes, language maps, painting annotations, HTML in
// texts, absolute addresses) and returns what is wrong, a sentence each.
func Check(doc []byte) []string {
	var v map[string]any
	if err := json.Unmarshal(doc, &v); err != nil {
		return []string{"The manifest is not a JSON object: " + err.Error()}
	}
	c := checker{ids: map[string]bool{}}
	if v["@context"] != presentation {
		c.wrong("the manifest", "has no Presentation 3.0 context (Presentation 3.0, 4.6)")
	}
	if v["type"] != "Manifest" {
		c.wrong("the manifest", fmt.Sprintf("is of type %q (Presentation 3.0, 3.2: type, upper case)", v["type"]))
	}
	c.id("the manifest", v)
	c.label("the manifest", v, true)
	c.texts("the manifest", v)
	items, ok := v["items"].([]any)
	if !ok || len(items) == 0 {
		c.wrong("the manifest", "has no canvas (Presentation 3.0, 5.2: items, at least one)")
	}
	for i, item := range items {
		c.canvas(fmt.Sprintf("canvas %d", i+1), item)
	}
	structures, _ := v["structures"].([]any)
	for i, s := range structures {
		c.rng(fmt.Sprintf("range %d", i+1), s)
	}
	return c.found
}

type checker struct {
	found []string
	ids   map[string]bool
}

func (c *checker) wrong(where, what string) { c.found = append(c.found, where+" "+what+".") }

// id wants an absolute http(s) address, used once (Presentation 3.0, 3.2).
func (c *checker) id(where string, v map[string]any) {
	id, _ := v["id"].(string)
	switch {
	case !strings.HasPrefix(id, "http://") && !strings.HasPrefix(id, "https://"):
		c.wrong(where, "has no http(s) id (Presentation 3.0, 3.2)")
	case c.ids[id]:
		c.wrong(where, "has an id that is used twice (Presentation 3.0, 3.2)")
	}
	c.ids[id] = true
}

// langMap wants {"en": ["..."]} (Presentation 3.0, 4.2).
func (c *checker) langMap(where string, value any, html bool) {
	m, ok := value.(map[string]any)
	if !ok {
		c.wrong(where, "is not a language map (Presentation 3.0, 4.2)")
		return
	}
	for _, texts := range m {
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

// texts checks summary, metadata, requiredStatement and rights.
func (c *checker) texts(where string, v map[string]any) {
	if s, ok := v["summary"]; ok {
		c.langMap(where+" > summary", s, true)
	}
	pairs := []any{}
	if m, ok := v["metadata"]; ok {
		list, isList := m.([]any)
		if !isList {
			c.wrong(where, "has metadata that is not a list (Presentation 3.0, 3.1)")
		}
		pairs = append(pairs, list...)
	}
	if r, ok := v["requiredStatement"]; ok {
		pairs = append(pairs, r)
	}
	for _, p := range pairs {
		m, ok := p.(map[string]any)
		if !ok || m["label"] == nil || m["value"] == nil {
			c.wrong(where, "has a statement without label or value (Presentation 3.0, 3.1)")
			continue
		}
		c.langMap(where+" > label of a statement", m["label"], false)
		c.langMap(where+" > value of a statement", m["value"], true)
	}
	if r, ok := v["rights"]; ok {
		if s, isText := r.(string); !isText || !rightsAddress.MatchString(s) {
			c.wrong(where, "has rights that are no address of Creative Commons or RightsStatements.org (Presentation 3.0, 3.1)")
		}
	}
}

// canvas checks one canvas with its painting.
func (c *checker) canvas(where string, item any) {
	v, ok := item.(map[string]any)
	if !ok || v["type"] != "Canvas" {
		c.wrong(where, "is not a Canvas (Presentation 3.0, 5.3)")
		return
	}
	c.id(where, v)
	c.label(where, v, false)
	c.texts(where, v)
	h, okH := v["height"].(float64)
	w, okW := v["width"].(float64)
	if okH != okW || (okH && (h < 1 || w < 1)) {
		c.wrong(where, "has only one of height and width (Presentation 3.0, 3.3: both or neither)")
	}
	pages, hasPages := v["items"].([]any)
	if !hasPages {
		c.wrong(where, "has no items (Presentation 3.0, 5.3)")
	}
	for _, page := range pages {
		p, ok := page.(map[string]any)
		if !ok || p["type"] != "AnnotationPage" {
			c.wrong(where, "holds what is not an AnnotationPage (Presentation 3.0, 5.5)")
			continue
		}
		c.id(where+" > page", p)
		annotations, _ := p["items"].([]any)
		for _, a := range annotations {
			c.annotation(where+" > annotation", a, v["id"])
		}
	}
	for _, t := range list(v["thumbnail"]) {
		if m, ok := t.(map[string]any); !ok || m["type"] == nil || m["id"] == nil {
			c.wrong(where, "has a thumbnail without id or type (Presentation 3.0, 3.1)")
		}
	}
}

func list(v any) []any {
	l, _ := v.([]any)
	return l
}

func (c *checker) annotation(where string, item, canvas any) {
	a, ok := item.(map[string]any)
	if !ok || a["type"] != "Annotation" {
		c.wrong(where, "is not an Annotation (Presentation 3.0, 5.6)")
		return
	}
	c.id(where, a)
	if a["motivation"] != "painting" {
		c.wrong(where, "does not paint (Presentation 3.0, 5.6: motivation)")
	}
	if a["target"] != canvas {
		c.wrong(where, "does not target its canvas (Presentation 3.0, 5.6)")
	}
	body, ok := a["body"].(map[string]any)
	if !ok || body["type"] != "Image" || body["id"] == nil {
		c.wrong(where, "has no Image as body (Presentation 3.0, 5.7)")
	}
}

// rng checks a range: its canvases must be those of the manifest.
func (c *checker) rng(where string, item any) {
	r, ok := item.(map[string]any)
	if !ok || r["type"] != "Range" {
		c.wrong(where, "is not a Range (Presentation 3.0, 5.4)")
		return
	}
	c.id(where, r)
	c.label(where, r, true)
	items := list(r["items"])
	if len(items) == 0 {
		c.wrong(where, "is empty (Presentation 3.0, 5.4)")
	}
	for _, i := range items {
		m, ok := i.(map[string]any)
		if !ok || m["type"] != "Canvas" || !c.ids[fmt.Sprint(m["id"])] {
			c.wrong(where, "points to what is no canvas of this manifest (Presentation 3.0, 5.4)")
		}
	}
}
