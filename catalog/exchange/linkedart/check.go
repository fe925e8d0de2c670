package linkedart

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"sort"
	"strings"

	"pullbook/catalog/exchange/entry"
)

// topTypes are the classes a document may be of (Linked Art API 1.0, the
// endpoints object, visual, set, person and group).
var topTypes = []string{"HumanMadeObject", "VisualItem", "Set", "Person", "Group"}

// properties are those the published JSON schemas of the API 1.0 (object,
// image, set, person, group and core) know for each class, as far as this
// package or the published example uses the class; others are refused.
var properties = map[string][]string{
	"HumanMadeObject": {"@context", "id", "type", "_label", "identified_by", "classified_as", "referred_to_by", "equivalent", "representation",
		"member_of", "subject_of", "attributed_by", "dimension", "made_of", "part_of", "part", "current_owner", "current_custodian",
		"current_permanent_custodian", "current_location", "used_for", "shows", "carries", "produced_by", "destroyed_by", "removed_by"},
	"VisualItem": {"@context", "id", "type", "_label", "identified_by", "classified_as", "referred_to_by", "equivalent", "representation", "member_of",
		"subject_of", "attributed_by", "dimension", "part_of", "digitally_shown_by", "shown_by", "about", "created_by", "represents", "used_for"},
	"Set": {"@context", "id", "type", "_label", "identified_by", "classified_as", "referred_to_by", "equivalent", "representation", "member_of",
		"subject_of", "attributed_by", "dimension", "created_by"},
	"Person": {"@context", "id", "type", "_label", "identified_by", "classified_as", "referred_to_by", "equivalent", "representation", "member_of",
		"subject_of", "attributed_by", "carried_out", "contact_point", "residence", "born", "died"},
	"Group": {"@context", "id", "type", "_label", "identified_by", "classified_as", "referred_to_by", "equivalent", "representation", "member_of",
		"subject_of", "attributed_by", "carried_out", "contact_point", "residence", "formed_by", "dissolved_by"},
	"Type":             {"id", "type", "_label", "identified_by", "classified_as"},
	"Name":             {"type", "_label", "identified_by", "classified_as", "content", "language", "part"},
	"Identifier":       {"type", "_label", "identified_by", "classified_as", "content", "part", "assigned_by"},
	"LinguisticObject": {"type", "_label", "identified_by", "classified_as", "content", "language", "format"},
	"Dimension":        {"type", "_label", "identified_by", "classified_as", "value", "lower_value_limit", "upper_value_limit", "unit", "assigned_by"},
	"TimeSpan":         {"type", "_label", "identified_by", "classified_as", "begin_of_the_begin", "end_of_the_begin", "begin_of_the_end", "end_of_the_end", "duration"},
	"Production": {"type", "_label", "identified_by", "classified_as", "referred_to_by", "took_place_at", "timespan", "caused_by", "carried_out_by",
		"used_specific_object", "influenced_by", "technique", "part_of", "part"},
	"Creation": {"type", "_label", "identified_by", "classified_as", "referred_to_by", "took_place_at", "timespan", "caused_by", "carried_out_by",
		"used_specific_object", "influenced_by", "technique", "part_of"},
	"Birth": {"type", "_label", "identified_by", "classified_as", "referred_to_by", "took_place_at", "timespan", "caused_by"},
	"Death": {"type", "_label", "identified_by", "classified_as", "referred_to_by", "took_place_at", "timespan", "caused_by"},
}

// reference is all that may stand in a reference to another resource.
var reference = []string{"id", "type", "_label"}

// references are the properties whose members are references, with the classes
// these may be of (core.json, the definitions ending in Ref).
var references = map[string][]string{"made_of": {"Material"}, "member_of": {"Set", "Group"}, "shows": {"VisualItem"}, "carried_out_by": {"Person", "Group"},
	"used_specific_object": {"HumanMadeObject", "Set"}, "current_owner": {"Person", "Group"}, "current_custodian": {"Person", "Group"}, "unit": {"MeasurementUnit"}}

// lists are the properties whose value is a list even with one member (API
// 1.0: "arrays"), with the class their members have; "" allows any.
var lists = map[string]string{"classified_as": "Type", "identified_by": "", "referred_to_by": "LinguisticObject", "dimension": "Dimension",
	"made_of": "", "member_of": "", "shows": "", "technique": "Type", "carried_out_by": "", "used_specific_object": "",
	"current_owner": "", "current_custodian": ""}

// single are the properties whose value is one resource of a class.
var single = map[string]string{"produced_by": "Production", "created_by": "Creation", "timespan": "TimeSpan", "unit": "", "born": "Birth", "died": "Death"}

// needed are the properties that a resource of a class must have.
var needed = map[string][]string{"Name": {"content"}, "Identifier": {"content"}, "LinguisticObject": {"content"}, "Dimension": {"value", "unit"}, "Type": {"id"}}

var (
	moment = regexp.MustCompile(`^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}Z$`)
	aatID  = regexp.MustCompile(`^http://vocab\.getty\.edu/aat/300\d{6}$`)
)

// Check tests one document against the rules of the Linked Art 1.0 API
// (JSON-LD context, required and known properties, lists, classes, values) and
// of the Getty vocabulary, and returns what is wrong, a sentence each.
func Check(doc []byte) []string {
	var v map[string]any
	if err := json.Unmarshal(doc, &v); err != nil {
		return []string{"The document is not a JSON object: " + err.Error()}
	}
	var c checker
	if v["@context"] != Context {
		c.wrong("the document", "has no Linked Art context (API 1.0, @context)")
	}
	for _, p := range []string{"id", "_label"} {
		if s, ok := v[p].(string); !ok || s == "" {
			c.wrong("the document", "has no "+p+" (API 1.0 schema, required)")
		}
	}
	typ, _ := v["type"].(string)
	if !slices.Contains(topTypes, typ) {
		c.wrong("the document", fmt.Sprintf("is of type %q, which no endpoint has (API 1.0)", typ))
		return c.found
	}
	c.node("the document", v)
	return c.found
}

// checker gathers what is wrong.
type checker struct{ found []string }

func (c *checker) wrong(where, what string) { c.found = append(c.found, where+" "+what+".") }

// node checks one resource and all below it.
func (c *checker) node(where string, v map[string]any) {
	typ, _ := v["type"].(string)
	known := properties[typ]
	if known == nil {
		c.wrong(where, fmt.Sprintf("is of the unknown type %q", typ))
		return
	}
	for _, p := range needed[typ] {
		if _, ok := v[p]; !ok {
			c.wrong(where, fmt.Sprintf("is a %s without %s (API 1.0 schema)", typ, p))
		}
	}
	keys := make([]string, 0, len(v))
	for k := range v {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	for _, k := range keys {
		if !slices.Contains(known, k) {
			c.wrong(where, fmt.Sprintf("has the property %q, which a %s does not have (API 1.0 schema, additionalProperties)", k, typ))
			continue
		}
		c.property(where, k, v[k])
	}
	c.thesaurus(where, v)
}

// property checks the value of one property.
func (c *checker) property(where, k string, value any) {
	at := where + " > " + k
	if class, ok := lists[k]; ok {
		items, isList := value.([]any)
		if !isList {
			c.wrong(at, "is not a list (API 1.0: arrays stay arrays even with one entry)")
			return
		}
		for _, item := range items {
			c.child(at, k, class, item)
		}
		return
	}
	if class, ok := single[k]; ok {
		c.child(at, k, class, value)
		return
	}
	switch k {
	case "value":
		if _, ok := value.(float64); !ok {
			c.wrong(at, "is not a number (API 1.0 schema, Dimension)")
		}
	case "begin_of_the_begin", "end_of_the_end":
		if s, ok := value.(string); !ok || !moment.MatchString(s) {
			c.wrong(at, "is not a full date and time (Linked Art, TimeSpan: xsd:dateTime)")
		}
	case "content", "id", "type", "_label":
		if _, ok := value.(string); !ok {
			c.wrong(at, "is not a text")
		}
	}
}

// child checks the value of a property that is a resource: one of a class, or
// a reference to one.
func (c *checker) child(at, property, class string, value any) {
	v, ok := value.(map[string]any)
	if !ok {
		c.wrong(at, "is not a resource")
		return
	}
	typ, _ := v["type"].(string)
	if allowed := references[property]; allowed != nil {
		switch {
		case !slices.Contains(allowed, typ):
			c.wrong(at, fmt.Sprintf("is of type %q, not %s (API 1.0 schema)", typ, strings.Join(allowed, " or ")))
		case v["id"] == nil:
			c.wrong(at, "has no id (API 1.0 schema, references)")
		}
		for k := range v {
			if !slices.Contains(reference, k) {
				c.wrong(at, fmt.Sprintf("has the property %q, which a reference does not have (API 1.0 schema)", k))
			}
		}
		c.thesaurus(at, v)
		return
	}
	if class != "" && typ != class {
		c.wrong(at, fmt.Sprintf("is of type %q, not %s (API 1.0 schema)", typ, class))
		return
	}
	c.node(at, v)
}

// thesaurus checks the form of an identifier of the Getty thesaurus.
func (c *checker) thesaurus(where string, v map[string]any) {
	if id, _ := v["id"].(string); strings.HasPrefix(id, entry.AAT) && !aatID.MatchString(id) {
		c.wrong(where, fmt.Sprintf("has %q, which is no identifier of the thesaurus", id))
	}
}
