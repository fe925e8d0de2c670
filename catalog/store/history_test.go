package store

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"pullbook/catalog"
)

func dumpOf(t testing.TB, s *Store) string {
	t.Helper()
	var b bytes.Buffer
	if err := s.Dump(ctx, &b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// A player makes random changes to a catalogue, some of which are refused.
type player struct {
	*rand.Rand
	t     testing.TB
	texts int
}

func (p *player) text() string {
	p.texts++
	return fmt.Sprintf("%s %d", []string{"", "Léger", "ink & <tone>", "line\nend", "quote ' \" |"}[p.IntN(5)], p.texts)
}

func pick[T any](p *player, list []T) *T {
	if len(list) == 0 {
		return nil
	}
	return &list[p.IntN(len(list))]
}

// play makes one random action of one to four changes.
func (p *player) play(s *Store) error {
	return s.Do(ctx, p.text(), func(tx *Tx) error {
		for range 1 + p.IntN(4) {
			if err := p.change(tx); err != nil {
				return err
			}
		}
		return nil
	})
}

func (p *player) change(tx *Tx) error {
	rows, err := tx.Plates(ctx, PlateFilter{})
	if err != nil {
		return err
	}
	row := pick(p, rows)
	if row == nil || p.IntN(12) == 0 {
		return tx.PutPlate(&catalog.Plate{Number: catalog.Number{N: p.IntN(40)}, Titles: []catalog.Title{{Text: p.text()}}})
	}
	states, err := tx.States(ctx, row.ID)
	if err != nil {
		return err
	}
	sheets, err := tx.Impressions(ctx, ImpressionFilter{PlateID: row.ID})
	if err != nil {
		return err
	}
	sheet, state := pick(p, sheets), pick(p, states)
	switch p.IntN(12) {
	case 0:
		return tx.PutState(&catalog.State{PlateID: row.ID, N: 1 + len(states), Description: p.text(),
			Work: make([]catalog.Work, p.IntN(3)), Literature: make([]catalog.Citation, p.IntN(2))})
	case 1, 2:
		i := &catalog.Impression{PlateID: row.ID, Pull: p.IntN(60), Remarks: p.text(), PulledAt: time.Unix(p.Int64N(1e9), p.Int64N(1e9))}
		if state != nil {
			i.StateID = state.ID
		}
		return tx.PutImpression(i)
	case 3:
		if sheet != nil {
			sheet.Remarks, sheet.NotKnown = p.text(), []string{p.text()}
			sheet.Provenance = append(sheet.Provenance, catalog.Owner{Name: p.text()})
			return tx.PutImpression(sheet)
		}
	case 4:
		if sheet != nil {
			return tx.PutPhotograph(&catalog.Photograph{ImpressionID: sheet.ID, Name: p.text(), SHA256: strings.Repeat("a", 64)})
		}
	case 5:
		if sheet != nil {
			return tx.PutScore(&catalog.Score{ImpressionID: sheet.ID, InkLoss: &catalog.Value{V: p.Float64(), U: p.ExpFloat64()}, TileMM: p.NormFloat64()})
		}
	case 6:
		if sheet != nil {
			return tx.DeleteImpression(sheet.ID)
		}
	case 7:
		if state != nil {
			if sheet != nil && p.IntN(2) == 0 {
				state.ReferenceID = sheet.ID
				return tx.PutState(state)
			}
			return tx.DeleteState(state.ID)
		}
	case 8:
		plate, err := tx.Plate(ctx, row.ID)
		if err != nil {
			return err
		}
		plate.Techniques, plate.Subjects = []catalog.Technique{catalog.Etching, catalog.Technique(p.text())}, nil
		plate.Mark = catalog.Size{HeightMM: p.Float64() * 300, WidthMM: p.Float64() * 300}
		return tx.PutPlate(plate)
	case 9:
		return tx.PutEdition(&catalog.Edition{PlateID: row.ID, Size: p.IntN(30), Name: p.text()})
	case 10:
		return tx.PutHolder(&catalog.Holder{Name: p.text(), Private: p.IntN(2) == 0})
	case 11:
		return tx.DeletePlate(row.ID)
	}
	return nil
}

// Any sequence of actions, then undo of all, gives the starting catalogue byte
// for byte; redo of all gives the end again. Now and then an undo or redo is
// mixed in on the way.
func TestUndoOfEverythingGivesTheStart(t *testing.T) {
	games, moves := 6, 60
	if testing.Short() {
		games = 2
	}
	for seed := range games {
		s := newStore(t)
		p := &player{Rand: rand.New(rand.NewPCG(uint64(seed), 7)), t: t}
		for range 30 { // the start is not empty
			p.mustPlay(s)
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		s, err := Open(s.Dir(), Options{})
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { s.Close() })
		start, startSearch := dumpOf(t, s), searchDump(t, s)
		done, refused := 0, 0
		for range moves {
			switch p.IntN(10) {
			case 0:
				if _, err := s.Undo(ctx); err != nil && !errors.Is(err, ErrNothing) {
					t.Fatal(err)
				}
			case 1:
				if _, err := s.Redo(ctx); err != nil && !errors.Is(err, ErrNothing) {
					t.Fatal(err)
				}
			default:
				before := dumpOf(t, s)
				if p.mustPlay(s) {
					done++
				} else if refused++; dumpOf(t, s) != before {
					t.Fatal("a refused action changed the catalogue")
				}
			}
		}
		for _, err = s.Redo(ctx); err == nil; _, err = s.Redo(ctx) { // the end is where nothing is taken back
		}
		end, endSearch := dumpOf(t, s), searchDump(t, s)
		steps := 0
		for _, err = s.Undo(ctx); err == nil; _, err = s.Undo(ctx) {
			steps++
		}
		if !errors.Is(err, ErrNothing) {
			t.Fatal(err)
		}
		if got := dumpOf(t, s); got != start {
			t.Fatalf("game %d: after undo of everything:\n%s", seed, firstDifference(got, start))
		}
		if got := searchDump(t, s); got != startSearch {
			t.Fatalf("game %d: search text after undo:\n%s", seed, firstDifference(got, startSearch))
		}
		for _, err = s.Redo(ctx); err == nil; _, err = s.Redo(ctx) {
			steps--
		}
		if got := dumpOf(t, s); got != end || steps != 0 {
			t.Fatalf("game %d: after redo of everything (%d steps over):\n%s", seed, steps, firstDifference(got, end))
		}
		if got := searchDump(t, s); got != endSearch {
			t.Fatalf("game %d: search text after redo:\n%s", seed, firstDifference(got, endSearch))
		}
		if done < moves/3 || len(start) == len(end) {
			t.Errorf("game %d: only %d actions done, %d refused", seed, done, refused)
		}
	}
}

// mustPlay plays one action and reports whether it was done; only a refusal is
// allowed beside.
func (p *player) mustPlay(s *Store) bool {
	p.t.Helper()
	err := p.play(s)
	var refused *RefusedError
	if err != nil && !errors.As(err, &refused) {
		p.t.Fatal(err)
	}
	return err == nil
}

// searchDump is the searchable text and what the index finds of it.
func searchDump(t testing.TB, s *Store) string {
	t.Helper()
	rows, err := s.read.QueryContext(ctx, "SELECT noun, record_id, coalesce(plate_id, ''), head, body, folded FROM search_text ORDER BY record_id")
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	var b strings.Builder
	for rows.Next() {
		var f [6]string
		if err := rows.Scan(&f[0], &f[1], &f[2], &f[3], &f[4], &f[5]); err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&b, "%q\n", f)
	}
	if s.fts {
		if _, err := s.write.ExecContext(ctx, "INSERT INTO search (search, rank) VALUES ('integrity-check', 1)"); err != nil {
			t.Fatalf("search index: %v", err)
		}
	}
	return b.String()
}

func firstDifference(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	table := ""
	for i := range g {
		if strings.HasPrefix(g[i], "-- ") {
			table = g[i][3:]
		}
		if i >= len(w) || g[i] != w[i] {
			other := ""
			if i < len(w) {
				other = w[i]
			}
			return fmt.Sprintf("line %d, table %s, %s\n got %s\nwant %s", i+1, table, firstColumn(g[i], other), g[i], other)
		}
	}
	return "shorter than wanted"
}

// firstColumn says which column of two lines of a dump is the first to differ,
// counted from 1 as in the table's definition.
func firstColumn(got, want string) string {
	g, w := strings.Split(got, "|"), strings.Split(want, "|")
	for i := range max(len(g), len(w)) {
		switch {
		case i >= len(w):
			return fmt.Sprintf("column %d is new: %s", i+1, g[i])
		case i >= len(g):
			return fmt.Sprintf("column %d is gone: %s", i+1, w[i])
		case g[i] != w[i]:
			return fmt.Sprintf("column %d is %s, not %s", i+1, g[i], w[i])
		}
	}
	return "no column differs"
}

// A difference is told by its table and its first differing column.
func TestFirstDifference(t *testing.T) {
	was := "-- ink\n\"a\"|1|\"x\"\n"
	for got, want := range map[string]string{
		"-- ink\n\"a\"|2|\"x\"\n":         "table ink, column 2 is 2, not 1\n",
		"-- ink\n\"a\"|1|\"x\"|\"oil\"\n": "table ink, column 4 is new: \"oil\"\n",
		"-- ink\n\"a\"|1\n":               "table ink, column 3 is gone: \"x\"\n",
	} {
		if told := firstDifference(got, was); !strings.Contains(told, want) {
			t.Errorf("%q is told as %q", got, told)
		}
	}
}

// The history says who, when, and each field's old and new value, and tells
// what was taken back.
func TestHistorySaysOldAndNew(t *testing.T) {
	s := newStore(t)
	at := time.Date(2022, 6, 1, 10, 0, 0, 0, time.UTC)
	s.options.Now = func() time.Time { return at }
	p := &catalog.Plate{Metal: "copper"}
	do(t, s, "Add plate", func(tx *Tx) error { return tx.PutPlate(p) })
	p.Metal, p.Remarks = "zinc", "found"
	do(t, s, "Edit plate", func(tx *Tx) error { return tx.PutPlate(p) })
	if _, err := s.Undo(ctx); err != nil {
		t.Fatal(err)
	}
	p.Metal, p.Remarks = "steel", ""
	do(t, s, "Edit again", func(tx *Tx) error { return tx.PutPlate(p) })
	h, err := s.History(ctx, p.ID)
	if err != nil || len(h) != 3 {
		t.Fatalf("%d entries, %v", len(h), err)
	}
	want := []struct{ label, kind, standing, fields string }{
		{"Add plate", "created", "done", fmt.Sprintf(`[{id  "%s"} {metal  "copper"}]`, p.ID)},
		{"Edit plate", "changed", "dropped", `[{metal "copper" "zinc"} {remarks "" "found"}]`},
		{"Edit again", "changed", "done", `[{metal "copper" "steel"}]`},
	}
	for i, w := range want {
		g := h[i]
		if g.Label != w.label || g.Kind != w.kind || g.Standing != w.standing || fmt.Sprint(g.Fields) != w.fields || g.Who != "tester" || !g.At.Equal(at) {
			t.Errorf("entry %d: %+v, want %+v", i, g, w)
		}
	}
	if s.NextRedo() != "" {
		t.Errorf("an action that was overtaken may be done again: %q", s.NextRedo())
	}
}

// Undo does not reach into an earlier sitting that was closed; it does go on
// after a sitting that was cut short.
func TestUndoKeepsToItsSitting(t *testing.T) {
	s := newStore(t)
	do(t, s, "one", func(tx *Tx) error { return tx.PutInk(&catalog.Ink{Name: "black"}) })
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s2, err := Open(s.Dir(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s2.Undo(ctx); !errors.Is(err, ErrNothing) {
		t.Fatalf("undo of an earlier sitting: %v", err)
	}
	do(t, s2, "two", func(tx *Tx) error { return tx.PutInk(&catalog.Ink{Name: "umber"}) })
	s2.closePools() // as if killed
	s2.dropLock()
	s3, err := Open(s.Dir(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s3.Close()
	if s3.NextUndo() != "two" {
		t.Errorf("after a sitting cut short, next undo is %q", s3.NextUndo())
	}
}
