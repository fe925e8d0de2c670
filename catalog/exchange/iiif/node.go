package iiif

// langMap is a text by language: never a bare string.
type langMap map[string][]string

func en(s string) langMap   { return langMap{"en": {s}} }
func none(s string) langMap { return langMap{"none": {s}} }

// pair is a label with its value.
type pair struct {
	Label langMap `json:"label"`
	Value langMap `json:"value"`
}

// node is any resource of the Presentation API. Empty properties are left out.
type node struct {
	Context           any      `json:"@context,omitempty"`
	ID                string   `json:"id,omitempty"`
	Type              string   `json:"type"`
	Label             langMap  `json:"label,omitempty"`
	Metadata          []pair   `json:"metadata,omitempty"`
	Summary           langMap  `json:"summary,omitempty"`
	RequiredStatement *pair    `json:"requiredStatement,omitempty"`
	Rights            string   `json:"rights,omitempty"`
	Provider          []node   `json:"provider,omitempty"`
	Thumbnail         []node   `json:"thumbnail,omitempty"`
	Height            int      `json:"height,omitempty"`
	Width             int      `json:"width,omitempty"`
	Format            string   `json:"format,omitempty"`
	Motivation        string   `json:"motivation,omitempty"`
	Body              *node    `json:"body,omitempty"`
	Target            string   `json:"target,omitempty"`
	Service           []any    `json:"service,omitempty"`
	Items             []node   `json:"items,omitempty"`
	Structures        []node   `json:"structures,omitempty"`
	Behavior          []string `json:"behavior,omitempty"`
}

// scale is the physical dimensions service (IIIF annex "Physical Dimensions"):
// physicalScale times a length in pixels is the length in physicalUnits.
type scale struct {
	Context string  `json:"@context"`
	ID      string  `json:"@id"`
	Type    string  `json:"@type"`
	Profile string  `json:"profile"`
	Scale   float64 `json:"physicalScale"`
	Units   string  `json:"physicalUnits"`
}

// imageInfo is info.json of the Image API 3.0.
type imageInfo struct {
	Context  string     `json:"@context"`
	ID       string     `json:"id"`
	Type     string     `json:"type"`
	Protocol string     `json:"protocol"`
	Profile  string     `json:"profile"`
	Width    int        `json:"width"`
	Height   int        `json:"height"`
	Sizes    []areaSize `json:"sizes"`
	Tiles    []tiling   `json:"tiles"`
}

type areaSize struct {
	Width  int `json:"width"`
	Height int `json:"height"`
}

type tiling struct {
	Width        int   `json:"width"`
	Height       int   `json:"height"`
	ScaleFactors []int `json:"scaleFactors"`
}

// imageService is a reference to an image service.
type imageService struct {
	ID      string `json:"id"`
	Type    string `json:"type"`
	Profile string `json:"profile"`
}
