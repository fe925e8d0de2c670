package store

import (
	"context"
	"path/filepath"
	"sort"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/archive"
	"pullbook/catalog/say"
)

// A Finding is one thing Verify found, as a sentence.
type Finding struct {
	// Grave findings are damage or contradiction; the others are for
	// information.
	Grave    bool
	Records  []catalog.ID
	Sentence string       // in English
	Said     say.Sentence // the same, to be said in other languages
}

// Report is what Verify found.
type Report struct {
	Records     int   // records read
	Photographs int   // photographs whose every byte was read
	Bytes       int64 // of photographs
	Rules       int   // doubts and notes of the rules: not damage, not listed here
	Findings    []Finding
}

// Clean reports whether nothing grave was found.
func (r *Report) Clean() bool {
	for _, f := range r.Findings {
		if f.Grave {
			return false
		}
	}
	return true
}

func (r *Report) find(grave bool, ids []catalog.ID, s say.Sentence) {
	r.Findings = append(r.Findings, Finding{grave, ids, s.String(), s})
}

func (r *Report) grave(ids []catalog.ID, key string, args ...any) {
	r.find(true, ids, say.Of(key, args...))
}

func (r *Report) note(key string, args ...any) { r.find(false, nil, say.Of(key, args...)) }

// Progress is told how far a long work is: done of total steps, and what is
// being looked at. It must not block. It may be nil.
type Progress func(done, total int, what string)

func (p Progress) tell(done, total int, what string) {
	if p != nil {
		p(done, total, what)
	}
}

// Verify reads everything: the database's own structure, every reference, every
// rule, the search index, every byte of every photograph, and the newest
// backup. It changes nothing. Findings name impressions and plates.
func (s *Store) Verify(ctx context.Context, progress Progress) (Report, error) {
	var r Report
	progress.tell(0, 0, "the database")
	if err := s.verifyDatabase(ctx, &r); err != nil {
		return r, explain(err)
	}
	snap, err := s.Snapshot(ctx)
	if err != nil {
		if ctx.Err() != nil {
			return r, ctx.Err()
		}
		r.grave(nil, "The records cannot all be read (%v).", err)
		return r, nil
	}
	progress.tell(0, 0, "the rules")
	for _, b := range catalog.CheckSnapshot(snap) {
		if b.Weight == catalog.Contradiction {
			r.find(true, b.Records, b.Said)
		} else {
			r.Rules++
		}
	}
	if err := s.verifySearch(ctx, &r, snap); err != nil {
		return r, explain(err)
	}
	if err := s.verifyPhotographs(ctx, &r, snap, progress); err != nil {
		return r, err
	}
	progress.tell(1, 1, "the newest backup")
	s.verifyBackup(ctx, &r)
	return r, ctx.Err()
}

func (s *Store) verifyDatabase(ctx context.Context, r *Report) error {
	// A connection of its own: one that has been searching may judge a
	// search index made anew by what it remembers of the old.
	db := openPool(filepath.Join(s.dir, DatabaseFile), opening{mode: "ro", readers: true, unmoving: s.unmoving})
	defer db.Close()
	damage, err := findings(ctx, db, "PRAGMA integrity_check(50)")
	if err != nil {
		return err
	}
	for _, d := range damage {
		r.grave(nil, "The database is damaged: %s.", d)
	}
	broken, err := findings(ctx, db, "PRAGMA foreign_key_check")
	if err != nil {
		return err
	}
	for _, b := range broken {
		r.grave(nil, "A record refers to one that is not there: %s.", b)
	}
	names, err := recordTables(ctx, db)
	if err != nil {
		return err
	}
	for _, n := range names {
		var count int
		if err := db.QueryRowContext(ctx, "SELECT count(*) FROM "+n).Scan(&count); err != nil {
			return err
		}
		if keepers[n] != nil {
			r.Records += count
		}
	}
	return nil
}

// verifySearch makes the searchable text of every record anew and compares.
func (s *Store) verifySearch(ctx context.Context, r *Report, snap *catalog.Snapshot) error {
	want := map[catalog.ID]string{}
	addWords(want, &plates, snap.Plates)
	addWords(want, &states, snap.States)
	addWords(want, &editions, snap.Editions)
	addWords(want, &impressions, snap.Impressions)
	addWords(want, &people, snap.People)
	addWords(want, &holders, snap.Holders)
	addWords(want, &papers, snap.Papers)
	addWords(want, &inks, snap.Inks)
	addWords(want, &literature, snap.Literature)
	addWords(want, &exhibitions, snap.Exhibitions)
	addWords(want, &groups, snap.Groups)
	rows, err := s.read.QueryContext(ctx, "SELECT record_id, head, body FROM search_text")
	if err != nil {
		return err
	}
	defer rows.Close()
	stale := 0
	for rows.Next() {
		var id catalog.ID
		var head, body string
		if err := rows.Scan(reference{&id}, &head, &body); err != nil {
			return err
		}
		if w, ok := want[id]; !ok || w != head+"\x00"+body {
			stale++
		}
		delete(want, id)
	}
	if err := rows.Err(); err != nil {
		return err
	}
	if n := stale + len(want); n > 0 {
		r.grave(nil, "The search would miss or misname %s. Make the search index anew.", say.Count(n, "%d record", "%d records"))
	}
	return s.verifyIndex(ctx, r)
}

func addWords[P any](want map[catalog.ID]string, t *table[P], records []P) {
	for i := range records {
		w := t.words(&records[i])
		want[*t.id(&records[i])] = strings.TrimSpace(w.head) + "\x00" + w.text()
	}
}

// verifyIndex compares the index with the text it indexes. FTS5 does so in
// answer to an INSERT, which changes nothing but needs the writer.
func (s *Store) verifyIndex(ctx context.Context, r *Report) error {
	if !s.fts || s.readOnly {
		return nil
	}
	s.doing.Lock()
	defer s.doing.Unlock()
	if s.closed {
		return errClosed
	}
	if _, err := s.write.ExecContext(ctx, "INSERT INTO search (search, rank) VALUES ('integrity-check', 1)"); err != nil {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		r.grave(nil, "The search index is damaged (%v). Make it anew.", err)
	}
	return nil
}

// RebuildSearch makes the searchable text and the index anew from the records.
func (s *Store) RebuildSearch(ctx context.Context) error {
	if s.readOnly {
		return ErrReadOnly
	}
	snap, err := s.Snapshot(ctx)
	if err != nil {
		return err
	}
	s.doing.Lock()
	defer s.doing.Unlock()
	if s.closed {
		return errClosed
	}
	if err := s.rewriteSearchText(ctx, snap); err != nil {
		return explain(err)
	}
	if !s.fts {
		return nil
	}
	return s.rebuildSearch(ctx)
}

// verifyPhotographs reads every photograph and looks for files without a row.
func (s *Store) verifyPhotographs(ctx context.Context, r *Report, snap *catalog.Snapshot, progress Progress) error {
	a := s.Archive()
	names := photographNames(snap)
	kept, strangers, err := a.Kept()
	if err != nil {
		r.grave(nil, "The folder of photographs cannot be read (%v).", err)
		return nil
	}
	seen := map[string]error{}
	for i := range snap.Photographs {
		h := &snap.Photographs[i]
		progress.tell(i, len(snap.Photographs), names[h.ID].String())
		file := h.SHA256 + h.Ext
		err, known := seen[file]
		if !known {
			err = a.Check(ctx, archive.Stored{SHA256: h.SHA256, Ext: h.Ext, Bytes: h.Bytes})
			if ctx.Err() != nil {
				return ctx.Err()
			}
			seen[file] = err
			r.Photographs++
			r.Bytes += h.Bytes
		}
		if err != nil {
			r.grave([]catalog.ID{h.ID, h.ImpressionID}, "%s: %v.", names[h.ID], err)
		}
		delete(kept, file)
	}
	if len(kept) > 0 {
		r.note("%s in the folder that no record speaks of (removed from the catalogue, or taken in just before the program was stopped).",
			say.Count(len(kept), "%d photograph is", "%d photographs are"))
	}
	if len(strangers) > 0 {
		sort.Strings(strangers)
		r.note("%s in the folder of photographs and not of the catalogue: %s.", say.Count(len(strangers), "%d file is", "%d files are"),
			strings.Join(strangers[:min(len(strangers), 5)], ", "))
	}
	return nil
}

// photographNames says which photograph each is, by what it shows: "the
// photograph 0012.jpg of 7/30 of 12, Low water".
func photographNames(snap *catalog.Snapshot) map[catalog.ID]say.Sentence {
	plateNames := map[catalog.ID]say.Sentence{}
	for i := range snap.Plates {
		plateNames[snap.Plates[i].ID] = snap.Plates[i].Said()
	}
	sheetNames := map[catalog.ID]say.Sentence{}
	for i := range snap.Impressions {
		sheet := &snap.Impressions[i]
		sheetNames[sheet.ID] = say.Of("%s of %s", sheet.Said(), plateNames[sheet.PlateID])
	}
	names := map[catalog.ID]say.Sentence{}
	for i := range snap.Photographs {
		h := &snap.Photographs[i]
		name := say.Of("the photograph %s", h.Name)
		if h.Name == "" {
			name = say.Of("a photograph without a name")
		}
		if sheet, ok := sheetNames[h.ImpressionID]; ok {
			name = say.Of("%s of %s", name, sheet)
		} else {
			name = say.Of("%s, not yet filed", name)
		}
		names[h.ID] = name
	}
	return names
}

func (s *Store) verifyBackup(ctx context.Context, r *Report) {
	all, err := Backups(s.dir)
	if err != nil {
		r.note("The folder of backups cannot be read (%v).", err)
		return
	}
	if len(all) == 0 {
		return
	}
	if err := checkCopy(ctx, all[0].Path); err != nil && ctx.Err() == nil {
		r.note("The newest backup, %s, cannot be used (%v).", filepath.Base(all[0].Path), err)
	}
}
