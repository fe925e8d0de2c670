// Package life answers how a plate wears: how much of its life is gone, how
// many good impressions are left, how large an edition may be announced. It
// is arithmetic on scores and pull numbers and knows no pixels.
//
// # The model
//
// What rises from pull to pull is wear; what scatters about the rise is inking
// and wiping. So the run is read from the plain ink loss of its sheets, with
// the scatter told apart by the run itself. The wear loss of a single sheet,
// fine lines against strong ones, would not do: strong lines wear too, in
// drypoint nearly as fast as fine ones, so it is only a lower bound.
//
// Ink loss y is measured against the reference pull of a state, so it is
// zero at that pull and rises with the pulls n counted from the start of the
// stretch: the state's first pull, or the last re-cutting or steel-facing. A
// shape s with s(0) = 0 and s(1) = 1 says how: the true loss is
//
//	y(n) = (A s(n/N) - A s(r/N)) / (1 - A s(r/N)),   A such that y(N) = T
//
// where r is the reference's pull, T the printer's own limit of loss and
// N the pull at which the limit is reached. N is what is asked for, so it
// gets the prior directly: what the trade expects of the technique.
//
// What is read from one sheet is y(n) plus its measuring uncertainty u, plus
// the scatter of inking from pull to pull, plus the mood of the day.
//
// The posterior is sampled with a fixed seed: the same observations give the
// same forecast, to the last digit, on every run.
package life
