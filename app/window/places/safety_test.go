package places

import (
	"strings"
	"testing"
)

// A backup that could not be made is said in the strip, once it goes wrong and
// until it goes right.
func TestBackupTroubleIsSaid(t *testing.T) {
	h := estuary(t)
	s := newStand(t, h, 1280, 776, false)
	if s.f.strip.trouble.Visible() {
		t.Fatal("there is trouble from the start")
	}
	h.trouble = "Today's backup could not be made (the disk is full). " + strings.Repeat("Make room. ", 20)
	s.f.strip.show()
	if !s.f.strip.trouble.Visible() || !strings.HasPrefix(s.f.strip.wrong.Words(), "Today's backup") || len([]rune(s.f.strip.wrong.Words())) > 90 {
		t.Errorf("the strip says %q", s.f.strip.wrong.Words())
	}
	h.trouble = ""
	s.f.strip.show()
	if s.f.strip.trouble.Visible() {
		t.Error("the trouble stays")
	}
}

// How the catalogue was opened is said once, with the way to open it again.
func TestNoticeIsGivenOnce(t *testing.T) {
	h := estuary(t)
	h.readOnly, h.notice = true, "This catalogue is already open."
	s := newStand(t, h, 1280, 776, false)
	if s.f.note.words() != h.notice {
		t.Fatalf("the note says %q", s.f.note.words())
	}
	asked := 0
	s.f.needs.Again = func() { asked++ }
	s.f.noticed = false
	s.f.notice()
	if !s.f.note.act.Visible() {
		t.Fatal("opening it again is not offered")
	}
	s.f.note.act.Do()
	if asked != 1 || s.f.note.words() != "" {
		t.Errorf("asked %d times, the note says %q", asked, s.f.note.words())
	}
	s.f.read()
	s.settle()
	if s.f.note.words() != "" {
		t.Error("the notice came again")
	}
}
