package catalog

import "time"

// State is a plate as it stood between two campaigns of work.
type State struct {
	ID      ID  `json:"id"`
	PlateID ID  `json:"plate_id"`
	N       int `json:"n"` // from 1
	// Description says by what this state is told from the one before, in
	// the words the book prints.
	Description string   `json:"description"`
	Date        Date     `json:"date"`
	Changes     []Change `json:"changes"` // accepted patches of work
	Work        []Work   `json:"work"`    // the campaign that made this state
	// Techniques of the work added in this state; empty means the plate's.
	Techniques []Technique `json:"techniques"`
	// ReferenceID is the impression the others of this state are measured
	// against; ReferencePhotoID the photograph of it that is used.
	ReferenceID      ID         `json:"reference_id"`
	ReferencePhotoID ID         `json:"reference_photo_id"`
	Literature       []Citation `json:"literature"`
	Remarks          string     `json:"remarks"`
}

// CannotSee is the kind of a [Change] that is none: a part of the plate too
// crowded or faulty for changes to be seen there, or worn so that work and wear
// cannot be told apart.
const CannotSee = "cannot see"

// Change is one patch of new or removed work, in the plate's frame: x to the
// right, y down, origin at the top-left corner of the plate mark, mm.
type Change struct {
	Kind    string     `json:"kind"` // "added", "removed", "changed texture"; "cannot see": too crowded, faulty or worn to tell
	BoxMM   [4]float64 `json:"box_mm"`
	AreaMM2 float64    `json:"area_mm2"`
	Sure    float64    `json:"sure"`   // 0..1
	Words   string     `json:"words"`  // "new drypoint shading, lower left, 14 x 9 mm"
	Ruling  string     `json:"ruling"` // "accepted", "rejected" or "" (not yet looked at)
}

// WorkKind is one kind of work on the metal.
type WorkKind string

// Kinds of work.
const (
	WorkBite      WorkKind = "bite"
	WorkBurin     WorkKind = "burin"
	WorkDrypoint  WorkKind = "drypoint"
	WorkBurnish   WorkKind = "burnishing"
	WorkScrape    WorkKind = "scraping"
	WorkAquatint  WorkKind = "aquatint ground"
	WorkSteelFace WorkKind = "steel-facing"
	WorkRecut     WorkKind = "re-cutting"
	WorkClean     WorkKind = "cleaning"
)

// Work is one entry of the work log. The mordant fields are for a bite only.
type Work struct {
	Kind         WorkKind `json:"kind"`
	Date         Date     `json:"date"`
	Note         string   `json:"note"`
	Tool         string   `json:"tool"`
	Mordant      string   `json:"mordant"`
	Strength     string   `json:"strength"`
	TemperatureC float64  `json:"temperature_c"`
	Minutes      float64  `json:"minutes"`
	StoppedOut   string   `json:"stopped_out"`
}

// Decision is what was decided about a sheet, and why.
type Decision struct {
	Verdict string    `json:"verdict"` // "keep", "proof", "tear up", "sign", "" none yet
	Reason  string    `json:"reason"`
	By      string    `json:"by"`
	At      time.Time `json:"at"`
}
