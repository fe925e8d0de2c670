package batch

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"pullbook/app/studio"
	"pullbook/catalog/exchange/cells"
	"pullbook/catalog/exchange/sheet"
)

var takeInCommand = command{
	name: "take-in", line: "--catalogue DIR [--sheet NAME] [--each plate|impression] [--unit mm|cm|in] [--column HEADING=MEANING]... [--only-say] TABLE|LIST|FOLDER",
	summary: "take in a spreadsheet, a list of literature or an exported catalogue", run: runTakeIn,
	help: `
Takes the records of others in, in one step that can be undone:

    TABLE    a spreadsheet, .csv, .tsv or .xlsx; what each column means is
             guessed from its heading and can be said with --column
    LIST     literature, BibTeX (.bib) or CSL-JSON (.json)
    FOLDER   the tables of 'pullbook export --as csv', into an empty catalogue;
             --photographs names the folder of the other's photographs

    --only-say                 change nothing, say what would be done
    --column HEADING=MEANING   as --column "Kat.-Nr.=catalogue number"; may be
                               given more than once
    --each plate|impression    what one row stands for
    --unit mm|cm|in            the unit of figures that have none
    --sheet NAME               the sheet of a workbook, if it has several

Every row is taken in or listed with the reason why not; then the exit code
is 1. No text is lost: what could not be read stands in the remarks. Meanings:

` + meanings(),
}

// meanings lists the fields for the help, a few to a line.
func meanings() string {
	var b strings.Builder
	line := "   "
	for i, f := range sheet.Fields() {
		word := " " + string(f)
		if i+1 < len(sheet.Fields()) {
			word += ","
		}
		if len(line)+len(word) > 76 {
			b.WriteString(line + "\n")
			line = "   "
		}
		line += word
	}
	return b.String() + line
}

// tableWish is how a table is to be read.
type tableWish struct {
	dir, sheet, each, unit, photographs string
	columns                             []string
	onlySay                             bool
}

func runTakeIn(c *call) error {
	var w tableWish
	err := c.parse(func(f *flag.FlagSet) {
		f.StringVar(&w.dir, "catalogue", "", "")
		f.StringVar(&w.sheet, "sheet", "", "")
		f.StringVar(&w.each, "each", "", "")
		f.StringVar(&w.unit, "unit", "", "")
		f.StringVar(&w.photographs, "photographs", "", "")
		f.BoolVar(&w.onlySay, "only-say", false, "")
		f.Func("column", "", func(s string) error { w.columns = append(w.columns, s); return nil })
	})
	switch {
	case err != nil:
		return err
	case len(c.args) != 1:
		return usage("name one table, list of literature or folder of tables to take in")
	case w.each != "" && w.each != string(sheet.EachPlate) && w.each != string(sheet.EachImpression):
		return usage("a row stands for a plate or for an impression, not for a %q", w.each)
	case w.unit != "" && unitsMM[w.unit] == 0:
		return usage("there is no unit %q here; there are mm, cm and in", w.unit)
	case w.dir == "":
		return usage("the catalogue is missing; give --catalogue FOLDER")
	}
	path := c.args[0]
	info, err := os.Stat(path)
	if err != nil {
		return studio.Refuse("%s cannot be opened (%v).", path, err)
	}
	ext := strings.ToLower(filepath.Ext(path))
	switch {
	case info.IsDir():
		return c.takeInExport(w, path)
	case ext == ".bib" || ext == ".json":
		return c.takeInLiterature(w, path)
	}
	return c.takeInTable(w, path)
}

// unitsMM are the units of --unit in millimetres.
var unitsMM = map[string]float64{"mm": 1, "cm": 10, "in": 25.4}

func (c *call) takeInTable(w tableWish, path string) error {
	found, err := cells.Open(path)
	if err != nil {
		return err
	}
	table, err := chooseTable(found, w.sheet)
	if err != nil {
		return err
	}
	m, err := w.matching(table)
	if err != nil {
		return err
	}
	s, err := c.open(w.dir, !w.onlySay)
	if err != nil {
		return err
	}
	defer s.Close()
	plan, err := s.PlanTable(c.ctx, table, m)
	if err != nil {
		return err
	}
	c.listPlan(table, m, plan)
	if !w.onlySay && plan.Accepted() > 0 {
		if err := s.TakeInTable(c.ctx, plan); err != nil {
			return err
		}
		c.say("Taken in.")
	}
	if plan.Accepted() < len(plan.Rows) {
		return errShort
	}
	return nil
}

// chooseTable is the table named, or the only one.
func chooseTable(found []cells.Sheet, name string) (cells.Sheet, error) {
	var names []string
	for _, t := range found {
		if t.Name == name || name == "" && len(found) == 1 {
			return t, nil
		}
		names = append(names, fmt.Sprintf("%q", t.Name))
	}
	if name == "" {
		return cells.Sheet{}, usage("the workbook has several sheets; say which with --sheet: %s", strings.Join(names, ", "))
	}
	return cells.Sheet{}, usage("there is no sheet %q; there are %s", name, strings.Join(names, ", "))
}

// matching is the guess with what the caller said instead.
func (w tableWish) matching(table cells.Sheet) (sheet.Matching, error) {
	m := sheet.Guess(table)
	for _, c := range w.columns {
		at := strings.LastIndex(c, "=")
		if at < 0 {
			return m, usage("--column wants a heading and its meaning, as --column \"Nr.=catalogue number\", not %q", c)
		}
		heading, field := strings.TrimSpace(c[:at]), sheet.Field(strings.TrimSpace(c[at+1:]))
		i := slices.IndexFunc(table.Heading, func(h string) bool { return strings.TrimSpace(h) == heading })
		if i < 0 {
			return m, usage("the table has no column %q; its columns are %q", heading, table.Heading)
		}
		if !slices.Contains(sheet.Fields(), field) {
			return m, usage("%q is no meaning a column can have; 'pullbook help take-in' lists them", field)
		}
		m.Columns[i] = field
	}
	if len(w.columns) > 0 {
		m.Each = sheet.EachOf(m.Columns)
	}
	if w.each != "" {
		m.Each = sheet.Each(w.each)
	}
	if w.unit != "" {
		m.UnitMM = unitsMM[w.unit]
	}
	return m, nil
}

// listPlan says what each column means, what is odd or refused, and the sum.
func (c *call) listPlan(table cells.Sheet, m sheet.Matching, plan *sheet.Plan) {
	if table.Note != "" {
		c.note("%s", table.Note)
	}
	for i, h := range table.Heading {
		c.say("column   %-28q %s", h, m.Columns[i])
	}
	c.say("each row is one %s", m.Each)
	for _, r := range plan.Rows {
		if r.Refused != "" {
			c.say("refused  row %d: %s", r.At, closed(r.Refused))
			continue
		}
		for _, n := range r.Notes {
			c.say("note     row %d: %s", r.At, closed(n))
		}
	}
	c.say("%s", plan.Summary())
}

func (c *call) takeInLiterature(w tableWish, path string) error {
	if w.onlySay {
		return usage("--only-say is for tables; a list of literature is taken in and can be undone")
	}
	s, err := c.open(w.dir, true)
	if err != nil {
		return err
	}
	defer s.Close()
	added, refused, err := s.TakeInLiterature(c.ctx, path)
	if err != nil {
		return err
	}
	for _, r := range refused {
		c.say("refused  %s", closed(r))
	}
	c.say("%d works of literature taken in.", added)
	if len(refused) > 0 {
		return errShort
	}
	return nil
}

func (c *call) takeInExport(w tableWish, dir string) error {
	if w.onlySay {
		return usage("--only-say is for tables; an exported catalogue is taken in whole or not at all")
	}
	s, err := c.open(w.dir, true)
	if err != nil {
		return err
	}
	defer s.Close()
	if err := s.TakeInExport(c.ctx, dir, w.photographs, c.progress()); err != nil {
		return err
	}
	c.say("The exported catalogue is taken in.")
	return nil
}
