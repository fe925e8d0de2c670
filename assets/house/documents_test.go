package house

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// pathInDoc is a path of the repository written in back quotes.
var pathInDoc = regexp.MustCompile("`((?:app|catalog|imaging|pdfout|assets|testdata|\\.ci)(?:/[A-Za-z0-9_.*-]+)*/?)`")

// Every path that the documents name exists.
func TestPathsInDocumentsExist(t *testing.T) {
	for doc, least := range map[string]int{"README.md": 1, "DEVELOPERS.md": 25} {
		text, err := os.ReadFile(filepath.Join(root, doc))
		if err != nil {
			t.Fatal(err)
		}
		found := pathInDoc.FindAllStringSubmatch(string(text), -1)
		if len(found) < least {
			t.Errorf("%s names only %d paths: the pattern no longer finds them", doc, len(found))
		}
		for _, m := range found {
			matches, err := filepath.Glob(filepath.Join(root, m[1]))
			if err != nil || len(matches) == 0 {
				t.Errorf("%s names %s, which is not there", doc, m[1])
			}
		}
	}
}

// Every picture that the README shows is there, and small enough to be kept.
func TestPicturesOfReadme(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(root, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	shown := regexp.MustCompile(`!\[[^\]]+\]\(([^)]+)\)`).FindAllStringSubmatch(string(text), -1)
	if len(shown) < 5 {
		t.Errorf("README.md shows %d pictures: one is owed of each place and one of the book", len(shown))
	}
	for _, m := range shown {
		info, err := os.Stat(filepath.Join(root, m[1]))
		switch {
		case err != nil:
			t.Errorf("README.md shows %s, which is not there", m[1])
		case info.Size() > 150_000:
			t.Errorf("%s has %d bytes; draw it smaller", m[1], info.Size())
		}
	}
}

// The README opens with the job and gives the two commands.
func TestReadmeHasTheTwoCommands(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(root, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"sh assets/setup.sh open", "sh assets/setup.sh test"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("README.md does not give the command %q", want)
		}
	}
	ci, err := os.ReadFile(filepath.Join(root, ".ci", "run"))
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(ci), "sh assets/setup.sh test") {
		t.Error(".ci/run does not call the README's test command")
	}
}
