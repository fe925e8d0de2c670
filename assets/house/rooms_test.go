package house

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const module = "pullbook"

// root is the top of the repository, seen from this package.
const root = "../.."

// downhill says which rooms each room may import. A room is the longest
// matching path; tests of a room may import what the room may, and for
// fixtures the rooms listed in fixtures.
var downhill = map[string][]string{
	"app":              {"app", "catalog", "imaging", "pdfout", "assets"},
	"app/batch":        {"app/batch", "app/studio", "catalog", "imaging", "pdfout", "assets"},
	"app/studio":       {"app/studio", "catalog", "imaging", "pdfout", "assets"},
	"app/window":       {"app/window", "app/studio", "catalog", "imaging", "pdfout", "assets"},
	"pdfout":           {"pdfout", "catalog", "assets"},
	"imaging":          {"imaging"},
	"imaging/decode":   {"imaging/decode", "imaging/colour", "imaging/hands"},
	"imaging/hands":    {"imaging/hands"},
	"imaging/colour":   {"imaging/colour"},
	"imaging/platesim": {"imaging/platesim"},
	"catalog":          {"catalog", "assets"},
	"assets":           {"assets"},
}

// fixtures says what a room's tests may import besides.
var fixtures = map[string][]string{
	"pdfout":  {"imaging/platesim"},
	"imaging": {"imaging"},
}

// outside says which modules only one place may use.
var outside = map[string][]string{
	"fyne.io/fyne/v2/app":             {"app/main.go"},
	"fyne.io/fyne/v2":                 {"app/"},
	"github.com/mattn/go-sqlite3":     {"catalog/store/"},
	"github.com/jung-kurt/gofpdf":     {"pdfout/"},
	"github.com/disintegration/":      {"imaging/", "app/studio/"},
	"net/http":                        {},
	"github.com/xuri/excelize":        {"catalog/exchange/"},
	"github.com/go-text/typesetting/": {"pdfout/"},
}

type importLine struct{ file, path string }

// imports lists every import of every Go file below root.
func imports(t *testing.T) []importLine {
	t.Helper()
	var lines []importLine
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		if d.IsDir() && path != root && (name == "testdata" || name == "bin" || name == "dist" || strings.HasPrefix(name, ".")) {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(name, ".go") {
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		for _, s := range f.Imports {
			p, err := strconv.Unquote(s.Path.Value)
			if err != nil {
				return err
			}
			lines = append(lines, importLine{filepath.ToSlash(rel), p})
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return lines
}

// room is the longest entry of downhill that file lies in, "" for none.
func room(file string) string {
	best := ""
	for r := range downhill {
		if strings.HasPrefix(file, r+"/") && len(r) > len(best) {
			best = r
		}
	}
	return best
}

// within reports whether path is one of rooms or lies in one.
func within(path string, rooms []string) bool {
	return slices.ContainsFunc(rooms, func(r string) bool {
		return path == r || strings.HasPrefix(path, r+"/")
	})
}

// allowed reports whether file may import the module's own package path.
func allowed(file, path string) bool {
	r := room(file)
	if within(path, downhill[r]) {
		return true
	}
	return strings.HasSuffix(file, "_test.go") && within(path, fixtures[r])
}

func TestImportsRunDownhill(t *testing.T) {
	lines := imports(t)
	if len(lines) < 100 {
		t.Fatalf("only %d imports found: the walk has lost the tree", len(lines))
	}
	for _, l := range lines {
		own, ok := strings.CutPrefix(l.path, module+"/")
		if ok && !allowed(l.file, own) {
			t.Errorf("%s imports %s: not downhill from %q", l.file, l.path, room(l.file))
		}
		for prefix, places := range outside {
			if !strings.HasPrefix(l.path, prefix) || strings.HasSuffix(l.file, "_test.go") {
				continue
			}
			if prefix == "fyne.io/fyne/v2/app" && l.path != prefix {
				continue
			}
			if !slices.ContainsFunc(places, func(p string) bool { return strings.HasPrefix(l.file, p) }) {
				t.Errorf("%s imports %s, which only %v may", l.file, l.path, places)
			}
		}
	}
}

// The rule itself must be able to fail.
func TestRuleRefusesUphill(t *testing.T) {
	uphill := [][2]string{
		{"imaging/score.go", "catalog"},
		{"catalog/plate.go", "imaging"},
		{"pdfout/book.go", "imaging"},
		{"pdfout/book.go", "app/studio"},
		{"imaging/platesim/plate.go", "imaging"},
		{"app/studio/jobs.go", "app/window"},
	}
	for _, u := range uphill {
		if allowed(u[0], u[1]) {
			t.Errorf("%s may import %s: the rule has a hole", u[0], u[1])
		}
	}
}

// The agreed top level: nothing else may stand there.
func TestTopLevel(t *testing.T) {
	agreed := []string{"app", "catalog", "imaging", "pdfout", "assets", "testdata", "go.mod", "go.sum",
		"README.md", "DEVELOPERS.md", "FyneApp.toml", "LICENSE", "bin", "dist"}
	entries, err := os.ReadDir(root)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") && !slices.Contains(agreed, e.Name()) {
			t.Errorf("%s stands at the top level and is not agreed", e.Name())
		}
	}
	for _, name := range agreed[:12] {
		if _, err := os.Stat(filepath.Join(root, name)); err != nil {
			t.Errorf("%s is missing at the top level", name)
		}
	}
}
