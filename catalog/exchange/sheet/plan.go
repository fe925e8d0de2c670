package sheet

import (
	"fmt"

	"pullbook/catalog"
	"pullbook/catalog/exchange/cells"
	"pullbook/catalog/exchange/tables"
)

// Row is what became of one row of the table.
type Row struct {
	// At is the row's number in the file, from 1.
	At int
	// Refused is the reason, a sentence; empty when the row is accepted.
	Refused string
	// Notes are sentences on what was odd; the texts they speak of are kept.
	Notes []string
	// PlateID and ImpressionID are the records the row made or added to.
	PlateID      catalog.ID
	ImpressionID catalog.ID
}

// Plan is what taking in a table would do. Nothing is changed by making one.
type Plan struct {
	// Rows has one line for every row of the table, in its order.
	Rows []Row
	// New holds the records that would be made, no others. Its imprint is empty.
	New catalog.Snapshot
	// Changed holds known plates that would get a title, a reference or the
	// like besides what they have.
	Changed []catalog.Plate
}

// Accepted counts the rows that are accepted.
func (p *Plan) Accepted() int {
	n := 0
	for _, r := range p.Rows {
		if r.Refused == "" {
			n++
		}
	}
	return n
}

// Summary says in one sentence what the plan would do.
func (p *Plan) Summary() string {
	refused := len(p.Rows) - p.Accepted()
	s := fmt.Sprintf("%d of %d rows can be taken in: %d plates, %d states, %d impressions and %d editions would be made.",
		p.Accepted(), len(p.Rows), len(p.New.Plates), len(p.New.States), len(p.New.Impressions), len(p.New.Editions))
	if refused > 0 {
		s += fmt.Sprintf(" %d rows are refused; each says why.", refused)
	}
	return s
}

// Put takes the records of the plan into a catalogue, within one transaction of
// the caller's, so that it can be undone as one step.
func (p *Plan) Put(to tables.Putter) error {
	if err := tables.Put(to, &p.New); err != nil {
		return err
	}
	for _, pl := range p.Changed {
		if err := to.PutPlate(&pl); err != nil {
			return err
		}
	}
	return nil
}

// Prepare reads every row of a table by a matching, beside what the catalogue
// known already holds (which may be nil and is not changed). The error is a
// sentence about the matching itself; rows that cannot be taken are in the plan.
func Prepare(s cells.Sheet, m Matching, known *catalog.Snapshot) (*Plan, error) {
	if err := m.check(s); err != nil {
		return nil, err
	}
	p := newPreparation(m, known)
	for i, row := range s.Rows {
		line := p.row(s.Heading, row, s.At[i])
		p.plan.Rows = append(p.plan.Rows, line)
	}
	p.finish()
	return p.plan, nil
}

// check refuses a matching that cannot be meant.
func (m Matching) check(s cells.Sheet) error {
	if len(m.Columns) != len(s.Heading) {
		return fmt.Errorf("%d columns are matched, but the table has %d", len(m.Columns), len(s.Heading))
	}
	seen := map[Field]int{}
	for i, f := range m.Columns {
		if first, twice := seen[f]; twice && !many[f] {
			return fmt.Errorf("the columns %q and %q are both matched with the %s; only one can be", s.Heading[first], s.Heading[i], f)
		}
		seen[f] = i
	}
	_, number := seen[Number]
	_, title := seen[Title]
	if !number && !title {
		return fmt.Errorf("no column is matched with the catalogue number or the title, so no plate could be told from another")
	}
	return nil
}
