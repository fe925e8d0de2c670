// Package iiif writes a catalogue as IIIF Presentation 3.0: one manifest for
// each plate, with a canvas for each photographed impression in the order of
// states and pulls, a range for each state, the physical scale where the plate
// mark has been found, and pictures as static tiles (Image API 3.0, level 0)
// that any web server can hand out as plain files.
//
// The specification wants http(s) addresses. Options.Base is the address at
// which the folder will stand; when it is moved, it is written anew.
package iiif
