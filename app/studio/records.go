package studio

import (
	"context"
	"fmt"

	"pullbook/catalog"
	"pullbook/catalog/store"
)

// Save writes records (pointers to nouns of the catalogue) as one step of
// undo. A record without an ID is new and gets one.
func (s *Studio) Save(ctx context.Context, label string, records ...any) error {
	return s.store.Do(ctx, label, func(tx *store.Tx) error {
		for _, r := range records {
			if err := putRecord(tx, r); err != nil {
				return err
			}
		}
		return nil
	})
}

func putRecord(tx *store.Tx, record any) error {
	switch r := record.(type) {
	case *catalog.Plate:
		return tx.PutPlate(r)
	case *catalog.State:
		return tx.PutState(r)
	case *catalog.Impression:
		return tx.PutImpression(r)
	case *catalog.Edition:
		return tx.PutEdition(r)
	case *catalog.PrintingDay:
		return tx.PutDay(r)
	case *catalog.Photograph:
		return tx.PutPhotograph(r)
	case *catalog.ShootingSession:
		return tx.PutSession(r)
	case *catalog.Score:
		return tx.PutScore(r)
	case *catalog.Person:
		return tx.PutPerson(r)
	case *catalog.Holder:
		return tx.PutHolder(r)
	case *catalog.Paper:
		return tx.PutPaper(r)
	case *catalog.Ink:
		return tx.PutInk(r)
	case *catalog.Press:
		return tx.PutPress(r)
	case *catalog.Literature:
		return tx.PutLiterature(r)
	case *catalog.Exhibition:
		return tx.PutExhibition(r)
	case *catalog.Group:
		return tx.PutGroup(r)
	case *catalog.Imprint:
		return tx.PutImprint(r)
	}
	return fmt.Errorf("studio: a %T is no record of the catalogue", record)
}

// Delete removes records (pointers to nouns of the catalogue) as one step of
// undo. The store refuses while others point to them.
func (s *Studio) Delete(ctx context.Context, label string, records ...any) error {
	return s.store.Do(ctx, label, func(tx *store.Tx) error {
		for _, r := range records {
			if err := deleteRecord(tx, r); err != nil {
				return err
			}
		}
		return nil
	})
}

func deleteRecord(tx *store.Tx, record any) error {
	switch r := record.(type) {
	case *catalog.Plate:
		return tx.DeletePlate(r.ID)
	case *catalog.State:
		return tx.DeleteState(r.ID)
	case *catalog.Impression:
		return tx.DeleteImpression(r.ID)
	case *catalog.Edition:
		return tx.DeleteEdition(r.ID)
	case *catalog.PrintingDay:
		return tx.DeleteDay(r.ID)
	case *catalog.Photograph:
		return tx.DeletePhotograph(r.ID)
	case *catalog.ShootingSession:
		return tx.DeleteSession(r.ID)
	case *catalog.Score:
		return tx.DeleteScore(r.ID)
	case *catalog.Person:
		return tx.DeletePerson(r.ID)
	case *catalog.Holder:
		return tx.DeleteHolder(r.ID)
	case *catalog.Paper:
		return tx.DeletePaper(r.ID)
	case *catalog.Ink:
		return tx.DeleteInk(r.ID)
	case *catalog.Press:
		return tx.DeletePress(r.ID)
	case *catalog.Literature:
		return tx.DeleteLiterature(r.ID)
	case *catalog.Exhibition:
		return tx.DeleteExhibition(r.ID)
	case *catalog.Group:
		return tx.DeleteGroup(r.ID)
	}
	return fmt.Errorf("studio: a %T cannot be removed", record)
}

// Decide records what was decided of a sheet, and why.
func (s *Studio) Decide(ctx context.Context, impression catalog.ID, d catalog.Decision) error {
	return s.store.Do(ctx, "Decide on a sheet", func(tx *store.Tx) error {
		i, err := tx.Impression(ctx, impression)
		if err != nil {
			return err
		}
		if d.At.IsZero() && d.Verdict != "" {
			d.At = s.now().UTC()
		}
		i.Decision = d
		return tx.PutImpression(i)
	})
}
