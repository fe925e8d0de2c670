package places

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pullbook/app/window/look"
	"pullbook/catalog"
	"pullbook/catalog/exchange/cells"
	"pullbook/catalog/exchange/sheet"
)

// buttonNamed finds a button of the topmost ask by its words.
func (s *stand) buttonNamed(text string) *look.Button {
	s.t.Helper()
	var found *look.Button
	var walk func(o fyne.CanvasObject)
	walk = func(o fyne.CanvasObject) {
		if b, ok := o.(*look.Button); ok && b.Text == text {
			found = b
		}
		switch x := o.(type) {
		case fyne.Widget:
			for _, c := range test.WidgetRenderer(x).Objects() {
				walk(c)
			}
		case *fyne.Container:
			for _, c := range x.Objects {
				walk(c)
			}
		}
	}
	if top := s.win.Canvas().Overlays().Top(); top != nil {
		walk(top)
	}
	if found == nil {
		s.t.Fatalf("there is no button %q", text)
	}
	return found
}

// A spreadsheet is shown as it will be understood, and taken in as one step
// that can be undone.
func TestTableIsTakenIn(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	path := filepath.Join(t.TempDir(), "list.csv")
	text := "No,Name,Edition\n101,Sandbar,1/10\n101,Sandbar,2/10\n101,Sandbar,2/10\n"
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	plates := len(s.h.snap.Plates)
	s.f.openTable(path)
	s.settle()
	if b := s.buttonNamed("Take the rows in"); b.Disabled() {
		t.Fatal("the rows cannot be taken in")
	}
	test.Tap(s.buttonNamed("Take the rows in"))
	s.settle()
	if n := len(s.h.snap.Plates); n != plates+1 {
		t.Errorf("%d plates were entered", n-plates)
	}
	if s.win.Canvas().Overlays().Top() != nil {
		t.Error("the screen did not go away")
	}
	s.f.run("undo")
	s.settle()
	if n := len(s.h.snap.Plates); n != plates {
		t.Errorf("undoing left %d plates more", n-plates)
	}
}

func TestTableReportAndCells(t *testing.T) {
	table := cells.Sheet{Heading: []string{"No", "Size", "Odd"}, Rows: [][]string{{"1", "10 x 12 cm", "x"}, {"one", "", ""}, {"1", "10", "y"}}, At: []int{2, 3, 4}}
	m := sheet.Matching{Columns: []sheet.Field{sheet.Number, sheet.PlateSize, sheet.LeaveOut}, Each: sheet.EachPlate}
	plan, err := sheet.Prepare(table, m, &catalog.Snapshot{})
	if err != nil {
		t.Fatal(err)
	}
	lines := linesOf(plan)
	if len(lines) < 2 || !lines[0].refused || lines[0].row != 3 || !lines[1].refused || lines[1].row != 4 {
		t.Errorf("the report begins with %+v", lines)
	}
	seen := firstRows(table, m)
	if len(seen) != 3 || len(seen[0].texts) != 3 {
		t.Fatalf("%d columns", len(seen))
	}
	say := func(col, row int, leftOut bool) string {
		return seen[col].objects(leftOut)[row].(*fyne.Container).Objects[1].(*look.Text).Words()
	}
	for _, c := range []struct {
		col, row int
		want     string
	}{{0, 0, "as written"}, {0, 1, "not read: "}, {1, 0, "read as 100 x 120 mm"}, {1, 1, ""}, {1, 2, "not read: "}} {
		if got := say(c.col, c.row, false); !strings.HasPrefix(got, c.want) || c.want == "" && got != "" {
			t.Errorf("column %d row %d says %q, want %q", c.col, c.row, got, c.want)
		}
	}
	if got := say(2, 0, true); got != "left out" {
		t.Errorf("a column left out says %q", got)
	}
}

// Escape puts an ask away while one of its fields has the focus, F1 opens the
// guide from there.
func TestEscapeFromAField(t *testing.T) {
	s := newStand(t, estuary(t), 1280, 776, false)
	s.f.run("enter plate")
	e, ok := s.win.Canvas().Focused().(*field)
	if !ok || s.win.Canvas().Overlays().Top() == nil {
		t.Fatal("entering a plate asks nothing")
	}
	e.TypedKey(key(fyne.KeyF1))
	if n := len(s.win.Canvas().Overlays().List()); n != 2 {
		t.Fatalf("F1 in a field: %d stand over the window", n)
	}
	s.f.typedKey(key(fyne.KeyF1)) // the guide is open once only
	s.f.typedKey(key(fyne.KeyEscape))
	if n := len(s.win.Canvas().Overlays().List()); n != 1 {
		t.Fatalf("Escape: %d stand over the window", n)
	}
	s.win.Canvas().Focus(e)
	e.TypedKey(key(fyne.KeyEscape))
	if s.win.Canvas().Overlays().Top() != nil {
		t.Error("Escape in a field does not put the ask away")
	}
}

// What the catalogue says of a row is known, so that it can be said in every
// language of the window.
func TestRowWords(t *testing.T) {
	for _, s := range []string{
		"Plate 8 stands in row 3 already.", "Plate 8a stands in the catalogue already.", "Plate 8 is called “Weir”, this row says “Sluice”.",
		"Pull 4 of this plate stands in row 9 already.", "Pull 4 of this plate stands in the catalogue already.",
		"The number 2/12 of this edition stands in row 3 already.", "The number A.P. 1/2 of this edition stands in the catalogue already.",
		"There are more cells than headings; “x” has none.", "“no number” is no catalogue number.", "There is neither a catalogue number nor a title.",
		"Druck “viele” is no count of pulls; it is kept as written.", "Maker “Somebody” is not the printmaker of this plate; it is kept in the remarks.",
	} {
		known := false
		for _, x := range said {
			known = known || x.form.MatchString(s)
		}
		if got := rowWords(s); !known || got != s {
			t.Errorf("%q is said as %q, known %v", s, got, known)
		}
	}
	// Every refusal of a real table is one of them.
	table := cells.Sheet{Heading: []string{"No", "Title", "Edition", "Pull"}, At: []int{2, 3, 4, 5, 6, 7, 8}, Rows: [][]string{
		{"1", "Weir", "1/5", "1"}, {"1", "Weir", "1/5", "2"}, {"1", "Weir", "2/5", "1"}, {"1", "Sluice", "3/5", "3"}, {"", "", "", ""}, {"one", "", "", ""}, {"1", "Weir", "4/5", "4", "more"}}}
	plan, err := sheet.Prepare(table, sheet.Matching{Columns: []sheet.Field{sheet.Number, sheet.Title, sheet.Edition, sheet.Pull}, Each: sheet.EachImpression}, &catalog.Snapshot{})
	if err != nil {
		t.Fatal(err)
	}
	refused := 0
	for _, r := range plan.Rows {
		if r.Refused == "" {
			continue
		}
		refused++
		known := false
		for _, x := range said {
			known = known || x.form.MatchString(r.Refused)
		}
		if !known {
			t.Errorf("a new sentence, to be translated: %q", r.Refused)
		}
	}
	if refused != 6 {
		t.Errorf("%d rows are refused", refused)
	}
}
