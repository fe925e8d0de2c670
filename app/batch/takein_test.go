package batch

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pullbook/app/studio"
)

// emptyCatalogue makes a catalogue without records and gives its folder.
func emptyCatalogue(t *testing.T) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "empty.pullbook")
	s, err := studio.Create(dir, studio.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return dir
}

func write(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func contains(t *testing.T, what, text string, wants ...string) {
	t.Helper()
	for _, w := range wants {
		if !strings.Contains(text, w) {
			t.Errorf("%s lacks %q:\n%s", what, w, text)
		}
	}
}

// A table with one row that contradicts another: the first is taken in, the
// second listed with its reason; --only-say changes nothing.
func TestTakeInTable(t *testing.T) {
	dir := emptyCatalogue(t)
	table := write(t, "list.csv", "No;Title;Plate size (cm);Edition;Odd\n1;Sandbar;15,2 x 21;1/10;one\n1;Sandbar;15,2 x 21;2/10;\n1;Sandbar;;2/10;\n;;;;lost\n")
	out, stderr, code := run("take-in", "--catalogue", dir, "--only-say", table)
	if code != exitShort {
		t.Errorf("exit %d, want %d: %s", code, exitShort, stderr)
	}
	contains(t, "the saying", out, `"Odd"`, "keep in the remarks", "plate size", "each row is one impression", "refused  row 4:", "2/10", "row 3 already",
		"refused  row 5:", "neither a catalogue number nor a title", "2 of 4 rows can be taken in: 1 plates, 0 states, 2 impressions and 1 editions")
	if strings.Contains(out, "Taken in.") {
		t.Error("--only-say took rows in")
	}
	if out, _, _ := run("take-in", "--catalogue", dir, "--only-say", table); !strings.Contains(out, "2 of 4 rows") {
		t.Errorf("--only-say changed the catalogue:\n%s", out)
	}
	out, _, code = run("take-in", "--catalogue", dir, "--column", "Odd=paper", table)
	if code != exitShort || !strings.Contains(out, "Taken in.") {
		t.Errorf("exit %d:\n%s", code, out)
	}
	out, _, code = run("take-in", "--catalogue", dir, table)
	if code != exitShort || !strings.Contains(out, "0 of 4 rows") || strings.Contains(out, "Taken in.") {
		t.Errorf("the same rows a second time: exit %d\n%s", code, out)
	}
	if out, stderr, code := run("verify", "--catalogue", dir); code != exitDone {
		t.Errorf("verify afterwards: %s%s", out, stderr)
	}
}

func TestTakeInTableWithoutRefusal(t *testing.T) {
	dir := emptyCatalogue(t)
	table := write(t, "plates.csv", "Nummer,Titel,Platte\n1,Priel,15 x 21\n2,Watt,10 x 12\n")
	out, stderr, code := run("take-in", table, "--catalogue", dir, "--unit", "cm", "--column", "Platte=plate size")
	if code != exitDone {
		t.Fatalf("exit %d: %s%s", code, out, stderr)
	}
	contains(t, "the report", out, "2 of 2 rows", "each row is one plate")
	out, _, _ = run("export", "--catalogue", dir, "--as", "csv", "--to", filepath.Join(t.TempDir(), "out"))
	if !strings.Contains(out, "written as csv") {
		t.Error(out)
	}
}

func TestTakeInOther(t *testing.T) {
	dir := emptyCatalogue(t)
	bib := write(t, "list.bib", "@book{a, author={Hollis, R.}, title={Tides}, year={1987}}\n@book{b}\n")
	out, _, code := run("take-in", "--catalogue", dir, bib)
	if code != exitShort {
		t.Errorf("a list with a bad entry: exit %d", code)
	}
	contains(t, "the list", out, "refused  ", "1 works of literature taken in")
	tables := filepath.Join(t.TempDir(), "tables")
	if _, stderr, code := run("export", "--catalogue", dir, "--as", "csv", "--to", tables); code != exitDone {
		t.Fatal(stderr)
	}
	if _, stderr, code := run("take-in", "--catalogue", dir, tables); code != exitShort || !strings.Contains(stderr, "empty") {
		t.Errorf("into a catalogue that is not empty: exit %d, %q", code, stderr)
	}
	if out, stderr, code := run("take-in", "--catalogue", emptyCatalogue(t), tables); code != exitDone {
		t.Errorf("into an empty one: exit %d, %q %q", code, out, stderr)
	}
}

func TestTakeInUsage(t *testing.T) {
	dir := emptyCatalogue(t)
	table := write(t, "list.csv", "No,Title\n1,Sandbar\n")
	for _, c := range []struct {
		args []string
		says string
		code int
	}{
		{[]string{"--catalogue", dir}, "name one table", exitUsage},
		{[]string{table}, "catalogue is missing", exitUsage},
		{[]string{"--catalogue", dir, "--each", "print", table}, "not for a \"print\"", exitUsage},
		{[]string{"--catalogue", dir, "--unit", "ell", table}, "no unit", exitUsage},
		{[]string{"--catalogue", dir, "--column", "No", table}, "heading and its meaning", exitUsage},
		{[]string{"--catalogue", dir, "--column", "Nr=title", table}, "no column \"Nr\"", exitUsage},
		{[]string{"--catalogue", dir, "--column", "No=weather", table}, "no meaning", exitUsage},
		{[]string{"--catalogue", dir, "--sheet", "Other", table}, "no sheet \"Other\"", exitUsage},
		{[]string{"--catalogue", dir, filepath.Join(dir, "none.csv")}, "cannot be opened", exitShort},
		{[]string{"--catalogue", dir, "--column", "No=leave out", "--column", "Title=leave out", table}, "no plate could be told", exitShort},
	} {
		_, stderr, code := run(append([]string{"take-in"}, c.args...)...)
		if code != c.code || !strings.Contains(stderr, c.says) {
			t.Errorf("%q: exit %d, %q; want %d and %q", c.args, code, stderr, c.code, c.says)
		}
	}
}
