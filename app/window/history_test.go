package window

import (
	"context"
	"path/filepath"
	"testing"

	"pullbook/app/studio"
	"pullbook/catalog"
)

// TestHistoryNewestFirst asks the catalogue itself who changed what.
func TestHistoryNewestFirst(t *testing.T) {
	ctx := context.Background()
	s, err := studio.Create(filepath.Join(t.TempDir(), "reeds.pullbook"), studio.Options{Who: "M."})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	h := newHouse(s)
	defer h.end()
	p := &catalog.Plate{Titles: []catalog.Title{{Text: "Reeds"}}, Standing: catalog.Accepted}
	save := func(label string, r any) {
		t.Helper()
		if err := s.Save(ctx, label, r); err != nil {
			t.Fatal(err)
		}
	}
	save("enter plate", p)
	p.Remarks = "first pulled in the rain"
	save("edit remarks", p)
	save("enter paper", &catalog.Paper{Name: "Reedpaper"})
	if _, err := s.Store().Undo(ctx); err != nil {
		t.Fatal(err)
	}
	l, err := h.History(ctx, 9, p.ID)
	if err != nil || len(l) != 2 {
		t.Fatalf("%+v, %v", l, err)
	}
	a := l[0]
	if a.Label != "edit remarks" || a.Who != "M." || a.Noun != "plate" || a.Kind != "changed" || a.Standing != "done" || a.At.IsZero() ||
		len(a.Fields) != 1 || a.Fields[0].Name != "remarks" || a.Fields[0].Old != `""` || a.Fields[0].New != `"first pulled in the rain"` {
		t.Errorf("the last alteration: %+v", a)
	}
	if l[1].Kind != "created" {
		t.Errorf("the first: %+v", l[1])
	}
	all, err := h.History(ctx, 3)
	if err != nil || len(all) != 3 || all[0].Noun != "paper" {
		t.Errorf("everything, three at most: %+v, %v", all, err)
	}
	undone := 0
	for _, x := range all {
		if x.Standing == "undone" {
			undone++
		}
	}
	if undone == 0 {
		t.Error("nothing says that the paper was taken back")
	}
}
