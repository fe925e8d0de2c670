package store

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
)

// aside are the tables that are not part of what the catalogue says: its
// history, the search index and bookkeeping.
var aside = map[string]bool{"action": true, "change": true, "keeping": true, "search_text": true}

// Dump writes every record of the catalogue as text, table by table, in an
// order that depends on the records alone: two catalogues that say the same
// give the same bytes. The history, the search index and bookkeeping are left
// out.
func (s *Store) Dump(ctx context.Context, w io.Writer) error {
	return dump(ctx, s.read, w)
}

func dump(ctx context.Context, q querier, w io.Writer) error {
	names, err := recordTables(ctx, q)
	if err != nil {
		return err
	}
	out := bufio.NewWriter(w)
	for _, name := range names {
		fmt.Fprintf(out, "-- %s\n", name)
		if err := dumpTable(ctx, q, name, out); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	return out.Flush()
}

// recordTables lists the tables that hold records, by name.
func recordTables(ctx context.Context, q querier) ([]string, error) {
	rows, err := q.QueryContext(ctx, "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite%' ORDER BY name")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var names []string
	for rows.Next() {
		var n string
		if err := rows.Scan(&n); err != nil {
			return nil, err
		}
		if !aside[n] && n != "search" && !strings.HasPrefix(n, "search_") {
			names = append(names, n)
		}
	}
	return names, rows.Err()
}

// dumpTable writes the rows of a table in order of its primary key, which
// starts every table.
func dumpTable(ctx context.Context, q querier, name string, w io.Writer) error {
	rows, err := q.QueryContext(ctx, "SELECT * FROM "+name+" ORDER BY 1, 2")
	if err != nil {
		return err
	}
	defer rows.Close()
	columns, err := rows.Columns()
	if err != nil {
		return err
	}
	values, targets := make([]any, len(columns)), make([]any, len(columns))
	for i := range values {
		targets[i] = &values[i]
	}
	for rows.Next() {
		if err := rows.Scan(targets...); err != nil {
			return err
		}
		for i, v := range values {
			if i > 0 {
				io.WriteString(w, "|")
			}
			switch v := v.(type) {
			case nil:
				io.WriteString(w, "NULL")
			case string, []byte:
				fmt.Fprintf(w, "%q", v)
			default:
				fmt.Fprint(w, v)
			}
		}
		io.WriteString(w, "\n")
	}
	return errors.Join(rows.Err(), rows.Close())
}
