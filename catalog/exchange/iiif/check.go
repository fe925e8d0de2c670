package iiif

import (
	"encoding/json"
	"fmt"
)

// Check tests a manifest against IIIF Presentation 3.0: against every rule of
// the specification's own schema (iiif_3_0.json of the presentation validator)
// on what is written here or stands in the published example, and against the
// rules of the text that a schema cannot say: identifiers used once, HTML only
// where it may be, paintings that target their canvas, ranges of the manifest's
// own canvases. It returns what is wrong, a sentence each.
func Check(doc []byte) []string {
	c, v := read(doc)
	if v == nil {
		return c.found
	}
	c.resource("the manifest", v, "Manifest")
	items, ok := v["items"].([]any)
	if !ok || len(items) == 0 {
		c.wrong("the manifest", "has no canvas (Presentation 3.0, 5.2: items, at least one)")
	}
	for i, item := range items {
		c.canvas(fmt.Sprintf("canvas %d", i+1), item)
	}
	for i, s := range c.list("the manifest", v, "structures") {
		c.rng(fmt.Sprintf("range %d", i+1), s)
	}
	return c.found
}

// CheckCollection tests a collection in the same way.
func CheckCollection(doc []byte) []string {
	c, v := read(doc)
	if v == nil {
		return c.found
	}
	c.resource("the collection", v, "Collection")
	if _, ok := v["items"].([]any); !ok {
		c.wrong("the collection", "has no items (Presentation 3.0, 5.1)")
	}
	for i, item := range c.list("the collection", v, "items") {
		where := fmt.Sprintf("member %d", i+1)
		m, _ := item.(map[string]any)
		if m == nil || m["type"] != "Manifest" && m["type"] != "Collection" {
			c.wrong(where, "is neither a manifest nor a collection (Presentation 3.0, 5.1)")
			continue
		}
		c.id(where, m)
		c.label(where, m, true)
		c.pictures(where, m, "thumbnail")
		if _, whole := m["items"]; whole && m["type"] == "Manifest" {
			c.wrong(where, "has items, which a reference to a manifest does not have (schema, manifestRef)")
		}
	}
	return c.found
}

func read(doc []byte) (*checker, map[string]any) {
	c := &checker{ids: map[string]bool{}}
	var v map[string]any
	if err := json.Unmarshal(doc, &v); err != nil {
		c.found = []string{"The document is not a JSON object: " + err.Error() + "."}
		return c, nil
	}
	if v["@context"] != presentation {
		c.wrong("the document", "has no Presentation 3.0 context (Presentation 3.0, 4.6)")
	}
	return c, v
}

type checker struct {
	found []string
	ids   map[string]bool
}

func (c *checker) wrong(where, what string) { c.found = append(c.found, where+" "+what+".") }

// canvas checks one canvas with its painting.
func (c *checker) canvas(where string, item any) {
	v, ok := item.(map[string]any)
	if !ok || v["type"] != "Canvas" {
		c.wrong(where, "is not a Canvas (Presentation 3.0, 5.3)")
		return
	}
	c.resource(where, v, "Canvas")
	c.size(where, v, true)
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
		c.resource(where+" > page", p, "AnnotationPage")
		if _, ok := p["items"].([]any); !ok {
			c.wrong(where+" > page", "has no items (schema, annotationPage)")
		}
		for _, a := range c.list(where+" > page", p, "items") {
			c.annotation(where+" > annotation", a, v["id"])
		}
	}
}

func (c *checker) annotation(where string, item, canvas any) {
	a, ok := item.(map[string]any)
	if !ok || a["type"] != "Annotation" {
		c.wrong(where, "is not an Annotation (Presentation 3.0, 5.6)")
		return
	}
	c.resource(where, a, "Annotation")
	if a["motivation"] != "painting" {
		c.wrong(where, "does not paint (Presentation 3.0, 5.6: motivation)")
	}
	if a["target"] != canvas {
		c.wrong(where, "does not target its canvas (Presentation 3.0, 5.6)")
	}
	body, ok := a["body"].(map[string]any)
	if !ok || body["type"] != "Image" {
		c.wrong(where, "has no Image as body (Presentation 3.0, 5.7)")
		return
	}
	c.picture(where+" > body", body)
}

// rng checks a range: its canvases must be those of the manifest.
func (c *checker) rng(where string, item any) {
	r, ok := item.(map[string]any)
	if !ok || r["type"] != "Range" {
		c.wrong(where, "is not a Range (Presentation 3.0, 5.4)")
		return
	}
	c.resource(where, r, "Range")
	items := c.list(where, r, "items")
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
