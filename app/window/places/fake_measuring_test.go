package places

import (
	"context"
	"errors"
	"fmt"
	"math"

	"pullbook/catalog"
	"pullbook/catalog/life"
)

func (h *fakeHouse) Measure(_ context.Context, ids []catalog.ID, _ Progress) error {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.measured = append(h.measured, ids...)
	return nil
}

func (h *fakeHouse) ToneMap(_ context.Context, id catalog.ID) (*Map, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.mapped++
	if h.readOnly {
		return nil, errors.New("Not now.")
	}
	m := &Map{StepMM: 5, Rows: 36, Cols: 48, V: make([]float64, 36*48)}
	for i := range m.V {
		m.V[i] = 0.02 + 0.1*float64(i%48)/48
	}
	m.V[0] = math.NaN()
	return m, nil
}

func (h *fakeHouse) PickReference(ctx context.Context, imp, photo catalog.ID) error {
	known, err := h.Snapshot(ctx)
	if err != nil {
		return err
	}
	for _, s := range known.States {
		for _, i := range known.Impressions {
			if i.ID == imp && i.StateID == s.ID {
				s.ReferenceID, s.ReferencePhotoID = imp, photo
				return h.Save(ctx, "reference", &s)
			}
		}
	}
	return nil
}

func (h *fakeHouse) Sheets(ctx context.Context, a, b catalog.ID, p Progress) (*Pair, error) {
	pa, _ := h.picture(a, 1600)
	pb, _ := h.picture(b, 1600)
	ia, err := readPicture(pa)
	if err != nil {
		return nil, err
	}
	ib, err := readPicture(pb)
	if err != nil {
		return nil, err
	}
	return &Pair{A: ia, B: ib, PxPerMM: 1216.0 / 240, OX: -192.0 / 5.07, OY: -168.0 / 5.07, Residual: 0.03, Words: "Registered to 0.03 mm over the whole plate."}, nil
}

func (h *fakeHouse) Compare(context.Context, catalog.ID, Progress) error { return nil }

func (h *fakeHouse) Decide(ctx context.Context, id catalog.ID, d catalog.Decision) error {
	known, err := h.Snapshot(ctx)
	if err != nil {
		return err
	}
	for _, i := range known.Impressions {
		if i.ID == id {
			i.Decision = d
			return h.Save(ctx, "decide", &i)
		}
	}
	return errors.New("no such sheet")
}

func (h *fakeHouse) Forecast(_ context.Context, id catalog.ID) (*life.Forecast, error) {
	fc := &life.Forecast{Limit: 0.3, Pulled: 24, Readings: 12, Left10: 9, Left50: 21, Left90: 44, Sentence: "About 21 good pulls are left, between 9 and 44 with 80 % confidence."}
	for i := range 60 {
		x := float64(i + 1)
		y := 0.3 * math.Pow(x/45, 1.2)
		fc.Curve = append(fc.Curve, life.Band{Pull: x, Lo: y * 0.75, Mid: y, Hi: y * 1.3})
	}
	return fc, nil
}

func (h *fakeHouse) Outlook(ctx context.Context, id catalog.ID, wish life.Wish) (*Outlook, error) {
	fc, err := h.Forecast(ctx, id)
	o := &Outlook{Forecast: fc, Plan: life.Plan{Size: 18, Proofs: 2, Pulls: 20, Chances: []life.SizeChance{{Size: 15, Chance: 0.97}, {Size: 20, Chance: 0.86}, {Size: 25, Chance: 0.61}},
		Keep: []life.Keep{{Pull: 30, As: catalog.KindArtist}, {Pull: 40, As: catalog.KindArtist}, {Pull: 45, As: catalog.KindPrinter}}}}
	if wish.Sure > 0.9 {
		o.Plan.Size = 15
	}
	for i, w := range []life.Why{life.LikeReference, life.PastLimit} {
		as := []catalog.Kind{catalog.KindNumbered, catalog.KindTrial}[i]
		o.Sheets = append(o.Sheets, life.Sorting{ID: catalog.ID(fmt.Sprintf("%s-imp%d", id, 13+i)), As: as, Why: w})
	}
	return o, err
}
