package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// How many backups are kept: of the last seven days on which something was
// entered, and the last of each of the four weeks before.
const (
	keepDays  = 7
	keepWeeks = 4
)

const dayLayout = "2006-01-02"

// A Backup is a copy of the database in a catalogue's backups folder.
type Backup struct {
	Path  string
	Day   time.Time // of a daily backup; the zero time for others
	Bytes int64
	Made  time.Time
}

// Backups lists the backups of the catalogue in the folder dir, newest first.
func Backups(dir string) ([]Backup, error) {
	entries, err := os.ReadDir(filepath.Join(dir, BackupsDir))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var all []Backup
	for _, e := range entries {
		info, err := e.Info()
		if err != nil || !info.Mode().IsRegular() || strings.HasPrefix(e.Name(), ".") || filepath.Ext(e.Name()) != ".db" {
			continue
		}
		b := Backup{Path: filepath.Join(dir, BackupsDir, e.Name()), Bytes: info.Size(), Made: info.ModTime()}
		b.Day, _ = time.Parse(dayLayout, strings.TrimSuffix(e.Name(), ".db")) // others have no day
		all = append(all, b)
	}
	slices.SortFunc(all, func(a, b Backup) int { return b.Made.Compare(a.Made) })
	return all, nil
}

// Backup makes a backup of the database now, in the backups folder, under
// today's name or, when today has one, under today's name and the time.
func (s *Store) Backup(ctx context.Context) (path string, err error) {
	if s.readOnly {
		return "", ErrReadOnly
	}
	s.doing.Lock()
	defer s.doing.Unlock()
	if s.closed {
		return "", errClosed
	}
	now := s.options.Now()
	path = filepath.Join(s.dir, BackupsDir, now.Format(dayLayout)+".db")
	if _, err := s.disk().Stat(path); err == nil {
		path = filepath.Join(s.dir, BackupsDir, now.Format(dayLayout+"-150405")+".db")
	}
	return path, explain(s.backupTo(ctx, path))
}

// backupTo writes a compact copy of the database as of now to path: whole and
// checked, or not at all.
func (s *Store) backupTo(ctx context.Context, path string) (err error) {
	d := s.disk()
	if err := d.MakeDir(filepath.Dir(path)); err != nil {
		return err
	}
	temp := filepath.Join(filepath.Dir(path), ".making-"+filepath.Base(path))
	if err := d.Remove(temp); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	defer func() {
		if err != nil {
			_ = d.Remove(temp) // the next attempt removes it otherwise
		}
	}()
	if _, err := s.write.ExecContext(ctx, "VACUUM INTO ?", temp); err != nil {
		return err
	}
	if err := checkCopy(ctx, temp); err != nil {
		return fmt.Errorf("the backup could not be read back: %w", err)
	}
	return firstOf(
		func() error { return d.SyncFile(temp) },
		func() error { return d.Rename(temp, path) },
		func() error { return d.SyncDir(filepath.Dir(path)) },
	)
}

// checkCopy reads a copy of a database through: ours, sound, and its
// references whole.
func checkCopy(ctx context.Context, file string) error {
	if _, err := inspect(ctx, filepath.Dir(file), file); err != nil {
		return err
	}
	db := openPool(file, opening{mode: "ro", readers: true, unmoving: !hasLog(file)})
	defer db.Close()
	if err := quickCheck(ctx, db); err != nil {
		return err
	}
	broken, err := findings(ctx, db, "PRAGMA foreign_key_check")
	if err == nil && len(broken) > 0 {
		err = fmt.Errorf("%d references are broken", len(broken))
	}
	return err
}

// dailyBackup makes the day's backup before the first change of the day, and
// removes those no longer kept. A backup that cannot be made does not keep
// anybody from entering; BackupTrouble says what is wrong.
func (s *Store) dailyBackup(ctx context.Context) {
	today := s.options.Now().Format(dayLayout)
	if s.backupDay == today {
		return
	}
	s.backupDay = today
	path := filepath.Join(s.dir, BackupsDir, today+".db")
	if _, err := s.disk().Stat(path); err == nil {
		return
	}
	var actions int
	if err := s.write.QueryRowContext(ctx, "SELECT count(*) FROM action").Scan(&actions); err == nil && actions == 0 {
		s.backupDay = "" // nothing to lose yet
		return
	}
	trouble := ""
	if err := s.backupTo(ctx, path); err != nil {
		trouble = fmt.Sprintf("Today's backup could not be made (%v). Go on entering, but make room or find out what is wrong with the disk.", explain(err))
	} else if err := s.removeOld(); err != nil {
		trouble = fmt.Sprintf("Old backups could not be removed (%v).", err)
	}
	s.mu.Lock()
	s.backupTrouble = trouble
	s.mu.Unlock()
}

// BackupTrouble is a sentence when the day's backup could not be made, else "".
func (s *Store) BackupTrouble() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.backupTrouble
}

func (s *Store) removeOld() error {
	all, err := Backups(s.dir)
	if err != nil {
		return err
	}
	var errs []error
	for _, b := range outdated(all, s.options.Now()) {
		errs = append(errs, s.disk().Remove(b.Path))
	}
	return errors.Join(errs...)
}

// outdated chooses the daily backups no longer kept. Backups with other names,
// and those dated after now (a clock was set back), are never chosen.
func outdated(all []Backup, now time.Time) []Backup {
	today := now.Format(dayLayout)
	var daily []Backup
	for _, b := range all {
		if !b.Day.IsZero() && b.Day.Format(dayLayout) <= today {
			daily = append(daily, b)
		}
	}
	slices.SortFunc(daily, func(a, b Backup) int { return b.Day.Compare(a.Day) })
	if len(daily) <= keepDays {
		return nil
	}
	type week struct{ year, n int }
	weeks := map[week]bool{}
	var old []Backup
	for _, b := range daily[keepDays:] {
		var w week
		w.year, w.n = b.Day.ISOWeek()
		if !weeks[w] && len(weeks) < keepWeeks {
			weeks[w] = true // the newest of its week
			continue
		}
		old = append(old, b)
	}
	return old
}
