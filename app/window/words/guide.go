package words

import (
	"embed"
	"path"
	"strings"
)

// The guide stands beside the other words, a page for each place, in Markdown:
// "#" the page, "##" a section, ">" a caution, "- " one of a list, **strong**
// and *emphasised* words.
//
//go:embed guide
var guide embed.FS

// Page is one page of the guide.
type Page struct {
	Name     string // of the file, the same in every language: "press"
	Title    string
	Sections []Section
}

// Section is a part of a page.
type Section struct {
	Head   string
	Blocks []Block
}

// Block is one paragraph.
type Block struct {
	Text    string // in Markdown
	Caution bool
	Item    bool // one of a list
}

// Guide is the guide in the user's language.
func Guide() []Page {
	dir := "guide/en"
	if german {
		dir = "guide/de"
	}
	return pagesIn(dir)
}

func pagesIn(dir string) []Page {
	files, err := guide.ReadDir(dir)
	if err != nil {
		return nil // embedded; a test sees that it is there
	}
	var pages []Page
	for _, f := range files { // in the order of their names
		b, err := guide.ReadFile(dir + "/" + f.Name())
		if err != nil {
			continue
		}
		p := readPage(string(b))
		_, p.Name, _ = strings.Cut(strings.TrimSuffix(f.Name(), path.Ext(f.Name())), "-")
		pages = append(pages, p)
	}
	return pages
}

// readPage reads one page; every paragraph is one line.
func readPage(text string) Page {
	var p Page
	for _, l := range strings.Split(text, "\n") {
		l = strings.TrimSpace(l)
		last := len(p.Sections) - 1
		switch {
		case l == "":
		case strings.HasPrefix(l, "# "):
			p.Title = l[2:]
		case strings.HasPrefix(l, "## "):
			p.Sections = append(p.Sections, Section{Head: l[3:]})
		case last < 0:
		case strings.HasPrefix(l, "> "):
			p.Sections[last].Blocks = append(p.Sections[last].Blocks, Block{Text: l[2:], Caution: true})
		case strings.HasPrefix(l, "- "):
			p.Sections[last].Blocks = append(p.Sections[last].Blocks, Block{Text: l[2:], Item: true})
		default:
			p.Sections[last].Blocks = append(p.Sections[last].Blocks, Block{Text: l})
		}
	}
	return p
}

// Plain is a block's text without its marks.
func (b Block) Plain() string { return strings.ReplaceAll(b.Text, "*", "") }

// Says reports whether every one of the words, in lower case, stands in a
// section.
func (s Section) Says(words []string) bool {
	text := strings.ToLower(s.Head)
	for _, b := range s.Blocks {
		text += " " + strings.ToLower(b.Plain())
	}
	for _, w := range words {
		if !strings.Contains(text, w) {
			return false
		}
	}
	return true
}
