package store

import (
	"context"

	"pullbook/catalog"
)

// A Reader reads records. Store and Tx have all its methods; within an action
// the Tx sees what the action has done so far, the Store what was there
// before.
type Reader struct {
	q   querier
	fts bool
}

func all[P any](ctx context.Context, r Reader, t *table[P]) ([]P, error) {
	records, err := t.read(ctx, r.q, "", "")
	return records, explain(err)
}

func one[P any](ctx context.Context, r Reader, t *table[P], id catalog.ID) (*P, error) {
	p, err := t.one(ctx, r.q, id)
	return p, explain(err)
}

func of[P any](ctx context.Context, r Reader, t *table[P], where string, id catalog.ID) ([]P, error) {
	records, err := t.read(ctx, r.q, where, "", string(id))
	return records, explain(err)
}

// Plate gives one plate, or a *NotFoundError.
func (r Reader) Plate(ctx context.Context, id catalog.ID) (*catalog.Plate, error) {
	return one(ctx, r, &plates, id)
}

// State gives one state.
func (r Reader) State(ctx context.Context, id catalog.ID) (*catalog.State, error) {
	return one(ctx, r, &states, id)
}

// States gives the states of a plate, first to last.
func (r Reader) States(ctx context.Context, plateID catalog.ID) ([]catalog.State, error) {
	return of(ctx, r, &states, "plate_id = ?", plateID)
}

// Edition gives one edition.
func (r Reader) Edition(ctx context.Context, id catalog.ID) (*catalog.Edition, error) {
	return one(ctx, r, &editions, id)
}

// Editions gives the editions of a plate, by date.
func (r Reader) Editions(ctx context.Context, plateID catalog.ID) ([]catalog.Edition, error) {
	return of(ctx, r, &editions, "plate_id = ?", plateID)
}

// Impression gives one impression.
func (r Reader) Impression(ctx context.Context, id catalog.ID) (*catalog.Impression, error) {
	return one(ctx, r, &impressions, id)
}

// Day gives one printing day.
func (r Reader) Day(ctx context.Context, id catalog.ID) (*catalog.PrintingDay, error) {
	return one(ctx, r, &days, id)
}

// Days gives the printing days of a plate, in order of time; of all plates
// when the ID is empty.
func (r Reader) Days(ctx context.Context, plateID catalog.ID) ([]catalog.PrintingDay, error) {
	if plateID == "" {
		return all(ctx, r, &days)
	}
	return of(ctx, r, &days, "plate_id = ?", plateID)
}

// Photograph gives one photograph's record.
func (r Reader) Photograph(ctx context.Context, id catalog.ID) (*catalog.Photograph, error) {
	return one(ctx, r, &photographs, id)
}

// Photographs gives the photographs of an impression, in order of taking;
// those not yet filed when the ID is empty.
func (r Reader) Photographs(ctx context.Context, impressionID catalog.ID) ([]catalog.Photograph, error) {
	if impressionID == "" {
		records, err := photographs.read(ctx, r.q, "impression_id IS NULL", "")
		return records, explain(err)
	}
	return of(ctx, r, &photographs, "impression_id = ?", impressionID)
}

// PhotographBySHA256 gives a photograph record with these bytes, or a
// *NotFoundError: the file is not in the catalogue yet.
func (r Reader) PhotographBySHA256(ctx context.Context, sha256 string) (*catalog.Photograph, error) {
	records, err := photographs.read(ctx, r.q, "sha256 = ?", "", sha256)
	if err != nil {
		return nil, explain(err)
	}
	if len(records) == 0 {
		return nil, &NotFoundError{Word: "photograph", ID: catalog.ID(sha256)}
	}
	return &records[0], nil
}

// Session gives one shooting session.
func (r Reader) Session(ctx context.Context, id catalog.ID) (*catalog.ShootingSession, error) {
	return one(ctx, r, &sessions, id)
}

// Sessions gives the shooting sessions, in order of time.
func (r Reader) Sessions(ctx context.Context) ([]catalog.ShootingSession, error) {
	return all(ctx, r, &sessions)
}

// Score gives one score.
func (r Reader) Score(ctx context.Context, id catalog.ID) (*catalog.Score, error) {
	return one(ctx, r, &scores, id)
}

// Scores gives the scores of an impression, oldest first.
func (r Reader) Scores(ctx context.Context, impressionID catalog.ID) ([]catalog.Score, error) {
	return of(ctx, r, &scores, "impression_id = ?", impressionID)
}

// ScoresOfPlate gives the scores of all impressions of a plate, oldest first.
func (r Reader) ScoresOfPlate(ctx context.Context, plateID catalog.ID) ([]catalog.Score, error) {
	return of(ctx, r, &scores, "impression_id IN (SELECT id FROM impression WHERE plate_id = ?)", plateID)
}

// LatestScore gives the newest score of an impression, nil when there is none.
func (r Reader) LatestScore(ctx context.Context, impressionID catalog.ID) (*catalog.Score, error) {
	records, err := scores.read(ctx, r.q, "impression_id = ?", "at DESC, id DESC LIMIT 1", string(impressionID))
	if err != nil || len(records) == 0 {
		return nil, explain(err)
	}
	return &records[0], nil
}

// LatestScores gives the newest score of each impression of a plate, by
// impression.
func (r Reader) LatestScores(ctx context.Context, plateID catalog.ID) (map[catalog.ID]catalog.Score, error) {
	records, err := r.ScoresOfPlate(ctx, plateID)
	if err != nil {
		return nil, err
	}
	latest := make(map[catalog.ID]catalog.Score, len(records))
	for _, s := range records { // oldest first: the newest stays
		latest[s.ImpressionID] = s
	}
	return latest, nil
}

// Person gives one person.
func (r Reader) Person(ctx context.Context, id catalog.ID) (*catalog.Person, error) {
	return one(ctx, r, &people, id)
}

// People gives all people, as indexed.
func (r Reader) People(ctx context.Context) ([]catalog.Person, error) { return all(ctx, r, &people) }

// Holder gives one holder.
func (r Reader) Holder(ctx context.Context, id catalog.ID) (*catalog.Holder, error) {
	return one(ctx, r, &holders, id)
}

// Holders gives all holders by name.
func (r Reader) Holders(ctx context.Context) ([]catalog.Holder, error) { return all(ctx, r, &holders) }

// Paper gives one paper.
func (r Reader) Paper(ctx context.Context, id catalog.ID) (*catalog.Paper, error) {
	return one(ctx, r, &papers, id)
}

// Papers gives all papers by name.
func (r Reader) Papers(ctx context.Context) ([]catalog.Paper, error) { return all(ctx, r, &papers) }

// Ink gives one ink.
func (r Reader) Ink(ctx context.Context, id catalog.ID) (*catalog.Ink, error) {
	return one(ctx, r, &inks, id)
}

// Inks gives all inks by name.
func (r Reader) Inks(ctx context.Context) ([]catalog.Ink, error) { return all(ctx, r, &inks) }

// Press gives one press.
func (r Reader) Press(ctx context.Context, id catalog.ID) (*catalog.Press, error) {
	return one(ctx, r, &presses, id)
}

// Presses gives all presses by name.
func (r Reader) Presses(ctx context.Context) ([]catalog.Press, error) { return all(ctx, r, &presses) }

// Source gives one entry of the literature.
func (r Reader) Source(ctx context.Context, id catalog.ID) (*catalog.Literature, error) {
	return one(ctx, r, &literature, id)
}

// Literature gives all sources by short title.
func (r Reader) Literature(ctx context.Context) ([]catalog.Literature, error) {
	return all(ctx, r, &literature)
}

// Exhibition gives one exhibition.
func (r Reader) Exhibition(ctx context.Context, id catalog.ID) (*catalog.Exhibition, error) {
	return one(ctx, r, &exhibitions, id)
}

// Exhibitions gives all exhibitions by date.
func (r Reader) Exhibitions(ctx context.Context) ([]catalog.Exhibition, error) {
	return all(ctx, r, &exhibitions)
}

// Group gives one group of plates.
func (r Reader) Group(ctx context.Context, id catalog.ID) (*catalog.Group, error) {
	return one(ctx, r, &groups, id)
}

// Groups gives all groups by title.
func (r Reader) Groups(ctx context.Context) ([]catalog.Group, error) { return all(ctx, r, &groups) }

// Imprint gives what the catalogue says of itself.
func (r Reader) Imprint(ctx context.Context) (*catalog.Imprint, error) {
	return one(ctx, r, &imprints, imprintID)
}
