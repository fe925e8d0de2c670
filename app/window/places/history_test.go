package places

import (
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"pullbook/app/window/look"
	"pullbook/catalog"
)

// shownWords are all words in a part of the screen.
func shownWords(o fyne.CanvasObject) string {
	var all []string
	walk(o, func(o fyne.CanvasObject) {
		switch x := o.(type) {
		case *look.Text:
			all = append(all, x.Words())
		case *look.Paragraph:
			all = append(all, x.Words())
		}
	})
	return strings.Join(all, "\n")
}

// TestHistoryOfWhatIsInHand shows who changed what, when and how, for the plate
// and for everything.
func TestHistoryOfWhatIsInHand(t *testing.T) {
	h := estuary(t)
	at := time.Date(2026, 3, 14, 15, 30, 0, 0, time.Local)
	h.history = []Altered{
		{At: at, Who: "M.", Label: "edit remarks", Noun: "plate", Record: "plate1", Kind: "changed", Standing: "done",
			Fields: []FieldAltered{{"remarks", `""`, `"first lines"`}, {"mark", `{"height_mm":0,"width_mm":0}`, `{"height_mm":120,"width_mm":180}`}}},
		{At: at.AddDate(0, 0, -1), Who: "M.", Label: "enter paper", Noun: "paper", Record: "paper1", Kind: "created", Standing: "undone"},
	}
	s := newStand(t, h, 1280, 776, false)
	s.f.goTo(AtPress)
	s.f.run("history")
	s.settle()
	top := s.win.Canvas().Overlays().Top()
	if top == nil {
		t.Fatal("the command opens nothing")
	}
	say := shownWords(top)
	for _, want := range []string{"14 March 2026", "edit remarks", "15:30 · M. · plate", "remarks", "nothing  →  first lines", "nothing  →  120 × 180 mm"} {
		if !strings.Contains(say, want) {
			t.Errorf("%q is not shown:\n%s", want, say)
		}
	}
	if strings.Contains(say, "enter paper") {
		t.Error("the plate's history speaks of a paper")
	}
	which := s.win.Canvas().Focused().(*look.OneOf)
	which.TypedKey(key(fyne.KeyDown))
	s.settle()
	if say = shownWords(top); !strings.Contains(say, "enter paper") || !strings.Contains(say, "taken back") {
		t.Errorf("everything lacks the paper:\n%s", say)
	}
}

// TestHistoryGoesBack sees that earlier alterations can be asked for until there
// are none, each shown once.
func TestHistoryGoesBack(t *testing.T) {
	h := estuary(t)
	at := time.Date(2026, 3, 14, 15, 30, 0, 0, time.Local)
	const n = 2*historyShown + 5
	for i := range n {
		h.history = append(h.history, Altered{At: at.Add(-time.Duration(i) * time.Hour), Label: "edit remarks", Noun: "plate", Record: "plate1", Kind: "created", Standing: "done"})
	}
	s := newStand(t, h, 1280, 776, false)
	s.f.run("history")
	s.settle()
	top := s.win.Canvas().Overlays().Top()
	for k, want := range []int{historyShown, 2 * historyShown, n} {
		if got := strings.Count(shownWords(top), "edit remarks"); got != want {
			t.Errorf("%d alterations are shown after asking %d times, want %d", got, k, want)
		}
		var earlier *look.Button
		walk(top, func(o fyne.CanvasObject) {
			if b, ok := o.(*look.Button); ok && b.Text == "Show earlier" {
				earlier = b
			}
		})
		if (earlier == nil) != (want == n) {
			t.Fatalf("after asking %d times the button is there: %t", k, earlier != nil)
		}
		if earlier != nil {
			earlier.Tapped(nil)
			s.settle()
		}
	}
}

func TestValuesOfTheHistoryInWords(t *testing.T) {
	b := newBook(&catalog.Snapshot{Papers: []catalog.Paper{{ID: "aaaaaaaaaaaaaaaa", Name: "Reedpaper"}}})
	for raw, want := range map[string]string{
		``: "nothing", `null`: "nothing", `""`: "nothing", `[]`: "nothing", `0`: "nothing", `12.5`: "12.5", `true`: "yes", `false`: "no",
		`"aaaaaaaaaaaaaaaa"`:               "Reedpaper",
		`"two\nlines"`:                     "two lines",
		`{"text":"um 1998","edtf":""}`:     "um 1998",
		`{"value":0.123,"u":0.004}`:        "0.1230 ± 0.0040",
		`{"prefix":"","n":7,"suffix":"a"}`: "7a",
		`[{"name":"sky","outline":"1,1 2,2"},{"name":"hull","outline":""}]`: "sky, 1,1 2,2; hull",
		`"0001-01-01T00:00:00Z"`:                     "nothing",
		`[[258.839278324906,199.8],[1392.24,218.2]]`: "258.8, 199.8; 1392, 218.2",
	} {
		if got := b.valueWords(raw); got != want {
			t.Errorf("%s reads %q, want %q", raw, got, want)
		}
	}
	if got := []rune(b.valueWords(`"` + strings.Repeat("x", 500) + `"`)); len(got) != longestValue {
		t.Errorf("a long value is shown with %d letters", len(got))
	}
}
