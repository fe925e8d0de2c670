package window

import (
	"context"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"

	"pullbook/app/studio"
	"pullbook/app/studio/rehearsal"
	"pullbook/app/window/places"
	"pullbook/catalog"
	"pullbook/imaging/platesim"
)

// TestSessionInTheWindow takes a blank sheet and a grey wedge in, sets the
// session up by the window's own house, and shows the wedge with what it told.
// With -screens it pictures the Camera place and the session's screen.
func TestSessionInTheWindow(t *testing.T) {
	ctx := context.Background()
	s, err := studio.WriteSample(ctx, filepath.Join(t.TempDir(), "sample.pullbook"), studio.Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	h := newHouse(s)
	densities, err := h.ReadDensities(h.UsualDensities())
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	blank, wedge := filepath.Join(dir, "blank sheet.jpg"), filepath.Join(dir, "grey wedge.jpg")
	rehearsal.WriteJPEG(t, blank, rehearsal.Wedge(1400, 1050, nil, rehearsal.Brightening), platesim.Conditions{})
	rehearsal.WriteJPEG(t, wedge, rehearsal.Wedge(1400, 1050, densities, rehearsal.Brightening), platesim.Conditions{})
	taken, err := s.TakeIn(ctx, []string{blank, wedge}, nil)
	if err != nil {
		t.Fatal(err)
	}
	st, err := h.SetUpSession(ctx, places.SetUp{Session: catalog.ShootingSession{BlankPhotoID: taken[0].Photo.ID, WedgePhotoID: taken[1].Photo.ID, Camera: "copy camera", Lamps: "two at 45 degrees"}, Densities: densities})
	if err != nil || st.Steps != 11 || st.Refused != "" || st.Departs < 0.05 {
		t.Fatalf("%+v %v", st, err)
	}
	rep, err := h.Report(ctx, taken[1].Photo.ID)
	if err != nil || rep.Wedge == nil || rep.Wedge.Steps != 11 || rep.Wedge.Densities != "0.05 + 10 x 0.15" {
		t.Errorf("the wedge's report: %+v %v", rep, err)
	}
	// Neither is proposed for a sheet when the folder is taken in again.
	again, err := h.TakeIn(ctx, []string{dir}, places.Hint{}, func(float64, string) {})
	if err != nil || len(again) != 2 || again[0].PlateID != "" || again[1].PlateID != "" || again[0].Why != "" {
		t.Errorf("taken in again: %+v %v", again, err)
	}
	if *screens == "" {
		return
	}
	for _, dark := range []bool{false, true} {
		if name := "1280-" + tones[dark]; *oneSize == "" || *oneSize == name {
			sessionPictures(t, s, dark)
		}
	}
}

func sessionPictures(t *testing.T, s *studio.Studio, dark bool) {
	x := sit(t, s, fyne.NewSize(1280, 776), dark)
	defer x.f.Close()
	x.f.Do("next plate")
	x.f.GoTo(places.AtCamera)
	x.shoot("2-camera-session")
	x.f.Look("grey wedge.jpg")
	x.shoot("2-camera-wedge")
	x.f.Do("session")
	x.shoot("5-session")
}
