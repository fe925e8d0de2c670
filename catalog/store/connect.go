package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"net/url"
	"path/filepath"
	"strings"

	sqlite3 "github.com/mattn/go-sqlite3"
)

// SQLiteVersion is the version of SQLite that is built in, as "3.46.1".
func SQLiteVersion() string {
	v, _, _ := sqlite3.Version()
	return v
}

// opening says how one pool of connections is opened.
type opening struct {
	mode     string // SQLite's open mode: ro, rw, rwc
	readers  bool   // a pool that cannot write
	unmoving bool   // the file is on a medium that cannot change
}

// dsn makes the driver's address of a database file. The path goes through
// net/url because ? and # in a folder's name would otherwise end it.
func dsn(path string, o opening) string {
	q := url.Values{}
	q.Set("mode", o.mode)
	q.Set("_foreign_keys", "1")
	q.Set("_busy_timeout", "5000")
	switch {
	case o.readers:
		q.Set("_query_only", "1")
	case o.mode != "ro":
		q.Set("_synchronous", "FULL") // a power cut loses no committed entry
		q.Set("_txlock", "immediate")
		q.Set("_journal_mode", "WAL")
	}
	if o.unmoving {
		q.Set("immutable", "1")
	}
	p := filepath.ToSlash(path)
	if !strings.HasPrefix(p, "/") {
		p = "/" + p // a drive letter
	}
	return (&url.URL{Scheme: "file", Path: p, RawQuery: q.Encode()}).String()
}

// connector opens connections with the settings that have no DSN parameter.
type connector struct {
	dsn    string
	driver *sqlite3.SQLiteDriver
}

func (c connector) Connect(context.Context) (driver.Conn, error) { return c.driver.Open(c.dsn) }
func (c connector) Driver() driver.Driver                        { return c.driver }

// openPool opens a database file. A catalogue may come from elsewhere, so its
// schema is not trusted and cell sizes are checked.
func openPool(path string, o opening) *sql.DB {
	db := sql.OpenDB(connector{dsn(path, o), &sqlite3.SQLiteDriver{ConnectHook: func(c *sqlite3.SQLiteConn) error {
		for _, pragma := range []string{
			"PRAGMA trusted_schema = OFF", "PRAGMA cell_size_check = ON", "PRAGMA mmap_size = 0", "PRAGMA cache_size = -8000",
		} {
			if _, err := c.Exec(pragma, nil); err != nil {
				return err
			}
		}
		return nil
	}}})
	if o.readers {
		db.SetMaxOpenConns(4)
	} else {
		db.SetMaxOpenConns(1)
	}
	db.SetMaxIdleConns(4)
	return db
}
