// Package archive keeps photographs on disk: originals, never altered, each
// named by the SHA-256 of its bytes, so that anybody can check them with a
// standard tool. The same bytes are kept once.
//
//	photographs/ab/abcdef….jpg
//
// A photograph is taken in thus:
//
//	stream the source through SHA-256 into a temporary file in the target folder
//	sync, close, make read-only, rename to its final name, sync the folder
//	only then is the row recorded (by the store)
//
// A program killed on the way leaves at most a temporary file, which Sweep
// removes, or a photograph no row speaks of, which the store's Verify counts.
package archive

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"pullbook/catalog/say"
)

// tempPrefix begins the names of files not yet complete.
const tempPrefix = ".taking-in-"

// staleAfter is the age at which a temporary file is surely nobody's.
const staleAfter = time.Hour

func tempName() string { return tempPrefix + rand.Text() }

// Archive is the folder of a catalogue's photographs. It has no state of its
// own; its methods may be called from any goroutine.
type Archive struct {
	dir  string
	disk Disk
}

// Stored is a photograph in the archive.
type Stored struct {
	SHA256 string // 64 lower-case hex digits
	Ext    string // lower case, with its dot: ".jpg"
	Bytes  int64
}

// New gives the archive in the folder dir, the photographs folder of a
// catalogue. The folder need not exist yet.
func New(dir string) *Archive { return NewOn(OS{}, dir) }

// NewOn is New on a given Disk.
func NewOn(d Disk, dir string) *Archive { return &Archive{dir, d} }

// Dir is the archive's folder.
func (a *Archive) Dir() string { return a.dir }

// Path is where a photograph is kept. A hash that is none, or an ending with
// anything but letters and digits, gives a name inside the archive that
// nothing has: a damaged or hostile catalogue cannot point outside.
func (a *Archive) Path(sha256, ext string) string {
	if !IsSHA256(sha256) || ext != cleanExt(ext) {
		return filepath.Join(a.dir, "00", "no-such-photograph")
	}
	return filepath.Join(a.dir, sha256[:2], sha256+ext)
}

// IsSHA256 reports whether s is 64 lower-case hex digits.
func IsSHA256(s string) bool {
	if len(s) != 2*sha256.Size {
		return false
	}
	return strings.Trim(s, "0123456789abcdef") == ""
}

// IsExt reports whether s is an ending as the archive writes it: "" or a dot
// and at most five lower-case letters or digits.
func IsExt(s string) bool { return s == cleanExt(s) }

// cleanExt gives the ending kept for a name: its letters and digits in lower
// case, at most five, with a dot; "" when it has none or others.
func cleanExt(ext string) string {
	e := strings.ToLower(strings.TrimPrefix(ext, "."))
	if e == "" || len(e) > 5 || strings.Trim(e, "abcdefghijklmnopqrstuvwxyz0123456789") != "" {
		return ""
	}
	return "." + e
}

// Add copies the file at src into the archive and gives its name there. The
// source is only read. A photograph that is there already is kept as it is,
// unless its bytes are damaged: then the good copy takes its place.
func (a *Archive) Add(ctx context.Context, src string) (Stored, error) {
	in, err := a.disk.Open(src)
	if err != nil {
		return Stored{}, sentence(src, "cannot be read", err)
	}
	defer in.Close()
	info, err := in.Stat()
	if err != nil {
		return Stored{}, sentence(src, "cannot be read", err)
	}
	if !info.Mode().IsRegular() {
		return Stored{}, say.Errorf("%s is not a file; choose the photograph itself", filepath.Base(src))
	}
	if info.Size() == 0 {
		return Stored{}, say.Errorf("%s is empty; copy it from the camera again", filepath.Base(src))
	}
	return a.add(ctx, in, src, info.Size())
}

// AddFrom is Add of what a reader gives, size bytes; name is what to call it.
func (a *Archive) AddFrom(ctx context.Context, r io.Reader, name string, size int64) (Stored, error) {
	return a.add(ctx, r, name, size)
}

func (a *Archive) add(ctx context.Context, in io.Reader, name string, size int64) (s Stored, err error) {
	if err := a.disk.MakeDir(a.dir); err != nil {
		return s, sentence(name, "cannot be kept", err)
	}
	temp := filepath.Join(a.dir, tempName())
	out, err := a.disk.CreateNew(temp)
	if err != nil {
		return s, sentence(name, "cannot be kept", err)
	}
	done := false
	defer func() {
		if !done {
			_ = a.disk.Remove(temp) // Sweep gets it otherwise
		}
	}()
	h := sha256.New()
	s.Bytes, err = io.Copy(io.MultiWriter(out, h), Stoppable(ctx, in))
	if err == nil && s.Bytes != size {
		err = errors.New("its length changed while it was being read; try again when it is no longer written to")
	}
	if err := errors.Join(firstError(func() error { return err }, out.Sync), out.Close()); err != nil {
		return Stored{}, sentence(name, "cannot be taken in", err)
	}
	s.SHA256, s.Ext = hex.EncodeToString(h.Sum(nil)), cleanExt(filepath.Ext(name))
	if a.Check(ctx, s) == nil {
		return s, nil // kept already, and sound
	}
	if err := a.settle(temp, a.Path(s.SHA256, s.Ext)); err != nil {
		return Stored{}, sentence(name, "cannot be kept", err)
	}
	done = true
	return s, nil
}

// settle gives a finished temporary file its final name, for good.
func (a *Archive) settle(temp, final string) error {
	return firstError(
		func() error { return a.disk.MakeReadOnly(temp) },
		func() error { return a.disk.MakeDir(filepath.Dir(final)) },
		func() error { return a.disk.Rename(temp, final) },
		func() error { return a.disk.SyncDir(filepath.Dir(final)) },
		func() error { return a.disk.SyncDir(a.dir) },
	)
}

// Check reads a photograph and says in a sentence what is wrong with its file,
// or nil. ErrMissing and ErrAltered tell the cases apart.
func (a *Archive) Check(ctx context.Context, s Stored) error {
	f, err := a.disk.Open(a.Path(s.SHA256, s.Ext))
	if errors.Is(err, fs.ErrNotExist) {
		return ErrMissing
	}
	if err != nil {
		return say.Errorf("its file cannot be read: %v", err)
	}
	defer f.Close()
	h := sha256.New()
	n, err := io.Copy(h, Stoppable(ctx, f))
	if err != nil {
		return say.Errorf("its file cannot be read: %v", err)
	}
	if n != s.Bytes || hex.EncodeToString(h.Sum(nil)) != s.SHA256 {
		return ErrAltered
	}
	return nil
}

// What may be wrong with a photograph's file.
var (
	ErrMissing = say.Errorf("its file is missing")
	ErrAltered = say.Errorf("its file is not as it was taken in")
)

// Sweep removes the temporary files of takings-in that were cut short: those
// of its own naming that are more than an hour old at the time now. It gives
// how many.
func (a *Archive) Sweep(now time.Time) (int, error) {
	entries, err := a.disk.ReadDir(a.dir)
	if errors.Is(err, fs.ErrNotExist) {
		return 0, nil
	}
	if err != nil {
		return 0, err
	}
	n := 0
	var errs []error
	for _, e := range entries {
		info, err := e.Info()
		if err != nil || !strings.HasPrefix(e.Name(), tempPrefix) || !info.Mode().IsRegular() || now.Sub(info.ModTime()) < staleAfter {
			continue
		}
		if err := a.disk.Remove(filepath.Join(a.dir, e.Name())); err != nil {
			errs = append(errs, err)
			continue
		}
		n++
	}
	return n, errors.Join(errs...)
}

// Kept lists what is in the archive: the names of its photographs by their
// hash, and the names of files that are none.
func (a *Archive) Kept() (photographs map[string]int64, strangers []string, err error) {
	photographs = map[string]int64{}
	dirs, err := a.disk.ReadDir(a.dir)
	if errors.Is(err, fs.ErrNotExist) {
		return photographs, nil, nil
	}
	if err != nil {
		return nil, nil, err
	}
	for _, d := range dirs {
		if !d.IsDir() {
			if !strings.HasPrefix(d.Name(), tempPrefix) {
				strangers = append(strangers, d.Name())
			}
			continue
		}
		files, err := a.disk.ReadDir(filepath.Join(a.dir, d.Name()))
		if err != nil {
			return nil, nil, err
		}
		for _, f := range files {
			ext := filepath.Ext(f.Name())
			sha := strings.TrimSuffix(f.Name(), ext)
			info, err := f.Info()
			if err != nil || !info.Mode().IsRegular() || !IsSHA256(sha) || sha[:2] != d.Name() || ext != cleanExt(ext) {
				strangers = append(strangers, d.Name()+"/"+f.Name())
				continue
			}
			photographs[f.Name()] = info.Size()
		}
	}
	return photographs, strangers, nil
}

// Stoppable gives a reader that reads from r and ends with its context.
func Stoppable(ctx context.Context, r io.Reader) io.Reader { return stoppable{ctx, r} }

type stoppable struct {
	ctx context.Context
	r   io.Reader
}

func (s stoppable) Read(p []byte) (int, error) {
	if err := s.ctx.Err(); err != nil {
		return 0, err
	}
	return s.r.Read(p)
}

// sentence says what happened to which file and what to do.
func sentence(path, what string, err error) error {
	name := filepath.Base(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s %s: it is not there any more (%w)", name, what, err)
	case errors.Is(err, syscall.ENOSPC):
		return fmt.Errorf("%s %s: the disk is full. Make room and take it in again (%w)", name, what, err)
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return fmt.Errorf("%s %s: there is no permission to do so (%w)", name, what, err)
	}
	return fmt.Errorf("%s %s: %w", name, what, err)
}
