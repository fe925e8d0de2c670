package catalog

// Imprint is what the catalogue says of itself: title page, printmaker, press.
type Imprint struct {
	ID           ID     `json:"id"` // always "imprint"
	Title        string `json:"title"`
	Subtitle     string `json:"subtitle"`
	MakerID      ID     `json:"maker_id"`
	Author       string `json:"author"`
	Publisher    string `json:"publisher"`
	Place        string `json:"place"`
	Year         string `json:"year"`
	Introduction string `json:"introduction"`
	Rights       string `json:"rights"`
	Colophon     string `json:"colophon"`
	// LossLimit and ToneLimit are the catalogue's default limits for a good
	// impression: ink loss as a fraction, plate tone in density.
	LossLimit float64 `json:"loss_limit"`
	ToneLimit float64 `json:"tone_limit"`
	DryHours  int     `json:"dry_hours"` // default 48
	// Language is that of what is printed, a BCP 47 tag; empty is English.
	Language string `json:"language"`
	// Book is how the printed catalogue is put together; empty: the usual parts
	// in their usual order.
	Book []BookPart `json:"book"`
}

// BookPart is one part of the printed catalogue. Kind is one of the parts the
// typesetting knows ("introduction", "the plates", "index of titles") or "own
// text". Heading, where set, stands instead of the usual one. Text is the
// user's own, with *italic*, **strong**, an empty line between paragraphs and
// "## " before heads. Off leaves the part out.
type BookPart struct {
	Kind    string `json:"kind"`
	Heading string `json:"heading"`
	Text    string `json:"text"`
	Off     bool   `json:"off"`
}

// Snapshot is a whole catalogue as plain values at one moment, in catalogue
// order: plates by number, states and impressions within their plate. What is
// printed and what is exported is made from a Snapshot. It must not be
// altered by those who read it; the compiler cannot enforce this.
type Snapshot struct {
	Imprint     Imprint
	Plates      []Plate
	States      []State
	Impressions []Impression
	Editions    []Edition
	Photographs []Photograph
	Scores      []Score
	Days        []PrintingDay
	Sessions    []ShootingSession
	Groups      []Group
	People      []Person
	Holders     []Holder
	Papers      []Paper
	Inks        []Ink
	Presses     []Press
	Literature  []Literature
	Exhibitions []Exhibition
}
