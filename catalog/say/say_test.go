package say

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// where sentences are made: the argument of each function that is a text.
var makers = map[string][]int{"Of": {0}, "Count": {1, 2}, "Errorf": {0}, "Refuse": {0}, "breach": {3}, "bad": {1}, "grave": {1}, "note": {0},
	"refusal": {0}, "because": {0}, "unopened": {2}, "sentence": {0}, "refuse": {0}, "Word": {0}, "Text": {0}, "wording": {0}}

// said collects the texts of sentences that the catalogue, the measuring and
// the use cases make.
func said(t *testing.T) map[string]string {
	t.Helper()
	texts := map[string]string{}
	for _, root := range []string{"..", "../../imaging", "../../app/studio"} {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			if d.IsDir() {
				if name := d.Name(); name == "exchange" || name == "testdata" || name == "accuracy" || name == "makesample" || name == "hands" || name == "rehearsal" {
					return fs.SkipDir
				}
				return nil
			}
			if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return nil
			}
			f, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
			if err != nil {
				return err
			}
			ast.Inspect(f, func(n ast.Node) bool {
				call, ok := n.(*ast.CallExpr)
				if !ok {
					return true
				}
				name := ""
				switch fun := call.Fun.(type) {
				case *ast.Ident:
					name = fun.Name
				case *ast.SelectorExpr:
					name = fun.Sel.Name
					x, ok := fun.X.(*ast.Ident)
					if name == "Errorf" && (!ok || x.Name != "say") {
						return true
					}
					if name == "say" && ok && x.Name == "s" { // the notices of a store
						name = "Of"
					}
				}
				for _, at := range makers[name] {
					if at < len(call.Args) {
						if lit, ok := call.Args[at].(*ast.BasicLit); ok && lit.Kind == token.STRING {
							if s, err := strconv.Unquote(lit.Value); err == nil {
								texts[s] = path
							}
						}
					}
				}
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, s := range words {
		texts[s] = "the words of the catalogue"
	}
	for s := range texts {
		if s == "" || strings.Trim(blank.ReplaceAllString(s, ""), " ,.;:()“”x") == "" || s == "%g x %g mm" || s == "%s x %s mm" {
			delete(texts, s)
		}
	}
	texts["%d %s %d"], texts["%d %s %s"] = "days", "days"
	texts["“%s”"] = "titles"
	return texts
}

// words are those that stand in sentences and are said in the language.
var words = strings.Split("trial proof|state proof|bon à tirer|artist's proof|printer's proof|hors commerce|cancellation proof|unnumbered|numbered|"+
	"kept|cancelled|destroyed|lost|not known|"+
	"January|February|March|April|May|June|July|August|September|October|November|December|"+
	"height of the copper|width of the copper|height of the plate mark|width of the plate mark|thickness|bevel|"+
	"plate|state|edition|impression|photograph|score|printing day|shooting session|paper|imprint|person|holder|ink|press|source|exhibition|group|"+
	"engraving, customarily 200 to 300 or more|etching, customarily about 75 to 100|drypoint, customarily 10 to 30|aquatint, fewer than 200 in the published table|"+
	"soft-ground etching, 200 to 300 in the published table|mezzotint, about 130 in the published table|roulette work, no published figure|no technique recorded|several techniques on one plate|"+
	"The score could not be measured.|See what the measurement says was missing.|Photograph the sheet again and take the mean, or look at it by eye.|"+
	"The plate tone under the lines is uneven: compare with a reference wiped alike, or photograph the sheet twice and take the mean.|"+
	"The camera's rendering is not known well enough: photograph reference and impression with one camera at one fixed setting, with a grey wedge beside them.|"+
	"The two photographs are not equally sharp: focus again, on a stand.|The sheet does not lie flat: press it under glass or weights and take it again.|"+
	"The light cannot be followed well from the margins: photograph a blank sheet under the same light, or move the lamps back.|Compare with a reference on the same paper.|"+
	"The sheet could be laid on the reference only doubtfully; its lines may have changed much, or the paper buckles.|top|bottom|left|right|"+
	"It may be a photograph by raking or by transmitted light; say which it is.|No whole plate mark was found: say whether it shows the whole sheet or a detail.|"+
	"spring|summer|autumn|winter|southern spring|southern summer|southern autumn|southern winter|first quarter of|second quarter of|third quarter of|fourth quarter of|"+
	"first third of|second third of|last third of|first half of|second half of|"+
	"new engraved shading|new engraved mark|new engraved line|new engraved lines|new etched shading|new etched mark|new etched line|new etched lines|new drypoint shading|new drypoint mark|new drypoint line|new drypoint lines|new roulette shading|new roulette mark|new roulette line|new roulette lines|new shading|new mark|new line|new lines|shading removed|mark removed|line removed|lines removed|new aquatint tone|new mezzotint tone|texture changed|not to be told|over the whole plate|across the upper part|across the middle|across the lower part|down the left side|down the middle|down the right side|centre|left of centre|right of centre|upper centre|lower centre|upper left|upper right|lower left|lower right", "|")

// Every sentence can be said in German, with the same blanks; no German stands
// for nothing.
func TestGermanIsComplete(t *testing.T) {
	texts := said(t)
	if len(texts) < 150 {
		t.Fatalf("only %d texts found; the search is broken", len(texts))
	}
	for s, path := range texts {
		g, ok := German.texts[s]
		if !ok || g == "" {
			t.Errorf("%s: no German for %q", path, s)
			continue
		}
		if a, b := blanks(s), blanks(g); !slices.Equal(a, b) {
			t.Errorf("%s: the German of %q has the blanks %v: %q", path, s, b, g)
		}
	}
	for s := range German.texts {
		if texts[s] == "" && !strings.HasPrefix(s, "%d ") {
			t.Errorf("German for %q, which nobody says", s)
		}
	}
}

// blanks are the places a text fills, in order of the arguments.
func blanks(s string) []int {
	var all []int
	next := 1
	for _, m := range blank.FindAllStringSubmatch(s, -1) {
		if strings.HasSuffix(m[0], "%") {
			continue
		}
		if m[1] != "" {
			next, _ = strconv.Atoi(m[1])
		}
		all = append(all, next)
		next++
	}
	slices.Sort(all)
	return all
}

func TestSay(t *testing.T) {
	saved := German
	defer func() { German = saved }()
	German = &Language{texts: map[string]string{"%s of %s is %.1f mm; %d of them.": "%[4]d Stück: %[1]s von %[2]s ist %[3].1f mm.", "state %s": "Zustand %s", "lost": "verloren",
		"%d pull": "%d Druck", "%d pulls": "%d Drucke", "%s and %d more": "%s und %d weitere"}, comma: true}
	s := Of("%s of %s is %.1f mm; %d of them.", Of("state %s", "II"), "Weir", 2.25, 3)
	if got := s.String(); got != "State II of Weir is 2.2 mm; 3 of them." {
		t.Errorf("English: %q", got)
	}
	b, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	var back Sentence
	if err := json.Unmarshal(b, &back); err != nil || back.String() != s.String() {
		t.Errorf("back from JSON: %q, %v", back, err)
	}
	if got := German.Say(Of("state %s", Word("lost"))); got != "Zustand verloren" {
		t.Errorf("German: %q", got)
	}
	if got := German.Say(Count(2, "%d pull", "%d pulls")) + German.Say(Count(1, "%d pull", "%d pulls")); got != "2 Drucke1 Druck" {
		t.Errorf("counts: %q", got)
	}
	items := []Sentence{Of("state %s", "I"), Of("state %s", "II"), Of("state %s", "III")}
	if got := German.Say(List(items, 2)); got != "Zustand I, Zustand II und 1 weitere" {
		t.Errorf("list: %q", got)
	}
	if got := Of("100 %% of %s", "it").String(); got != "100 % of it" {
		t.Errorf("per cent: %q", got)
	}
	if got := In("fr").Text("lost"); got != "lost" {
		t.Errorf("a language without texts says %q", got)
	}
	err = Errorf("it cannot be: %v", Errorf("state %s", "II"))
	if got := Error(German, err); got != "it cannot be: Zustand II" || err.Error() != "it cannot be: state II" {
		t.Errorf("error: %q, %q", got, err)
	}
}
