// Package platesim draws invented intaglio plates, pulls impressions from them
// and photographs the sheets, with exact truth. It exists to test the
// measuring and to illustrate the sample catalogue, and shares no code with
// the measuring: its own geometry, light, colour and file writing.
//
// A plate is a set of strokes in millimetres, each with a technique, a depth
// and the states in which it stood on the copper. An impression thins every
// stroke by depth and technique as pulls wear the metal: burr goes first, then
// fine lines. A photograph adds wiping, paper, press, lamps, lens and file.
//
// The print model is R = Rp·10^-t·(1-a) + Ri·a, with Rp paper, t plate tone, a
// line coverage and Ri ink (Murray and Davies 1936), in linear light.
package platesim
