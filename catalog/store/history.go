package store

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"pullbook/catalog"
)

// fieldsJSON is a record as its JSON fields.
type fieldsJSON map[string]json.RawMessage

// An entry is one record altered, as the history keeps it.
type entry struct {
	noun     string
	id       catalog.ID
	kind     string // created, changed, removed
	old, now fieldsJSON
}

// fieldsOf gives a record's fields as JSON; empty lists and null are the same.
func fieldsOf(p any) (fieldsJSON, error) {
	b, err := marshal(p)
	if err != nil {
		return nil, err
	}
	var f fieldsJSON
	if err := json.Unmarshal(b, &f); err != nil {
		return nil, err
	}
	for name, raw := range f {
		if string(raw) == "[]" {
			f[name] = json.RawMessage("null")
		}
	}
	return f, nil
}

// marshal is json.Marshal that leaves <, > and & as they are.
func marshal(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return bytes.TrimSpace(b.Bytes()), err
}

// compare makes the history entry for a record going from old to now (nil:
// not there), or nil when they are the same.
func compare[P any](t *table[P], id catalog.ID, old, now *P) (*entry, error) {
	was, is := t.zero, t.zero
	var err error
	if old != nil {
		if was, err = fieldsOf(old); err != nil {
			return nil, err
		}
	}
	if now != nil {
		if is, err = fieldsOf(now); err != nil {
			return nil, err
		}
	}
	e := &entry{noun: t.name, id: id, kind: "changed", old: fieldsJSON{}, now: fieldsJSON{}}
	for name, raw := range is {
		if !bytes.Equal(raw, was[name]) {
			e.old[name], e.now[name] = was[name], raw
		}
	}
	switch {
	case old == nil:
		e.kind, e.old = "created", nil
	case now == nil:
		e.kind, e.now = "removed", nil
	case len(e.now) == 0:
		return nil, nil
	}
	return e, nil
}

// open enters the action itself, before its first change.
func (tx *Tx) open(kind string) error {
	s := tx.store
	if kind == "do" {
		// Work done after taking something back overtakes it for good.
		if err := tx.exec(tx.ctx, "UPDATE action SET standing = 'dropped' WHERE session = ? AND kind = 'do' AND standing = 'undone'", s.session); err != nil {
			return err
		}
	}
	if err := tx.exec(tx.ctx, "INSERT INTO action (session, who, at, label, kind, standing) VALUES (?, ?, ?, ?, ?, 'done')",
		s.session, s.options.Who, writeStamp(s.options.Now()), tx.label, kind); err != nil {
		return err
	}
	return tx.queryRow(tx.ctx, "SELECT max(n) FROM action", nil, &tx.action)
}

// enter adds a change to the action.
func (tx *Tx) enter(e *entry) error {
	if tx.action == 0 {
		if err := tx.open("do"); err != nil {
			return err
		}
	}
	text := func(f fieldsJSON) (any, error) {
		if f == nil {
			return nil, nil
		}
		b, err := marshal(f)
		return string(b), err
	}
	old, err := text(e.old)
	if err != nil {
		return err
	}
	now, err := text(e.now)
	if err != nil {
		return err
	}
	tx.seq++
	return tx.exec(tx.ctx, "INSERT INTO change (action, seq, noun, record_id, kind, old, new) VALUES (?, ?, ?, ?, ?, ?, ?)",
		tx.action, tx.seq, e.noun, string(e.id), e.kind, old, now)
}

// keeper is a table seen without its record type: what undo needs of it.
type keeper interface {
	revert(tx *Tx, id catalog.ID, kind string, to fieldsJSON) error
}

// revert brings a record to an earlier or later form: to nil it goes away,
// otherwise its fields are set as given.
func (t *table[P]) revert(tx *Tx, id catalog.ID, kind string, to fieldsJSON) error {
	current, err := t.one(tx.ctx, tx, id)
	var missing *NotFoundError
	if errors.As(err, &missing) {
		current = nil
	} else if err != nil {
		return err
	}
	if to == nil {
		if err := t.remove(tx.ctx, tx, id); err != nil {
			return err
		}
		return follow(tx, t, id, current, nil)
	}
	f := fieldsJSON{}
	if kind == "changed" && current != nil {
		if f, err = fieldsOf(current); err != nil {
			return err
		}
	}
	for name, raw := range to {
		f[name] = raw
	}
	b, err := marshal(f)
	if err != nil {
		return err
	}
	p := new(P)
	if err := json.Unmarshal(b, p); err != nil {
		return fmt.Errorf("the history of a %s cannot be read: %w", t.word, err)
	}
	if err := t.write(tx.ctx, tx, p, current == nil); err != nil {
		return err
	}
	return follow(tx, t, id, current, p)
}

// keepers finds a table by the noun in the history.
var keepers = map[string]keeper{
	"plate": &plates, "state": &states, "impression": &impressions, "edition": &editions, "printing_day": &days,
	"photograph": &photographs, "shooting_session": &sessions, "score": &scores, "person": &people, "holder": &holders,
	"paper": &papers, "ink": &inks, "press": &presses, "literature": &literature, "exhibition": &exhibitions,
	"plate_group": &groups, "imprint": &imprints,
}

// Undo takes the last action of this sitting back and gives its label, or
// ErrNothing.
func (s *Store) Undo(ctx context.Context) (label string, err error) { return s.step(ctx, "undo") }

// Redo does the action that was last taken back again, or gives ErrNothing.
func (s *Store) Redo(ctx context.Context) (label string, err error) { return s.step(ctx, "redo") }

// NextUndo is the label of the action Undo would take back, "" none.
func (s *Store) NextUndo() string {
	_, label, _ := s.nextStep(context.Background(), s.q, "undo")
	return label
}

// NextRedo is the label of the action Redo would do again, "" none.
func (s *Store) NextRedo() string {
	_, label, _ := s.nextStep(context.Background(), s.q, "redo")
	return label
}

func (s *Store) nextStep(ctx context.Context, q querier, kind string) (n int64, label string, err error) {
	standing, order := "done", "DESC"
	if kind == "redo" {
		standing, order = "undone", "ASC"
	}
	rows, err := q.QueryContext(ctx, "SELECT n, label FROM action WHERE session = ? AND kind = 'do' AND standing = ? ORDER BY n "+
		order+" LIMIT 1", s.session, standing)
	if err != nil {
		return 0, "", err
	}
	defer rows.Close()
	if rows.Next() {
		err = rows.Scan(&n, &label)
	}
	return n, label, errors.Join(err, rows.Err())
}

// step takes back or does again the next action in line.
func (s *Store) step(ctx context.Context, kind string) (string, error) {
	var n int64
	label := ""
	err := s.act(ctx, "", kind, func(tx *Tx) error {
		var err error
		if n, label, err = s.nextStep(ctx, tx, kind); err != nil {
			return err
		}
		if n == 0 {
			return ErrNothing
		}
		if err := tx.exec(ctx, "UPDATE action SET of = ?, label = ? WHERE n = ?", n, label, tx.action); err != nil {
			return err
		}
		standing, order := "undone", "DESC"
		if kind == "redo" {
			standing, order = "done", "ASC"
		}
		if err := tx.exec(ctx, "UPDATE action SET standing = ? WHERE n = ?", standing, n); err != nil {
			return err
		}
		return tx.replay(n, kind, order)
	})
	return label, err
}

// replay applies the changes of action n, backwards for undo.
func (tx *Tx) replay(n int64, kind, order string) error {
	rows, err := tx.QueryContext(tx.ctx, "SELECT noun, record_id, kind, old, new FROM change WHERE action = ? ORDER BY seq "+order, n)
	if err != nil {
		return err
	}
	type step struct {
		noun, id, kind string
		old, now       sql.NullString
	}
	var steps []step
	for rows.Next() {
		var c step
		if err := rows.Scan(&c.noun, &c.id, &c.kind, &c.old, &c.now); err != nil {
			rows.Close()
			return err
		}
		steps = append(steps, c)
	}
	if err := errors.Join(rows.Err(), rows.Close()); err != nil {
		return err
	}
	for _, c := range steps {
		to := c.old
		if kind == "redo" {
			to = c.now
		}
		var f fieldsJSON
		if to.Valid {
			if err := json.Unmarshal([]byte(to.String), &f); err != nil {
				return fmt.Errorf("the history cannot be read: %w", err)
			}
		}
		k := keepers[c.noun]
		if k == nil {
			return fmt.Errorf("the history speaks of a %q, which this version does not know", c.noun)
		}
		if err := k.revert(tx, catalog.ID(c.id), c.kind, f); err != nil {
			return err
		}
	}
	return nil
}

// A Change is one entry of a record's history.
type Change struct {
	Action   int64 // counts the catalogue's actions
	At       time.Time
	Who      string
	Label    string
	Noun     string // name of the record's table
	RecordID catalog.ID
	Kind     string // "created", "changed" or "removed"
	Standing string // "done", "undone" or "dropped" (taken back for good)
	Fields   []FieldChange
}

// A FieldChange is one field's old and new value, as JSON; "" where there was
// or is no record.
type FieldChange struct{ Name, Old, New string }

// History gives what happened to one record, oldest first. Taken-back actions
// are included and say so.
func (r Reader) History(ctx context.Context, id catalog.ID) ([]Change, error) {
	return r.changes(ctx, "c.record_id = ? ORDER BY c.action, c.seq", string(id))
}

// Recent gives the last changes of the whole catalogue, newest first.
func (r Reader) Recent(ctx context.Context, limit int) ([]Change, error) {
	return r.changes(ctx, "1 ORDER BY c.action DESC, c.seq DESC LIMIT ?", limit)
}

// LastAction counts the actions, undos and redos of the catalogue's life. It
// rises with every change, also one made by another program: a window that
// shows a catalogue opened for reading asks it now and then.
func (r Reader) LastAction(ctx context.Context) (int64, error) {
	rows, err := r.q.QueryContext(ctx, "SELECT coalesce(max(n), 0) FROM action")
	if err != nil {
		return 0, explain(err)
	}
	defer rows.Close()
	var n int64
	for rows.Next() {
		if err := rows.Scan(&n); err != nil {
			return 0, explain(err)
		}
	}
	return n, explain(rows.Err())
}

func (r Reader) changes(ctx context.Context, where string, args ...any) ([]Change, error) {
	rows, err := r.q.QueryContext(ctx, `SELECT a.n, a.at, a.who, a.label, a.standing, c.noun, c.record_id, c.kind, c.old, c.new
		FROM change c JOIN action a ON a.n = c.action WHERE `+where, args...)
	if err != nil {
		return nil, explain(err)
	}
	defer rows.Close()
	var all []Change
	for rows.Next() {
		var c Change
		var old, now sql.NullString
		if err := rows.Scan(&c.Action, stamp{&c.At}, &c.Who, &c.Label, &c.Standing, &c.Noun, reference{&c.RecordID}, &c.Kind, &old, &now); err != nil {
			return nil, explain(err)
		}
		if c.Fields, err = fieldChanges(old.String, now.String); err != nil {
			return nil, err
		}
		all = append(all, c)
	}
	return all, explain(rows.Err())
}
