package places

import (
	"context"
	"errors"

	"pullbook/catalog"
)

// sessionsKept is what the fake keeps of shooting sessions.
type sessionsKept struct {
	setUp    []SetUp
	wedge    WedgeFacts
	scoredBy []catalog.ID
	checked  []catalog.ID
}

func (h *fakeHouse) SetUpSession(_ context.Context, u SetUp) (*Standing, error) {
	h.mu.Lock()
	h.kept.setUp = append(h.kept.setUp, u)
	h.snap.Sessions, h.snap.Photographs = clone(h.snap.Sessions), clone(h.snap.Photographs)
	put(&h.snap.Sessions, &u.Session, func(p *catalog.ShootingSession) *catalog.ID { return &p.ID })
	for i := range h.snap.Photographs {
		switch p := &h.snap.Photographs[i]; p.ID {
		case u.Session.BlankPhotoID:
			p.View, p.SessionID = catalog.ViewBlank, u.Session.ID
		case u.Session.WedgePhotoID:
			p.View, p.SessionID = catalog.ViewWedge, u.Session.ID
		}
	}
	stands := &Standing{WedgeFacts: h.kept.wedge, With: 3, Scored: h.kept.scoredBy}
	h.mu.Unlock()
	h.changed()
	return stands, nil
}

func (h *fakeHouse) Wedge(context.Context, catalog.ID) (WedgeFacts, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.kept.wedge, nil
}

func (h *fakeHouse) ReadDensities(text string) ([]float64, error) {
	if text == "nonsense" {
		return nil, errors.New("There are no densities in it.")
	}
	return []float64{0.05, 0.2}, nil
}

func (h *fakeHouse) UsualDensities() string { return "0.05 + 10 x 0.15" }

func (h *fakeHouse) Check(_ context.Context, photo, _ catalog.ID) (string, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.kept.checked = append(h.kept.checked, photo)
	return "No plate mark was found in it.", nil
}
