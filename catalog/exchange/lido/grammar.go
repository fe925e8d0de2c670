package lido

// child is one place in a sequence: how many of an element may stand there, max
// 0 meaning any number.
type child struct {
	name     string
	min, max int
}

// concept is conceptElementsSet of the schema.
var concept = []child{{"conceptID", 0, 0}, {"term", 0, 0}}

// note is descriptiveNoteComplexType.
var note = []child{{"descriptiveNoteID", 0, 0}, {"descriptiveNoteValue", 0, 0}, {"sourceDescriptiveNote", 0, 0}}

// appellation is appellationComplexType.
var appellation = []child{{"appellationValue", 1, 0}, {"sourceAppellation", 0, 0}}

// legalBody is legalBodyRefComplexType.
var legalBody = []child{{"legalBodyID", 0, 0}, {"legalBodyName", 0, 0}, {"legalBodyWeblink", 0, 0}}

// grammar is what may stand within an element and in which order, taken from
// lido-v1.1.xsd (CIDOC LIDO Working Group, 2021-12-20) as far as this package
// writes it. Elements of the schema that are never written are left out.
var grammar = map[string][]child{
	"lido":                   {{"lidoRecID", 1, 0}, {"objectPublishedID", 0, 0}, {"category", 0, 1}, {"descriptiveMetadata", 1, 0}, {"administrativeMetadata", 1, 0}},
	"descriptiveMetadata":    {{"objectClassificationWrap", 1, 1}, {"objectIdentificationWrap", 1, 1}, {"eventWrap", 0, 1}, {"objectRelationWrap", 0, 1}},
	"administrativeMetadata": {{"rightsWorkWrap", 0, 1}, {"recordWrap", 1, 1}, {"resourceWrap", 0, 1}},

	"objectClassificationWrap": {{"objectWorkTypeWrap", 1, 1}, {"classificationWrap", 0, 1}},
	"objectWorkTypeWrap":       {{"objectWorkType", 1, 0}},
	"objectWorkType":           concept,
	"category":                 concept,

	"objectIdentificationWrap": {{"titleWrap", 1, 1}, {"inscriptionsWrap", 0, 1}, {"repositoryWrap", 0, 1}, {"displayStateEditionWrap", 0, 1},
		{"objectDescriptionWrap", 0, 1}, {"objectMeasurementsWrap", 0, 1}, {"objectMaterialsTechWrap", 0, 1}},
	"titleWrap":               {{"titleSet", 1, 0}},
	"titleSet":                appellation,
	"inscriptionsWrap":        {{"inscriptions", 0, 0}},
	"inscriptions":            {{"inscriptionTranscription", 0, 0}, {"inscriptionDescription", 0, 0}},
	"inscriptionDescription":  note,
	"repositoryWrap":          {{"repositorySet", 0, 0}},
	"repositorySet":           {{"displayRepository", 0, 0}, {"repositoryName", 0, 1}, {"workID", 0, 0}, {"repositoryLocation", 0, 1}, {"sourceRepositorySet", 0, 0}},
	"repositoryName":          legalBody,
	"legalBodyName":           appellation,
	"displayStateEditionWrap": {{"displayState", 0, 0}, {"displayEdition", 0, 0}, {"sourceStateEdition", 0, 0}},
	"objectDescriptionWrap":   {{"objectDescriptionSet", 0, 0}},
	"objectDescriptionSet":    note,
	"objectMeasurementsWrap":  {{"objectMeasurementsSet", 0, 0}},
	"objectMeasurementsSet":   {{"displayObjectMeasurements", 0, 0}, {"objectMeasurements", 0, 1}},
	"objectMeasurements":      {{"measurementsSet", 0, 0}, {"extentMeasurements", 0, 0}, {"qualifierMeasurements", 0, 0}},
	"measurementsSet":         {{"measurementType", 1, 0}, {"measurementUnit", 1, 0}, {"measurementValue", 1, 1}},
	"measurementType":         concept,
	"measurementUnit":         concept,
	"extentMeasurements":      concept,
	"objectMaterialsTechWrap": {{"objectMaterialsTechSet", 0, 0}},
	"objectMaterialsTechSet":  {{"displayMaterialsTech", 0, 0}, {"materialsTech", 0, 0}},
	"materialsTech":           {{"termMaterialsTech", 0, 0}, {"extentMaterialsTech", 0, 0}, {"sourceMaterialsTech", 0, 0}},
	"termMaterialsTech":       concept,

	"eventWrap": {{"eventSet", 0, 0}},
	"eventSet":  {{"displayEvent", 0, 0}, {"event", 0, 1}},
	"event": {{"eventID", 0, 0}, {"eventType", 1, 1}, {"roleInEvent", 0, 0}, {"eventName", 0, 0}, {"eventActor", 0, 0}, {"culture", 0, 0},
		{"eventDate", 0, 1}, {"periodName", 0, 0}, {"eventPlace", 0, 0}, {"eventMethod", 0, 0}, {"eventMaterialsTech", 0, 0}},
	"eventType":          concept,
	"eventActor":         {{"displayActorInRole", 0, 0}, {"actorInRole", 0, 1}},
	"actorInRole":        {{"actor", 1, 1}, {"roleActor", 0, 0}},
	"actor":              {{"actorID", 0, 0}, {"nameActorSet", 1, 0}},
	"nameActorSet":       appellation,
	"roleActor":          concept,
	"eventDate":          {{"displayDate", 0, 0}, {"date", 0, 1}},
	"date":               {{"earliestDate", 0, 1}, {"latestDate", 0, 1}},
	"eventMaterialsTech": {{"displayMaterialsTech", 0, 0}, {"materialsTech", 0, 0}},

	"objectRelationWrap": {{"subjectWrap", 0, 1}, {"relatedWorksWrap", 0, 1}},
	"subjectWrap":        {{"subjectSet", 0, 0}},
	"subjectSet":         {{"displaySubject", 0, 0}, {"subject", 0, 1}},
	"subject":            {{"extentSubject", 0, 0}, {"subjectConcept", 0, 0}},
	"subjectConcept":     concept,

	"rightsWorkWrap": {{"rightsWorkSet", 0, 0}},
	"rightsWorkSet":  {{"rightsType", 0, 0}, {"rightsDate", 0, 1}, {"rightsHolder", 0, 0}, {"creditLine", 0, 0}},
	"recordWrap":     {{"recordID", 1, 0}, {"recordType", 1, 1}, {"recordSource", 1, 0}, {"recordRights", 0, 0}},
	"recordType":     concept,
	"recordSource":   legalBody,
}

// identifiers are the elements of identifierComplexType, which must have a type.
var identifiers = map[string]bool{"lidoRecID": true, "recordID": true, "conceptID": true, "actorID": true, "legalBodyID": true, "eventID": true,
	"descriptiveNoteID": true, "objectPublishedID": true}

// language are the elements that must name their language.
var language = map[string]bool{"descriptiveMetadata": true, "administrativeMetadata": true}

// leaves are the elements that hold text alone.
var leaves = map[string]bool{"lidoRecID": true, "recordID": true, "conceptID": true, "actorID": true, "legalBodyID": true, "eventID": true,
	"descriptiveNoteID": true, "objectPublishedID": true, "term": true, "appellationValue": true, "sourceAppellation": true,
	"inscriptionTranscription": true, "descriptiveNoteValue": true, "workID": true, "displayState": true, "displayEdition": true,
	"displayObjectMeasurements": true, "measurementValue": true, "displayMaterialsTech": true, "displayDate": true, "earliestDate": true,
	"latestDate": true, "displaySubject": true, "creditLine": true}
