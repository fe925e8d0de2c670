package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"

	sqlite3 "github.com/mattn/go-sqlite3"
)

// Trouble says what kind of thing is wrong with a catalogue that does not
// open, for a window that offers a way out.
type Trouble string

// Troubles.
const (
	// TroubleMissing: there is no catalogue there.
	TroubleMissing Trouble = "missing"
	// TroubleForeign: a file of that name is there, but it is no catalogue.
	TroubleForeign Trouble = "foreign"
	// TroubleNewer: a later version of the program wrote it.
	TroubleNewer Trouble = "newer"
	// TroubleOlder: it must be brought up to date before it can be read.
	TroubleOlder Trouble = "older"
	// TroubleDamaged: restore a backup, or salvage it into a new catalogue.
	TroubleDamaged Trouble = "damaged"
	// TroubleAccess: the file system does not let us.
	TroubleAccess Trouble = "access"
)

// inspect looks at a database file without touching it and gives its schema
// version, or an *OpenError.
func inspect(ctx context.Context, dir, file string) (version int, err error) {
	info, err := os.Stat(file)
	if err != nil || !info.Mode().IsRegular() {
		return 0, unopened(dir, TroubleMissing, "There is no catalogue in %s (no file %s in it). Choose the folder whose name ends in %s.", dir, DatabaseFile, Suffix).because(err)
	}
	log := hasLog(file)
	if info.Size() == 0 && !log {
		return 0, unopened(dir, TroubleDamaged, "The file %s in %s is empty: it was cut short in copying, or the disk lost it. Restore a backup or copy the catalogue again.", DatabaseFile, dir)
	}
	// Without a write-ahead log the file is all there is, and can be read
	// as something that does not change: then not even a lock is taken.
	db := openPool(file, opening{mode: "ro", readers: true, unmoving: !log})
	defer db.Close()
	var application int
	err = firstOf(
		func() error { return db.QueryRowContext(ctx, "PRAGMA application_id").Scan(&application) },
		func() error { return db.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version) },
	)
	if err != nil {
		var se sqlite3.Error
		if log && errors.As(err, &se) && se.Code == sqlite3.ErrCantOpen {
			// Reading a log needs shared memory beside it.
			return 0, unopened(dir, TroubleAccess, "The catalogue in %s was not closed and its folder cannot be written to, so what was last entered cannot be read. Copy the whole folder to a place where you may write, and open it there.", dir).because(err)
		}
		return 0, unreadable(dir, err)
	}
	if application != ApplicationID {
		var tables int
		if err := db.QueryRowContext(ctx, "SELECT count(*) FROM sqlite_schema").Scan(&tables); err == nil && application == 0 && tables == 0 {
			return 0, unopened(dir, TroubleForeign, "The catalogue in %s was never finished: making it was cut short. Make a new one.", dir)
		}
		return 0, notOurs(dir, nil)
	}
	if version > SchemaVersion {
		return version, unopened(dir, TroubleNewer, "The catalogue in %s was written by a later version of this program%s (its form is %d, this version knows up to %d). It was left as it is; open it with the later version.",
			dir, writtenBy(ctx, db), version, SchemaVersion)
	}
	return version, nil
}

func notOurs(dir string, err error) error {
	return unopened(dir, TroubleForeign, "The file %s in %s is not a catalogue of this program. It was left as it is.", DatabaseFile, dir).because(err)
}

// unreadable turns an error of reading a database's header into a sentence.
func unreadable(dir string, err error) error {
	var se sqlite3.Error
	if errors.As(err, &se) {
		switch se.Code {
		case sqlite3.ErrNotADB:
			return notOurs(dir, err)
		case sqlite3.ErrCorrupt:
			return damaged(dir, err)
		}
	}
	return unopened(dir, TroubleAccess, "The catalogue in %s cannot be read (%v). Is its disk there, and may you read it?", dir, err)
}

func damaged(dir string, err error) error {
	return unopened(dir, TroubleDamaged, "The database of the catalogue in %s is damaged (%v). Nothing was changed. Restore a backup, or salvage what can be read into a new catalogue.", dir, err)
}

// writtenBy gives " (NAME)" of the program that last wrote, or "".
func writtenBy(ctx context.Context, db *sql.DB) string {
	var name string
	if err := db.QueryRowContext(ctx, "SELECT value FROM keeping WHERE key = 'written_by'").Scan(&name); err != nil || name == "" {
		return ""
	}
	return ", " + name
}

// hasLog reports whether a write-ahead log with something in it lies beside
// the file.
func hasLog(file string) bool {
	info, err := os.Stat(file + "-wal")
	return err == nil && info.Size() > 0
}

func firstOf(steps ...func() error) error {
	for _, step := range steps {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

// findings runs a checking pragma and gives its rows other than "ok". Such
// pragmas report in rows, never as an error.
func findings(ctx context.Context, q querier, pragma string) ([]string, error) {
	rows, err := q.QueryContext(ctx, pragma)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	columns, err := rows.Columns()
	if err != nil {
		return nil, err
	}
	values, targets := make([]sql.NullString, len(columns)), make([]any, len(columns))
	for i := range values {
		targets[i] = &values[i]
	}
	var found []string
	for rows.Next() {
		if err := rows.Scan(targets...); err != nil {
			return nil, err
		}
		line := values[0].String
		for _, v := range values[1:] {
			line += " " + v.String
		}
		if line != "ok" {
			found = append(found, line)
		}
	}
	return found, rows.Err()
}

// quickCheck gives an error when SQLite's quick check finds damage.
func quickCheck(ctx context.Context, q querier) error {
	found, err := findings(ctx, q, "PRAGMA quick_check(20)")
	if err != nil {
		return err
	}
	if len(found) > 0 {
		return fmt.Errorf("%s", found[0])
	}
	return nil
}
