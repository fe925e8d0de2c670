package sheet

// Field is what a column holds.
type Field string

// Fields a column can be matched with.
const (
	LeaveOut    Field = "leave out"
	Keep        Field = "keep in the remarks"
	Number      Field = "catalogue number"
	Title       Field = "title"
	OtherTitle  Field = "other title"
	Maker       Field = "printmaker"
	Date        Field = "date"
	Technique   Field = "technique"
	Metal       Field = "metal"
	Dimensions  Field = "dimensions"
	PlateSize   Field = "plate size"
	SheetSize   Field = "sheet size"
	PlateHeight Field = "plate height"
	PlateWidth  Field = "plate width"
	SheetHeight Field = "sheet height"
	SheetWidth  Field = "sheet width"
	Group       Field = "portfolio or series"
	Subject     Field = "subject"
	Reference   Field = "earlier catalogues"
	State       Field = "state"
	Edition     Field = "number or size of edition"
	Pull        Field = "count of pull"
	Printed     Field = "date of printing"
	Paper       Field = "paper"
	Watermark   Field = "watermark"
	Ink         Field = "ink"
	Printer     Field = "printer"
	Publisher   Field = "publisher"
	Holder      Field = "holder"
	Inventory   Field = "inventory number"
	Provenance  Field = "provenance"
	Signature   Field = "signature"
	Inscription Field = "inscription"
	Condition   Field = "condition"
	Remarks     Field = "remarks"
)

// Fields lists every field in the order a person would look for it.
func Fields() []Field {
	return []Field{LeaveOut, Keep, Number, Title, OtherTitle, Maker, Date, Technique, Metal, Dimensions, PlateSize,
		SheetSize, PlateHeight, PlateWidth, SheetHeight, SheetWidth, Group, Subject, Reference, State, Edition, Pull,
		Printed, Paper, Watermark, Ink, Printer, Publisher, Holder, Inventory, Provenance, Signature, Inscription,
		Condition, Remarks}
}

// ofImpression are the fields that speak of one sheet, not of the plate.
var ofImpression = map[Field]bool{State: true, Edition: true, Pull: true, Printed: true, Paper: true, Watermark: true, Ink: true,
	Printer: true, Holder: true, Inventory: true, Provenance: true, Signature: true, Condition: true,
	SheetSize: true, SheetHeight: true, SheetWidth: true}

// many are the fields that more than one column may hold.
var many = map[Field]bool{LeaveOut: true, Keep: true, OtherTitle: true, Technique: true, Dimensions: true, Group: true, Subject: true,
	Reference: true, Provenance: true, Inscription: true, Remarks: true}

// headings are the words by which a column is recognised, without accents and
// in lower case, in English, German, French, Italian, Spanish and Dutch.
var headings = map[Field][]string{
	Number: {"number", "no", "nr", "cat no", "cat", "catalogue number", "catalogue no", "catalog number", "plate no", "plate number", "kat nr",
		"katalognummer", "werkverzeichnis", "wv", "wvz", "nummer", "numero", "n", "no de catalogue", "numero de catalogue", "numero di catalogo",
		"numero de catalogo", "catalogusnummer"},
	Title:      {"title", "titel", "titre", "titolo", "titulo", "name of work", "bezeichnung", "work"},
	OtherTitle: {"other title", "alternative title", "alt title", "translated title", "nebentitel", "autre titre", "altro titolo", "otro titulo", "andere titel"},
	Maker: {"artist", "printmaker", "maker", "engraver", "etcher", "kunstler", "kunstlerin", "stecher", "radierer", "artiste", "graveur", "artista", "incisore",
		"grabador", "kunstenaar", "creator"},
	Date: {"date", "date text", "year", "dated", "datum", "jahr", "datierung", "annee", "data", "anno", "fecha", "ano", "jaar", "creation date", "date created",
		"entstehungsjahr"},
	Technique: {"technique", "techniques", "medium", "medium text", "technik", "verfahren", "procede", "tecnica", "techniek", "process", "media", "materials"},
	Metal:     {"metal", "plate material", "metall", "plattenmaterial", "metallo", "metaal", "matrice"},
	Dimensions: {"dimensions", "dimensions text", "size", "measurements", "masse", "mass", "grosse", "format", "dimensioni", "misure", "dimensiones", "medidas",
		"afmetingen", "maten"},
	PlateSize: {"plate size", "plate", "plate mark", "platemark", "plattengrosse", "plattenmass", "platte", "cuvette", "coup de planche", "planche",
		"lastra", "plancha", "plaat", "plaatmaat", "plate dimensions"},
	SheetSize: {"sheet size", "sheet", "paper size", "blattgrosse", "blattmass", "blatt", "feuille", "foglio", "hoja", "bladmaat", "sheet dimensions"},
	PlateHeight: {"plate height", "plattenhohe", "hauteur planche", "height plate", "height", "hohe", "hauteur", "altezza", "alto", "hoogte", "h", "item height",
		"true height", "height mm", "height cm"},
	PlateWidth: {"plate width", "plattenbreite", "largeur planche", "width plate", "width", "breite", "largeur", "larghezza", "ancho", "breedte", "w", "b",
		"item width", "true width", "width mm", "width cm"},
	SheetHeight: {"sheet height", "blatthohe", "hauteur feuille", "paper height"},
	SheetWidth:  {"sheet width", "blattbreite", "largeur feuille", "paper width"},
	Group: {"series", "portfolio", "group", "set", "group title", "portfolio text", "serie", "mappe", "folge", "album", "suite", "cartella", "carpeta", "reeks",
		"map", "zyklus"},
	Subject: {"subject", "subjects", "keywords", "motiv", "thema", "schlagworte", "sujet", "mots cles", "soggetto", "tema", "onderwerp"},
	Reference: {"reference", "references", "catalogue raisonne", "catalogue raisonne text", "literature", "literatur", "bibliographie", "bibliografia",
		"lit", "literatuur", "concordance"},
	State: {"state", "states", "zustand", "etat", "stato", "estado", "staat"},
	Edition: {"edition", "edition number", "edition text", "edition size", "numbering", "auflage", "nummerierung", "exemplar", "tirage", "numerotation",
		"tiratura", "numerazione", "tirada", "edicion", "oplage", "copy", "impression", "impression number", "ed"},
	Pull:    {"pull", "pull number", "pull no", "count", "abzug", "druck nr", "tirage no"},
	Printed: {"printed", "date printed", "printing date", "date of printing", "print date", "gedruckt", "druckdatum", "imprime", "date de tirage", "stampato", "impreso", "gedrukt"},
	Paper:   {"paper", "paper type", "papier", "papierart", "carta", "papel", "support"}, Watermark: {"watermark", "wasserzeichen", "filigrane", "filigrana", "watermerk"},
	Ink:     {"ink", "farbe", "druckfarbe", "encre", "inchiostro", "tinta", "inkt"},
	Printer: {"printer", "drucker", "imprimeur", "stampatore", "impresor", "drukker", "printed by"}, Publisher: {"publisher", "verleger", "verlag", "editeur", "editore", "editor", "uitgever", "published by"},
	Holder: {"holder", "owner", "collection", "location", "whereabouts", "buyer", "sold to", "besitzer", "sammlung", "standort", "kaufer", "proprietaire", "lieu",
		"localisation", "proprietario", "collezione", "coleccion", "eigenaar", "verzameling", "museum"},
	Inventory: {"inventory", "inventory number", "inventory no", "accession", "accession number", "inv", "inv nr", "inv no", "inventarnummer", "inventaire",
		"no inventaire", "inventario", "inventarisnummer", "object number"},
	Provenance:  {"provenance", "provenance text", "provenienz", "herkunft", "provenienza", "procedencia", "herkomst", "credit line"},
	Signature:   {"signature", "signed", "signed text", "signatur", "signiert", "signee", "firma", "firmato", "firmado", "gesigneerd", "handtekening"},
	Inscription: {"inscription", "inscriptions", "inscription text", "inscriptions text", "beschriftung", "bezeichnet", "inscripcion", "iscrizione", "opschrift"},
	Condition:   {"condition", "zustandsbeschreibung", "erhaltung", "erhaltungszustand", "conservation", "etat de conservation", "conservazione", "conservacion", "conditie"},
	Remarks: {"remarks", "notes", "note", "comment", "comments", "description", "description text", "bemerkung", "bemerkungen", "anmerkung", "beschreibung",
		"remarques", "osservazioni", "observaciones", "opmerkingen"},
}
