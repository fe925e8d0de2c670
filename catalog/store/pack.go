package store

import (
	"archive/zip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"sort"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/archive"
)

// ContentsFile is the list of hashes in a packed catalogue, in the form that
// sha256sum -c reads.
const ContentsFile = "contents.sha256"

// Bounds of what is unpacked, in bytes: a packed file from elsewhere may claim
// anything. Photographs hardly compress, so one that grows a hundredfold is
// none.
const (
	maxDatabase = 4 << 30
	maxContents = 64 << 20
	maxGrowth   = 100
)

// Pack writes the whole catalogue into one file at path: a ZIP archive with
// the database as of now, every photograph a record speaks of, and a list of
// hashes. The file is there whole or not at all.
func (s *Store) Pack(ctx context.Context, path string, progress Progress) error {
	temp, err := os.MkdirTemp("", "pullbook-pack-")
	if err != nil {
		return explain(err)
	}
	defer os.RemoveAll(temp)
	db := filepath.Join(temp, DatabaseFile)
	if err := s.copyDatabase(ctx, db); err != nil {
		return explain(err)
	}
	rows, err := photographs.readPlain(ctx, s.read, "", "")
	if err != nil {
		return explain(err)
	}
	err = archive.WriteFile(s.disk(), path, func(w io.Writer) error {
		z := zip.NewWriter(w)
		p := packing{z: z, hashes: map[string]string{}}
		if err := p.add(ctx, DatabaseFile, db, zip.Deflate); err != nil {
			return err
		}
		for i, h := range rows {
			progress.tell(i, len(rows), h.Name)
			if err := p.addPhotograph(ctx, s.Archive(), &h); err != nil {
				return err
			}
		}
		if err := p.contents(); err != nil {
			return err
		}
		return z.Close()
	})
	return explain(err)
}

// copyDatabase writes a compact copy of the database as of now. It has a
// connection to itself: the readers' are barred from this as from writing, and
// the writer may be busy.
func (s *Store) copyDatabase(ctx context.Context, to string) error {
	db := openPool(filepath.Join(s.dir, DatabaseFile), opening{mode: "ro", unmoving: s.unmoving})
	defer db.Close()
	_, err := db.ExecContext(ctx, "VACUUM INTO ?", to)
	return err
}

// packing is a catalogue being packed.
type packing struct {
	z      *zip.Writer
	hashes map[string]string // by name in the archive
}

func (p *packing) addPhotograph(ctx context.Context, a *archive.Archive, h *catalog.Photograph) error {
	name := path.Join(PhotographsDir, h.SHA256[:min(2, len(h.SHA256))], h.SHA256+h.Ext)
	if _, done := p.hashes[name]; done {
		return nil
	}
	if !allowedName(name) {
		return fmt.Errorf("the photograph %s has no proper name in the catalogue; check the catalogue first", h.Name)
	}
	// Photographs are compressed already.
	if err := p.add(ctx, name, a.Path(h.SHA256, h.Ext), zip.Store); err != nil {
		return fmt.Errorf("the photograph %s cannot be packed; check the catalogue first: %w", h.Name, err)
	}
	if p.hashes[name] != h.SHA256 {
		return fmt.Errorf("the photograph %s is not as it was taken in; check the catalogue first", h.Name)
	}
	return nil
}

func (p *packing) add(ctx context.Context, name, file string, method uint16) error {
	in, err := os.Open(file)
	if err != nil {
		return err
	}
	defer in.Close()
	w, err := p.z.CreateHeader(&zip.FileHeader{Name: name, Method: method})
	if err != nil {
		return err
	}
	sum := sha256.New()
	if _, err := io.Copy(io.MultiWriter(w, sum), archive.Stoppable(ctx, in)); err != nil {
		return err
	}
	p.hashes[name] = hex.EncodeToString(sum.Sum(nil))
	return nil
}

// contents writes the list of hashes.
func (p *packing) contents() error {
	names := make([]string, 0, len(p.hashes))
	for n := range p.hashes {
		names = append(names, n)
	}
	sort.Strings(names)
	w, err := p.z.Create(ContentsFile)
	if err != nil {
		return err
	}
	for _, n := range names {
		if _, err := fmt.Fprintf(w, "%s  %s\n", p.hashes[n], n); err != nil {
			return err
		}
	}
	return nil
}

// allowedName reports whether a packed catalogue may hold a file of this name;
// nothing else is ever written when unpacking.
func allowedName(name string) bool {
	if name == DatabaseFile || name == ContentsFile {
		return true
	}
	parts := strings.Split(name, "/")
	if len(parts) != 3 || parts[0] != PhotographsDir {
		return false
	}
	ext := path.Ext(parts[2])
	sha := strings.TrimSuffix(parts[2], ext)
	return archive.IsSHA256(sha) && parts[1] == sha[:2] && archive.IsExt(ext)
}

// Unpack opens a packed catalogue into the folder to, which must not exist.
// Every hash is checked; the folder appears whole or not at all.
func Unpack(ctx context.Context, packed, to string, progress Progress) (err error) {
	// SQLite is given its files as addresses, which know no working folder.
	if to, err = filepath.Abs(to); err != nil {
		return err
	}
	if _, err := os.Lstat(to); !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("there is already something at %s; choose a new name", to)
	}
	z, err := zip.OpenReader(packed)
	if err != nil {
		return fmt.Errorf("%s is not a packed catalogue, or was cut short: %w", filepath.Base(packed), err)
	}
	defer z.Close()
	temp, err := os.MkdirTemp(filepath.Dir(to), ".unpacking-")
	if err != nil {
		return explain(err)
	}
	defer os.RemoveAll(temp) // of no effect once renamed
	hashes := map[string]string{}
	for i, f := range z.File {
		progress.tell(i, len(z.File), f.Name)
		if !allowedName(f.Name) || hashes[f.Name] != "" {
			return fmt.Errorf("%s holds a file “%s” that has no place in a catalogue; nothing was unpacked", filepath.Base(packed), f.Name)
		}
		if hashes[f.Name], err = unpackFile(ctx, f, temp); err != nil {
			return fmt.Errorf("%s cannot be unpacked: %w", filepath.Base(packed), explain(err))
		}
	}
	if err := checkContents(temp, hashes); err != nil {
		return fmt.Errorf("%s is damaged, and nothing was unpacked: %w", filepath.Base(packed), err)
	}
	if err := checkCopy(ctx, filepath.Join(temp, DatabaseFile)); err != nil {
		return fmt.Errorf("%s is damaged, and nothing was unpacked: %w", filepath.Base(packed), err)
	}
	if err := refuseTriggers(ctx, filepath.Join(temp, DatabaseFile)); err != nil {
		return fmt.Errorf("%s was not unpacked: %w", filepath.Base(packed), err)
	}
	if err := finishUnpacked(temp); err != nil {
		return explain(err)
	}
	return explain(firstOf(func() error { return os.Rename(temp, to) }, func() error { return archive.OS{}.SyncDir(filepath.Dir(to)) }))
}

// refuseTriggers refuses a database that would act by itself: ours never does,
// and one from elsewhere might.
func refuseTriggers(ctx context.Context, file string) error {
	db := openPool(file, opening{mode: "ro", readers: true, unmoving: true})
	defer db.Close()
	found, err := findings(ctx, db, "SELECT name FROM sqlite_schema WHERE type = 'trigger'")
	if err == nil && len(found) > 0 {
		err = fmt.Errorf("its database has an action of its own (a trigger named %s)", found[0])
	}
	return err
}

// unpackFile writes one file and gives its hash.
func unpackFile(ctx context.Context, f *zip.File, dir string) (hash string, err error) {
	in, err := f.Open()
	if err != nil {
		return "", err
	}
	defer in.Close()
	limit := int64(maxDatabase)
	switch f.Name {
	case DatabaseFile:
	case ContentsFile:
		limit = maxContents
	default:
		if f.CompressedSize64 < maxDatabase/maxGrowth {
			limit = int64(f.CompressedSize64)*maxGrowth + 1<<20
		}
	}
	target := filepath.Join(dir, filepath.FromSlash(f.Name))
	if err := os.MkdirAll(filepath.Dir(target), 0o755); err != nil {
		return "", err
	}
	sum := sha256.New()
	err = archive.WriteFile(archive.OS{}, target, func(w io.Writer) error {
		n, err := io.Copy(io.MultiWriter(w, sum), io.LimitReader(archive.Stoppable(ctx, in), limit+1))
		if err == nil && n > limit {
			err = errors.New("a file in it is larger than it may be")
		}
		return err
	})
	return hex.EncodeToString(sum.Sum(nil)), err
}

// checkContents compares what was unpacked with the list, and photographs with
// their names.
func checkContents(dir string, hashes map[string]string) error {
	list, err := os.ReadFile(filepath.Join(dir, ContentsFile))
	if err != nil {
		return errors.New("its list of contents is missing")
	}
	listed := 0
	for _, line := range strings.Split(strings.TrimSuffix(string(list), "\n"), "\n") {
		hash, name, ok := strings.Cut(line, "  ")
		if !ok || hashes[name] == "" {
			return fmt.Errorf("%s is missing", name)
		}
		if hashes[name] != hash {
			return fmt.Errorf("%s is not as it was packed", name)
		}
		if base := path.Base(name); name != DatabaseFile && strings.TrimSuffix(base, path.Ext(base)) != hash {
			return fmt.Errorf("%s is not the photograph its name says", name)
		}
		listed++
	}
	if listed != len(hashes)-1 || hashes[DatabaseFile] == "" {
		return errors.New("its list of contents is not complete")
	}
	return nil
}

// finishUnpacked makes the folder as it is on disk otherwise.
func finishUnpacked(dir string) error {
	if err := os.Remove(filepath.Join(dir, ContentsFile)); err != nil {
		return err
	}
	for _, d := range []string{PhotographsDir, DerivedDir, BackupsDir} {
		if err := os.MkdirAll(filepath.Join(dir, d), 0o755); err != nil {
			return err
		}
	}
	if err := os.Chmod(dir, 0o755); err != nil {
		return err
	}
	return filepath.WalkDir(filepath.Join(dir, PhotographsDir), func(p string, e fs.DirEntry, err error) error {
		if err == nil && e.Type().IsRegular() {
			return os.Chmod(p, 0o444)
		}
		return err
	})
}
