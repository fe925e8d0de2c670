package store

import (
	"context"
	"encoding/json"
	"sort"
	"strings"
	"time"

	"pullbook/catalog"
)

// plateOrder is catalogue order, the same as catalog.CompareNumbers: plates
// without a number last, then plain numbers, then each prefix by itself.
//
// It ends in the plate's id.
const plateOrder = "number_prefix = '' AND number_n = 0 AND number_suffix = '', number_prefix, number_n, length(number_suffix), number_suffix, plate.id"

// PlateFilter chooses plates; what is left empty does not restrict.
type PlateFilter struct {
	Text      string // words found in the plate or anything of it, or in its holders, groups or printmaker
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
	c.addID("plate.id IN (SELECT plate_id FROM plate_in_group WHERE group_id = ?)", f.GroupID)
	c.addID("plate.maker_id = ?", f.MakerID)
	c.addID("plate.id IN (SELECT plate_id FROM impression WHERE holder_id = ?)", f.HolderID)
	c.addText("plate.id IN (SELECT plate_id FROM plate_technique WHERE technique = ?)", string(f.Technique))
	c.addText("plate.standing = ?", string(f.Standing))
	c.addText("plate.fate = ?", string(f.Fate))
	if f.From != 0 {
		c.add("plate.date_edtf <> '' AND CAST(plate.date_edtf AS INTEGER) >= ?", f.From)
	}
	if f.To != 0 {
		c.add("plate.date_edtf <> '' AND CAST(plate.date_edtf AS INTEGER) <= ?", f.To)
	}
	if strings.TrimSpace(f.Text) != "" {
		part, args := r.matchingPlates(f.Text)
		c.add("plate.id IN ("+part+")", args...)
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
SELECT plate.id, plate.number_prefix, plate.number_n, plate.number_suffix, plate.standing, plate.date_text, plate.mark_height_mm, plate.mark_width_mm,
  coalesce((SELECT text FROM plate_title t WHERE t.plate_id = plate.id AND t.position = 0), '') AS title,
  coalesce((SELECT group_concat(technique, ', ') FROM (SELECT technique FROM plate_technique k WHERE k.plate_id = plate.id ORDER BY position)), ''),
  (SELECT count(*) FROM state s WHERE s.plate_id = plate.id),
  coalesce(i.n, 0), coalesce(i.last_pull, 0), coalesce(i.last_at, '') AS last_at, coalesce(h.n, 0), coalesce(h.id, '')
FROM plate
LEFT JOIN (SELECT plate_id, count(*) AS n, max(pull) AS last_pull, max(pulled_at) AS last_at FROM impression GROUP BY plate_id) i ON i.plate_id = plate.id
LEFT JOIN (SELECT i3.plate_id, count(*) AS n, h3.id, max((h3.view = 'whole sheet') || h3.taken_at || h3.added_at)
  FROM impression i3 CROSS JOIN photograph h3 ON h3.impression_id = i3.id GROUP BY i3.plate_id) h ON h.plate_id = plate.id
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
	Text       string // words found in the impression, its holder or its paper
	Order      string // "pull" (default), "number", "newest", "plate" (catalogue order of plates)
	Limit      int    // 0 all
	Offset     int
}

func (f ImpressionFilter) condition(r Reader) condition {
	var c condition
	c.addID("i.plate_id = ?", f.PlateID)
	c.addID("i.state_id = ?", f.StateID)
	c.addID("i.edition_id = ?", f.EditionID)
	c.addID("i.day_id = ?", f.DayID)
	c.addID("i.holder_id = ?", f.HolderID)
	c.addID("i.paper_id = ?", f.PaperID)
	c.addID("i.printer_id = ?", f.PrinterID)
	c.addText("i.kind = ?", string(f.Kind))
	c.addText("i.decision = ?", f.Verdict)
	if f.Undecided {
		c.add("i.decision = ''")
	}
	if f.WithPhotos {
		c.add("EXISTS (SELECT 1 FROM photograph h WHERE h.impression_id = i.id)")
	}
	if f.NoPhotos {
		c.add("NOT EXISTS (SELECT 1 FROM photograph h WHERE h.impression_id = i.id)")
	}
	if strings.TrimSpace(f.Text) != "" {
		part, args := r.matchingSheets(f.Text)
		// The plus keeps SQLite from looking every find up in the table:
		// going along an index in the order wanted is faster.
		c.add("+i.id IN ("+part+")", args...)
	}
	return c
}

// query gives the SQL for the IDs of the impressions, in order.
func (f ImpressionFilter) query(r Reader) (string, []any) {
	c := f.condition(r)
	from, order := "impression i", "i.plate_id, i.pull = 0, i.pull, i.edition_id, i.ordinal, i.id"
	switch f.Order {
	case "number":
		order = "i.edition_id, i.ordinal = 0, i.ordinal, i.kind, i.pull, i.id"
	case "newest":
		order = "i.pulled_at DESC, i.pull DESC, i.id"
	case "plate":
		from += " JOIN plate ON plate.id = i.plate_id"
		order = strings.TrimSuffix(plateOrder, "plate.id") + order
	}
	limit, args := page(f.Limit, f.Offset)
	return "SELECT i.id FROM " + from + " WHERE " + c.where() + " ORDER BY " + order + limit, append(c.args, args...)
}

// Impressions gives the impressions a filter lets through. It first finds
// which they are, along an index, and then reads only those.
func (r Reader) Impressions(ctx context.Context, f ImpressionFilter) ([]catalog.Impression, error) {
	query, args := f.query(r)
	rows, err := r.q.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, explain(err)
	}
	defer rows.Close()
	place := map[catalog.ID]int{}
	var ids []catalog.ID
	for rows.Next() {
		var id catalog.ID
		if err := rows.Scan(reference{&id}); err != nil {
			return nil, explain(err)
		}
		place[id] = len(ids)
		ids = append(ids, id)
	}
	if err := rows.Err(); err != nil || len(ids) == 0 {
		return nil, explain(err)
	}
	list, err := json.Marshal(ids)
	if err != nil {
		return nil, err
	}
	found, err := impressions.read(ctx, r.q, "id IN (SELECT value FROM json_each(?))", "id", string(list))
	if err != nil {
		return nil, explain(err)
	}
	sort.Slice(found, func(a, b int) bool { return place[found[a].ID] < place[found[b].ID] })
	return found, nil
}

// CountImpressions counts what a filter lets through, paging aside.
func (r Reader) CountImpressions(ctx context.Context, f ImpressionFilter) (int, error) {
	c := f.condition(r)
	rows, err := r.q.QueryContext(ctx, "SELECT count(*) FROM impression i WHERE "+c.where(), c.args...)
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
