package store

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"

	"pullbook/catalog/archive"
)

// Restore puts a backup in the place of the database of the catalogue in the
// folder dir, which must not be open. The database as it is, damaged or not,
// is kept in the backups folder under the name given back. Photographs are not
// touched. Stopped at any point, the catalogue has the old database or the
// backup, whole.
func Restore(ctx context.Context, dir, backup string, o Options) (keptAs string, err error) {
	s, err := locked(dir, o)
	if err != nil {
		return "", err
	}
	defer s.dropLock()
	if err := checkCopy(ctx, backup); err != nil {
		return "", fmt.Errorf("the backup %s cannot be used, and nothing was changed: %w", filepath.Base(backup), err)
	}
	d := s.disk()
	db := filepath.Join(s.dir, DatabaseFile)
	temp := filepath.Join(s.dir, ".restoring.db")
	if err := replaceCopy(ctx, d, backup, temp); err != nil {
		return "", explain(err)
	}
	defer func() {
		if err != nil {
			_ = d.Remove(temp) // replaced at the next attempt otherwise
		}
	}()
	emptyLog(ctx, db)
	keptAs = "set-aside-" + s.options.Now().UTC().Format("20060102-150405.000") + ".db"
	if err := setAside(ctx, d, db, filepath.Join(s.dir, BackupsDir, keptAs)); err != nil {
		return "", explain(err)
	}
	// A log left beside the new file would be taken for its own.
	for _, end := range []string{"-wal", "-shm"} {
		if err := d.Remove(db + end); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return "", explain(err)
		}
	}
	if err := firstOf(func() error { return d.Rename(temp, db) }, func() error { return d.SyncDir(s.dir) }); err != nil {
		return "", explain(err)
	}
	return keptAs, nil
}

// locked takes the lock of a catalogue without opening it.
func locked(dir string, o Options) (*Store, error) {
	abs, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	o.ReadOnly = false
	s := newStoreOf(abs, o)
	if err := s.takeLock(); err != nil {
		return nil, err
	}
	if s.readOnly {
		return nil, unopened(abs, TroubleAccess, "This cannot be done now. %s", s.notice[len(s.notice)-1])
	}
	return s, nil
}

// emptyLog brings the log into the database, where that can be done: a sound
// database is then one file.
func emptyLog(ctx context.Context, db string) {
	if !hasLog(db) {
		return
	}
	w := openPool(db, opening{mode: "rw"})
	_, _ = findings(ctx, w, "PRAGMA wal_checkpoint(TRUNCATE)") // a damaged one stays as it is and is kept with its log
	_ = w.Close()
}

// setAside keeps a database and its log under another name, in place.
func setAside(ctx context.Context, d archive.Disk, db, to string) error {
	if err := d.MakeDir(filepath.Dir(to)); err != nil {
		return err
	}
	for _, end := range []string{"", "-wal"} {
		if _, err := d.Stat(db + end); errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err := replaceCopy(ctx, d, db+end, to+end); err != nil {
			return err
		}
	}
	return nil
}

// replaceCopy copies a file, whole or not at all.
func replaceCopy(ctx context.Context, d archive.Disk, from, to string) error {
	in, err := d.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	return archive.WriteFile(d, to, func(w io.Writer) error {
		_, err := io.Copy(w, archive.Stoppable(ctx, in))
		return err
	})
}
