package words

import (
	"regexp"
	"strings"
	"testing"
)

// Both languages have the same pages and sections, no paragraph is empty, and
// what can hurt is cautioned against on the pages where it is done.
func TestGuide(t *testing.T) {
	en, de := pagesIn("guide/en"), pagesIn("guide/de")
	if len(en) != 6 || len(de) != len(en) {
		t.Fatalf("%d pages in English, %d in German", len(en), len(de))
	}
	for i, p := range en {
		q := de[i]
		if p.Name != q.Name || p.Title == "" || q.Title == "" || len(p.Sections) != len(q.Sections) {
			t.Errorf("page %q has %d sections, %q %d", p.Name, len(p.Sections), q.Name, len(q.Sections))
			continue
		}
		for k, s := range p.Sections {
			u := q.Sections[k]
			if len(s.Blocks) == 0 || len(s.Blocks) != len(u.Blocks) || s.Head == "" || u.Head == "" {
				t.Errorf("%s, %s: %d paragraphs, in German %d", p.Name, s.Head, len(s.Blocks), len(u.Blocks))
				continue
			}
			for j, b := range s.Blocks {
				if b.Caution != u.Blocks[j].Caution || strings.Count(b.Text, "*")%2 != 0 || strings.Count(u.Blocks[j].Text, "*")%2 != 0 {
					t.Errorf("%s, %s, paragraph %d differs or has an open mark", p.Name, s.Head, j+1)
				}
			}
		}
	}
	cautions := func(p Page) (all string) {
		for _, s := range p.Sections {
			for _, b := range s.Blocks {
				if b.Caution {
					all += b.Text + "\n"
				}
			}
		}
		return all
	}
	for page, wants := range map[int][]string{1: {"rollers", "solvent", "Hot plate", "data sheet"}, 4: {"Mordants", "Rosin dust", "data sheet"}} {
		for _, w := range wants {
			if !strings.Contains(cautions(en[page]), w) {
				t.Errorf("the page %s has no caution about %s", en[page].Name, w)
			}
		}
	}
}

// Commands the guide names stand in the menu under that name.
func TestGuideNamesCommands(t *testing.T) {
	texts, _ := asked(t)
	de := read(t, "de.json")
	for dir, menus := range map[string]string{"guide/en": "Catalogue|Change|Show", "guide/de": "Verzeichnis|Ändern|Ansicht"} {
		named := regexp.MustCompile(`\*(?:` + menus + `), ([^*]+)\*`)
		found := 0
		for _, p := range pagesIn(dir) {
			for _, s := range p.Sections {
				for _, b := range s.Blocks {
					for _, m := range named.FindAllStringSubmatch(b.Text, -1) {
						found++
						ok := false
						for text := range texts {
							label := text
							if dir == "guide/de" {
								label, _ = de[text].(string)
							}
							ok = ok || strings.HasPrefix(label, m[1])
						}
						if !ok {
							t.Errorf("%s: %s names a command %q that is not there", dir, p.Name, m[1])
						}
					}
				}
			}
		}
		if found < 6 {
			t.Errorf("%s names only %d commands; the search is broken", dir, found)
		}
	}
}

func TestSectionSays(t *testing.T) {
	s := Section{Head: "The rack", Blocks: []Block{{Text: "Hanging **sheets** are listed"}}}
	if !s.Says([]string{"rack", "sheets"}) || s.Says([]string{"rack", "acid"}) || !s.Says(nil) {
		t.Error("a section does not know what it says")
	}
}
