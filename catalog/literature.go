package catalog

// Literature is a published or unpublished source. Short is how entries cite
// it; Catalogue marks an earlier catalogue of the work, used in concordances.
type Literature struct {
	ID        ID     `json:"id"`
	Short     string `json:"short"`
	Authors   string `json:"authors"`
	Title     string `json:"title"`
	Published string `json:"published"` // place, publisher, series
	Year      Date   `json:"year"`
	Catalogue bool   `json:"catalogue"`
	Note      string `json:"note"`
}

// Exhibition is an exhibition at which works were shown.
type Exhibition struct {
	ID    ID     `json:"id"`
	Short string `json:"short"`
	Title string `json:"title"`
	Venue string `json:"venue"`
	Place string `json:"place"`
	Date  Date   `json:"date"`
	Note  string `json:"note"`
}
