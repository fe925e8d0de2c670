package makeup

import (
	"pullbook/pdfout/display"
	"pullbook/pdfout/typeset"
)

// Block is something of fixed height that is not divided. Draw draws it with
// its top-left corner at x, y.
type Block struct {
	Height float64
	Before float64 // space above; none at the top of a page
	Keep   bool    // must stand on one page with the next block
	OnGrid bool    // begins on the baseline grid
	Draw   func(p *display.Page, x, y float64)
	// Again, where set, is drawn once more at the top of a page that begins
	// before the next block: the head of a table.
	Again *Block
	// EndAgain ends the repeating of the head.
	EndAgain bool
}

// Flow places blocks down the page and over to new ones. Blocks that keep
// together move together; what is taller than a page is divided all the same.
func (m *Maker) Flow(blocks []Block) {
	if m.Page == nil {
		m.Next()
	}
	var again *Block
	for i := 0; i < len(blocks); {
		j := i + 1
		for j < len(blocks) && blocks[j-1].Keep {
			j++
		}
		group := blocks[i:j]
		if m.heightOf(group) > m.Room()+.01 && m.Y > m.Top()+.01 {
			m.Next()
			if again != nil {
				again.Draw(m.Page, m.Left(), m.Y)
				m.Y += again.Height
			}
		}
		for k := range group {
			b := &group[k]
			if b.Again != nil {
				again = b.Again
			}
			if b.EndAgain {
				again = nil
			}
			m.place(b)
		}
		i = j
	}
}

// Pages tells how many pages Flow would use for blocks that begin at y on the
// page in hand, that page included, and where they would end.
func (m *Maker) Pages(blocks []Block, y float64) (pages int, foot float64) {
	pages = 1
	var again *Block
	next := func() {
		pages++
		y = m.Top()
		if again != nil {
			y += again.Height
		}
	}
	for i := 0; i < len(blocks); {
		j := i + 1
		for j < len(blocks) && blocks[j-1].Keep {
			j++
		}
		end := y
		for k := i; k < j; k++ {
			end = m.topOf(&blocks[k], end) + blocks[k].Height
		}
		if end > m.Bottom()+.01 && y > m.Top()+.01 {
			next()
		}
		for k := i; k < j; k++ {
			b := &blocks[k]
			if b.Again != nil {
				again = b.Again
			}
			if b.EndAgain {
				again = nil
			}
			top := m.topOf(b, y)
			if top+b.Height > m.Bottom()+.5 && y > m.Top()+.01 {
				next()
				top = m.topOf(b, y)
			}
			y = top + b.Height
		}
		i = j
	}
	return pages, y
}

// heightOf returns the height of blocks placed where the page now stands.
func (m *Maker) heightOf(group []Block) float64 {
	y := m.Y
	for k := range group {
		y = m.topOf(&group[k], y) + group[k].Height
	}
	return y - m.Y
}

// topOf returns where a block begins that comes after y.
func (m *Maker) topOf(b *Block, y float64) float64 {
	if y > m.Top()+.01 {
		y += b.Before
	}
	if b.OnGrid {
		lines := (y - m.Top()) / m.Lead
		if n := float64(int(lines)); lines-n > .01 {
			y = m.Top() + (n+1)*m.Lead
		}
	}
	return y
}

// place draws one block.
func (m *Maker) place(b *Block) {
	top := m.topOf(b, m.Y)
	if top+b.Height > m.Bottom()+.5 && m.Y > m.Top()+.01 {
		m.Next()
		top = m.topOf(b, m.Y)
	}
	if b.Draw != nil {
		b.Draw(m.Page, m.Left(), top)
	}
	m.Y = top + b.Height
}

// Space is an empty block.
func Space(h float64) Block { return Block{Before: h} }

// baseline is how far below the top of a line its baseline stands, as a share
// of the leading.
const baseline = .745

// LineBlocks makes blocks of set lines, two at least kept together at the
// beginning and at the end.
func LineBlocks(lines []typeset.Line, lead float64) []Block {
	var out []Block
	for i, l := range lines {
		out = append(out, Block{
			Height: lead,
			Keep:   len(lines) > 1 && (i == 0 || i == len(lines)-2),
			Draw:   func(p *display.Page, x, y float64) { p.Line(x, y+lead*baseline, l) },
		})
	}
	return out
}

// Stack makes one block of blocks, which are then not divided.
func Stack(blocks []Block) Block {
	h := 0.0
	for i, b := range blocks {
		if i > 0 {
			h += b.Before
		}
		h += b.Height
	}
	return Block{Height: h, Draw: func(p *display.Page, x, y float64) {
		for i, b := range blocks {
			if i > 0 {
				y += b.Before
			}
			if b.Draw != nil {
				b.Draw(p, x, y)
			}
			y += b.Height
		}
	}}
}

// Beside puts blocks next to each other, tops level.
func Beside(parts ...struct {
	X float64
	Block
}) Block {
	h := 0.0
	for _, p := range parts {
		h = max(h, p.Height)
	}
	return Block{Height: h, Draw: func(pg *display.Page, x, y float64) {
		for _, p := range parts {
			if p.Draw != nil {
				p.Draw(pg, x+p.X, y)
			}
		}
	}}
}

// Columns flows blocks through columns, page after page; on the last page the
// columns are made as nearly equal as the blocks allow.
func (m *Maker) Columns(blocks []Block, n int, gap float64) {
	width := (m.TextWidth() - float64(n-1)*gap) / float64(n)
	for len(blocks) > 0 {
		if m.Room() < 4*m.Lead {
			m.Next()
		}
		fits := m.fill(blocks, n, m.Room())
		if fits[len(fits)-1] == len(blocks) {
			fits = m.fill(blocks, n, m.balance(blocks, n))
		}
		x, top, from, deepest := m.Left(), m.Y, 0, m.Y
		for _, to := range fits {
			y := top
			for k := from; k < to; k++ {
				b := &blocks[k]
				if k > from {
					y += b.Before
				}
				if b.Draw != nil {
					b.Draw(m.Page, x, y)
				}
				y += b.Height
			}
			deepest = max(deepest, y)
			x += width + gap
			from = to
		}
		blocks = blocks[from:]
		m.Y = deepest
		if len(blocks) > 0 {
			m.Next()
		}
	}
}

// Balanced sets blocks in columns of nearly equal depth, as one block.
func (m *Maker) Balanced(blocks []Block, n int, gap float64) Block {
	width := (m.TextWidth() - float64(n-1)*gap) / float64(n)
	depth := m.balanceWithin(blocks, n, 1e6)
	ends := m.fill(blocks, n, depth)
	var columns []Block
	from, h := 0, 0.0
	for _, to := range ends {
		c := Stack(blocks[from:to])
		columns = append(columns, c)
		h = max(h, c.Height)
		from = to
	}
	return Block{Height: h, Draw: func(p *display.Page, x, y float64) {
		for _, c := range columns {
			c.Draw(p, x, y)
			x += width + gap
		}
	}}
}

// fill returns where each of n columns of a depth would end.
func (m *Maker) fill(blocks []Block, n int, depth float64) []int {
	var ends []int
	i := 0
	for c := 0; c < n && i < len(blocks); c++ {
		y, start := 0.0, i
		for i < len(blocks) {
			j := i + 1
			for j < len(blocks) && blocks[j-1].Keep {
				j++
			}
			h := 0.0
			for k := i; k < j; k++ {
				if k > start {
					h += blocks[k].Before
				}
				h += blocks[k].Height
			}
			if y+h > depth+.01 && i > start {
				break
			}
			y += h
			i = j
		}
		ends = append(ends, i)
	}
	return ends
}

// balance returns the least depth at which n columns hold all blocks.
func (m *Maker) balance(blocks []Block, n int) float64 { return m.balanceWithin(blocks, n, m.Room()) }

// balanceWithin is balance for columns no deeper than most.
func (m *Maker) balanceWithin(blocks []Block, n int, most float64) float64 {
	total := 0.0
	for _, b := range blocks {
		total += b.Height + b.Before
	}
	depth := total / float64(n) * .8
	for depth < most {
		ends := m.fill(blocks, n, depth)
		if ends[len(ends)-1] == len(blocks) && m.fits(blocks, ends, depth) {
			return depth
		}
		depth++
	}
	return most
}

// fits reports whether no column is deeper than depth.
func (m *Maker) fits(blocks []Block, ends []int, depth float64) bool {
	from := 0
	for _, to := range ends {
		y := 0.0
		for k := from; k < to; k++ {
			if k > from {
				y += blocks[k].Before
			}
			y += blocks[k].Height
		}
		if y > depth+.5 {
			return false
		}
		from = to
	}
	return true
}
