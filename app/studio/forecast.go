package studio

import (
	"context"
	"slices"

	"pullbook/catalog"
	"pullbook/catalog/life"
	"pullbook/catalog/store"
)

// DefaultLossLimit is the limit of loss for a good impression where neither
// the plate nor the catalogue names one (common practice: a tenth).
const DefaultLossLimit = 0.10

// lossLimit is the limit of loss that holds for a plate, as a fraction.
func lossLimit(p *catalog.Plate, m *catalog.Imprint) float64 {
	switch {
	case p.LossLimit > 0:
		return p.LossLimit
	case m.LossLimit > 0:
		return m.LossLimit
	}
	return DefaultLossLimit
}

// Forecast says how much life a plate has left in its present state, from the
// scores of its impressions and their counts of pull.
func (s *Studio) Forecast(ctx context.Context, plate catalog.ID) (*life.Forecast, error) {
	run, err := s.run(ctx, plate)
	if err != nil {
		return nil, err
	}
	return life.Predict(ctx, *run)
}

// run gathers what is known of the wear of a plate.
func (s *Studio) run(ctx context.Context, id catalog.ID) (*life.Run, error) {
	plate, err := s.store.Plate(ctx, id)
	if err != nil {
		return nil, err
	}
	imprint, err := s.store.Imprint(ctx)
	if err != nil {
		return nil, err
	}
	states, err := s.store.States(ctx, id)
	if err != nil {
		return nil, err
	}
	sheets, err := s.store.Impressions(ctx, store.ImpressionFilter{PlateID: id})
	if err != nil {
		return nil, err
	}
	scores, err := s.store.LatestScores(ctx, id)
	if err != nil {
		return nil, err
	}
	run := &life.Run{
		Prior: life.PriorFor(plate.Techniques, plate.SteelFaced && plate.SteelFacedAtPull == 0),
		Limit: lossLimit(plate, imprint),
	}
	lastOf := map[catalog.ID]int{}
	for _, i := range sheets {
		run.LastPull = max(run.LastPull, i.Pull)
		lastOf[i.StateID] = max(lastOf[i.StateID], i.Pull)
	}
	run.Resets = resets(plate, states, lastOf)
	run.Observations, run.ReferencePull = observations(states, sheets, scores)
	return run, nil
}

// resets lists the work on the metal that starts the wear anew. A state begins
// after the last recorded pull of those before it.
func resets(plate *catalog.Plate, states []catalog.State, lastOf map[catalog.ID]int) []life.Reset {
	var list []life.Reset
	after := 0
	for k, st := range states {
		if k > 0 {
			list = append(list, life.Reset{AfterPull: after, Kind: campaign(st), NewState: true})
		}
		after = max(after, lastOf[st.ID])
	}
	if plate.SteelFacedAtPull > 0 {
		list = append(list, life.Reset{AfterPull: plate.SteelFacedAtPull, Kind: catalog.WorkSteelFace})
	}
	slices.SortStableFunc(list, func(a, b life.Reset) int { return a.AfterPull - b.AfterPull })
	return list
}

// campaign is the kind of work that counts most for the wear to come.
func campaign(st catalog.State) catalog.WorkKind {
	kind := catalog.WorkKind("")
	for _, w := range st.Work {
		if w.Kind == catalog.WorkSteelFace || w.Kind == catalog.WorkRecut {
			return w.Kind
		}
		kind = w.Kind
	}
	return kind
}

// observations are the measured impressions whose pull is recorded, and the
// pull of the reference of the last state that has one. A reference itself
// says nothing: its loss is nought by definition.
func observations(states []catalog.State, sheets []catalog.Impression, scores map[catalog.ID]catalog.Score) (list []life.Observation, referencePull int) {
	references := map[catalog.ID]bool{}
	var current catalog.ID
	for _, st := range states {
		if st.ReferenceID != "" {
			references[st.ReferenceID], current = true, st.ReferenceID
		}
	}
	for _, i := range sheets {
		if i.ID == current {
			referencePull = i.Pull
		}
		sc, ok := scores[i.ID]
		if !ok || i.Pull == 0 || sc.InkLoss == nil || references[i.ID] {
			continue
		}
		list = append(list, life.Observation{Pull: i.Pull, Loss: *sc.InkLoss, Day: string(i.DayID)})
	}
	return list, referencePull
}
