package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"pullbook/catalog/archive"
)

// SalvageReport says what could be brought over from a damaged catalogue.
type SalvageReport struct {
	Rows        map[string]int // read, by table
	Damaged     []string       // tables that could not be read through
	Loosened    int            // references to records that were lost, emptied
	Dropped     int            // rows that say nothing without a lost record
	Photographs int            // copied and sound
	Lost        []string       // photographs missing or altered, by their own names
}

// nothing reports whether no row was saved.
func (r *SalvageReport) nothing() bool {
	for _, n := range r.Rows {
		if n > 0 {
			return false
		}
	}
	return true
}

// Salvage copies what can be read of the damaged catalogue in the folder from
// into a new catalogue at to. The damaged one is only read. Tables are read
// from both ends up to the damage. History stays behind: the new catalogue
// begins its own.
func Salvage(ctx context.Context, from, to string, o Options, progress Progress) (r SalvageReport, err error) {
	r.Rows = map[string]int{}
	// SQLite would write to a log and shared memory beside the damaged
	// file; it works on a copy.
	temp, err := os.MkdirTemp("", "pullbook-salvage-")
	if err != nil {
		return r, err
	}
	defer os.RemoveAll(temp)
	copied := filepath.Join(temp, DatabaseFile)
	for _, end := range []string{"", "-wal"} {
		if err := replaceCopy(ctx, archive.OS{}, filepath.Join(from, DatabaseFile+end), copied+end); err != nil && end == "" {
			return r, fmt.Errorf("the damaged catalogue cannot be read at all: %w", err)
		}
	}
	s, err := CreateWith(to, o)
	if err != nil {
		return r, err
	}
	defer func() {
		err = errors.Join(err, s.Close())
		if r.nothing() {
			clearUnfinished(s.dir)
			_ = os.Remove(s.dir) // stays when it is not empty
		}
	}()
	old := openPool(copied, opening{mode: "rw", readers: true})
	defer old.Close()
	if err := s.salvageRows(ctx, old, &r); err != nil {
		return r, explain(err)
	}
	if r.nothing() {
		return r, fmt.Errorf("nothing can be read of the catalogue in %s, so no new one was made; restore a backup", from)
	}
	if err := s.RebuildSearch(ctx); err != nil {
		return r, err
	}
	return r, s.salvagePhotographs(ctx, archive.New(filepath.Join(from, PhotographsDir)), &r, progress)
}

// salvageRows brings the rows of every table over and mends references.
func (s *Store) salvageRows(ctx context.Context, old *sql.DB, r *SalvageReport) error {
	names, err := recordTables(ctx, s.read)
	if err != nil {
		return err
	}
	conn, err := s.write.Conn(ctx)
	if err != nil {
		return err
	}
	defer conn.Close()
	tx, err := conn.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback() // of no effect after Commit
	for _, name := range names {
		if err := salvageTable(ctx, old, tx, name, r); err != nil {
			return err
		}
	}
	if err := s.mendReferences(ctx, tx, r); err != nil {
		return err
	}
	return tx.Commit()
}

// salvageTable reads a table from its beginning up to the damage, and from its
// end down to it.
func salvageTable(ctx context.Context, old *sql.DB, tx *sql.Tx, name string, r *SalvageReport) error {
	whole := false
	for _, order := range []string{"", " ORDER BY 1 DESC"} {
		err := copyRows(ctx, old, tx, name, order, r)
		var unreadable *unreadableError
		if err == nil {
			whole = true
			break
		}
		if !errors.As(err, &unreadable) {
			return err
		}
	}
	if !whole {
		r.Damaged = append(r.Damaged, name)
	}
	return nil
}

// unreadableError is an error of the damaged side.
type unreadableError struct{ error }

func (e *unreadableError) Unwrap() error { return e.error }

func copyRows(ctx context.Context, old *sql.DB, tx *sql.Tx, name, order string, r *SalvageReport) error {
	rows, err := old.QueryContext(ctx, "SELECT * FROM "+name+order)
	if err != nil {
		return &unreadableError{err}
	}
	defer rows.Close()
	columns, err := rows.Columns()
	if err != nil {
		return &unreadableError{err}
	}
	insert, err := tx.PrepareContext(ctx, "INSERT OR IGNORE INTO "+name+" ("+strings.Join(columns, ", ")+") VALUES (?"+
		strings.Repeat(", ?", len(columns)-1)+")")
	if err != nil {
		return &unreadableError{err} // a column this version does not have
	}
	defer insert.Close()
	if name == "imprint" {
		if _, err := tx.ExecContext(ctx, "DELETE FROM imprint"); err != nil {
			return err
		}
	}
	values, targets := make([]any, len(columns)), make([]any, len(columns))
	for i := range values {
		targets[i] = &values[i]
	}
	for rows.Next() {
		if err := rows.Scan(targets...); err != nil {
			return &unreadableError{err}
		}
		res, err := insert.ExecContext(ctx, values...)
		if err != nil {
			r.Dropped++ // garbage that the schema does not accept
			continue
		}
		if n, err := res.RowsAffected(); err == nil {
			r.Rows[name] += int(n)
		}
	}
	if err := rows.Err(); err != nil {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		return &unreadableError{err}
	}
	return nil
}

// mendReferences empties references to lost records; rows that cannot be
// without theirs are dropped. Dropping may loosen others, so it goes on until
// nothing is left to mend.
func (s *Store) mendReferences(ctx context.Context, tx *sql.Tx, r *SalvageReport) error {
	if _, err := tx.ExecContext(ctx, "INSERT OR IGNORE INTO imprint (id, title, subtitle, author, publisher, place, year, introduction, rights, colophon, loss_limit, tone_limit, dry_hours) "+
		"VALUES ('imprint', '', '', '', '', '', '', '', '', '', 0, 0, 48)"); err != nil {
		return err
	}
	for again := true; again; {
		again = false
		for target, pointers := range s.pointers {
			for _, p := range pointers {
				lost := p.column + " IS NOT NULL AND " + p.column + " NOT IN (SELECT id FROM " + target + ")"
				var required bool
				if err := tx.QueryRowContext(ctx, `SELECT "notnull" FROM pragma_table_info(?) WHERE name = ?`, p.table, p.column).Scan(&required); err != nil {
					return err
				}
				stmt := "UPDATE " + p.table + " SET " + p.column + " = NULL WHERE " + lost
				if required {
					stmt = "DELETE FROM " + p.table + " WHERE " + lost
				}
				res, err := tx.ExecContext(ctx, stmt)
				if err != nil {
					return err
				}
				n, err := res.RowsAffected()
				if err != nil {
					return err
				}
				if n > 0 {
					again = true
				}
				if required {
					r.Dropped += int(n)
				} else {
					r.Loosened += int(n)
				}
			}
		}
	}
	return nil
}

// salvagePhotographs copies the photographs the new catalogue speaks of.
func (s *Store) salvagePhotographs(ctx context.Context, old *archive.Archive, r *SalvageReport, progress Progress) error {
	rows, err := photographs.readPlain(ctx, s.read, "", "")
	if err != nil {
		return explain(err)
	}
	a := s.Archive()
	for i, h := range rows {
		progress.tell(i, len(rows), h.Name)
		if err := old.Check(ctx, archive.Stored{SHA256: h.SHA256, Ext: h.Ext, Bytes: h.Bytes}); err != nil {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			r.Lost = append(r.Lost, h.Name)
			continue
		}
		if _, err := a.Add(ctx, old.Path(h.SHA256, h.Ext)); err != nil {
			return err
		}
		r.Photographs++
	}
	return nil
}
