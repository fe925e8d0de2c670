// Package sample carries the sample catalogue: an invented press on an
// invented estuary, an invented printmaker and her invented plates, with
// photographs drawn by the simulator and scores measured on them. It is made
// by app/studio/makesample; nothing in it is written by hand.
package sample

import "embed"

// Catalogue is the whole catalogue as values, a catalog.Snapshot in JSON.
//
//go:embed catalogue.json
var Catalogue []byte

// Photographs holds the photographs as photographs/NAME.
//
//go:embed photographs/*.jpg
var Photographs embed.FS
