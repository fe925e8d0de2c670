package store

import (
	"context"
	"database/sql"
	"sort"

	"pullbook/catalog"
)

// Snapshot reads the whole catalogue as it is at one moment.
func (s *Store) Snapshot(ctx context.Context) (*catalog.Snapshot, error) {
	t, err := s.read.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return nil, explain(err)
	}
	defer t.Rollback() // nothing was written
	return Reader{q: t, fts: s.fts}.snapshot(ctx)
}

func (r Reader) snapshot(ctx context.Context) (*catalog.Snapshot, error) {
	var snap catalog.Snapshot
	imprint, err := r.Imprint(ctx)
	if err != nil {
		return nil, err
	}
	snap.Imprint = *imprint
	for _, step := range []func() error{
		into(ctx, r, &plates, &snap.Plates), into(ctx, r, &states, &snap.States),
		into(ctx, r, &impressions, &snap.Impressions), into(ctx, r, &editions, &snap.Editions),
		into(ctx, r, &photographs, &snap.Photographs), into(ctx, r, &scores, &snap.Scores),
		into(ctx, r, &days, &snap.Days), into(ctx, r, &sessions, &snap.Sessions),
		into(ctx, r, &groups, &snap.Groups), into(ctx, r, &people, &snap.People),
		into(ctx, r, &holders, &snap.Holders), into(ctx, r, &papers, &snap.Papers),
		into(ctx, r, &inks, &snap.Inks), into(ctx, r, &presses, &snap.Presses),
		into(ctx, r, &literature, &snap.Literature), into(ctx, r, &exhibitions, &snap.Exhibitions),
	} {
		if err := step(); err != nil {
			return nil, err
		}
	}
	inCatalogueOrder(&snap)
	return &snap, nil
}

// into makes a step that reads a table.
func into[P any](ctx context.Context, r Reader, t *table[P], to *[]P) func() error {
	return func() (err error) {
		*to, err = all(ctx, r, t)
		return err
	}
}

// inCatalogueOrder puts what belongs to plates in the order of the plates.
func inCatalogueOrder(s *catalog.Snapshot) {
	place := make(map[catalog.ID]int, len(s.Plates))
	for i := range s.Plates {
		place[s.Plates[i].ID] = i
	}
	sort.SliceStable(s.States, func(a, b int) bool { return place[s.States[a].PlateID] < place[s.States[b].PlateID] })
	sort.SliceStable(s.Editions, func(a, b int) bool { return place[s.Editions[a].PlateID] < place[s.Editions[b].PlateID] })
	sort.SliceStable(s.Days, func(a, b int) bool { return place[s.Days[a].PlateID] < place[s.Days[b].PlateID] })
	sort.SliceStable(s.Impressions, func(a, b int) bool {
		return place[s.Impressions[a].PlateID] < place[s.Impressions[b].PlateID]
	})
}
