package catalog

import "time"

// Kind says what an impression is within or outside its edition. It is always
// recorded by itself: roman figures never decide it.
type Kind string

// Kinds of impression, with the customary abbreviations.
const (
	KindUnrecorded   Kind = ""
	KindTrial        Kind = "trial proof"        // T.P.
	KindState        Kind = "state proof"        //
	KindBAT          Kind = "bon à tirer"        // B.A.T.
	KindNumbered     Kind = "numbered"           // n/N
	KindArtist       Kind = "artist's proof"     // A.P., E.A.
	KindPrinter      Kind = "printer's proof"    // P.P.
	KindHorsCommerce Kind = "hors commerce"      // H.C.
	KindCancellation Kind = "cancellation proof" // C.P.
	KindUnnumbered   Kind = "unnumbered"
)

// Impression is one printed sheet.
type Impression struct {
	ID      ID `json:"id"`
	PlateID ID `json:"plate_id"`
	StateID ID `json:"state_id"` // empty: state not yet told
	// Pull is the count of pull of this plate from its first, 0 not recorded.
	Pull      int    `json:"pull"`
	Kind      Kind   `json:"kind"`
	EditionID ID     `json:"edition_id"`
	Written   string `json:"written"` // the number as written on the sheet
	// Ordinal and OutOf are the figures of Written read as numbers ("7/30").
	Ordinal   int       `json:"ordinal"`
	OutOf     int       `json:"out_of"`
	PaperID   ID        `json:"paper_id"`
	Sheet     Size      `json:"sheet"`
	Watermark string    `json:"watermark"` // where on this sheet, what part shows
	InkID     ID        `json:"ink_id"`
	Wiping    string    `json:"wiping"`
	PrinterID ID        `json:"printer_id"`
	PressID   ID        `json:"press_id"`
	DayID     ID        `json:"day_id"` // the printing day
	PulledAt  time.Time `json:"pulled_at"`
	// Printed is the date of printing where PulledAt is not known exactly.
	Printed Date `json:"printed"`
	// DryFrom is when the sheet may be handled; two days after the pull
	// unless changed (common practice: one to two days).
	DryFrom      time.Time     `json:"dry_from"`
	Signature    string        `json:"signature"`
	Inscriptions []Inscription `json:"inscriptions"`
	Condition    string        `json:"condition"`
	HolderID     ID            `json:"holder_id"`
	Inventory    string        `json:"inventory"` // the holder's own number
	Provenance   []Owner       `json:"provenance"`
	Exhibitions  []Showing     `json:"exhibitions"`
	Literature   []Citation    `json:"literature"`
	Decision     Decision      `json:"decision"`
	Remarks      string        `json:"remarks"`
	NotKnown     []string      `json:"not_known"`
}

// Owner is one link of a provenance, oldest first.
type Owner struct {
	HolderID ID     `json:"holder_id"`
	Name     string `json:"name"` // where there is no holder record
	From     Date   `json:"from"`
	To       Date   `json:"to"`
	How      string `json:"how"` // "purchased", "gift", "bequest"
	Note     string `json:"note"`
}

// Showing is an exhibition in which a record was shown.
type Showing struct {
	ExhibitionID ID     `json:"exhibition_id"`
	Number       string `json:"number"`
	Note         string `json:"note"`
}

// PrintingDay is one day's work at the press on one state of one plate.
type PrintingDay struct {
	ID      ID        `json:"id"`
	PlateID ID        `json:"plate_id"`
	StateID ID        `json:"state_id"`
	Began   time.Time `json:"began"`
	Ended   time.Time `json:"ended"`
	Note    string    `json:"note"`
}
