package store

import (
	"context"
	"sort"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/say"
)

// A pointer is a column of some table that names a record of another.
type pointer struct{ table, column string }

// readPointers finds, for every table, the columns that point to it.
func readPointers(ctx context.Context, q querier) (map[string][]pointer, error) {
	rows, err := q.QueryContext(ctx, `SELECT m.name, f."from", f."table" FROM sqlite_schema m, pragma_foreign_key_list(m.name) f
		WHERE m.type = 'table' AND m.name NOT IN ('action', 'change') ORDER BY 1, 2`)
	if err != nil {
		return nil, explain(err)
	}
	defer rows.Close()
	all := map[string][]pointer{}
	for rows.Next() {
		var p pointer
		var to string
		if err := rows.Scan(&p.table, &p.column, &to); err != nil {
			return nil, explain(err)
		}
		all[to] = append(all[to], p)
	}
	return all, explain(rows.Err())
}

// usedAs says how a record of another table uses the one pointed to: one, many.
var usedAs = map[string][2]string{
	"plate": {"plate", "plates"}, "state": {"state", "states"}, "edition": {"edition", "editions"},
	"impression": {"impression", "impressions"}, "photograph": {"photograph", "photographs"},
	"score": {"score", "scores"}, "printing_day": {"printing day", "printing days"},
	"shooting_session": {"shooting session", "shooting sessions"}, "paper": {"paper", "papers"},
	"imprint": {"imprint", "imprints"}, "provenance": {"line of provenance", "lines of provenance"},
	"plate_in_group": {"plate", "plates"}, "plate_citation": {"citation", "citations"},
	"state_citation": {"citation", "citations"}, "impression_citation": {"citation", "citations"},
	"plate_showing": {"showing", "showings"}, "impression_showing": {"showing", "showings"},
}

// refuseIfUsed refuses to remove a record that others point to, and says what
// they are.
func (tx *Tx) refuseIfUsed(ctx context.Context, table, word string, id catalog.ID) error {
	counts := map[[2]string]int{}
	for _, p := range tx.store.pointers[table] {
		if strings.HasPrefix(p.column, table+"_") && isListOf(p.table, table) {
			continue // the record's own lists
		}
		var n int
		if err := tx.queryRow(ctx, "SELECT count(*) FROM "+p.table+" WHERE "+p.column+" = ?", []any{string(id)}, &n); err != nil {
			return err
		}
		if n == 0 {
			continue
		}
		use := usedAs[p.table]
		if p.column == "reference_id" || p.column == "reference_photo_id" {
			use = [2]string{"reference of " + use[0], "reference of " + use[1]}
		}
		counts[use] += n
	}
	if len(counts) == 0 {
		return nil
	}
	var uses []say.Sentence
	for use, n := range counts {
		uses = append(uses, say.Count(n, "%d "+use[0], "%d "+use[1]))
	}
	sort.Slice(uses, func(i, j int) bool { return uses[i].String() < uses[j].String() })
	return refusal("This %s is still in use (%s). Remove or change those first.", say.Word(word), say.List(uses, len(uses)))
}

// isListOf reports whether a child table belongs to the table's own records.
func isListOf(child, table string) bool {
	return strings.HasPrefix(child, table+"_") || child == "provenance" && table == "impression"
}
