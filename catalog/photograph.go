package catalog

import "time"

// View is what a photograph shows.
type View string

// Views.
const (
	ViewWhole       View = "whole sheet"
	ViewDetail      View = "detail"
	ViewRaking      View = "raking light"
	ViewTransmitted View = "transmitted light"
	ViewBlank       View = "blank sheet"
	ViewWedge       View = "grey wedge"
)

// Photograph is one picture file in the archive. The original is never
// altered; SHA256 names it.
type Photograph struct {
	ID           ID        `json:"id"`
	ImpressionID ID        `json:"impression_id"` // empty: not yet filed
	View         View      `json:"view"`
	SHA256       string    `json:"sha256"` // 64 hex digits
	Ext          string    `json:"ext"`    // ".jpg"
	Bytes        int64     `json:"bytes"`
	Name         string    `json:"name"` // the file's own name when taken in
	WidthPX      int       `json:"width_px"`
	HeightPX     int       `json:"height_px"`
	Orientation  int       `json:"orientation"` // EXIF 1..8, 0 none
	TakenAt      time.Time `json:"taken_at"`
	Camera       string    `json:"camera"`
	Lens         string    `json:"lens"`
	Profile      string    `json:"profile"` // colour profile found, or "assumed sRGB"
	AddedAt      time.Time `json:"added_at"`
	SessionID    ID        `json:"session_id"`
	Credit       string    `json:"credit"`
	// Mark is the plate mark in stored pixels (before any EXIF turn), pixel
	// centres at whole numbers: top-left, top-right, bottom-right,
	// bottom-left as the reference stands upright. MarkBy says how it was
	// found: "found", "by hand", "from the reference"; MarkSure 0..1.
	Mark     [4][2]float64 `json:"mark"`
	MarkBy   string        `json:"mark_by"`
	MarkSure float64       `json:"mark_sure"`
	// Quality findings, JSON as written by the measuring room; opaque here.
	Quality string `json:"quality"`
	// FiledBy says how the photograph came to its impression ("slip",
	// "recognised", "time order", "by hand"), FiledSure 0..1.
	FiledBy   string  `json:"filed_by"`
	FiledSure float64 `json:"filed_sure"`
	Note      string  `json:"note"`
}

// ShootingSession is one set-up of camera and lamps.
type ShootingSession struct {
	ID           ID        `json:"id"`
	Began        time.Time `json:"began"`
	Camera       string    `json:"camera"`
	Lamps        string    `json:"lamps"`
	BlankPhotoID ID        `json:"blank_photo_id"`
	WedgePhotoID ID        `json:"wedge_photo_id"`
	Note         string    `json:"note"`
}
