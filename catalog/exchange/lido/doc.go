// Package lido writes a catalogue as LIDO 1.1, the XML format in which museums
// hand descriptions to portals: one lidoWrap holding a record for each plate
// and each impression. State and edition have elements of their own; the plate
// mark and the sheet are measured apart.
package lido
