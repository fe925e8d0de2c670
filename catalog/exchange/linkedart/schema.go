package linkedart

// value is what may be the value of a property.
type value struct {
	list  bool     // a list even with one member (API 1.0: arrays stay arrays)
	of    []string // classes of resources written out in place
	refs  []string // classes of resources referred to by id
	plain string   // "text", "number", "moment" or "address", for what is no resource
}

func listOf(classes ...string) value { return value{list: true, of: classes} }
func one(class string) value         { return value{of: []string{class}} }
func refs(classes ...string) value   { return value{list: true, refs: classes} }
func ref(classes ...string) value    { return value{refs: classes} }

var (
	text    = value{plain: "text"}
	number  = value{plain: "number"}
	moment  = value{plain: "moment"}
	address = value{plain: "address"}
)

type properties map[string]value

// with is p and more.
func (p properties) with(more properties) properties {
	out := properties{}
	for _, m := range []properties{p, more} {
		for k, v := range m {
			out[k] = v
		}
	}
	return out
}

// Groups of properties that several classes share.
var (
	named  = properties{"type": text, "_label": text, "identified_by": listOf("Name", "Identifier"), "classified_as": listOf("Type")}
	said   = named.with(properties{"referred_to_by": {list: true, of: []string{"LinguisticObject"}, refs: []string{"DigitalObject", "LinguisticObject"}}})
	record = said.with(properties{"@context": text, "id": address, "representation": listOf("VisualItem, shown"), "subject_of": refs("DigitalObject"),
		"attributed_by": listOf("AttributeAssignment")})
	thing = record.with(properties{"member_of": refs("Set"), "dimension": listOf("Dimension")})
	actor = record.with(properties{"member_of": refs("Group"), "carried_out": listOf("Activity"), "contact_point": listOf("Identifier"), "residence": refs("Place")})
	event = said.with(properties{"took_place_at": refs("Place"), "timespan": one("TimeSpan"), "caused_by": refs("Event", "Activity")})
	doing = event.with(properties{"carried_out_by": refs("Person", "Group"), "used_specific_object": refs("HumanMadeObject", "Set"),
		"influenced_by": refs("HumanMadeObject", "Person", "Group"), "technique": listOf("Type"), "part_of": ref("Event", "Activity")})
	loss    = event.with(properties{"part_of": ref("Event", "Activity")})
	amounts = properties{"value": number, "lower_value_limit": number, "upper_value_limit": number}
)

// class is what the schemas say of one class: its properties, and those that
// must be there.
type class struct {
	properties
	needed []string
}

var always = []string{"@context", "id", "type", "_label"}

// documents are the classes a document may be of, with the schema of each:
// object, image, set, person and group.
var documents = map[string]class{
	"HumanMadeObject": {thing.with(properties{"equivalent": refs("HumanMadeObject"), "made_of": refs("Material"), "part_of": ref("HumanMadeObject"),
		"part": listOf("HumanMadeObject, part"), "current_owner": refs("Person", "Group"), "current_custodian": refs("Person", "Group"),
		"current_permanent_custodian": refs("Person", "Group"), "current_location": ref("Place"), "used_for": listOf("Activity"), "shows": refs("VisualItem"),
		"carries": refs("LinguisticObject"), "produced_by": one("Production"), "destroyed_by": one("Destruction"), "removed_by": listOf("PartRemoval")}), always},
	"VisualItem": {thing.with(properties{"equivalent": refs("VisualItem"), "part_of": ref("VisualItem"), "digitally_shown_by": refs("DigitalObject"),
		"shown_by": refs("HumanMadeObject"), "about": refs(anything...), "represents": refs(anything...), "created_by": one("Creation"), "used_for": listOf("Activity")}), always},
	"Set":    {thing.with(properties{"equivalent": refs("Set"), "created_by": one("Creation")}), always},
	"Person": {actor.with(properties{"equivalent": refs("Person"), "born": one("Birth"), "died": one("Death")}), always},
	"Group":  {actor.with(properties{"equivalent": refs("Group"), "formed_by": one("Formation"), "dissolved_by": one("Dissolution")}), always},
}

// anything is what core.json lets a reference without a class be of.
var anything = []string{"HumanMadeObject", "Person", "Group", "VisualItem", "LinguisticObject", "Set", "Place", "DigitalObject", "Type", "Event", "Activity", "Period"}

// parts are the classes of resources written out within a document: those of
// core.json, and the events of the schemas named above. Those schemas leave
// their events open to other properties; here they are held to the listed ones.
// A name with a comma is a second form of a class.
var parts = map[string]class{
	"Name":             {named.with(properties{"content": text, "language": refs("Language"), "part": listOf("Name")}), []string{"content"}},
	"Identifier":       {named.with(properties{"content": text, "part": listOf("Identifier"), "assigned_by": listOf("AttributeAssignment")}), []string{"content"}},
	"LinguisticObject": {named.with(properties{"content": text, "language": refs("Language"), "format": text}), []string{"content"}},
	"Type":             {named.with(properties{"id": address}), []string{"id"}},
	"Dimension":        {named.with(amounts).with(properties{"unit": ref("MeasurementUnit"), "assigned_by": listOf("AttributeAssignment")}), []string{"value", "unit"}},
	"TimeSpan": {named.with(properties{"begin_of_the_begin": moment, "end_of_the_begin": moment, "begin_of_the_end": moment, "end_of_the_end": moment,
		"duration": one("Dimension")}), nil},
	"HumanMadeObject, part": {said.with(properties{"dimension": listOf("Dimension"), "made_of": refs("Material"), "part": listOf("HumanMadeObject, part"),
		"shows": refs("VisualItem"), "carries": refs("LinguisticObject"), "representation": listOf("VisualItem, shown")}), nil},
	"VisualItem, shown":   {said, nil},
	"Activity":            {doing, nil},
	"AttributeAssignment": {doing.with(properties{"assigned": {plain: "resource"}}), nil},
	"Production":          {doing.with(properties{"part": listOf("Production")}), nil},
	"Creation":            {doing, nil},
	"Formation":           {doing, nil},
	"PartRemoval":         {doing.with(properties{"diminished": ref("HumanMadeObject")}), nil},
	"Destruction":         {loss, nil},
	"Dissolution":         {loss.with(properties{"influenced_by": refs("HumanMadeObject", "Person", "Group")}), nil},
	"Birth":               {event, nil},
	"Death":               {event, nil},
}
