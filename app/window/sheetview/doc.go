// Package sheetview shows pictures of sheets on the plate's own millimetres:
// one sheet, or two under one motion, side by side, divided by a movable edge,
// in turn, or as their difference. The drawing is plain computation on tight
// RGBA pictures; Viewer is the widget round it.
package sheetview
