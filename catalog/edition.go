package catalog

// Edition is impressions of one state issued together. A restrike or a
// posthumous printing is an edition of its own.
type Edition struct {
	ID        ID     `json:"id"`
	PlateID   ID     `json:"plate_id"`
	StateID   ID     `json:"state_id"`
	Name      string `json:"name"` // "first edition", "restrike of 1988"
	Kind      string `json:"kind"` // "edition", "restrike", "posthumous"
	Date      Date   `json:"date"`
	Size      int    `json:"size"` // numbered impressions, 1/N to N/N
	Artists   int    `json:"artists"`
	Printers  int    `json:"printers"`
	HorsComm  int    `json:"hors_commerce"`
	Trials    int    `json:"trials"`
	Others    int    `json:"others"`
	Scheme    string `json:"scheme"` // "arabic", "roman", "unnumbered"
	PaperID   ID     `json:"paper_id"`
	Publisher ID     `json:"publisher_id"`
	PrinterID ID     `json:"printer_id"`
	// PlateAfter says what was done with the plate once printed.
	PlateAfter Fate     `json:"plate_after"`
	Signed     string   `json:"signed"`
	Stamps     string   `json:"stamps"`
	Price      string   `json:"price"`
	Statement  string   `json:"statement"` // as printed or certified
	Remarks    string   `json:"remarks"`
	NotKnown   []string `json:"not_known"`
}
