package catalog

// Size is a height and a width in millimetres, in that order. The zero Size
// is "not recorded".
type Size struct {
	HeightMM float64 `json:"height_mm"`
	WidthMM  float64 `json:"width_mm"`
}

// IsZero reports whether nothing is recorded.
func (s Size) IsZero() bool { return s.HeightMM == 0 && s.WidthMM == 0 }

// Value is a measured quantity with its standard uncertainty (k = 1; GUM,
// JCGM 100:2008). The unit is that of the quantity it stands for.
type Value struct {
	V float64 `json:"value"`
	U float64 `json:"u"`
}

// Date is a date of the world as somebody wrote it. EDTF is its reading in
// the Extended Date/Time Format (ISO 8601-2, Library of Congress
// specification), empty when the text could not be read; Text is what was
// written and is never altered.
type Date struct {
	Text string `json:"text"`
	EDTF string `json:"edtf"`
}

// IsZero reports whether nothing is recorded.
func (d Date) IsZero() bool { return d.Text == "" && d.EDTF == "" }
