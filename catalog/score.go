package catalog

import (
	"encoding/json"
	"time"

	"pullbook/catalog/say"
)

// Score is one measurement of one photograph against the reference pull of
// its state. Quantities are those of the measuring room; a nil Value was not
// or could not be measured. Refused carries the reason in words.
type Score struct {
	ID               ID     `json:"id"`
	ImpressionID     ID     `json:"impression_id"`
	PhotoID          ID     `json:"photo_id"`
	StateID          ID     `json:"state_id"`
	ReferencePhotoID ID     `json:"reference_photo_id"`
	Method           string `json:"method"` // version of the method
	// Limit is the ink-loss limit the verdict was judged against, fraction.
	Limit   float64 `json:"limit"`
	Verdict string  `json:"verdict"` // "within", "outside", "cannot tell", "refused"
	Reason  string  `json:"reason"`  // cause and cure, in English
	// Said is the reason with its blanks apart, to be said in other languages:
	// the JSON of a say.Sentence. It is empty in scores of earlier versions.
	Said           string    `json:"said"`
	InkLoss        *Value    `json:"ink_loss"`
	WearLoss       *Value    `json:"wear_loss"`
	PlateTone      *Value    `json:"plate_tone"` // density
	ToneUnevenness *Value    `json:"tone_unevenness"`
	BurrLoss       *Value    `json:"burr_loss"`
	LinesLostMM    *Value    `json:"lines_lost_mm"`
	LinesLost      *Value    `json:"lines_lost"` // fraction of reference line length
	OverInking     *Value    `json:"over_inking"`
	RegistrationMM float64   `json:"registration_mm"`
	ToneP5         float64   `json:"tone_p5"`
	ToneP95        float64   `json:"tone_p95"`
	At             time.Time `json:"at"`
	// Tiles is the ink-loss map, row by row from the top-left of the plate,
	// NaN as null, JSON; TileMM the edge of a tile.
	Tiles  string  `json:"tiles"`
	TileMM float64 `json:"tile_mm"`
	// Regions are the scores of the plate's regions, in their order then.
	Regions []RegionScore `json:"regions"`
}

// Because keeps why a score is as it is, in words.
func (s *Score) Because(why say.Sentence) {
	s.Reason = why.String()
	b, err := json.Marshal(why)
	if err != nil { // texts and nothing else: cannot be
		b = nil
	}
	s.Said = string(b)
}

// Why is the reason, to be said in the reader's language.
func (s *Score) Why() say.Sentence {
	var why say.Sentence
	if s.Said != "" && json.Unmarshal([]byte(s.Said), &why) == nil && !why.IsZero() {
		return why
	}
	return say.Of("%s", say.Word(s.Reason))
}
