package archive

import (
	"fmt"
	"os"
	"path/filepath"
)

// A LastingDisk is a Disk for tests, here and in other rooms: it remembers what
// would outlast a power cut. The bytes of a file do once it was synced after
// the last write; its name does once its folder was synced after the name was
// given, and so on for folders upwards (POSIX fsync: what is not asked for is
// not promised). What was there before the test is taken to last. It is not for
// use by more than one goroutine.
type LastingDisk struct {
	OS
	unsynced map[string]bool // files with bytes that would be lost
	synced   map[string]bool // files whose bytes were made to last
	unnamed  map[string]bool // files and folders whose name would be lost
}

// NewLastingDisk begins with everything lasting.
func NewLastingDisk() *LastingDisk {
	return &LastingDisk{unsynced: map[string]bool{}, synced: map[string]bool{}, unnamed: map[string]bool{}}
}

// Lost says what of a path a power cut now would lose, nil when nothing.
func (d *LastingDisk) Lost(path string) error {
	if d.unsynced[path] {
		return fmt.Errorf("the bytes of %s would be lost", path)
	}
	for p := path; ; p = filepath.Dir(p) {
		if d.unnamed[p] {
			return fmt.Errorf("the name %s would be lost", p)
		}
		if p == filepath.Dir(p) {
			return nil
		}
	}
}

type lastingFile struct {
	File
	d    *LastingDisk
	path string
}

func (f lastingFile) Write(p []byte) (int, error) {
	f.d.unsynced[f.path], f.d.synced[f.path] = true, false
	return f.File.Write(p)
}

func (f lastingFile) Sync() error {
	f.d.unsynced[f.path], f.d.synced[f.path] = false, true
	return f.File.Sync()
}

// CreateNew implements Disk.
func (d *LastingDisk) CreateNew(path string) (File, error) {
	f, err := d.OS.CreateNew(path)
	if err != nil {
		return nil, err
	}
	d.unnamed[path] = true
	return lastingFile{f, d, path}, nil
}

// Rename implements Disk.
func (d *LastingDisk) Rename(from, to string) error {
	if err := d.OS.Rename(from, to); err != nil {
		return err
	}
	// Others, such as SQLite, write files too; they last once we had them synced.
	d.unsynced[to], d.synced[to] = !d.synced[from], d.synced[from]
	delete(d.unsynced, from)
	delete(d.synced, from)
	delete(d.unnamed, from)
	d.unnamed[to] = true
	return nil
}

// MakeDir implements Disk.
func (d *LastingDisk) MakeDir(path string) error {
	for p := path; p != filepath.Dir(p); p = filepath.Dir(p) {
		if _, err := os.Stat(p); err == nil {
			break
		}
		d.unnamed[p] = true
	}
	return d.OS.MakeDir(path)
}

// SyncFile implements Disk.
func (d *LastingDisk) SyncFile(path string) error {
	d.unsynced[path], d.synced[path] = false, true
	return d.OS.SyncFile(path)
}

// SyncDir implements Disk.
func (d *LastingDisk) SyncDir(path string) error {
	for name := range d.unnamed {
		if filepath.Dir(name) == filepath.Clean(path) {
			delete(d.unnamed, name)
		}
	}
	return d.OS.SyncDir(path)
}
