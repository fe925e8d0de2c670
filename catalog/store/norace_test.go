//go:build !race

package store

// underRace: the race detector is built in.
const underRace = false
