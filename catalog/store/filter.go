package store

import (
	"context"
	"strings"
	"time"

	"pullbook/catalog"
)

// plateOrder is catalogue order, the same as catalog.CompareNumbers: plates
// without a number last, then plain numbers, then each prefix by itself.
const plateOrder = "number_prefix = '' AND number_n = 0 AND number_suffix = '', number_prefix, number_n, length(number_suffix), number_suffix, id"

// PlateFilter chooses plates; what is left empty does not restrict.
type PlateFilter struct {
	Text      string // words found in the plate or anything of it
	GroupID   catalog.ID
	MakerID   catalog.ID
	Technique catalog.Technique
	Standing  catalog.Standing
	Fate      catalog.Fate
	HolderID  catalog.ID // some impression is with this holder
	From, To  int        // years in which the plate's date begins, inclusive
	Order     string     // "number" (default), "title", "date", "last pull"
	Limit     int        // 0 all
	Offset    int
}

// PlateRow is a plate as a line of a list.
type PlateRow struct {
	ID           catalog.ID
	Number       catalog.Number
	Standing     catalog.Standing
	Title        string
	Date         string // as written
	Techniques   string // "etching, drypoint"
	Mark         catalog.Size
	States       int
	Impressions  int
	Photographs  int
	ThumbPhotoID catalog.ID // the newest photograph of a whole sheet, else any; "" none
	LastPull     int        // highest count of pull, 0 none recorded
	LastPulledAt time.Time
}

// condition collects parts of a WHERE clause.
type condition struct {
	parts []string
	args  []any
}

func (c *condition) add(part string, args ...any) {
	c.parts, c.args = append(c.parts, part), append(c.args, args...)
}

func (c *condition) addID(part string, id catalog.ID) {
	if id != "" {
		c.add(part, string(id))
	}
}

func (c *condition) addText(part string, text string) {
	if text != "" {
		c.add(part, text)
	}
}

func (c *condition) where() string {
	if len(c.parts) == 0 {
		return "1"
	}
	return strings.Join(c.parts, " AND ")
}

// page is the LIMIT clause, "" for everything.
func page(limit, offset int) (string, []any) {
	if limit <= 0 && offset <= 0 {
		return "", nil
	}
	if limit <= 0 {
		limit = -1
	}
	return " LIMIT ? OFFSET ?", []any{limit, offset}
}

func (f PlateFilter) condition(r Reader) condition {
	var c condition
	c.addID("p.id IN (SELECT plate_id FROM plate_in_group WHERE group_id = ?)", f.GroupID)
	c.addID("p.maker_id = ?", f.MakerID)
	c.addID("p.id IN (SELECT plate_id FROM impression WHERE holder_id = ?)", f.HolderID)
	c.addText("p.id IN (SELECT plate_id FROM plate_technique WHERE technique = ?)", string(f.Technique))
	c.addText("p.standing = ?", string(f.Standing))
	c.addText("p.fate = ?", string(f.Fate))
	if f.From != 0 {
		c.add("p.date_edtf <> '' AND CAST(p.date_edtf AS INTEGER) >= ?", f.From)
	}
	if f.To != 0 {
		c.add("p.date_edtf <> '' AND CAST(p.date_edtf AS INTEGER) <= ?", f.To)
	}
	if strings.TrimSpace(f.Text) != "" {
		part, args := r.matching(f.Text, "plate_id")
		c.add("p.id IN ("+part+")", args...)
	}
	return c
}

// Plates gives the plates a filter lets through, as lines of a list.
func (r Reader) Plates(ctx context.Context, f PlateFilter) ([]PlateRow, error) {
	c := f.condition(r)
	order := plateOrder
	switch f.Order {
	case "title":
		order = "title = '', title COLLATE NOCASE, " + plateOrder
	case "date":
		order = "date_edtf = '', date_edtf, " + plateOrder
	case "last pull":
		order = "last_at DESC, " + plateOrder
	}
	limit, pageArgs := page(f.Limit, f.Offset)
	rows, err := r.q.QueryContext(ctx, `
SELECT p.id, p.number_prefix, p.number_n, p.number_suffix, p.standing, p.date_text, p.mark_height_mm, p.mark_width_mm,
  coalesce((SELECT text FROM plate_title t WHERE t.plate_id = p.id AND t.position = 0), '') AS title,
  coalesce((SELECT group_concat(technique, ', ') FROM (SELECT technique FROM plate_technique k WHERE k.plate_id = p.id ORDER BY position)), ''),
  (SELECT count(*) FROM state s WHERE s.plate_id = p.id),
  coalesce(i.n, 0), coalesce(i.last_pull, 0), coalesce(i.last_at, '') AS last_at, coalesce(h.n, 0),
  coalesce((SELECT h2.id FROM impression i2 JOIN photograph h2 ON h2.impression_id = i2.id WHERE i2.plate_id = p.id
    ORDER BY h2.view = 'whole sheet' DESC, h2.taken_at DESC, h2.added_at DESC, h2.id LIMIT 1), '')
FROM plate p
LEFT JOIN (SELECT plate_id, count(*) AS n, max(pull) AS last_pull, max(pulled_at) AS last_at FROM impression GROUP BY plate_id) i ON i.plate_id = p.id
LEFT JOIN (SELECT i3.plate_id, count(*) AS n FROM photograph h3 JOIN impression i3 ON i3.id = h3.impression_id GROUP BY i3.plate_id) h ON h.plate_id = p.id
WHERE `+c.where()+" ORDER BY "+order+limit, append(c.args, pageArgs...)...)
	if err != nil {
		return nil, explain(err)
	}
	defer rows.Close()
	var list []PlateRow
	for rows.Next() {
		var p PlateRow
		if err := rows.Scan(reference{&p.ID}, &p.Number.Prefix, &p.Number.N, &p.Number.Suffix, &p.Standing, &p.Date,
			&p.Mark.HeightMM, &p.Mark.WidthMM, &p.Title, &p.Techniques, &p.States, &p.Impressions, &p.LastPull,
			stamp{&p.LastPulledAt}, &p.Photographs, reference{&p.ThumbPhotoID}); err != nil {
			return nil, explain(err)
		}
		list = append(list, p)
	}
	return list, explain(rows.Err())
}

// ImpressionFilter chooses impressions; what is left empty does not restrict.
type ImpressionFilter struct {
	PlateID    catalog.ID
	StateID    catalog.ID
	EditionID  catalog.ID
	DayID      catalog.ID
	HolderID   catalog.ID
	PaperID    catalog.ID
	PrinterID  catalog.ID
	Kind       catalog.Kind
	Verdict    string // of the decision
	Undecided  bool   // only sheets without a decision
	WithPhotos bool   // only sheets with a photograph
	NoPhotos   bool   // only sheets without one
	Text       string // words found in the impression
	Order      string // "pull" (default), "number", "newest", "plate" (catalogue order of plates)
	Limit      int    // 0 all
	Offset     int
}

func (f ImpressionFilter) condition(r Reader) condition {
	var c condition
	c.addID("plate_id = ?", f.PlateID)
	c.addID("state_id = ?", f.StateID)
	c.addID("edition_id = ?", f.EditionID)
	c.addID("day_id = ?", f.DayID)
	c.addID("holder_id = ?", f.HolderID)
	c.addID("paper_id = ?", f.PaperID)
	c.addID("printer_id = ?", f.PrinterID)
	c.addText("kind = ?", string(f.Kind))
	c.addText("decision = ?", f.Verdict)
	if f.Undecided {
		c.add("decision = ''")
	}
	if f.WithPhotos {
		c.add("id IN (SELECT impression_id FROM photograph)")
	}
	if f.NoPhotos {
		c.add("NOT EXISTS (SELECT 1 FROM photograph h WHERE h.impression_id = impression.id)")
	}
	if strings.TrimSpace(f.Text) != "" {
		part, args := r.matching(f.Text, "record_id")
		c.add("id IN ("+part+")", args...)
	}
	return c
}

// Impressions gives the impressions a filter lets through.
func (r Reader) Impressions(ctx context.Context, f ImpressionFilter) ([]catalog.Impression, error) {
	c := f.condition(r)
	order := impressions.order
	switch f.Order {
	case "number":
		order = "edition_id, ordinal = 0, ordinal, kind, pull, id"
	case "newest":
		order = "pulled_at DESC, pull DESC, id"
	case "plate":
		order = "(SELECT row_number FROM (SELECT id AS pid, row_number() OVER (ORDER BY " + plateOrder +
			") AS row_number FROM plate) WHERE pid = impression.plate_id), " + impressions.order
	}
	limit, args := page(f.Limit, f.Offset)
	records, err := impressions.read(ctx, r.q, c.where(), order+limit, append(c.args, args...)...)
	return records, explain(err)
}

// CountImpressions counts what a filter lets through, paging aside.
func (r Reader) CountImpressions(ctx context.Context, f ImpressionFilter) (int, error) {
	c := f.condition(r)
	rows, err := r.q.QueryContext(ctx, "SELECT count(*) FROM impression WHERE "+c.where(), c.args...)
	if err != nil {
		return 0, explain(err)
	}
	defer rows.Close()
	n := 0
	for rows.Next() {
		err = rows.Scan(&n)
	}
	if err == nil {
		err = rows.Err()
	}
	return n, explain(err)
}
