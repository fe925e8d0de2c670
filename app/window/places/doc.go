// Package places is the window's screens: the frame with the plate list, and
// the four places of the working day - press, camera, table, desk. It draws,
// takes gestures, and shapes what is shown; every rule and every computation is
// asked of House, on worker goroutines. All methods not said otherwise belong
// to the interface goroutine.
package places
