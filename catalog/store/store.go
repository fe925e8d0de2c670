package store

import (
	"context"
	"database/sql"
	_ "embed" // the schema
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"sync"
	"time"

	"pullbook/catalog/archive"

	"github.com/gofrs/flock"
)

// Names within a catalogue's folder.
const (
	DatabaseFile   = "catalogue.db"
	PhotographsDir = "photographs"
	DerivedDir     = "derived"
	BackupsDir     = "backups"
	LockFile       = "lock"
	// Suffix is how the folder's name ends.
	Suffix = ".pullbook"
)

// ApplicationID marks a SQLite file as a Pullbook catalogue ("PlBk").
const ApplicationID = 0x506C426B

// SchemaVersion is the schema this program reads and writes.
const SchemaVersion = 1

// Options say how to open a catalogue. The zero value is for a user at the
// window.
type Options struct {
	// ReadOnly opens for reading only, without taking the lock.
	ReadOnly bool
	// Who is entered in the history as the one who made changes.
	Who string
	// Now is the clock; nil means time.Now.
	Now func() time.Time
	// Disk is the file system for photographs, backups and packing; nil
	// means the operating system's.
	Disk archive.Disk
}

// Store is an open catalogue. Its methods may be called from any goroutine.
type Store struct {
	Reader
	dir      string
	options  Options
	readOnly bool
	notice   string
	lock     *flock.Flock
	write    *sql.DB
	read     *sql.DB
	session  int64
	fts      bool
	pointers map[string][]pointer

	doing sync.Mutex // one action at a time

	mu       sync.Mutex
	watchers []func()
}

// Create makes a new, empty catalogue in the folder path, which must not
// exist or be empty, and opens it.
func Create(path string) (*Store, error) { return CreateWith(path, Options{}) }

// CreateWith is Create with options; ReadOnly is ignored.
func CreateWith(path string, o Options) (*Store, error) {
	dir, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	if entries, err := os.ReadDir(dir); err == nil && len(entries) > 0 {
		return nil, &OpenError{Path: dir, Sentence: fmt.Sprintf("There is already something in the folder %s; choose a new name for the catalogue.", dir)}
	} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, &OpenError{dir, fmt.Sprintf("A catalogue cannot be made at %s: %v.", dir, err), err}
	}
	for _, d := range []string{dir, filepath.Join(dir, PhotographsDir), filepath.Join(dir, DerivedDir), filepath.Join(dir, BackupsDir)} {
		if err := os.MkdirAll(d, 0o755); err != nil {
			return nil, &OpenError{dir, fmt.Sprintf("The folder %s cannot be made: %v. Choose another place.", d, err), err}
		}
	}
	o.ReadOnly = false
	s, err := start(dir, o, "rwc")
	if err != nil {
		return nil, err
	}
	return s, nil
}

// Open opens the catalogue in the folder path. When somebody else has it open
// it is opened for reading only, and Notice says who has it.
func Open(path string, o Options) (*Store, error) {
	dir, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	db := filepath.Join(dir, DatabaseFile)
	if info, err := os.Stat(db); err != nil || !info.Mode().IsRegular() {
		return nil, &OpenError{dir, fmt.Sprintf("There is no catalogue in %s (no file %s in it). Choose the folder whose name ends in %s.", dir, DatabaseFile, Suffix), err}
	}
	return start(dir, o, "rw")
}

// start takes the lock, opens the pools and begins a sitting.
func start(dir string, o Options, mode string) (*Store, error) {
	if o.Now == nil {
		o.Now = time.Now
	}
	s := &Store{dir: dir, options: o, readOnly: o.ReadOnly}
	if err := s.takeLock(); err != nil {
		return nil, err
	}
	if err := s.openDatabase(mode); err != nil {
		s.closePools()
		s.dropLock()
		return nil, err
	}
	return s, nil
}

func (s *Store) openDatabase(mode string) error {
	ctx := context.Background()
	file := filepath.Join(s.dir, DatabaseFile)
	if s.readOnly {
		s.read = openPool(file, opening{mode: "ro", readers: true})
	} else {
		s.write = openPool(file, opening{mode: mode})
		if err := s.schema(ctx, mode == "rwc"); err != nil {
			return err
		}
		s.read = openPool(file, opening{mode: "rw", readers: true})
	}
	s.Reader = Reader{q: s.read}
	pointers, err := readPointers(ctx, s.read)
	if err != nil {
		return err
	}
	s.pointers = pointers
	if s.readOnly {
		s.fts = hasFTS(ctx, s.read)
		s.Reader.fts = s.fts
		return nil
	}
	if err := s.beginSitting(ctx); err != nil {
		return err
	}
	return s.prepareSearch(ctx)
}

//go:embed schema/0001.sql
var schema1 string

// schema makes the tables of a new catalogue.
func (s *Store) schema(ctx context.Context, isNew bool) error {
	if !isNew {
		return nil
	}
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return explain(err)
	}
	defer tx.Rollback()
	for _, stmt := range []string{
		schema1,
		"PRAGMA application_id = " + strconv.Itoa(ApplicationID),
		"PRAGMA user_version = " + strconv.Itoa(SchemaVersion),
		"INSERT INTO imprint VALUES ('imprint', '', '', NULL, '', '', '', '', '', '', '', 0, 0, 48)",
	} {
		if _, err := tx.ExecContext(ctx, stmt); err != nil {
			return explain(err)
		}
	}
	return explain(tx.Commit())
}

// beginSitting counts a new sitting, unless the last one did not end: then
// its undo goes on where it stopped.
func (s *Store) beginSitting(ctx context.Context) error {
	var closed string
	if err := s.write.QueryRowContext(ctx, "SELECT value FROM keeping WHERE key = 'closed'").Scan(&closed); err != nil {
		return explain(err)
	}
	if closed == "yes" {
		if _, err := s.write.ExecContext(ctx, "UPDATE keeping SET value = CAST(value AS INTEGER) + 1 WHERE key = 'session'"); err != nil {
			return explain(err)
		}
	}
	if _, err := s.write.ExecContext(ctx, "UPDATE keeping SET value = 'no' WHERE key = 'closed'"); err != nil {
		return explain(err)
	}
	return explain(s.write.QueryRowContext(ctx, "SELECT CAST(value AS INTEGER) FROM keeping WHERE key = 'session'").Scan(&s.session))
}

// Dir is the catalogue's folder, absolute.
func (s *Store) Dir() string { return s.dir }

// ReadOnly reports whether the catalogue is open for reading only.
func (s *Store) ReadOnly() bool { return s.readOnly }

// Notice is a sentence to show after opening, "" when there is nothing to say.
func (s *Store) Notice() string { return s.notice }

// Close ends the sitting. Afterwards the folder may be copied: the database
// is one file again.
func (s *Store) Close() error {
	s.doing.Lock()
	defer s.doing.Unlock()
	var err error
	if s.write != nil {
		ctx := context.Background()
		if s.read != nil {
			s.read.Close() // readers would keep the log from being emptied
			s.read = nil
		}
		_, err = s.write.ExecContext(ctx, "UPDATE keeping SET value = 'yes' WHERE key = 'closed'")
		for _, pragma := range []string{"PRAGMA optimize", "PRAGMA wal_checkpoint(TRUNCATE)"} {
			if rows, e := s.write.QueryContext(ctx, pragma); e == nil {
				for rows.Next() {
				}
				err = errors.Join(err, rows.Err(), rows.Close())
			}
		}
	}
	err = errors.Join(err, s.closePools())
	s.dropLock()
	return explain(err)
}

func (s *Store) closePools() error {
	var err error
	for _, db := range []*sql.DB{s.read, s.write} {
		if db != nil {
			err = errors.Join(err, db.Close())
		}
	}
	s.read, s.write = nil, nil
	return err
}

// OnChange calls f after every action, undo and redo, from the goroutine that
// made it. f must not block and must not call Do.
func (s *Store) OnChange(f func()) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.watchers = append(s.watchers, f)
}

func (s *Store) changed() {
	s.mu.Lock()
	watchers := s.watchers
	s.mu.Unlock()
	for _, f := range watchers {
		f()
	}
}
