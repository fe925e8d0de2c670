package words

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pullbook/catalog"
	"pullbook/catalog/exchange/sheet"
)

// asked collects every text the window's source asks for: literals given to
// words.T, words.N (plural) and sentence.
func asked(t *testing.T) (texts, plurals map[string]string) {
	t.Helper()
	texts, plurals = map[string]string{}, map[string]string{}
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(f, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || len(call.Args) == 0 {
				return true
			}
			lit, ok := call.Args[0].(*ast.BasicLit)
			if !ok || lit.Kind != token.STRING {
				return true
			}
			s, err := strconv.Unquote(lit.Value)
			if err != nil {
				return true
			}
			switch f := call.Fun.(type) {
			case *ast.SelectorExpr:
				if x, ok := f.X.(*ast.Ident); ok && x.Name == "words" {
					if f.Sel.Name == "T" {
						texts[s] = path
					} else if f.Sel.Name == "N" {
						plurals[s] = path
					}
				}
			case *ast.Ident:
				if f.Name == "sentence" {
					texts[s] = path
				}
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range fromTheCatalogue {
		texts[s] = "the catalogue"
	}
	flags, err := os.ReadFile("../../../catalog/notation/flag.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile(`Flag = "(.+)"`).FindAllStringSubmatch(string(flags), -1) {
		texts[m[1]] = "the flags of notation"
	}
	texts["This is no count of pulls."] = "the cells of a table"
	for _, s := range catalog.RegionTroubles {
		texts[s] = "the regions of a plate"
	}
	region, err := os.ReadFile("../../../imaging/region.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile(`Why = "(.+)"`).FindAllStringSubmatch(string(region), -1) {
		texts[m[1]] = "the scores of regions"
	}
	for _, f := range sheet.Fields() {
		texts[string(f)] = "the columns of a table"
	}
	return texts, plurals
}

// fromTheCatalogue are the words the window shows that the catalogue keeps.
var fromTheCatalogue = []string{
	string(catalog.Engraving), string(catalog.Etching), string(catalog.Drypoint), string(catalog.Aquatint), string(catalog.SoftGround), string(catalog.Mezzotint), string(catalog.Roulette),
	string(catalog.KindTrial), string(catalog.KindState), string(catalog.KindBAT), string(catalog.KindNumbered), string(catalog.KindArtist), string(catalog.KindPrinter), string(catalog.KindHorsCommerce), string(catalog.KindCancellation), string(catalog.KindUnnumbered),
	string(catalog.FateKept), string(catalog.FateCancelled), string(catalog.FateDestroyed), string(catalog.FateLost), string(catalog.FateUnknown),
	string(catalog.WorkBite), string(catalog.WorkBurin), string(catalog.WorkDrypoint), string(catalog.WorkBurnish), string(catalog.WorkScrape), string(catalog.WorkAquatint), string(catalog.WorkSteelFace), string(catalog.WorkRecut), string(catalog.WorkClean),
	string(catalog.ViewBlank), string(catalog.ViewWedge),
	string(catalog.Accepted), string(catalog.Doubtful), string(catalog.Rejected), "in the plate", "pencil", "ink", "stamp",
	"edition", "restrike", "posthumous", "arabic", "roman", "unnumbered",
	"portfolio", "series", "set", "book",
	"added", "removed", "keep", "sign", "proof", "tear up", "by hand", "found", "recognised", "time order", "slip", "the plate in hand", "not told", "not yet known",
	"resolution", "evenness of light", "noise", "bit depth", "focus", "exposure",
	"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December",
	"As the system", "Undone: %s", "Done again: %s",
	"whole sheet", "detail", "raking light", "transmitted light",
	"JSON for museums and research portals", "XML for collection exchange", "manifests for picture viewers", "tables for a spreadsheet", "pages to be read with a browser",
}

func read(t *testing.T, name string) map[string]any {
	t.Helper()
	b, err := os.ReadFile("translations/" + name)
	if err != nil {
		t.Fatal(err)
	}
	m := map[string]any{}
	if err := json.Unmarshal(b, &m); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return m
}

var verb = regexp.MustCompile(`%(\[\d+\])?[sdq%]`)

// verbs are the formatting verbs of a text, sorted, without their positions.
func verbs(s string) []string {
	l := verb.FindAllString(s, -1)
	for i := range l {
		l[i] = l[i][len(l[i])-1:]
	}
	slices.Sort(l)
	return l
}

func TestGermanIsComplete(t *testing.T) {
	de, en := read(t, "de.json"), read(t, "en.json")
	texts, plurals := asked(t)
	if len(texts) < 300 {
		t.Fatalf("only %d texts found in the source; the search is broken", len(texts))
	}
	missing := map[string]bool{}
	for s, path := range texts {
		g, ok := de[s].(string)
		if !ok || g == "" {
			missing[s] = true
			t.Errorf("%s: no German for %q", path, s)
			continue
		}
		if !slices.Equal(verbs(s), verbs(g)) {
			t.Errorf("the German of %q has other blanks: %q", s, g)
		}
	}
	for s, path := range plurals {
		for name, m := range map[string]map[string]any{"de": de, "en": en} {
			forms, ok := m[s].(map[string]any)
			if !ok || forms["one"] == nil || forms["other"] == nil {
				missing[s] = true
				t.Errorf("%s: no plural forms in %s of %q", path, name, s)
				continue
			}
			for k, f := range forms {
				if !slices.Equal(verbs(s), verbs(f.(string))) {
					t.Errorf("%s %s of %q has other blanks: %q", name, k, s, f)
				}
			}
		}
	}
	for s := range de {
		if texts[s] == "" && plurals[s] == "" {
			t.Errorf("German for %q, which nobody asks for", s)
		}
	}
}

func TestNumbers(t *testing.T) {
	defer func(g bool) { german = g }(german)
	german = true
	if s := Num(0.125, 2); s != "0,12" && s != "0,13" {
		t.Errorf("Num = %q", s)
	}
	german = false
	if s := Num(-1.5, 1); s != "\u22121.5" {
		t.Errorf("Num = %q", s)
	}
	if s := Num(-0.004, 1); s != "0.0" {
		t.Errorf("Num = %q", s)
	}
	if s := Percent(0.173, 1); s != "17.3\u202f%" {
		t.Errorf("Percent = %q", s)
	}
}

func TestGermanIsSpoken(t *testing.T) {
	if err := Use("de"); err != nil {
		t.Fatal(err)
	}
	if got := T("Press"); got != "Presse" {
		t.Errorf("Press is %q", got)
	}
	if got := N("%d plates", 1) + ", " + N("%d plates", 3); got != "1 Platte, 3 Platten" {
		t.Errorf("plates are %q", got)
	}
}
