// Package imaging is what is seen: it turns photographs of impressions into
// measurements. Pure computation: no database, no window, no globals.
//
// # One photograph's way
//
//	Open        file -> Photo: decoded safely, upright, linear light
//	FindPlate   Photo -> PlateMark: four corners and how sure
//	Prepare     Photo + PlateMark -> Reference: sheet, lines, ground; made once
//	Measure     Reference + Photo -> Result: mapping, scores with u, maps
//	Compare     two registered sheets -> Changes: new and removed work
//	Place       Photo among the states of a plate -> state, confidence, order
//
// # Conventions
//
// The plate's frame: millimetres, x to the right, y down, origin at the
// top-left corner of the plate mark (its outer edge) as the reference stands
// upright. Upright pixels are those after any EXIF turn; stored pixels those
// of the file; centres at whole numbers in both. Sizes are height x width.
// Reflectance R is relative to the bare paper of the same sheet; density is
// -log10 R (ISO 5). Line coverage a = (G-R)/(G-Ri), with G the local ground
// that carries the plate tone and Ri the ink's own reflectance (Murray and
// Davies 1936). u is a standard uncertainty, k = 1 (GUM, JCGM 100:2008).
package imaging
