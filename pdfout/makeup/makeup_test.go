package makeup

import (
	"fmt"
	"strings"
	"testing"

	"pullbook/pdfout/display"
	"pullbook/pdfout/typeset"
)

// newMaker opens a maker with a page in hand.
func newMaker(t *testing.T, f Format) *Maker {
	t.Helper()
	c, err := typeset.NewCase()
	if err != nil {
		t.Fatal(err)
	}
	m := New(c, f)
	m.StartArabic()
	m.Next()
	return m
}

// numbered makes blocks that say which line of which paragraph they are.
func numbered(par, lines int, lead float64) []Block {
	var set []typeset.Line
	for range lines {
		set = append(set, typeset.Line{})
	}
	blocks := LineBlocks(set, lead)
	for i := range blocks {
		blocks[i].Draw = func(p *display.Page, x, y float64) {
			p.Anchors = append(p.Anchors, display.Anchor{Key: fmt.Sprintf("%d/%d/%d", par, i, lines), Y: y})
		}
	}
	return blocks
}

// TestNoWidowsNoOrphans flows paragraphs of every length from every height:
// no page begins with the last line of a paragraph or ends with its first, and
// Pages foretells what Flow does.
func TestNoWidowsNoOrphans(t *testing.T) {
	for start := 0; start < 30; start++ {
		m := newMaker(t, Small)
		m.Y += float64(start) * m.Lead * .7
		var blocks []Block
		for par := range 60 {
			blocks = append(blocks, numbered(par, 1+(par*7+start)%9, m.Lead)...)
		}
		want, foot := m.Pages(blocks, m.Y)
		m.Flow(blocks)
		if len(m.Doc.Pages) != want || m.Y != foot {
			t.Fatalf("Pages foretold %d pages ending at %.1f, Flow made %d ending at %.1f", want, foot, len(m.Doc.Pages), m.Y)
		}
		for i, p := range m.Doc.Pages {
			if len(p.Anchors) == 0 {
				continue
			}
			var par, line, of int
			if _, err := fmt.Sscanf(p.Anchors[0].Key, "%d/%d/%d", &par, &line, &of); err != nil {
				t.Fatal(err)
			}
			if line == of-1 && of > 1 {
				t.Errorf("start %d: page %d begins with the last line of a paragraph", start, i+1)
			}
			if _, err := fmt.Sscanf(p.Anchors[len(p.Anchors)-1].Key, "%d/%d/%d", &par, &line, &of); err != nil {
				t.Fatal(err)
			}
			if line == 0 && of > 1 && i < len(m.Doc.Pages)-1 {
				t.Errorf("start %d: page %d ends with the first line of a paragraph", start, i+1)
			}
			for _, a := range p.Anchors {
				if a.Y+m.Lead > m.Bottom()+.6 {
					t.Errorf("start %d: page %d runs over its foot", start, i+1)
				}
			}
		}
	}
}

// TestTableHeadsAreRepeated breaks a table over pages: every page has its head,
// and no head stands alone.
func TestTableHeadsAreRepeated(t *testing.T) {
	m := newMaker(t, Small)
	tab := Table{Lead: 12, Gap: 8, Columns: []Column{{Head: "number", Width: 60, Right: true}, {Head: "paper", Share: 1}}}
	for i := range 140 {
		tab.Rows = append(tab.Rows, Cells(m.Table, fmt.Sprint(i), "Reedbed laid"))
	}
	m.Flow(m.TableBlocks(tab, m.TextWidth()))
	if len(m.Doc.Pages) < 3 {
		t.Fatalf("the table takes %d pages", len(m.Doc.Pages))
	}
	for i, p := range m.Doc.Pages {
		heads, rows := 0, 0
		for _, it := range p.Items {
			if x, ok := it.(*display.Text); ok {
				switch w := x.Words[0].Run.Text; {
				case w == "number":
					heads++
				case strings.Trim(w, "0123456789") == "" && x.Words[0].Style == m.Table:
					rows++
				}
			}
		}
		if heads != 1 || rows < 2 {
			t.Errorf("page %d has %d heads and %d rows", i+1, heads, rows)
		}
	}
}

// TestRightColumnsAlign: figures of a right-hand column end at one edge.
func TestRightColumnsAlign(t *testing.T) {
	m := newMaker(t, Large)
	tab := Table{Lead: 12, Gap: 8, Columns: []Column{{Head: "n", Width: 60, Right: true}, {Head: "x", Share: 1}}}
	for _, n := range []string{"1", "22", "333", "4.5 ± 0.1"} {
		tab.Rows = append(tab.Rows, Cells(m.Table, n, "a"))
	}
	m.Flow(m.TableBlocks(tab, m.TextWidth()))
	edges := map[string]int{}
	for _, it := range m.Page.Items {
		if x, ok := it.(*display.Text); ok && x.X < m.Left()+60 && x.Words[0].Style == m.Table {
			last := x.Words[len(x.Words)-1]
			edges[fmt.Sprintf("%.2f", x.X+last.X+last.Style.RunWidth(last.Run))]++
		}
	}
	if len(edges) != 1 {
		t.Errorf("the column ends at %v", edges)
	}
}

// TestColumnsAreBalanced: on the last page columns differ by one block at most.
func TestColumnsAreBalanced(t *testing.T) {
	for n := 1; n < 90; n += 4 {
		m := newMaker(t, Large)
		var blocks []Block
		foot := map[float64]float64{}
		for range n {
			blocks = append(blocks, Block{Height: 11, Draw: func(p *display.Page, x, y float64) { foot[x] = max(foot[x], y+11) }})
		}
		m.Columns(blocks, 3, 20)
		if len(m.Doc.Pages) > 1 {
			continue
		}
		low, high := 1e9, 0.0
		for _, y := range foot {
			low, high = min(low, y), max(high, y)
		}
		if n >= 3 && (len(foot) != 3 || high-low > 3*11+.1) {
			t.Errorf("%d blocks: columns end at %v", n, foot)
		}
	}
}

func TestFolios(t *testing.T) {
	c, err := typeset.NewCase()
	if err != nil {
		t.Fatal(err)
	}
	m := New(c, Large)
	m.Next()
	m.Next()
	m.Next()
	m.StartArabic()
	m.Next()
	var got []string
	for _, p := range m.Doc.Pages {
		got = append(got, p.Label)
	}
	if strings.Join(got, " ") != "i ii iii iv 1" {
		t.Errorf("folios are %v", got)
	}
	if Roman(1949) != "mcmxlix" {
		t.Errorf("1949 is %s", Roman(1949))
	}
}

func TestEmphasis(t *testing.T) {
	c, err := typeset.NewCase()
	if err != nil {
		t.Fatal(err)
	}
	s := NewStyles(c, Large)
	for in, want := range map[string]string{
		"plain": "r:plain", "a *b* c": "r:a |i:b|r: c", "**b**": "s:b", "2 * 3 * 4": "r:2 *|r: 3 *|r: 4", "*open": "r:*|r:open", "": "",
	} {
		var out []string
		for _, sp := range Emphasis(in, s.Body, s.Italic, s.Strong) {
			k := map[typeset.Style]string{s.Body: "r", s.Italic: "i", s.Strong: "s"}[sp.Style]
			out = append(out, k+":"+sp.Text)
		}
		if got := strings.Join(out, "|"); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}
