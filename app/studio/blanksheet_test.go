package studio

import (
	"context"
	"fmt"
	"testing"
	"time"

	"pullbook/catalog"
)

// The photographs taken after the blank sheet that day share its light, those
// before and those of the next day do not; it is one step, and can be taken
// back.
func TestBlankSheet(t *testing.T) {
	ctx, s := context.Background(), newCatalogue(t)
	began := time.Date(2031, 5, 4, 9, 0, 0, 0, time.UTC)
	var photos []*catalog.Photograph
	for i, after := range []time.Duration{0, time.Hour, -time.Hour, 30 * time.Hour, 2 * time.Hour} {
		photos = append(photos, &catalog.Photograph{SHA256: fmt.Sprintf("%064d", i), Ext: ".jpg", Name: fmt.Sprint(i), TakenAt: began.Add(after), View: catalog.ViewWhole})
	}
	undated := &catalog.Photograph{SHA256: fmt.Sprintf("%064d", 9), Ext: ".jpg", Name: "undated"}
	check(t, s.Save(ctx, "photographs", photos[0], photos[1], photos[2], photos[3], photos[4], undated))
	with, err := s.BlankSheet(ctx, photos[0].ID)
	check(t, err)
	if with != 2 {
		t.Errorf("%d photographs share the light of the blank sheet, want 2", with)
	}
	sessions, err := s.store.Sessions(ctx)
	check(t, err)
	if len(sessions) != 1 || sessions[0].BlankPhotoID != photos[0].ID {
		t.Fatalf("sessions %+v", sessions)
	}
	for i, want := range []bool{true, true, false, false, true} {
		p, err := s.store.Photograph(ctx, photos[i].ID)
		check(t, err)
		if (p.SessionID == sessions[0].ID) != want {
			t.Errorf("photograph %d belongs to the session: %v", i, !want)
		}
	}
	_, err = s.BlankSheet(ctx, photos[0].ID) // taken back
	check(t, err)
	if sessions, err = s.store.Sessions(ctx); err != nil || sessions[0].BlankPhotoID != "" {
		t.Errorf("the session still has a blank sheet (%v)", err)
	}
	if _, err := s.BlankSheet(ctx, undated.ID); err == nil {
		t.Error("a photograph without a time was taken for the blank sheet")
	}
}
