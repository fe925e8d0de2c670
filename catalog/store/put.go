package store

import (
	"context"

	"pullbook/catalog"
)

// The Put methods store a record. One with an empty ID is new and gets its ID;
// one with an ID takes the place of the record that has it. Times are cut to
// milliseconds.

// PutPlate stores a plate.
func (tx *Tx) PutPlate(p *catalog.Plate) error { return put(tx, &plates, p) }

// PutState stores a state.
func (tx *Tx) PutState(s *catalog.State) error { return put(tx, &states, s) }

// PutImpression stores an impression. A new one that says when it was pulled
// but not when it is dry is given the imprint's drying time.
func (tx *Tx) PutImpression(i *catalog.Impression) error {
	if i.ID == "" && !i.PulledAt.IsZero() && i.DryFrom.IsZero() {
		m, err := tx.Imprint(tx.ctx)
		if err != nil {
			return err
		}
		i.DryFrom = catalog.DryAt(i.PulledAt, m.DryHours)
	}
	return put(tx, &impressions, i)
}

// PutEdition stores an edition.
func (tx *Tx) PutEdition(e *catalog.Edition) error { return put(tx, &editions, e) }

// PutDay stores a printing day.
func (tx *Tx) PutDay(d *catalog.PrintingDay) error { return put(tx, &days, d) }

// PutPhotograph stores a photograph's record; its file must be in the archive
// already.
func (tx *Tx) PutPhotograph(p *catalog.Photograph) error { return put(tx, &photographs, p) }

// PutSession stores a shooting session.
func (tx *Tx) PutSession(s *catalog.ShootingSession) error { return put(tx, &sessions, s) }

// PutScore stores a score.
func (tx *Tx) PutScore(s *catalog.Score) error { return put(tx, &scores, s) }

// PutPerson stores a person.
func (tx *Tx) PutPerson(p *catalog.Person) error { return put(tx, &people, p) }

// PutHolder stores a holder.
func (tx *Tx) PutHolder(h *catalog.Holder) error { return put(tx, &holders, h) }

// PutPaper stores a paper.
func (tx *Tx) PutPaper(p *catalog.Paper) error { return put(tx, &papers, p) }

// PutInk stores an ink.
func (tx *Tx) PutInk(i *catalog.Ink) error { return put(tx, &inks, i) }

// PutPress stores a press.
func (tx *Tx) PutPress(p *catalog.Press) error { return put(tx, &presses, p) }

// PutLiterature stores a source.
func (tx *Tx) PutLiterature(l *catalog.Literature) error { return put(tx, &literature, l) }

// PutExhibition stores an exhibition.
func (tx *Tx) PutExhibition(e *catalog.Exhibition) error { return put(tx, &exhibitions, e) }

// PutGroup stores a group of plates.
func (tx *Tx) PutGroup(g *catalog.Group) error { return put(tx, &groups, g) }

// PutImprint stores what the catalogue says of itself; there is one imprint.
func (tx *Tx) PutImprint(i *catalog.Imprint) error { return put(tx, &imprints, i) }

// The Delete methods take a record away. They refuse, with a sentence, while
// other records point to it. The file of a photograph stays in the archive.

// DeletePlate takes away a plate that has no states, impressions or editions.
func (tx *Tx) DeletePlate(id catalog.ID) error { return remove(tx, &plates, id) }

// DeleteState takes away a state.
func (tx *Tx) DeleteState(id catalog.ID) error { return remove(tx, &states, id) }

// DeleteImpression takes away an impression and its scores; its photographs
// become unfiled.
func (tx *Tx) DeleteImpression(id catalog.ID) error {
	photos, err := tx.Photographs(tx.ctx, id)
	if err != nil {
		return err
	}
	for i := range photos {
		photos[i].ImpressionID, photos[i].FiledBy, photos[i].FiledSure = "", "", 0
		if err := tx.PutPhotograph(&photos[i]); err != nil {
			return err
		}
	}
	measured, err := tx.Scores(tx.ctx, id)
	if err != nil {
		return err
	}
	for _, m := range measured {
		if err := tx.DeleteScore(m.ID); err != nil {
			return err
		}
	}
	return remove(tx, &impressions, id)
}

// DeleteEdition takes away an edition.
func (tx *Tx) DeleteEdition(id catalog.ID) error { return remove(tx, &editions, id) }

// DeleteDay takes away a printing day.
func (tx *Tx) DeleteDay(id catalog.ID) error { return remove(tx, &days, id) }

// DeletePhotograph takes away a photograph's record and the scores made from
// it.
func (tx *Tx) DeletePhotograph(id catalog.ID) error {
	made, err := scores.readPlain(tx.ctx, tx, "photo_id = ?", "", string(id))
	if err != nil {
		return err
	}
	for _, m := range made {
		if err := tx.DeleteScore(m.ID); err != nil {
			return err
		}
	}
	return remove(tx, &photographs, id)
}

// DeleteSession takes away a shooting session.
func (tx *Tx) DeleteSession(id catalog.ID) error { return remove(tx, &sessions, id) }

// DeleteScore takes away a score.
func (tx *Tx) DeleteScore(id catalog.ID) error { return remove(tx, &scores, id) }

// DeletePerson takes away a person.
func (tx *Tx) DeletePerson(id catalog.ID) error { return remove(tx, &people, id) }

// DeleteHolder takes away a holder.
func (tx *Tx) DeleteHolder(id catalog.ID) error { return remove(tx, &holders, id) }

// DeletePaper takes away a paper.
func (tx *Tx) DeletePaper(id catalog.ID) error { return remove(tx, &papers, id) }

// DeleteInk takes away an ink.
func (tx *Tx) DeleteInk(id catalog.ID) error { return remove(tx, &inks, id) }

// DeletePress takes away a press.
func (tx *Tx) DeletePress(id catalog.ID) error { return remove(tx, &presses, id) }

// DeleteLiterature takes away a source.
func (tx *Tx) DeleteLiterature(id catalog.ID) error { return remove(tx, &literature, id) }

// DeleteExhibition takes away an exhibition.
func (tx *Tx) DeleteExhibition(id catalog.ID) error { return remove(tx, &exhibitions, id) }

// DeleteGroup takes away a group; its plates must have left it.
func (tx *Tx) DeleteGroup(id catalog.ID) error { return remove(tx, &groups, id) }

// Context is the context the action was begun with.
func (tx *Tx) Context() context.Context { return tx.ctx }
