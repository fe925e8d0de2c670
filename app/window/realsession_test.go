package window_test

import (
	"context"
	"path/filepath"
	"testing"
	"time"

	"pullbook/app/studio"
	"pullbook/app/studio/rehearsal"
	"pullbook/imaging/platesim"
)

// TestShootingSessionInTheRealWindow sets a shooting session up with keys alone:
// a blank sheet and a grey wedge are taken in, chosen, and the wedge is read.
func TestShootingSessionInTheRealWindow(t *testing.T) {
	need(t)
	densities, err := studio.ParseDensities(studio.UsualDensities)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	blank, wedge := filepath.Join(dir, "1 blank sheet.jpg"), filepath.Join(dir, "2 grey wedge.jpg")
	rehearsal.WriteJPEG(t, blank, rehearsal.Wedge(1400, 1050, nil, rehearsal.Brightening), platesim.Conditions{})
	rehearsal.WriteJPEG(t, wedge, rehearsal.Wedge(1400, 1050, densities, rehearsal.Brightening), platesim.Conditions{})
	r := prepare(t, 1280, 800)
	taken, err := takenIn(t, r.cat, blank, wedge)
	if err != nil || taken != 2 {
		t.Fatal(taken, err)
	}
	r.open()
	r.await(0, `window full`)
	r.await(r.do("key", "ctrl+2"), `photograph shown`)
	r.do("key", "ctrl+alt+s")
	time.Sleep(300 * time.Millisecond)
	r.shoot("session")
	// From the session to its lamps, to the blank sheet, to the wedge, to the
	// densities. The choices offer none first, then the last by name.
	r.do("key", "--delay", "60", "Tab", "Tab", "Tab", "ctrl+a")
	r.do("type", "--delay", "30", "two lamps")
	for _, down := range []int{3, 2} {
		r.do("key", "--delay", "60", "Tab", "Down")
		time.Sleep(200 * time.Millisecond)
		for range down {
			r.do("key", "Down")
		}
		r.do("key", "Return")
		time.Sleep(200 * time.Millisecond)
	}
	r.do("key", "Tab")
	time.Sleep(300 * time.Millisecond)
	r.shoot("session-chosen")
	at := r.do("key", "Return")
	r.await(at, `told: \d+ photographs belong to the session`)
	time.Sleep(300 * time.Millisecond)
	r.shoot("session-stands")
	r.do("key", "Escape")
	r.end()

	s := openCatalogue(t, r.cat)
	defer s.Close()
	snap, err := s.Store().Snapshot(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	names := map[string]string{}
	for _, p := range snap.Photographs {
		names[string(p.ID)] = p.Name
	}
	for _, x := range snap.Sessions {
		if x.Lamps != "two lamps" {
			continue
		}
		if b, w := names[string(x.BlankPhotoID)], names[string(x.WedgePhotoID)]; b != filepath.Base(blank) || w != filepath.Base(wedge) {
			t.Errorf("the blank sheet is %q, the wedge %q", b, w)
		}
		return
	}
	t.Errorf("no session has the lamps that were written: %+v", snap.Sessions)
}

// takenIn takes photographs in while the window is not open yet, so that nobody
// waits until each is seen to show none of the plates.
func takenIn(t *testing.T, dir string, paths ...string) (int, error) {
	t.Helper()
	s := openCatalogue(t, dir)
	defer s.Close()
	l, err := s.TakeIn(context.Background(), paths, nil)
	return len(l), err
}
