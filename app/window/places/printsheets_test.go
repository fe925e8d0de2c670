package places

import (
	"path/filepath"
	"testing"
	"time"

	"fyne.io/fyne/v2/test"

	"pullbook/app/window/words"
	"pullbook/catalog"
)

// Sheets are chosen by scope and one by one; the labels of a begun page are
// counted on; the printing is a job.
func TestPrintForSheets(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	open := func(k PrintKind) *printDesk {
		p := &printDesk{f: s.f, b: s.f.book, plate: s.f.book.plates[s.f.plate], labels: s.h.LabelSheets(), left: map[catalog.ID]bool{}}
		p.build()
		p.kind.Choose(int(k))
		p.kindChosen()
		return p
	}
	p := open(PrintLabels)
	n := len(p.sheets)
	if n < 10 || len(p.chosen()) != n {
		t.Fatalf("%d of %d sheets chosen", len(p.chosen()), n)
	}
	row := newChosenRow(p)
	row.set(p.sheets[2])
	test.Tap(row)
	if len(p.chosen()) != n-1 {
		t.Errorf("leaving one out leaves %d of %d", len(p.chosen()), n)
	}
	p.start.SetText("x")
	if err := p.do(); err == nil {
		t.Error("a place that is no number was taken")
	}
	p.start.SetText("9")
	to := filepath.Join(t.TempDir(), "labels.pdf")
	p.to.SetText(to)
	if err := p.do(); err != nil {
		t.Fatal(err)
	}
	s.settle()
	x := s.h.printed[0]
	if x.Kind != PrintLabels || x.Start != 8 || x.LabelSheet != "b" || len(x.Impressions) != n-1 || x.To != to {
		t.Errorf("printed %+v", x)
	}

	p = open(PrintDay)
	p.pulls.SetText("12")
	p.date.SetText("2026-03-14")
	if err := p.do(); err != nil {
		t.Fatal(err)
	}
	s.settle()
	x = s.h.printed[1]
	if x.Kind != PrintDay || x.Pulls != 12 || x.State == "" || x.Day.Format("2 Jan 2006") != "14 Mar 2026" {
		t.Errorf("printed %+v", x)
	}
	p.date.SetText("some day")
	if err := p.do(); err == nil {
		t.Error("a date that is no day was taken")
	}

	p = open(PrintRecords)
	p.scope.SetSelectedIndex(len(p.scopes) - 1)
	if len(p.sheets) <= n {
		t.Errorf("the catalogue has %d sheets, the plate %d", len(p.sheets), n)
	}
	for _, i := range p.sheets {
		p.left[i.ID] = true
	}
	p.count()
	if !p.ask.yes.Disabled() {
		t.Error("records of no sheet can be printed")
	}
}

func TestReadDay(t *testing.T) {
	today := time.Now()
	if d, ok := readDay(words.Day(today)); !ok || d.YearDay() != today.YearDay() {
		t.Errorf("today in words is read as %v, %v", d, ok)
	}
}
