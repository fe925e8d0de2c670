package catalog

// Technique is how lines or tones were put into the metal.
type Technique string

// Techniques the program knows by name; any other word is kept as written.
const (
	Engraving  Technique = "engraving"
	Etching    Technique = "etching"
	Drypoint   Technique = "drypoint"
	Aquatint   Technique = "aquatint"
	SoftGround Technique = "soft-ground etching"
	Mezzotint  Technique = "mezzotint"
	Roulette   Technique = "roulette"
)

// Standing says how sure the attribution to the printmaker is.
type Standing string

// Standings.
const (
	Accepted Standing = "accepted"
	Doubtful Standing = "doubtful"
	Rejected Standing = "rejected"
)

// Fate says what became of the metal.
type Fate string

// Fates. The empty Fate is "not recorded".
const (
	FateKept      Fate = "kept"
	FateCancelled Fate = "cancelled"
	FateDestroyed Fate = "destroyed"
	FateLost      Fate = "lost"
	FateUnknown   Fate = "not known"
)

// Number is a catalogue number: optional prefix for doubtful, rejected or
// added works, a whole number, optional suffix: "31a", "R 3".
type Number struct {
	Prefix string `json:"prefix"`
	N      int    `json:"n"`
	Suffix string `json:"suffix"`
}

// Title is one title of a plate. Given is "artist", "supplied" or "other";
// Language is a BCP 47 tag, empty when not recorded.
type Title struct {
	Text     string `json:"text"`
	Language string `json:"language"`
	Given    string `json:"given"`
}

// Inscription is writing in the plate or on a sheet, as it stands: line ends
// are kept. Medium is "in the plate", "pencil", "ink", "stamp".
type Inscription struct {
	Text   string `json:"text"`
	Place  string `json:"place"`
	Medium string `json:"medium"`
	By     string `json:"by"`
}

// Citation is a place in the literature that speaks of a record. Number is
// the other catalogue's number, State the state as that work counts it (0 not
// given): another catalogue may count states differently.
type Citation struct {
	WorkID ID     `json:"work_id"`
	Pages  string `json:"pages"`
	Number string `json:"number"`
	State  int    `json:"state"`
	Note   string `json:"note"`
}

// Plate is one worked plate and the work of art made with it.
type Plate struct {
	ID         ID          `json:"id"`
	Number     Number      `json:"number"`
	Standing   Standing    `json:"standing"`
	Titles     []Title     `json:"titles"` // the first is the title used
	Date       Date        `json:"date"`
	MakerID    ID          `json:"maker_id"` // the printmaker
	Techniques []Technique `json:"techniques"`
	Metal      string      `json:"metal"`
	// Copper is the size of the metal; Mark the size of the plate mark as
	// printed, smaller by the shrinking of damp paper. Kept apart.
	Copper      Size    `json:"copper"`
	Mark        Size    `json:"mark"`
	ThicknessMM float64 `json:"thickness_mm"`
	BevelMM     float64 `json:"bevel_mm"`
	SteelFaced  bool    `json:"steel_faced"`
	// SteelFacedAtPull is the count of pull at which the facing was put on,
	// 0 when not recorded.
	SteelFacedAtPull int           `json:"steel_faced_at_pull"`
	Fate             Fate          `json:"fate"`
	FateNote         string        `json:"fate_note"`
	FateDate         Date          `json:"fate_date"`
	Inscriptions     []Inscription `json:"inscriptions"` // in the plate
	Subjects         []string      `json:"subjects"`
	GroupIDs         []ID          `json:"group_ids"`
	Literature       []Citation    `json:"literature"`
	Exhibitions      []Showing     `json:"exhibitions"`
	// LossLimit is the printer's own limit of ink loss for a good
	// impression, as a fraction; 0 means the catalogue's default.
	LossLimit float64 `json:"loss_limit"`
	// Regions are the parts of the plate that are scored by themselves.
	Regions []Region `json:"regions"`
	Remarks string   `json:"remarks"`
	// NotKnown names fields looked into and found not to be known, by their
	// JSON names: a different statement from an empty field.
	NotKnown []string `json:"not_known"`
}

// Title returns the title used, or "" when there is none.
func (p *Plate) Title() string {
	if len(p.Titles) == 0 {
		return ""
	}
	return p.Titles[0].Text
}

// MeasureSize is the plate's size for measuring: the printed mark where
// recorded, else the copper.
func (p *Plate) MeasureSize() Size {
	if !p.Mark.IsZero() {
		return p.Mark
	}
	return p.Copper
}

// Group is a portfolio, series or set of plates.
type Group struct {
	ID    ID     `json:"id"`
	Title string `json:"title"`
	Kind  string `json:"kind"` // "portfolio", "series", "set", "book"
	Date  Date   `json:"date"`
	Note  string `json:"note"`
}
