package store

import (
	"context"
	"database/sql"
	_ "embed" // the schema
	"errors"
	"fmt"
	"path/filepath"
	"strconv"

	"pullbook/catalog/say"
)

//go:embed schema/0001.sql
var schema1 string

//go:embed schema/0002.sql
var schema2 string

//go:embed schema/0003.sql
var schema3 string

//go:embed schema/0004.sql
var schema4 string

// A migration brings the schema from one version to the next. Its SQL may
// rebuild tables: references are not enforced while it runs, and checked
// before it is kept.
type migration struct {
	to  int
	sql string
}

// migrations are those after schema 1, in order. A catalogue is made by schema
// 1 and all of them, so that a new one and an old one brought up to date are
// the same. To change the schema: add a file schema/NNNN.sql and a line here,
// raise SchemaVersion, and write the fixture of the new form, which stays for
// ever, and what earlier fixtures say in it:
//
//	go test ./catalog/store -run TestWriteFixture -update
//	go test ./catalog/store -run TestEveryReleasedFormOpens -update-dumps
var migrations = []migration{{2, schema2}, {3, schema3}, {4, schema4}}

// makeSchema makes the tables of a new catalogue.
func (s *Store) makeSchema(ctx context.Context) error {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback() // of no effect after Commit
	stmts := []string{schema1,
		"PRAGMA application_id = " + strconv.Itoa(ApplicationID),
		"PRAGMA user_version = 1",
		"INSERT INTO imprint (id, title, subtitle, author, publisher, place, year, introduction, rights, colophon, loss_limit, tone_limit, dry_hours) " +
			"VALUES ('imprint', '', '', '', '', '', '', '', '', '', 0, 0, 48)"}
	for _, stmt := range stmts {
		if _, err := tx.ExecContext(ctx, stmt); err != nil {
			return err
		}
	}
	if err := tx.Commit(); err != nil {
		return err
	}
	if err := runMigrations(ctx, s.write, migrations); err != nil {
		return err
	}
	// The mark of the application is to be in the file itself from now on.
	_, err = findings(ctx, s.write, "PRAGMA wal_checkpoint(TRUNCATE)")
	return err
}

// bringUpToDate migrates an older catalogue, after a backup.
func (s *Store) bringUpToDate(ctx context.Context, from int, steps []migration, to int) error {
	name := fmt.Sprintf("before-form-%d-%s.db", to, s.options.Now().UTC().Format("20060102-150405"))
	if err := s.backupTo(ctx, filepath.Join(s.dir, BackupsDir, name)); err != nil {
		return say.Errorf("the catalogue must be brought up to date, but a backup could not be made first, so it was left as it is: %v", err)
	}
	var due []migration
	for _, m := range steps {
		if m.to > from {
			due = append(due, m)
		}
	}
	if err := runMigrations(ctx, s.write, due); err != nil {
		return say.Errorf("the catalogue could not be brought up to date and was left as it is (a backup is in %s): %v", BackupsDir, err)
	}
	s.say("The catalogue was brought up to date for this version; a backup of how it was is in the folder %s.", BackupsDir)
	return nil
}

// runMigrations runs migrations, each in one transaction with its version. It
// runs on one connection because references can only be switched off outside a
// transaction, and the pool of the writer has only one.
func runMigrations(ctx context.Context, db *sql.DB, steps []migration) (err error) {
	if len(steps) == 0 {
		return nil
	}
	conn, err := db.Conn(ctx)
	if err != nil {
		return err
	}
	defer conn.Close()
	if _, err := conn.ExecContext(ctx, "PRAGMA foreign_keys = OFF"); err != nil {
		return err
	}
	defer func() {
		_, e := conn.ExecContext(context.WithoutCancel(ctx), "PRAGMA foreign_keys = ON")
		err = errors.Join(err, e)
	}()
	for _, m := range steps {
		if err := runMigration(ctx, conn, m); err != nil {
			return fmt.Errorf("form %d: %w", m.to, err)
		}
	}
	return nil
}

func runMigration(ctx context.Context, conn *sql.Conn, m migration) error {
	tx, err := conn.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback() // of no effect after Commit
	if _, err := tx.ExecContext(ctx, m.sql); err != nil {
		return err
	}
	broken, err := findings(ctx, tx, "PRAGMA foreign_key_check")
	if err != nil {
		return err
	}
	if len(broken) > 0 {
		return fmt.Errorf("%d references would be broken, the first in %s", len(broken), broken[0])
	}
	if _, err := tx.ExecContext(ctx, "PRAGMA user_version = "+strconv.Itoa(m.to)); err != nil {
		return err
	}
	return tx.Commit()
}
