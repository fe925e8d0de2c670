//go:build !unix

package store

import "time"

var began = time.Now()

// processorTime is the time of the clock where that of the processors cannot
// be had.
func processorTime() time.Duration { return time.Since(began) }
