package book

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pullbook/catalog"
	"pullbook/catalog/say"
)

// printed are the texts the book prints of itself: what is given to t and
// Count, and the tables of texts that are said by word.
func printed(t *testing.T) map[string]bool {
	t.Helper()
	texts := map[string]bool{}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range files {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			name := ""
			switch fun := call.Fun.(type) {
			case *ast.SelectorExpr:
				name = fun.Sel.Name
			case *ast.Ident:
				name = fun.Name
			}
			from := map[string][]int{"t": {0}, "Count": {1, 2}, "count": {1, 2}, "row": {0, 3}}[name]
			for _, at := range from {
				if at < len(call.Args) {
					if lit, ok := call.Args[at].(*ast.BasicLit); ok && lit.Kind == token.STRING {
						if s, err := strconv.Unquote(lit.Value); err == nil {
							texts[s] = true
						}
					}
				}
			}
			return true
		})
	}
	for _, s := range heads {
		texts[s] = true
	}
	for _, s := range slices.Concat(usualCautions, smallNumbers[1:]) {
		texts[s] = true
	}
	b := &book{lang: say.English, lookup: newLookup(&catalog.Snapshot{})}
	for _, d := range b.disclosure(&catalog.Plate{}, &catalog.Impression{}) {
		texts[d.asked] = true
	}
	for _, s := range byWord {
		texts[s] = true
	}
	for s := range texts {
		if strings.Trim(regexp.MustCompile(`%(\[\d\])?[.\d]*[a-z]`).ReplaceAllString(s, ""), " ,;.±×\u00a0g/m²%") == "" {
			delete(texts, s)
		}
	}
	return texts
}

// byWord are words of the catalogue that the book prints.
var byWord = append(strings.Split("engraving|etching|drypoint|aquatint|soft-ground etching|mezzotint|roulette|copper|zinc|steel|brass|"+
	"bite|burin|burnishing|scraping|aquatint ground|steel-facing|re-cutting|cleaning|"+
	"portfolio|series|set|book|edition|restrike|posthumous|arabic|roman|in the plate|pencil|ink|stamp|"+
	"whole sheet|detail|raking light|transmitted light|"+
	"size of the plate mark|size of the metal|metal|date|fate of the plate|date of its fate|printmaker|thickness|paper|printer|publisher|size of the edition|size of the sheet|count of the pull|printing ink|"+
	"The first state known.|Not described.|Monday|Tuesday|Wednesday|Thursday|Friday|Saturday|Sunday|wove|laid|japan|"+
	"The printer’s limit of ink loss is %s; whether the sheet is within it cannot be told.|The printer’s limit of ink loss is %s; this sheet is within it.|The printer’s limit of ink loss is %s; this sheet is outside it.", "|"),
	"state proof", "only state")

// Everything the book says of itself is said in German, with the same blanks.
func TestGermanIsComplete(t *testing.T) {
	verb := regexp.MustCompile(`%(\[\d\])?[.\d]*([a-zA-Z])`)
	count := func(s string) int { return len(verb.FindAllString(strings.ReplaceAll(s, "%%", ""), -1)) }
	texts := printed(t)
	if len(texts) < 200 {
		t.Fatalf("only %d texts found; the search is broken", len(texts))
	}
	for s := range texts {
		g := german.Text(s)
		if g == s && !slices.Contains(sameInGerman, s) {
			t.Errorf("no German for %q", s)
		}
		if count(s) != count(g) {
			t.Errorf("the German of %q has other blanks: %q", s, g)
		}
	}
}

// sameInGerman are texts that are the same in both.
var sameInGerman = []string{"hors commerce", "Addenda", "in"}
