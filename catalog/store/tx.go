package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"pullbook/catalog"
	"pullbook/catalog/say"
)

// Tx is an action under way. It must not be used after the function given to
// Do has returned, nor by more than one goroutine.
type Tx struct {
	Reader
	ctx     context.Context
	store   *Store
	tx      *sql.Tx
	stmts   map[string]*sql.Stmt
	action  int64 // 0 until the first change
	label   string
	seq     int
	touched map[catalog.ID]bool // plates whose rules must be looked at
}

// Do makes one action: everything f does with the Tx is kept together or, when
// f or the keeping fails, not at all. One action is one step of Undo; label
// says what was done, as the window shows it ("Add plate"). An action that
// changes nothing leaves no trace. Do waits for another action to end.
//
// A change that would contradict the catalogue gives a *RefusedError.
func (s *Store) Do(ctx context.Context, label string, f func(*Tx) error) error {
	return s.act(ctx, label, "do", func(tx *Tx) error {
		if err := f(tx); err != nil {
			return err
		}
		return tx.checkRules()
	})
}

// act runs f in a transaction, entered in the history as kind.
func (s *Store) act(ctx context.Context, label, kind string, f func(*Tx) error) error {
	if s.readOnly {
		return ErrReadOnly
	}
	changed, err := s.actLocked(ctx, label, kind, f)
	if changed {
		s.changed() // after the lock is gone: who is told may act
	}
	return err
}

// actLocked does the work of act and reports whether anything changed.
func (s *Store) actLocked(ctx context.Context, label, kind string, f func(*Tx) error) (changed bool, err error) {
	s.doing.Lock()
	defer s.doing.Unlock()
	if s.closed {
		return false, errClosed
	}
	if err := s.stillThere(); err != nil {
		return false, err
	}
	if err := s.alone(); err != nil {
		return false, err
	}
	s.dailyBackup(ctx)
	t, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return false, explain(err)
	}
	tx := &Tx{ctx: ctx, store: s, tx: t, label: label, stmts: map[string]*sql.Stmt{}, touched: map[catalog.ID]bool{}}
	tx.Reader = Reader{q: tx, fts: s.fts}
	defer func() {
		tx.closeStatements()
		_ = t.Rollback() // of no effect after Commit; also when f panics
	}()
	if kind != "do" {
		if err := tx.open(kind); err != nil {
			return false, explain(err)
		}
	}
	if err := f(tx); err != nil {
		return false, explain(err)
	}
	if tx.action == 0 {
		return false, nil
	}
	tx.closeStatements()
	if err := t.Commit(); err != nil {
		return false, explain(err)
	}
	return true, nil
}

// stillThere notices a folder that has gone while it was open: the system goes
// on writing into a file without a name, and everything would be lost.
func (s *Store) stillThere() error {
	info, err := os.Stat(filepath.Join(s.dir, DatabaseFile))
	if err != nil || !os.SameFile(info, s.file) {
		return say.Errorf("the catalogue's folder %s is not there any more or was replaced; nothing was changed. Bring its disk back, then close the catalogue and open it again", s.dir)
	}
	return nil
}

// errClosed is what a closed catalogue answers.
var errClosed = say.Errorf("this catalogue has been closed")

func (tx *Tx) closeStatements() {
	for _, s := range tx.stmts {
		_ = s.Close()
	}
	tx.stmts = nil
}

// statement gives the prepared form of a query, kept for the action: imports
// run the same few statements thousands of times.
func (tx *Tx) statement(ctx context.Context, query string) (*sql.Stmt, error) {
	if tx.stmts == nil {
		return nil, errors.New("this action has ended")
	}
	if s := tx.stmts[query]; s != nil {
		return s, nil
	}
	s, err := tx.tx.PrepareContext(ctx, query)
	if err != nil {
		return nil, err
	}
	tx.stmts[query] = s
	return s, nil
}

// QueryContext runs a query within the action; it serves the Reader.
func (tx *Tx) QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error) {
	s, err := tx.statement(ctx, query)
	if err != nil {
		return nil, err
	}
	return s.QueryContext(ctx, args...)
}

func (tx *Tx) exec(ctx context.Context, query string, args ...any) error {
	s, err := tx.statement(ctx, query)
	if err != nil {
		return err
	}
	_, err = s.ExecContext(ctx, args...)
	return err
}

// queryRow scans the one row of a query.
func (tx *Tx) queryRow(ctx context.Context, query string, args []any, targets ...any) error {
	s, err := tx.statement(ctx, query)
	if err != nil {
		return err
	}
	return s.QueryRowContext(ctx, args...).Scan(targets...)
}

// put stores a record: with an empty ID as a new one, whose ID is then set.
func put[P any](tx *Tx, t *table[P], p *P) error {
	if t.needs != nil {
		if sentence := t.needs(p); sentence != "" {
			return refusal(sentence)
		}
	}
	if t.tidy != nil {
		t.tidy(p)
	}
	id := t.id(p)
	var old *P
	if *id == "" {
		*id = catalog.NewID()
	} else {
		var missing *NotFoundError
		var err error
		if old, err = t.one(tx.ctx, tx, *id); err != nil && !errors.As(err, &missing) {
			return err
		}
	}
	entry, err := compare(t, *id, old, p)
	if err != nil {
		return fmt.Errorf("this %s cannot be kept: %w", t.word, err)
	}
	if entry == nil {
		return nil
	}
	if err := t.write(tx.ctx, tx, p, old == nil); err != nil {
		return err
	}
	return record(tx, t, entry, old, p)
}

// remove takes a record away; others must not point to it.
func remove[P any](tx *Tx, t *table[P], id catalog.ID) error {
	old, err := t.one(tx.ctx, tx, id)
	if err != nil {
		return err
	}
	if err := tx.refuseIfUsed(tx.ctx, t.name, t.word, id); err != nil {
		return err
	}
	entry, err := compare(t, id, old, nil)
	if err != nil {
		return err
	}
	if err := t.remove(tx.ctx, tx, id); err != nil {
		return err
	}
	return record(tx, t, entry, old, nil)
}

// record enters a change in the history, the search text and the list of
// plates to look at.
func record[P any](tx *Tx, t *table[P], entry *entry, old, now *P) error {
	if err := tx.enter(entry); err != nil {
		return err
	}
	return follow(tx, t, entry.id, old, now)
}

// follow keeps what depends on a record in step with it.
func follow[P any](tx *Tx, t *table[P], id catalog.ID, old, now *P) error {
	for _, p := range []*P{old, now} {
		if p != nil && t.plates != nil {
			for _, plate := range t.plates(p) {
				tx.touched[plate] = true
			}
		}
	}
	if t.words == nil {
		return nil
	}
	if now == nil {
		return tx.forget(id)
	}
	w := t.words(now)
	if old != nil && same(w, t.words(old)) {
		return nil
	}
	return tx.remember(t.name, id, w)
}
