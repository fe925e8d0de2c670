package catalog

// Person is somebody with a part in the work: printmaker, printer, publisher.
type Person struct {
	ID    ID     `json:"id"`
	Name  string `json:"name"` // as printed
	Sort  string `json:"sort"` // as indexed: "Marrin, Ada"
	Born  Date   `json:"born"`
	Died  Date   `json:"died"`
	Roles string `json:"roles"`
	Note  string `json:"note"`
}

// Holder is a person or institution that has or had impressions. Private
// holders may be printed as "private collection".
type Holder struct {
	ID      ID     `json:"id"`
	Name    string `json:"name"`
	Place   string `json:"place"`
	Private bool   `json:"private"`
	Short   string `json:"short"` // abbreviation used in entries
	Note    string `json:"note"`
}

// Paper is one stock. Weight in grams per square metre.
type Paper struct {
	ID               ID      `json:"id"`
	Name             string  `json:"name"`
	Maker            string  `json:"maker"`
	Kind             string  `json:"kind"` // "wove", "laid", "chine collé", "japan"
	WeightGSM        float64 `json:"weight_gsm"`
	Watermark        string  `json:"watermark"`
	WatermarkPhotoID ID      `json:"watermark_photo_id"`
	ChainLineMM      float64 `json:"chain_line_mm"`
	Note             string  `json:"note"`
}

// Ink is one ink as used at the press.
type Ink struct {
	ID     ID     `json:"id"`
	Name   string `json:"name"`
	Maker  string `json:"maker"`
	Colour string `json:"colour"`
	Note   string `json:"note"`
}

// Press is a printing press.
type Press struct {
	ID   ID     `json:"id"`
	Name string `json:"name"`
	Note string `json:"note"`
}
