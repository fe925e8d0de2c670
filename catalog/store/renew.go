package store

import (
	"context"
	"database/sql"
	"slices"

	"pullbook/catalog"
)

// Renew brings a snapshot up to date: the tables that were changed since the
// action since are read, the others are taken over from old, which is not
// altered. A nil old reads everything. n is the last action the snapshot knows
// of, to be given the next time. Where nothing was changed it is old itself.
func (s *Store) Renew(ctx context.Context, old *catalog.Snapshot, since int64) (snap *catalog.Snapshot, n int64, err error) {
	t, err := s.read.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return nil, 0, explain(err)
	}
	defer t.Rollback() // nothing was written
	if err := t.QueryRowContext(ctx, "SELECT coalesce(max(n), 0) FROM action").Scan(&n); err != nil {
		return nil, 0, explain(err)
	}
	r := Reader{q: t, fts: s.fts}
	if old == nil {
		snap, err = r.snapshot(ctx)
		return snap, n, err
	}
	if n == since {
		return old, n, nil
	}
	nouns, err := changedNouns(ctx, t, since)
	if err != nil {
		return nil, 0, explain(err)
	}
	snap = &catalog.Snapshot{}
	imprint, err := r.Imprint(ctx)
	if err != nil {
		return nil, 0, err
	}
	snap.Imprint = *imprint
	for _, step := range []func() error{
		renewed(ctx, r, nouns, &plates, old.Plates, &snap.Plates), renewed(ctx, r, nouns, &states, old.States, &snap.States),
		renewed(ctx, r, nouns, &impressions, old.Impressions, &snap.Impressions), renewed(ctx, r, nouns, &editions, old.Editions, &snap.Editions),
		renewed(ctx, r, nouns, &photographs, old.Photographs, &snap.Photographs), renewed(ctx, r, nouns, &scores, old.Scores, &snap.Scores),
		renewed(ctx, r, nouns, &days, old.Days, &snap.Days), renewed(ctx, r, nouns, &sessions, old.Sessions, &snap.Sessions),
		renewed(ctx, r, nouns, &groups, old.Groups, &snap.Groups), renewed(ctx, r, nouns, &people, old.People, &snap.People),
		renewed(ctx, r, nouns, &holders, old.Holders, &snap.Holders), renewed(ctx, r, nouns, &papers, old.Papers, &snap.Papers),
		renewed(ctx, r, nouns, &inks, old.Inks, &snap.Inks), renewed(ctx, r, nouns, &presses, old.Presses, &snap.Presses),
		renewed(ctx, r, nouns, &literature, old.Literature, &snap.Literature), renewed(ctx, r, nouns, &exhibitions, old.Exhibitions, &snap.Exhibitions),
	} {
		if err := step(); err != nil {
			return nil, 0, err
		}
	}
	inCatalogueOrder(snap)
	return snap, n, nil
}

// changedNouns are the tables that actions after since have written to. What is
// undone or done again wrote to those of the action it speaks of.
func changedNouns(ctx context.Context, t *sql.Tx, since int64) (map[string]bool, error) {
	rows, err := t.QueryContext(ctx, `SELECT DISTINCT c.noun FROM action a
		JOIN change c ON c.action = CASE a.kind WHEN 'do' THEN a.n ELSE a.of END WHERE a.n > ?`, since)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	nouns := map[string]bool{}
	for rows.Next() {
		var noun string
		if err := rows.Scan(&noun); err != nil {
			return nil, err
		}
		nouns[noun] = true
	}
	return nouns, rows.Err()
}

// renewed makes a step that reads a table, or takes it over where nothing was
// written to it. What is taken over is copied, because it is put in order.
func renewed[P any](ctx context.Context, r Reader, nouns map[string]bool, t *table[P], old []P, to *[]P) func() error {
	if !nouns[t.name] {
		return func() error { *to = slices.Clone(old); return nil }
	}
	return into(ctx, r, t, to)
}
