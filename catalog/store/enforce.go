package store

import (
	"context"
	"errors"
	"sort"

	"pullbook/catalog"
	"pullbook/catalog/say"
)

// Folder reads all that belongs to one plate.
func (r Reader) Folder(ctx context.Context, plateID catalog.ID) (*catalog.Folder, error) {
	p, err := r.Plate(ctx, plateID)
	if err != nil {
		return nil, err
	}
	f := &catalog.Folder{Plate: *p}
	if f.States, err = r.States(ctx, plateID); err != nil {
		return nil, err
	}
	if f.Editions, err = r.Editions(ctx, plateID); err != nil {
		return nil, err
	}
	// The rules need no lists of impressions, and leaving them out keeps
	// entering at the press quick for a plate of thousands.
	f.Impressions, err = impressions.readPlain(ctx, r.q, "plate_id = ?", "", string(plateID))
	return f, explain(err)
}

// Breaches gives what the rules say of one plate and all that belongs to it,
// contradictions, doubts and notes.
func (r Reader) Breaches(ctx context.Context, plateID catalog.ID) ([]catalog.Breach, error) {
	f, err := r.Folder(ctx, plateID)
	if err != nil {
		return nil, err
	}
	if f.Plate.Number.IsZero() {
		// Plates without a number share none; reading them all for each of
		// them would make taking in a long list of such plates slow.
		return catalog.CheckFolder(f), nil
	}
	same, err := plates.readPlain(ctx, r.q, "number_prefix = ? AND number_n = ? AND number_suffix = ?", "id",
		f.Plate.Number.Prefix, f.Plate.Number.N, f.Plate.Number.Suffix)
	if err != nil {
		return nil, explain(err)
	}
	for i := range same {
		if full, err := r.Plate(ctx, same[i].ID); err == nil {
			same[i] = *full // with its titles, for the sentence
		}
	}
	return append(catalog.CheckNumbers(same), catalog.CheckFolder(f)...), nil
}

// contradictions gives the contradictions of a plate by key; none when there
// is no such plate.
func (r Reader) contradictions(ctx context.Context, plateID catalog.ID) (map[string]catalog.Breach, error) {
	found := map[string]catalog.Breach{}
	all, err := r.Breaches(ctx, plateID)
	var missing *NotFoundError
	if errors.As(err, &missing) {
		return found, nil
	}
	for _, b := range all {
		if b.Weight == catalog.Contradiction {
			found[b.Key()] = b
		}
	}
	return found, err
}

// checkRules refuses an action that brings a contradiction in. One that was
// there before does not stand in the way of other work on the plate.
func (tx *Tx) checkRules() error {
	var sentences []say.Sentence
	for plate := range tx.touched {
		now, err := tx.contradictions(tx.ctx, plate)
		if err != nil {
			return err
		}
		if len(now) == 0 {
			continue
		}
		before, err := tx.store.contradictions(tx.ctx, plate)
		if err != nil {
			return err
		}
		for key, b := range now {
			if _, old := before[key]; !old {
				sentences = append(sentences, b.Said)
			}
		}
	}
	if len(sentences) == 0 {
		return nil
	}
	sort.Slice(sentences, func(i, j int) bool { return sentences[i].String() < sentences[j].String() })
	return &RefusedError{sentences}
}
