package lido

import (
	"fmt"
	"strings"
)

// schema is lido-v1.1.xsd (ICOM-CIDOC LIDO Working Group, 2021-12-20), all of
// its elements, put as a line each: the name, the type it takes over after a
// colon, its attributes in brackets, then what stands in it, in that order.
// Types are written with a capital. An attribute with ! must be there; an
// element without a sign stands once, with ? at most once, with + at least
// once, with * any number of times. #text is text. skos, owl and gml stand for
// elements of those vocabularies, which LIDO does not look into.
const schema = `
Text (lang encodinganalog label) #text
Term (pref addedSearchTerm lang encodinganalog label) #text
Identifier (pref type! source encodinganalog label) #text
WebResource (pref formatResource lang encodinganalog label) #text
Concept (lang encodinganalog label) skos? conceptID* term*
ConceptMixed (lang encodinganalog label) #text skos? conceptID* term*
Appellation () appellationValue+ sourceAppellation*
Note (type sortorder) descriptiveNoteID* descriptiveNoteValue* sourceDescriptiveNote*
LegalBody () legalBodyID* owl* legalBodyName* legalBodyWeblink*
Date () earliestDate? latestDate?
DateSet () displayDate* date?
Place (politicalEntity geographicalEntity) placeID* owl* namePlaceSet* gml* partOfPlace* placeClassification*
PlaceSet () displayPlace* place?
Actor (type) actorID* owl* nameActorSet+ nationalityActor* vitalDatesActor* vitalPlaceActor* genderActor*
ActorSet () displayActor* actor?
EventSet () displayEvent* event?
ObjectSet () displayObject* object?
Measurements () measurementType+ measurementUnit+ measurementValue
ObjectMeasurements () displayObjectMeasurements* objectMeasurements?
MaterialsTech () displayMaterialsTech* materialsTech*
Rights () rightsType* rightsDate? rightsHolder* creditLine*

lidoWrap (relatedencoding) lido+
lido (relatedencoding sortorder) lidoRecID+ objectPublishedID* category? applicationProfile? descriptiveMetadata+ administrativeMetadata+
descriptiveMetadata (lang!) objectClassificationWrap objectIdentificationWrap eventWrap? objectRelationWrap?
administrativeMetadata (lang!) rightsWorkWrap? recordWrap resourceWrap?
lidoRecID,objectPublishedID,applicationProfile,recordID,recordInfoID,conceptID,actorID,eventID,placeID,objectID,legalBodyID,descriptiveNoteID,resourceID:Identifier ()
term:Term ()
category:Concept ()

objectClassificationWrap () objectWorkTypeWrap classificationWrap?
objectWorkTypeWrap () objectWorkType+
classificationWrap () classification*
objectWorkType,classification:Concept (type sortorder)

objectIdentificationWrap () titleWrap inscriptionsWrap? repositoryWrap? displayStateEditionWrap? objectDescriptionWrap? objectMeasurementsWrap? objectMaterialsTechWrap?
titleWrap () titleSet+
titleSet:Appellation (type sortorder pref)
appellationValue:Text (pref)
sourceAppellation:Text ()
inscriptionsWrap () inscriptions*
inscriptions (type sortorder) inscriptionTranscription* inscriptionDescription*
inscriptionTranscription:Text ()
inscriptionDescription,eventDescriptionSet:Note ()
descriptiveNoteValue,sourceDescriptiveNote:Text ()
repositoryWrap () repositorySet*
repositorySet (type sortorder) displayRepository* repositoryName? workID* repositoryLocation? sourceRepositorySet*
displayRepository,sourceRepositorySet:Text ()
repositoryName:LegalBody ()
legalBodyName:Appellation ()
legalBodyWeblink,objectWebResource,recordInfoLink:WebResource ()
workID (type sortorder encodinganalog label) #text
displayStateEditionWrap () displayState* displayEdition* sourceStateEdition*
displayState,displayEdition,sourceStateEdition:Text ()
objectDescriptionWrap () objectDescriptionSet*
objectDescriptionSet:Note () objectDescriptionRights*
objectDescriptionRights:Rights ()
objectMeasurementsWrap () objectMeasurementsSet*
objectMeasurementsSet,eventObjectMeasurements:ObjectMeasurements (type measurementsGroup sortorder)
objectMeasurements () measurementsSet* extentMeasurements* qualifierMeasurements* formatMeasurements* shapeMeasurements* scaleMeasurements*
displayObjectMeasurements,measurementValue:Text ()
measurementsSet:Measurements (sortorder)
resourceMeasurementsSet:Measurements ()
measurementType,measurementUnit:ConceptMixed ()
extentMeasurements,qualifierMeasurements,formatMeasurements,shapeMeasurements,scaleMeasurements:ConceptMixed (sortorder)
objectMaterialsTechWrap () objectMaterialsTechSet*
objectMaterialsTechSet:MaterialsTech ()
materialsTech () termMaterialsTech* extentMaterialsTech* sourceMaterialsTech*
termMaterialsTech:Concept (type sortorder)
extentMaterialsTech:ConceptMixed ()
displayMaterialsTech,sourceMaterialsTech:Text ()

eventWrap (mostNotableEvent) eventSet*
eventSet:EventSet (sortorder mostNotableEvent)
relatedEvent:EventSet ()
displayEvent:Text ()
event () eventID* owl* eventType roleInEvent* eventName* eventActor* culture* eventDate? periodName* eventPlace* eventMethod* eventMaterialsTech* eventObjectMeasurements* thingPresent* relatedEventSet* eventDescriptionSet*
eventType,roleInEvent:Concept ()
eventName:Appellation ()
culture,eventMethod:Concept (sortorder)
periodName:Concept (type sortorder)
eventDate:DateSet ()
eventPlace:PlaceSet (type sortorder)
eventMaterialsTech:MaterialsTech (sortorder)
thingPresent:ObjectSet (sortorder)
relatedEventSet (sortorder) relatedEvent? relatedEventRelType?
relatedEventRelType:Concept ()
eventActor (sortorder) displayActorInRole* actorInRole?
actorInRole () actor roleActor* attributionQualifierActor* extentActor* sourceActorInRole*
actor:Actor ()
displayActorInRole,displayActor,sourceActorInRole:Text ()
nameActorSet,namePlaceSet:Appellation ()
nationalityActor:Concept (type sortorder)
roleActor:Concept (sortorder)
attributionQualifierActor,extentActor:ConceptMixed ()
genderActor:ConceptMixed (type)
vitalDatesActor:Date (type)
vitalPlaceActor:Place (type)
displayDate:Text ()
date,rightsDate:Date ()
earliestDate,latestDate (type source encodinganalog label) #text
displayPlace:Text ()
place,partOfPlace,repositoryLocation:Place ()
placeClassification:Concept (type)
displayObject:Text ()
object () objectWebResource* objectID* owl* objectType* objectName* objectNote*
objectType:Concept ()
objectName:Appellation (sortorder pref)
objectNote:Text (type)

objectRelationWrap () subjectWrap? relatedWorksWrap?
subjectWrap () subjectSet*
subjectSet (sortorder) displaySubject* subject?
displaySubject:Text ()
subject (type) extentSubject* subjectConcept* subjectActor* subjectDate* subjectEvent* subjectPlace* subjectObject*
extentSubject:ConceptMixed ()
subjectConcept:Concept (sortorder)
subjectActor:ActorSet (sortorder)
subjectDate:DateSet (sortorder)
subjectEvent:EventSet (sortorder)
subjectPlace:PlaceSet (sortorder)
subjectObject:ObjectSet (sortorder)
relatedWorksWrap () relatedWorkSet*
relatedWorkSet (sortorder) displayRelatedWork* relatedWork? relatedWorkRelType? sourceRelatedWorkSet*
relatedWork:ObjectSet ()
relatedWorkRelType:Concept ()
displayRelatedWork,sourceRelatedWorkSet:Text ()

rightsWorkWrap () rightsWorkSet*
rightsWorkSet,recordRights,rightsResource:Rights (sortorder)
rightsType:Concept (type)
rightsHolder:LegalBody (sortorder)
creditLine:Text ()
recordWrap () recordID+ recordType recordSource+ recordRights* recordInfoSet* collection*
recordType:Concept ()
recordSource,resourceSource:LegalBody (type sortorder)
recordInfoSet (type sortorder) recordInfoID* recordInfoLink* recordMetadataDate*
recordMetadataDate:Text (type source)
collection:ObjectSet ()
resourceWrap () resourceSet*
resourceSet (sortorder) resourceID* resourceRepresentation* resourceType? resourceRelType* resourcePerspective* resourceDescription* resourceDateTaken? resourceSource* rightsResource*
resourceRepresentation (type) linkResource resourceMeasurementsSet*
linkResource:WebResource (codecResource)
resourceType,resourceRelType,resourcePerspective:Concept ()
resourceDescription:Text (type sortorder)
resourceDateTaken:DateSet ()
`

// rule is what the schema says of one element.
type rule struct {
	children []child
	attrs    map[string]bool // local name -> must be there
	text     bool            // may hold text
}

// child is one place in a sequence: how many of an element may stand there, max
// 0 meaning any number.
type child struct {
	name     string
	min, max int
}

// grammar are the rules by the names of the elements; types are left in it, but
// no element has a capital.
var grammar = readSchema(schema)

func readSchema(text string) map[string]rule {
	rules := map[string]rule{}
	for line := range strings.Lines(text) {
		head, rest, ok := strings.Cut(strings.TrimSpace(line), " (")
		if !ok {
			continue
		}
		attrs, content, ok := strings.Cut(rest, ")")
		names, base, _ := strings.Cut(head, ":")
		if _, known := rules[base]; !ok || base != "" && !known {
			panic("lido: the schema has no sense in the line " + line)
		}
		r := rule{attrs: map[string]bool{}, children: rules[base].children[:len(rules[base].children):len(rules[base].children)], text: rules[base].text}
		for a, must := range rules[base].attrs {
			r.attrs[a] = must
		}
		for _, a := range strings.Fields(attrs) {
			name, must := strings.CutSuffix(a, "!")
			r.attrs[name] = must
		}
		for _, c := range strings.Fields(content) {
			if c == "#text" {
				r.text = true
				continue
			}
			r.children = append(r.children, place(c))
		}
		for _, name := range strings.Split(names, ",") {
			if _, twice := rules[name]; twice {
				panic("lido: the schema speaks twice of " + name)
			}
			rules[name] = r
		}
	}
	return rules
}

// place reads a name with the sign for its number.
func place(s string) child {
	name := strings.TrimRight(s, "?*+")
	switch s[len(name):] {
	case "":
		return child{name, 1, 1}
	case "?":
		return child{name, 0, 1}
	case "+":
		return child{name, 1, 0}
	case "*":
		return child{name, 0, 0}
	}
	panic(fmt.Sprintf("lido: %q is no place in a sequence", s))
}

// others are the vocabularies of which the schema takes elements as they are.
var others = map[string]string{"http://www.w3.org/2004/02/skos/core#": "skos", "http://www.w3.org/2002/07/owl#": "owl", "http://www.opengis.net/gml": "gml"}
