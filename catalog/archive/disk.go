package archive

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
)

// A Disk is what the archive, the backups and the packing need of a file
// system. OS is the real one; tests use one whose operations fail.
type Disk interface {
	// Open opens a file for reading.
	Open(path string) (fs.File, error)
	// CreateNew makes a file for writing, which must not exist.
	CreateNew(path string) (File, error)
	// Rename gives a file its final name, replacing what has that name.
	Rename(from, to string) error
	// Remove removes a file.
	Remove(path string) error
	// MakeDir makes a folder and those above it.
	MakeDir(path string) error
	// MakeReadOnly takes the permission to write away.
	MakeReadOnly(path string) error
	// SyncFile makes what was written to a file last.
	SyncFile(path string) error
	// SyncDir makes the names in a folder last; file systems that cannot
	// are no error.
	SyncDir(path string) error
	// Stat describes a file.
	Stat(path string) (fs.FileInfo, error)
	// ReadDir lists a folder.
	ReadDir(path string) ([]fs.DirEntry, error)
}

// A File is one being written.
type File interface {
	io.WriteCloser
	Sync() error
}

// OS is the operating system's file system.
type OS struct{}

// Open implements Disk.
func (OS) Open(path string) (fs.File, error) { return os.Open(path) }

// CreateNew implements Disk.
func (OS) CreateNew(path string) (File, error) {
	return os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
}

// Rename implements Disk.
func (OS) Rename(from, to string) error { return os.Rename(from, to) }

// Remove implements Disk.
func (OS) Remove(path string) error { return os.Remove(path) }

// MakeDir implements Disk.
func (OS) MakeDir(path string) error { return os.MkdirAll(path, 0o755) }

// MakeReadOnly implements Disk.
func (OS) MakeReadOnly(path string) error { return os.Chmod(path, 0o444) }

// Stat implements Disk.
func (OS) Stat(path string) (fs.FileInfo, error) { return os.Stat(path) }

// ReadDir implements Disk.
func (OS) ReadDir(path string) ([]fs.DirEntry, error) { return os.ReadDir(path) }

// SyncFile implements Disk.
func (OS) SyncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// SyncDir implements Disk.
func (OS) SyncDir(path string) error {
	if runtime.GOOS == "windows" {
		return nil // folders cannot be synced there
	}
	d, err := os.Open(path)
	if err != nil {
		return err
	}
	err = d.Sync()
	for _, cannot := range []error{syscall.ENOTSUP, syscall.ENOTTY, syscall.EINVAL} {
		if errors.Is(err, cannot) {
			err = nil
		}
	}
	return errors.Join(err, d.Close())
}

// WriteFile writes a file so that it is there whole or not at all, even when
// the power fails: a temporary file beside it, synced, then renamed. write
// gives the contents. Nothing is left behind on failure.
func WriteFile(d Disk, path string, write func(io.Writer) error) (err error) {
	temp := filepath.Join(filepath.Dir(path), tempName())
	f, err := d.CreateNew(temp)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			_ = d.Remove(temp) // Sweep gets it otherwise
		}
	}()
	// A descriptor whose sync failed is not tried again: the system may
	// have dropped the pages and would then report success.
	if err := errors.Join(firstError(func() error { return write(f) }, f.Sync), f.Close()); err != nil {
		return err
	}
	if err := d.Rename(temp, path); err != nil {
		return err
	}
	return d.SyncDir(filepath.Dir(path))
}

// firstError runs steps until one fails.
func firstError(steps ...func() error) error {
	for _, step := range steps {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}
