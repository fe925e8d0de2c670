package store

import (
	"context"
	"database/sql"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"pullbook/catalog/archive"
	"pullbook/catalog/say"

	"github.com/gofrs/flock"
)

// Names within a catalogue's folder.
const (
	DatabaseFile   = "catalogue.db"
	PhotographsDir = "photographs"
	DerivedDir     = "derived"
	BackupsDir     = "backups"
	LockFile       = "lock"
	AliveFile      = "alive" // only where the lock cannot be relied on
	// Suffix is how the folder's name ends.
	Suffix = ".pullbook"
	// PackedSuffix is how the name of a packed catalogue best ends: the desktop
	// then knows it, and without Pullbook it is plainly a ZIP archive.
	PackedSuffix = ".pullbook.zip"
)

// ApplicationID marks a SQLite file as a Pullbook catalogue ("PlBk").
const ApplicationID = 0x506C426B

// SchemaVersion is the schema this program reads and writes.
const SchemaVersion = 4

// Options say how to open a catalogue. The zero value is for a user at the
// window.
type Options struct {
	// ReadOnly opens for reading only, without taking the lock.
	ReadOnly bool
	// Who is entered in the history as the one who made changes.
	Who string
	// Now is the clock; nil means time.Now.
	Now func() time.Time
	// Program is the name and version entered as the last writer.
	Program string
	// Disk is the file system for photographs, backups and packing; nil
	// means the operating system's.
	Disk archive.Disk

	// noLocks takes the disk for one whose locks cannot be relied on.
	noLocks bool
}

// Store is an open catalogue. Its methods may be called from any goroutine.
type Store struct {
	Reader
	dir       string
	options   Options
	readOnly  bool
	unmoving  bool // read as a file that does not change
	notice    []say.Sentence
	lock      *flock.Flock
	mine      sign          // of life, where the lock is not enough
	quiet     chan struct{} // closed when no more signs are to be given; nil when none are
	write     *sql.DB
	read      *sql.DB
	session   int64
	fts       bool
	file      os.FileInfo // of the database, to notice when it is gone
	backupDay string      // the last day a backup was thought of
	pointers  map[string][]pointer

	doing  sync.Mutex // one action at a time
	closed bool

	mu            sync.Mutex
	watchers      []func()
	backupTrouble string
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
		return nil, unopened(dir, TroubleAccess, "There is already something in the folder %s; choose a new name for the catalogue.", dir)
	} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, unopened(dir, TroubleAccess, "A catalogue cannot be made at %s: %v.", dir, err)
	}
	for _, d := range []string{dir, filepath.Join(dir, PhotographsDir), filepath.Join(dir, DerivedDir), filepath.Join(dir, BackupsDir)} {
		if err := os.MkdirAll(d, 0o755); err != nil {
			return nil, unopened(dir, TroubleAccess, "The folder %s cannot be made: %v. Choose another place.", d, err)
		}
	}
	o.ReadOnly = false
	s, err := start(dir, o, "rwc")
	if err != nil {
		clearUnfinished(dir)
		return nil, err
	}
	// SQLite has made the database last, but not the name of its folder. A disk
	// that cannot is no reason to refuse.
	for _, d := range []string{dir, filepath.Dir(dir)} {
		_ = archive.OS{}.SyncDir(d)
	}
	return s, nil
}

// clearUnfinished removes what a failed Create made, so that it can be tried
// again in the same place. The folder was empty before.
func clearUnfinished(dir string) {
	for _, name := range []string{DatabaseFile, DatabaseFile + "-wal", DatabaseFile + "-shm", DatabaseFile + "-journal", LockFile, AliveFile,
		PhotographsDir, DerivedDir, BackupsDir} {
		_ = os.Remove(filepath.Join(dir, name)) // what cannot be removed is for the user to see
	}
}

// Open opens the catalogue in the folder path. When somebody else has it open
// it is opened for reading only, and Notice says who has it.
func Open(path string, o Options) (*Store, error) {
	dir, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	if info, err := os.Stat(filepath.Join(dir, DatabaseFile)); err != nil || !info.Mode().IsRegular() {
		_, err := inspect(context.Background(), dir, filepath.Join(dir, DatabaseFile))
		return nil, err // before a lock file is made in a stranger's folder
	}
	return start(dir, o, "rw")
}

// start takes the lock, opens the pools and begins a sitting.
func start(dir string, o Options, mode string) (*Store, error) {
	s := newStoreOf(dir, o)
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

func newStoreOf(dir string, o Options) *Store {
	if o.Now == nil {
		o.Now = time.Now
	}
	return &Store{dir: dir, options: o, readOnly: o.ReadOnly}
}

// openDatabase looks before it touches: is it ours, of a version we know, sound
// if the last sitting was cut short.
func (s *Store) openDatabase(mode string) error {
	ctx := context.Background()
	file := filepath.Join(s.dir, DatabaseFile)
	version := SchemaVersion
	if mode != "rwc" {
		var err error
		if version, err = inspect(ctx, s.dir, file); err != nil {
			return err
		}
	}
	if s.readOnly {
		return s.openForReading(ctx, file, version)
	}
	s.write = openPool(file, opening{mode: mode})
	if mode == "rwc" {
		if err := s.makeSchema(ctx); err != nil {
			return s.notMade(err)
		}
	} else if err := s.checkBeforeUse(ctx, version); err != nil {
		return err
	}
	s.read = openPool(file, opening{mode: "rw", readers: true})
	s.Reader = Reader{q: s.read}
	var err error
	if s.file, err = os.Stat(file); err != nil {
		return err
	}
	if s.pointers, err = readPointers(ctx, s.read); err != nil {
		return err
	}
	if err := s.beginSitting(ctx); err != nil {
		return err
	}
	if _, err := s.Archive().Sweep(s.options.Now()); err != nil {
		s.say("Some temporary files could not be removed from the folder of photographs.")
	}
	return s.prepareSearch(ctx)
}

func (s *Store) notMade(err error) error {
	return unopened(s.dir, TroubleAccess, "The catalogue could not be made in %s: %v.", s.dir, explain(err))
}

// checkBeforeUse brings an older catalogue up to date, and looks for damage
// after a sitting that was cut short.
func (s *Store) checkBeforeUse(ctx context.Context, version int) error {
	var closed string
	if err := s.write.QueryRowContext(ctx, "SELECT value FROM keeping WHERE key = 'closed'").Scan(&closed); err != nil {
		return unreadable(s.dir, err)
	}
	if closed != "yes" {
		if err := quickCheck(ctx, s.write); err != nil {
			return damaged(s.dir, err)
		}
	}
	if version == SchemaVersion {
		return nil
	}
	if err := s.bringUpToDate(ctx, version, migrations, SchemaVersion); err != nil {
		return unopened(s.dir, TroubleOlder, "%s.", err)
	}
	return nil
}

// openForReading opens without writing anything. Where the folder itself
// cannot be written to, SQLite could not make the files it shares with other
// programs; then nobody else can be writing, and the file is taken as one that
// does not change.
func (s *Store) openForReading(ctx context.Context, file string, version int) error {
	if version < SchemaVersion {
		return unopened(s.dir, TroubleOlder, "The catalogue in %s is of an earlier version and must be opened for writing once, to bring it up to date, before it can be read.", s.dir)
	}
	s.read = openPool(file, opening{mode: "ro", readers: true})
	var n int
	if err := s.read.QueryRowContext(ctx, "SELECT count(*) FROM keeping").Scan(&n); err != nil {
		_ = s.read.Close() // it could not be used
		s.unmoving = true
		s.read = openPool(file, opening{mode: "ro", readers: true, unmoving: true})
	}
	s.Reader = Reader{q: s.read, fts: hasFTS(ctx, s.read)}
	s.fts = s.Reader.fts
	var err error
	s.pointers, err = readPointers(ctx, s.read)
	return err
}

// say adds a sentence to the notice.
func (s *Store) say(key string, args ...any) { s.notice = append(s.notice, say.Of(key, args...)) }

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
	if _, err := s.write.ExecContext(ctx, "INSERT INTO keeping VALUES ('written_by', ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value", s.options.Program); err != nil {
		return explain(err)
	}
	return explain(s.write.QueryRowContext(ctx, "SELECT CAST(value AS INTEGER) FROM keeping WHERE key = 'session'").Scan(&s.session))
}

// Dir is the catalogue's folder, absolute.
func (s *Store) Dir() string { return s.dir }

// ReadOnly reports whether the catalogue is open for reading only.
func (s *Store) ReadOnly() bool { return s.readOnly }

// Notice is a sentence to show after opening, "" when there is nothing to say.
func (s *Store) Notice() string { return s.NoticeIn(say.English) }

// NoticeIn is Notice in another language.
func (s *Store) NoticeIn(l *say.Language) string { return l.Lines(s.notice) }

// Close ends the sitting. Afterwards the folder may be copied: the database
// is one file again.
//
// Closing again does nothing.
func (s *Store) Close() error {
	s.doing.Lock()
	defer s.doing.Unlock()
	if s.closed {
		return nil
	}
	s.closed = true
	var err error
	if s.write != nil {
		ctx := context.Background()
		err = s.read.Close() // readers would keep the log from being emptied
		_, e := s.write.ExecContext(ctx, "UPDATE keeping SET value = 'yes' WHERE key = 'closed'")
		err = errors.Join(err, e)
		for _, pragma := range []string{"PRAGMA optimize", "PRAGMA wal_checkpoint(TRUNCATE)"} {
			_, e := findings(ctx, s.write, pragma)
			err = errors.Join(err, e)
		}
	}
	err = errors.Join(err, s.closePools())
	s.dropLock()
	return explain(err)
}

// closePools closes the connections; what is asked of them afterwards gives an
// error.
func (s *Store) closePools() error {
	var err error
	for _, db := range []*sql.DB{s.read, s.write} {
		if db != nil {
			err = errors.Join(err, db.Close())
		}
	}
	return err
}

// OnChange calls f after every action, undo and redo, from the goroutine that
// made it. f must not block.
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
