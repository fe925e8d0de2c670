package linkedart

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"sort"
	"strings"
	"time"

	"pullbook/catalog/exchange/entry"
)

var (
	uriForm = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9+.-]*:[^\s<>"{}|\\^` + "`" + `]+$`) // RFC 3986: absolute
	aatID   = regexp.MustCompile(`^http://vocab\.getty\.edu/aat/300\d{6}$`)
)

// Check tests one document against the JSON schemas of the Linked Art API 1.0
// (object, image, set, person, group and core: which properties a class has,
// which must be there, what each may hold), against the API's rule on full
// dates that the schemas leave to a format, and against the form of the Getty
// vocabulary's identifiers. It returns what is wrong, a sentence each.
func Check(doc []byte) []string {
	var v map[string]any
	if err := json.Unmarshal(doc, &v); err != nil {
		return []string{"The document is not a JSON object: " + err.Error() + "."}
	}
	var c checker
	typ, _ := v["type"].(string)
	kind, known := documents[typ]
	if !known {
		c.wrong("the document", fmt.Sprintf("is of type %q, which no endpoint has (API 1.0)", typ))
		return c.found
	}
	if v["@context"] != Context {
		c.wrong("the document", "has no Linked Art context (API 1.0, @context)")
		v["@context"] = Context
	}
	if s, isText := v["_label"].(string); isText && s == "" {
		c.wrong("the document", "has an empty _label")
	}
	c.resource("the document", v, kind)
	return c.found
}

// checker gathers what is wrong.
type checker struct{ found []string }

func (c *checker) wrong(where, what string) { c.found = append(c.found, where+" "+what+".") }

// resource checks one resource and all below it.
func (c *checker) resource(where string, v map[string]any, kind class) {
	typ, _ := v["type"].(string)
	for _, p := range kind.needed {
		if _, ok := v[p]; !ok {
			c.wrong(where, fmt.Sprintf("is a %s without %s (API 1.0 schema, required)", typ, p))
		}
	}
	for _, k := range keys(v) {
		may, ok := kind.properties[k]
		if !ok {
			c.wrong(where, fmt.Sprintf("has the property %q, which a %s does not have (API 1.0 schema, additionalProperties)", k, typ))
			continue
		}
		c.property(where+" > "+k, may, v[k])
	}
	c.thesaurus(where, v)
}

func keys(v map[string]any) []string {
	out := make([]string, 0, len(v))
	for k := range v {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

// property checks the value of one property.
func (c *checker) property(at string, may value, v any) {
	switch {
	case may.plain != "":
		c.plain(at, may.plain, v)
	case may.list:
		items, isList := v.([]any)
		if !isList {
			c.wrong(at, "is not a list (API 1.0: arrays stay arrays even with one entry)")
			return
		}
		for _, item := range items {
			c.child(at, may, item)
		}
	default:
		c.child(at, may, v)
	}
}

// plain checks a value that is no resource of the API.
func (c *checker) plain(at, form string, v any) {
	s, isText := v.(string)
	switch form {
	case "number":
		if _, ok := v.(float64); !ok {
			c.wrong(at, "is not a number (API 1.0 schema)")
		}
	case "resource":
		if _, ok := v.(map[string]any); !ok {
			c.wrong(at, "is not a resource (API 1.0 schema)")
		}
	case "moment":
		if _, err := time.Parse(time.RFC3339, s); !isText || err != nil {
			c.wrong(at, "is not a full date and time (API 1.0, TimeSpan: xsd:dateTime; schema, format date-time)")
		}
	case "address":
		if !isText || !uriForm.MatchString(s) {
			c.wrong(at, "is not a URI (API 1.0 schema, format uri)")
		}
	default:
		if !isText {
			c.wrong(at, "is not a text (API 1.0 schema)")
		}
	}
}

// child checks the value of a property that is a resource: one written out, or
// a reference to one, which has an id and no more than type and label besides.
func (c *checker) child(at string, may value, v any) {
	r, ok := v.(map[string]any)
	if !ok {
		c.wrong(at, "is not a resource (API 1.0 schema)")
		return
	}
	typ, _ := r["type"].(string)
	_, hasID := r["id"]
	if slices.Contains(may.refs, typ) && (hasID || !slices.Contains(may.of, typ)) {
		c.reference(at, r, hasID)
		return
	}
	for _, name := range may.of {
		if base, _, _ := strings.Cut(name, ","); base == typ {
			c.resource(at, r, parts[name])
			return
		}
	}
	c.wrong(at, fmt.Sprintf("is of type %q, not %s (API 1.0 schema)", typ, strings.Join(append(slices.Clone(may.of), may.refs...), " or ")))
}

func (c *checker) reference(at string, r map[string]any, hasID bool) {
	if !hasID {
		c.wrong(at, "has no id (API 1.0 schema, references)")
	}
	for _, k := range keys(r) {
		switch k {
		case "id":
			c.plain(at+" > id", "address", r[k])
		case "type", "_label":
			c.plain(at+" > "+k, "text", r[k])
		default:
			c.wrong(at, fmt.Sprintf("has the property %q, which a reference does not have (API 1.0 schema)", k))
		}
	}
	c.thesaurus(at, r)
}

// thesaurus checks the form of an identifier of the Getty thesaurus.
func (c *checker) thesaurus(where string, v map[string]any) {
	if id, _ := v["id"].(string); strings.HasPrefix(id, entry.AAT) && !aatID.MatchString(id) {
		c.wrong(where, fmt.Sprintf("has %q, which is no identifier of the thesaurus", id))
	}
}
