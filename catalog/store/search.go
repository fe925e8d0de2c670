package store

import (
	"context"
	"database/sql"
	"errors"
	"slices"
	"strings"
	"unicode"

	"pullbook/catalog"

	"golang.org/x/text/unicode/norm"
)

// The search index is an FTS5 table over search_text, kept in step by the
// program rather than by triggers: a program built without FTS5 can then
// still write to the catalogue, and the index is made anew at the next
// opening that has it (keeping: search_index 'ready' or 'none').

func same(a, b words) bool {
	return a.plate == b.plate && a.head == b.head && slices.Equal(a.body, b.body)
}

// text joins what there is of the body.
func (w words) text() string {
	var parts []string
	for _, s := range w.body {
		if s = strings.TrimSpace(s); s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, "\n")
}

// fold gives lower case without accents, as the search compares.
func fold(s string) string {
	var b strings.Builder
	for _, r := range norm.NFD.String(s) {
		if !unicode.Is(unicode.Mn, r) {
			b.WriteRune(unicode.ToLower(r))
		}
	}
	return b.String()
}

// remember keeps the searchable text of a record.
func (tx *Tx) remember(noun string, id catalog.ID, w words) error {
	if err := tx.forget(id); err != nil {
		return err
	}
	w.head = strings.TrimSpace(w.head)
	body := w.text()
	var plate any
	if w.plate != "" {
		plate = string(w.plate)
	}
	if err := tx.exec(tx.ctx, "INSERT INTO search_text (noun, record_id, plate_id, head, body, folded) VALUES (?, ?, ?, ?, ?, ?)",
		noun, string(id), plate, w.head, body, fold(w.head+"\n"+body)); err != nil {
		return err
	}
	if !tx.fts {
		return nil
	}
	return tx.exec(tx.ctx, "INSERT INTO search (rowid, head, body) SELECT n, head, body FROM search_text WHERE record_id = ?", string(id))
}

// forget takes the searchable text of a record away.
func (tx *Tx) forget(id catalog.ID) error {
	if tx.fts {
		if err := tx.exec(tx.ctx, "INSERT INTO search (search, rowid, head, body) SELECT 'delete', n, head, body FROM search_text WHERE record_id = ?",
			string(id)); err != nil {
			return err
		}
	}
	return tx.exec(tx.ctx, "DELETE FROM search_text WHERE record_id = ?", string(id))
}

// createSearch makes the index. Accents are folded; one to three letters are
// enough to find a word.
const createSearch = `CREATE VIRTUAL TABLE IF NOT EXISTS search USING fts5(head, body, content = 'search_text', content_rowid = 'n',
	tokenize = 'unicode61 remove_diacritics 2', prefix = '1 2 3')`

// hasFTS reports whether this program has FTS5 and the index can be used.
func hasFTS(ctx context.Context, db *sql.DB) bool {
	var built int
	if err := db.QueryRowContext(ctx, "SELECT sqlite_compileoption_used('ENABLE_FTS5')").Scan(&built); err != nil || built == 0 {
		return false
	}
	var ready string
	err := db.QueryRowContext(ctx, "SELECT value FROM keeping WHERE key = 'search_index'").Scan(&ready)
	return err == nil && ready == "ready"
}

// prepareSearch makes the index where it is missing or was left behind.
func (s *Store) prepareSearch(ctx context.Context) error {
	var built int
	if err := s.write.QueryRowContext(ctx, "SELECT sqlite_compileoption_used('ENABLE_FTS5')").Scan(&built); err != nil {
		return explain(err)
	}
	if built == 0 {
		_, err := s.write.ExecContext(ctx, "UPDATE keeping SET value = 'none' WHERE key = 'search_index'")
		return explain(err)
	}
	if !hasFTS(ctx, s.write) {
		if err := s.rebuildSearch(ctx); err != nil {
			return err
		}
	}
	s.fts, s.Reader.fts = true, true
	return nil
}

// rebuildSearch makes the index anew from search_text.
func (s *Store) rebuildSearch(ctx context.Context) error {
	t, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return explain(err)
	}
	for _, stmt := range []string{createSearch, "INSERT INTO search (search) VALUES ('rebuild')",
		"UPDATE keeping SET value = 'ready' WHERE key = 'search_index'"} {
		if _, err := t.ExecContext(ctx, stmt); err != nil {
			return explain(errors.Join(err, t.Rollback()))
		}
	}
	return explain(t.Commit())
}

// tokens splits what was typed into words, folded, as the index does:
// anything that is not a letter or a digit separates.
func tokens(text string) []string {
	return strings.FieldsFunc(fold(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// found gives a common table expression, found (noun, record_id, plate_id), of
// the records in which every word typed is found, each as the beginning of a
// word.
func (r Reader) found(text string) (string, []any) {
	from, args := "search_text t WHERE 0", []any(nil)
	switch match := matchExpression(text); {
	case match == "":
	case r.fts:
		from, args = "search f CROSS JOIN search_text t ON t.n = f.rowid WHERE f.search MATCH ?", []any{match}
	default:
		part, likes := likeCondition(text)
		from, args = "search_text t WHERE "+part, likes
	}
	return "WITH found (noun, record_id, plate_id) AS MATERIALIZED (SELECT t.noun, t.record_id, t.plate_id FROM " + from + ") ", args
}

// matchingPlates gives a query for the plates a text is found in: in the plate
// or anything of it, its groups, its printmaker, or who has a sheet of it.
func (r Reader) matchingPlates(text string) (string, []any) {
	with, args := r.found(text)
	return with + `SELECT plate_id FROM found WHERE plate_id IS NOT NULL
		UNION ALL SELECT plate_id FROM plate_in_group WHERE group_id IN (SELECT record_id FROM found WHERE noun = 'plate_group')
		UNION ALL SELECT id FROM plate WHERE maker_id IN (SELECT record_id FROM found WHERE noun = 'person')
		UNION ALL SELECT plate_id FROM impression WHERE holder_id IN (SELECT record_id FROM found WHERE noun = 'holder')`, args
}

// matchingSheets gives a query for the impressions a text is found in: in the
// sheet, its holder or its paper.
func (r Reader) matchingSheets(text string) (string, []any) {
	with, args := r.found(text)
	return with + `SELECT record_id FROM found WHERE noun = 'impression'
		UNION ALL SELECT id FROM impression WHERE holder_id IN (SELECT record_id FROM found WHERE noun = 'holder')
		UNION ALL SELECT id FROM impression WHERE paper_id IN (SELECT record_id FROM found WHERE noun = 'paper')`, args
}

// matchExpression quotes every word, so that nothing typed is taken for an
// operator; "" when nothing can be searched for.
func matchExpression(text string) string {
	words := tokens(text)
	for i, w := range words {
		words[i] = `"` + w + `"*`
	}
	return strings.Join(words, " AND ")
}

// likeCondition is the search without FTS5: words are found within words too.
func likeCondition(text string) (string, []any) {
	var parts []string
	var args []any
	for _, w := range tokens(text) {
		parts = append(parts, `folded LIKE ? ESCAPE '\'`)
		args = append(args, "%"+strings.NewReplacer(`\`, `\\`, "%", `\%`, "_", `\_`).Replace(w)+"%")
	}
	if len(parts) == 0 {
		return "0", nil
	}
	return strings.Join(parts, " AND "), args
}

// A Hit is one record found.
type Hit struct {
	Noun     string // name of its table: "plate", "holder"
	ID       catalog.ID
	PlateID  catalog.ID // the plate it belongs to, "" for people, papers and the like
	Head     string     // what it is called
	Fragment string     // the words around the find
}

// hitsLooked is how many finds are looked at to choose the best among: ranking
// every find of a single letter would take longer than the next key stroke.
const hitsLooked = 300

// hitOrder puts the finds that people look for most before the others.
var hitOrder = map[string]int{"plate": 0, "plate_group": 1, "person": 1, "holder": 1, "edition": 2, "literature": 2, "exhibition": 2,
	"paper": 3, "ink": 3, "state": 4, "impression": 5}

// Search finds the records in which every word of text begins some word;
// accents and case do not count. At most limit hits (0: 50): finds in names
// before finds in remarks, plates before what belongs to them.
func (r Reader) Search(ctx context.Context, text string, limit int) ([]Hit, error) {
	if limit <= 0 {
		limit = 50
	}
	words := tokens(text)
	if len(words) == 0 {
		return nil, nil
	}
	hits, err := r.finds(ctx, true, text, words)
	if err == nil && len(hits) < limit {
		var more []Hit
		more, err = r.finds(ctx, false, text, words)
		for _, h := range more {
			if !slices.ContainsFunc(hits, func(o Hit) bool { return o.ID == h.ID }) {
				hits = append(hits, h)
			}
		}
	}
	return hits[:min(limit, len(hits))], explain(err)
}

// finds gives finds in names, or anywhere.
func (r Reader) finds(ctx context.Context, inNames bool, text string, words []string) ([]Hit, error) {
	var query string
	var args []any
	if r.fts {
		match := matchExpression(text)
		if inNames {
			match = "{head} : (" + match + ")"
		}
		query, args = "search f CROSS JOIN search_text t ON t.n = f.rowid WHERE f.search MATCH ?", []any{match}
	} else {
		part, likes := likeCondition(text)
		if inNames {
			part = strings.ReplaceAll(part, "folded", "substr(folded, 1, length(head))")
		}
		query, args = "search_text t WHERE "+part, likes
	}
	rows, err := r.q.QueryContext(ctx, "SELECT t.noun, t.record_id, t.plate_id, t.head, t.body FROM "+query+" LIMIT ?", append(args, hitsLooked)...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var hits []Hit
	for rows.Next() {
		var h Hit
		var body string
		if err := rows.Scan(&h.Noun, reference{&h.ID}, reference{&h.PlateID}, &h.Head, &body); err != nil {
			return nil, err
		}
		h.Fragment = fragment(body, words)
		hits = append(hits, h)
	}
	slices.SortStableFunc(hits, func(a, b Hit) int { return hitOrder[a.Noun] - hitOrder[b.Noun] })
	return hits, rows.Err()
}

// fragment gives the words of a text around the first that begins with one of
// those looked for, or "".
func fragment(text string, looked []string) string {
	const around = 5
	all := strings.Fields(text)
	for i, w := range all {
		for _, part := range tokens(w) {
			for _, l := range looked {
				if !strings.HasPrefix(part, l) {
					continue
				}
				from, to := max(0, i-around), min(len(all), i+around+1)
				f := strings.Join(all[from:to], " ")
				if from > 0 {
					f = "…" + f
				}
				if to < len(all) {
					f += "…"
				}
				return f
			}
		}
	}
	return ""
}

// rewriteSearchText makes the searchable text anew from the records.
func (s *Store) rewriteSearchText(ctx context.Context, snap *catalog.Snapshot) (err error) {
	t, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	tx := &Tx{ctx: ctx, store: s, tx: t, stmts: map[string]*sql.Stmt{}} // no index: it is made anew afterwards
	defer func() {
		tx.closeStatements()
		if err != nil {
			err = errors.Join(err, t.Rollback())
		}
	}()
	if err := tx.exec(ctx, "DELETE FROM search_text"); err != nil {
		return err
	}
	if err := errors.Join(
		rememberAll(tx, &plates, snap.Plates), rememberAll(tx, &states, snap.States),
		rememberAll(tx, &editions, snap.Editions), rememberAll(tx, &impressions, snap.Impressions),
		rememberAll(tx, &people, snap.People), rememberAll(tx, &holders, snap.Holders),
		rememberAll(tx, &papers, snap.Papers), rememberAll(tx, &inks, snap.Inks),
		rememberAll(tx, &literature, snap.Literature), rememberAll(tx, &exhibitions, snap.Exhibitions),
		rememberAll(tx, &groups, snap.Groups),
	); err != nil {
		return err
	}
	// If this is all that happens, the index must not be believed.
	if err := tx.exec(ctx, "UPDATE keeping SET value = 'none' WHERE key = 'search_index'"); err != nil {
		return err
	}
	tx.closeStatements()
	return t.Commit()
}

func rememberAll[P any](tx *Tx, t *table[P], records []P) error {
	for i := range records {
		if err := tx.remember(t.name, *t.id(&records[i]), t.words(&records[i])); err != nil {
			return err
		}
	}
	return nil
}
