//go:build !linux

package studio

// quietly runs f; lowering the priority of one thread is done on Linux only.
func quietly(f func() error) error { return guarded(f) }

// BesideWindow does nothing: the priority of one thread is lowered on Linux only.
func BesideWindow() {}
