package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"strings"

	"pullbook/catalog"
)

// querier is what a database and a transaction have in common for reading.
type querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
}

// A table maps one noun to its table and child tables. There is one for each
// noun, in the nouns files; nothing else knows column names of records.
type table[P any] struct {
	name   string // of the SQL table, and the noun in the history
	word   string // what a user calls one record
	fields func(*P) []field
	lists  []lister[P]
	order  string // default ORDER BY
	// tidy brings a record into the form it will be read back in.
	tidy func(*P)
	// words gives what a search may find; nil when the noun is not searched.
	words func(*P) words
	// plates adds the plates whose rules a change of this record touches.
	plates func(*P) []catalog.ID
	// needs says in a sentence what a record lacks to be kept, "" nothing.
	needs func(*P) string
	sql   statements
	zero  fieldsJSON // of the empty record
}

// statements are made once from the field list.
type statements struct{ columns, upsert string }

// words is the searchable text of a record.
type words struct {
	plate catalog.ID
	head  string
	body  []string
}

// lister reads and writes one child table of a noun.
type lister[P any] interface {
	read(ctx context.Context, q querier, ids string, byID map[catalog.ID]*P) error
	write(ctx context.Context, tx *Tx, id catalog.ID, p *P) error
	clear(ctx context.Context, tx *Tx, id catalog.ID) error
}

// list is a child table holding a slice of C in a record P.
type list[P, C any] struct {
	name   string
	owner  string // column naming the record
	slice  func(*P) *[]C
	fields func(*C) []field
}

func (l list[P, C]) columns() string {
	var c C
	return columnNames(l.fields(&c))
}

// read fills the lists of the records in byID. ids is a JSON array of their
// IDs, or "" for all records of the table.
func (l list[P, C]) read(ctx context.Context, q querier, ids string, byID map[catalog.ID]*P) error {
	query := "SELECT " + l.owner + ", " + l.columns() + " FROM " + l.name
	var args []any
	if ids != "" {
		query += " WHERE " + l.owner + " IN (SELECT value FROM json_each(?))"
		args = append(args, ids)
	}
	rows, err := q.QueryContext(ctx, query+" ORDER BY "+l.owner+", position", args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var id catalog.ID
		var c C
		targets := append([]any{reference{&id}}, targetsOf(l.fields(&c))...)
		if err := rows.Scan(targets...); err != nil {
			return fmt.Errorf("%s: %w", l.name, err)
		}
		if p := byID[id]; p != nil {
			s := l.slice(p)
			*s = append(*s, c)
		}
	}
	return rows.Err()
}

func (l list[P, C]) clear(ctx context.Context, tx *Tx, id catalog.ID) error {
	return tx.exec(ctx, "DELETE FROM "+l.name+" WHERE "+l.owner+" = ?", string(id))
}

func (l list[P, C]) write(ctx context.Context, tx *Tx, id catalog.ID, p *P) error {
	s := *l.slice(p)
	if len(s) == 0 {
		return nil
	}
	n := len(l.fields(&s[0]))
	query := "INSERT INTO " + l.name + " (" + l.owner + ", position, " + l.columns() + ") VALUES (?, ?" +
		strings.Repeat(", ?", n) + ")"
	for i := range s {
		values, err := valuesOf(l.fields(&s[i]))
		if err != nil {
			return err
		}
		if err := tx.exec(ctx, query, append([]any{string(id), i}, values...)...); err != nil {
			return err
		}
	}
	return nil
}

func columnNames(fields []field) string {
	names := make([]string, len(fields))
	for i, f := range fields {
		names[i] = f.column
	}
	return strings.Join(names, ", ")
}

func targetsOf(fields []field) []any {
	targets := make([]any, len(fields))
	for i, f := range fields {
		targets[i] = f.target()
	}
	return targets
}

func valuesOf(fields []field) ([]any, error) {
	values := make([]any, len(fields))
	for i, f := range fields {
		v, err := f.value()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", f.column, err)
		}
		values[i] = v
	}
	return values, nil
}

// prepare makes the statements of a table; the first field is the id.
func (t table[P]) prepare() table[P] {
	var p P
	fields := t.fields(&p)
	var sets []string
	for _, f := range fields[1:] {
		sets = append(sets, f.column+" = excluded."+f.column)
	}
	zero, err := fieldsOf(&p)
	if err != nil {
		panic("store: " + t.name + " cannot be written as JSON: " + err.Error()) // a nouns file is wrong; any test shows it
	}
	t.zero = zero
	t.sql.columns = columnNames(fields)
	t.sql.upsert = "INSERT INTO " + t.name + " (" + t.sql.columns + ") VALUES (?" +
		strings.Repeat(", ?", len(fields)-1) + ") ON CONFLICT (id) DO UPDATE SET " + strings.Join(sets, ", ")
	return t
}

// id gives the place of the record's ID.
func (t *table[P]) id(p *P) *catalog.ID { return t.fields(p)[0].ptr.(*catalog.ID) }

// read gives the records that meet where (SQL after WHERE, "" all) in the
// order asked for ("" the table's own; it may carry LIMIT), lists included.
func (t *table[P]) read(ctx context.Context, q querier, where, order string, args ...any) ([]P, error) {
	records, err := t.readPlain(ctx, q, where, order, args...)
	if err != nil || len(records) == 0 || len(t.lists) == 0 {
		return records, err
	}
	byID := make(map[catalog.ID]*P, len(records))
	for i := range records {
		byID[*t.id(&records[i])] = &records[i]
	}
	ids := ""
	if where != "" || strings.Contains(order, "LIMIT") {
		all := make([]catalog.ID, 0, len(byID))
		for id := range byID {
			all = append(all, id)
		}
		b, err := json.Marshal(all)
		if err != nil {
			return nil, err
		}
		ids = string(b)
	}
	for _, l := range t.lists {
		if err := l.read(ctx, q, ids, byID); err != nil {
			return nil, err
		}
	}
	return records, nil
}

// readPlain is read without the lists.
func (t *table[P]) readPlain(ctx context.Context, q querier, where, order string, args ...any) ([]P, error) {
	query := "SELECT " + t.sql.columns + " FROM " + t.name
	if where != "" {
		query += " WHERE " + where
	}
	if order == "" {
		order = t.order
	}
	rows, err := q.QueryContext(ctx, query+" ORDER BY "+order, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var records []P
	for rows.Next() {
		var p P
		if err := rows.Scan(targetsOf(t.fields(&p))...); err != nil {
			return nil, fmt.Errorf("%s: %w", t.name, err)
		}
		records = append(records, p)
	}
	return records, rows.Err()
}

// one gives the record with an ID, or ErrNotFound.
func (t *table[P]) one(ctx context.Context, q querier, id catalog.ID) (*P, error) {
	records, err := t.read(ctx, q, "id = ?", "", string(id))
	if err != nil {
		return nil, err
	}
	if len(records) == 0 {
		return nil, &NotFoundError{Word: t.word, ID: id}
	}
	return &records[0], nil
}

// write stores a record and its lists; isNew spares clearing the lists.
func (t *table[P]) write(ctx context.Context, tx *Tx, p *P, isNew bool) error {
	id := *t.id(p)
	values, err := valuesOf(t.fields(p))
	if err != nil {
		return fmt.Errorf("this %s cannot be kept: %w", t.word, err)
	}
	if err := tx.exec(ctx, t.sql.upsert, values...); err != nil {
		return err
	}
	for _, l := range t.lists {
		if !isNew {
			if err := l.clear(ctx, tx, id); err != nil {
				return err
			}
		}
		if err := l.write(ctx, tx, id, p); err != nil {
			return err
		}
	}
	return nil
}

// remove takes a record and its lists away.
func (t *table[P]) remove(ctx context.Context, tx *Tx, id catalog.ID) error {
	for _, l := range t.lists {
		if err := l.clear(ctx, tx, id); err != nil {
			return err
		}
	}
	return tx.exec(ctx, "DELETE FROM "+t.name+" WHERE id = ?", string(id))
}
