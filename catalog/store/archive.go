package store

import (
	"path/filepath"

	"pullbook/catalog/archive"
)

// Archive is where the catalogue's photographs are kept.
func (s *Store) Archive() *archive.Archive {
	return archive.NewOn(s.disk(), filepath.Join(s.dir, PhotographsDir))
}

// Derived is the folder of what can be made again.
func (s *Store) Derived() string { return filepath.Join(s.dir, DerivedDir) }

// disk is the file system the store writes its own files with.
func (s *Store) disk() archive.Disk {
	if s.options.Disk != nil {
		return s.options.Disk
	}
	return archive.OS{}
}
