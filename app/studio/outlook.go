package studio

import (
	"context"
	"slices"

	"pullbook/catalog"
	"pullbook/catalog/life"
	"pullbook/catalog/store"
)

// Outlook is what a plate in its last state may still give, and what to do with
// the sheets it gave.
type Outlook struct {
	Forecast *life.Forecast
	Plan     life.Plan
	State    catalog.State
	Sheets   []SortedSheet // those measured against the state's reference, in pull order
	Order    life.Order    // of all sheets of the state
}

// SortedSheet is an impression with what is proposed for it.
type SortedSheet struct {
	Impression catalog.Impression
	life.Sorting
}

// Outlook says how large an edition a plate can still give, by the forecast and
// the printer's wish, and which of the pulled sheets belong in it.
func (s *Studio) Outlook(ctx context.Context, plate catalog.ID, wish life.Wish) (*Outlook, error) {
	forecast, err := s.Forecast(ctx, plate)
	if err != nil {
		return nil, err
	}
	out := &Outlook{Forecast: forecast, Plan: forecast.Plan(wish)}
	states, err := s.store.States(ctx, plate)
	if err != nil || len(states) == 0 {
		return out, err
	}
	out.State = states[len(states)-1]
	sheets, err := s.store.Impressions(ctx, store.ImpressionFilter{PlateID: plate, StateID: out.State.ID})
	if err != nil {
		return nil, err
	}
	scores, err := s.store.LatestScores(ctx, plate)
	if err != nil {
		return nil, err
	}
	imprint, err := s.store.Imprint(ctx)
	if err != nil {
		return nil, err
	}
	out.sort(sheets, scores, forecast.Limit, imprint.ToneLimit)
	return out, nil
}

// sort proposes what each sheet is to be and puts all in order.
func (o *Outlook) sort(sheets []catalog.Impression, scores map[catalog.ID]catalog.Score, limit, toneLimit float64) {
	slices.SortStableFunc(sheets, func(a, b catalog.Impression) int { return a.Pull - b.Pull })
	var list []life.Sheet
	var placed []life.Placed
	byID := map[catalog.ID]catalog.Impression{}
	tone := 0.0
	for _, i := range sheets {
		sc := scores[i.ID]
		byID[i.ID] = i
		placed = append(placed, life.Placed{ID: i.ID, Pull: i.Pull, Wear: sc.InkLoss})
		if i.ID != o.State.ReferenceID {
			list = append(list, life.Sheet{ID: i.ID, Pull: i.Pull, InkLoss: sc.InkLoss, PlateTone: sc.PlateTone})
		} else if sc.PlateTone != nil {
			tone = sc.PlateTone.V
		}
	}
	for _, p := range life.Sort(list, limit, toneLimit, tone) {
		o.Sheets = append(o.Sheets, SortedSheet{byID[p.ID], p})
	}
	o.Order = life.InOrder(placed)
}
