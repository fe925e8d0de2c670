package store

import (
	"context"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"pullbook/catalog"
)

// Whatever is done, undone and done again, a snapshot brought up to date is the
// one read anew, and the one before is not altered.
func TestRenew(t *testing.T) {
	ctx := context.Background()
	s, err := Create(filepath.Join(t.TempDir(), "renew.pullbook"))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	rnd := rand.New(rand.NewPCG(7, 11))
	var plates []catalog.ID
	do := func(step int) error {
		return s.Do(ctx, fmt.Sprint("step ", step), func(tx *Tx) error {
			switch k := rnd.IntN(6); {
			case k == 0 || len(plates) == 0:
				p := &catalog.Plate{Number: catalog.Number{N: 100 - step}, Titles: []catalog.Title{{Text: fmt.Sprint("Plate ", step)}}, Standing: catalog.Accepted}
				if err := tx.PutPlate(p); err != nil {
					return err
				}
				plates = append(plates, p.ID)
			case k == 1:
				return tx.PutPaper(&catalog.Paper{Name: fmt.Sprint("Paper ", step)})
			case k == 2:
				return tx.PutImprint(&catalog.Imprint{ID: "imprint", Title: fmt.Sprint("Title ", step)})
			case k == 3:
				p, err := tx.Plate(ctx, plates[rnd.IntN(len(plates))])
				if err != nil {
					return nil // undone meanwhile
				}
				p.Number.N, p.Remarks = 200+rnd.IntN(100), fmt.Sprint("remark ", step)
				return tx.PutPlate(p)
			default:
				plate := plates[rnd.IntN(len(plates))]
				if _, err := tx.Plate(ctx, plate); err != nil {
					return nil
				}
				return tx.PutImpression(&catalog.Impression{PlateID: plate, Pull: step + 1})
			}
			return nil
		})
	}
	snap, n, err := s.Renew(ctx, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	reused := 0
	for step := range 120 {
		before := fmt.Sprintf("%+v", *snap)
		switch rnd.IntN(4) {
		case 0:
			_, err = s.Undo(ctx)
		case 1:
			_, err = s.Redo(ctx)
		default:
			err = do(step)
		}
		if err != nil && err != ErrNothing {
			t.Logf("step %d: %v", step, err)
		}
		next, m, err := s.Renew(ctx, snap, n)
		if err != nil {
			t.Fatal(err)
		}
		whole, err := s.Snapshot(ctx)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := fmt.Sprintf("%+v", *next), fmt.Sprintf("%+v", *whole); got != want {
			t.Fatalf("step %d: brought up to date it is\n%.2000s\nread anew\n%.2000s", step, got, want)
		}
		if fmt.Sprintf("%+v", *snap) != before {
			t.Fatalf("step %d: the snapshot before was altered", step)
		}
		if next == snap {
			reused++
		}
		snap, n = next, m
	}
	if reused == 0 || len(snap.Plates) == 0 || len(snap.Impressions) == 0 {
		t.Errorf("%d steps changed nothing, %d plates, %d impressions: too little was tried", reused, len(snap.Plates), len(snap.Impressions))
	}
}
