package webpages

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"pullbook/catalog"
	"pullbook/catalog/exchange/entry"
	"pullbook/catalog/exchange/internal/specimen"
)

func write(t *testing.T, snap *catalog.Snapshot) (dir string, pages map[string]string) {
	t.Helper()
	dir, pages = t.TempDir(), map[string]string{}
	if keep := os.Getenv("KEEP_PAGES"); keep != "" {
		dir = keep
	}
	if err := Write(context.Background(), dir, entry.New(snap), &specimen.Pictures{}, Options{}); err != nil {
		t.Fatal(err)
	}
	for _, pattern := range []string{"*.html", "plates/*.html"} {
		names, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range names {
			b, err := os.ReadFile(n)
			if err != nil {
				t.Fatal(err)
			}
			rel, err := filepath.Rel(dir, n)
			if err != nil {
				t.Fatal(err)
			}
			pages[filepath.ToSlash(rel)] = string(b)
		}
	}
	return dir, pages
}

var addresses = regexp.MustCompile(`(?:src|href|data-large|value)="([^"#]+)(?:#[^"]*)?"`)

// Every address on every page is a file of the folder: nothing is missing and
// nothing is fetched from elsewhere.
func TestAddressesAreFiles(t *testing.T) {
	dir, pages := write(t, specimen.Snapshot())
	n := 0
	for name, html := range pages {
		for _, m := range addresses.FindAllStringSubmatch(html, -1) {
			if m[1] == "50" { // the slider
				continue
			}
			n++
			if strings.Contains(m[1], ":") {
				t.Errorf("%s fetches %s", name, m[1])
				continue
			}
			if _, err := os.Stat(filepath.Join(dir, filepath.Dir(name), m[1])); err != nil {
				t.Errorf("%s points to %s, which is not there", name, m[1])
			}
		}
		for _, bad := range []string{"http://", "https://", "onclick", "Nobody", "Hidden Street", "drawer 4"} {
			if strings.Contains(html, bad) {
				t.Errorf("%s holds %q", name, bad)
			}
		}
	}
	if n < 30 {
		t.Errorf("only %d addresses were looked at", n)
	}
	large, err := os.ReadFile(filepath.Join(dir, "pictures", "photo0weir4-large.jpg"))
	if err != nil || !strings.Contains(string(large), "AOSourceInvNo>1989.4<") {
		t.Errorf("the large picture does not say what it shows, %v", err)
	}
	css := string(mustRead("page/page.css")) + string(mustRead("page/page.js"))
	if strings.Contains(css, "http") || strings.Contains(css, "@import") {
		t.Error("style or script fetch something")
	}
}

func TestContent(t *testing.T) {
	_, pages := write(t, specimen.Snapshot())
	weir, ok := pages["plates/12-the-weir.html"]
	if !ok {
		t.Fatalf("no page of that name; there are %d", len(pages))
	}
	for _, want := range []string{"<h1>", "The Weir", "Das Wehr", "spring 2025", "Etching and drypoint", "150 × 100 mm", "With drypoint in the sky, upper right.",
		"redrawn &lt;twice&gt;", "7/30", "private collection", "Saltgate Town Museum, no. 1989.4", "Hollis, no. 31", `type="range"`, `alt="The Weir, state II"`,
		`href="12a-ebb.html" rel="next"`, "Reedmill soft white, wove"} {
		if !strings.Contains(weir, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	index := pages["index.html"]
	for _, want := range []string{"Ada Marrin: The Plates", "Untouched", "(rejected)", "no picture", `href="plates/r-3-untouched.html"`} {
		if !strings.Contains(index, want) {
			t.Errorf("the list lacks %q", want)
		}
	}
	if strings.Index(index, "12-the-weir") > strings.Index(index, "12a-ebb") {
		t.Error("the plates are out of order")
	}
}

// Pages of the same name, of none, without pictures: each is written.
func TestOddPlates(t *testing.T) {
	snap := &catalog.Snapshot{Plates: []catalog.Plate{{ID: "a"}, {ID: "b"}, {ID: "c", Titles: []catalog.Title{{Text: "../../x"}}}, {ID: "d", Titles: []catalog.Title{{Text: "<script>"}}}}}
	dir := t.TempDir()
	if err := Write(context.Background(), dir, entry.New(snap), nil, Options{}); err != nil {
		t.Fatal(err)
	}
	names, err := filepath.Glob(filepath.Join(dir, "plates", "*.html"))
	if err != nil || len(names) != 4 {
		t.Errorf("pages %v, %v", names, err)
	}
	for _, n := range names {
		b, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(b), "<script>") {
			t.Errorf("%s carries a title as script", filepath.Base(n))
		}
	}
}
