package archive

import "io/fs"

// A FailingDisk is a Disk for tests, here and in other rooms: it counts what is
// asked of it and lets one operation fail. It is not for use by more than one
// goroutine.
type FailingDisk struct {
	Disk
	At     int    // the how-manieth operation fails, counted from 1; 0 none
	Err    error  // with which error
	Short  bool   // a failing write writes half first
	Count  int    // operations asked for so far
	Failed string // the operation that failed, "" none yet
}

func (d *FailingDisk) op(name string) error {
	d.Count++
	if d.Count != d.At {
		return nil
	}
	d.Failed = name
	return &fs.PathError{Op: name, Path: "(test)", Err: d.Err}
}

type failingFile struct {
	File
	d *FailingDisk
}

func (f failingFile) Write(p []byte) (int, error) {
	if err := f.d.op("write"); err != nil {
		n := 0
		if f.d.Short {
			n, _ = f.File.Write(p[:len(p)/2]) // the error told is the one made
		}
		return n, err
	}
	return f.File.Write(p)
}

func (f failingFile) Sync() error {
	if err := f.d.op("sync"); err != nil {
		return err
	}
	return f.File.Sync()
}

func (f failingFile) Close() error {
	err := f.d.op("close")
	if e := f.File.Close(); err == nil {
		err = e
	}
	return err
}

// Open implements Disk.
func (d *FailingDisk) Open(path string) (fs.File, error) {
	if err := d.op("open"); err != nil {
		return nil, err
	}
	return d.Disk.Open(path)
}

// CreateNew implements Disk.
func (d *FailingDisk) CreateNew(path string) (File, error) {
	if err := d.op("create"); err != nil {
		return nil, err
	}
	f, err := d.Disk.CreateNew(path)
	return failingFile{f, d}, err
}

// Rename implements Disk.
func (d *FailingDisk) Rename(from, to string) error {
	if err := d.op("rename"); err != nil {
		return err
	}
	return d.Disk.Rename(from, to)
}

// Remove implements Disk.
func (d *FailingDisk) Remove(path string) error {
	if err := d.op("remove"); err != nil {
		return err
	}
	return d.Disk.Remove(path)
}

// MakeDir implements Disk.
func (d *FailingDisk) MakeDir(path string) error {
	if err := d.op("make folder"); err != nil {
		return err
	}
	return d.Disk.MakeDir(path)
}

// MakeReadOnly implements Disk.
func (d *FailingDisk) MakeReadOnly(path string) error {
	if err := d.op("make read-only"); err != nil {
		return err
	}
	return d.Disk.MakeReadOnly(path)
}

// SyncFile implements Disk.
func (d *FailingDisk) SyncFile(path string) error {
	if err := d.op("sync file"); err != nil {
		return err
	}
	return d.Disk.SyncFile(path)
}

// SyncDir implements Disk.
func (d *FailingDisk) SyncDir(path string) error {
	if err := d.op("sync folder"); err != nil {
		return err
	}
	return d.Disk.SyncDir(path)
}

// Stat implements Disk.
func (d *FailingDisk) Stat(path string) (fs.FileInfo, error) {
	if err := d.op("stat"); err != nil {
		return nil, err
	}
	return d.Disk.Stat(path)
}

// ReadDir implements Disk.
func (d *FailingDisk) ReadDir(path string) ([]fs.DirEntry, error) {
	if err := d.op("list"); err != nil {
		return nil, err
	}
	return d.Disk.ReadDir(path)
}
