package store_test

import (
	"bytes"
	"crypto/sha256"
	"database/sql"
	"encoding/binary"
	"encoding/hex"
	"os"
	"path/filepath"
	"testing"
	"time"

	"pullbook/catalog"
	"pullbook/catalog/store"

	_ "github.com/mattn/go-sqlite3" // any SQLite would do
)

// A catalogue is made by the program; then, from "a stranger" on, everything
// is read with plain SQL and SHA-256 by the description in the package
// comment, without any code of the program.
func TestReadByAStranger(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "Estuary.pullbook")
	makeCatalogue(t, dir)

	// A stranger.
	file, err := os.ReadFile(filepath.Join(dir, "catalogue.db"))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.HasPrefix(file, []byte("SQLite format 3\x00")) || string(file[68:72]) != "PlBk" || binary.BigEndian.Uint32(file[60:64]) != store.SchemaVersion {
		t.Fatalf("not as described: % x", file[:100])
	}
	db, err := sql.Open("sqlite3", filepath.Join(dir, "catalogue.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	read := func(query string) [][]string {
		t.Helper()
		rows, err := db.Query(query)
		if err != nil {
			t.Fatal(err)
		}
		defer rows.Close()
		columns, _ := rows.Columns()
		var table [][]string
		for rows.Next() {
			values, targets := make([]sql.NullString, len(columns)), make([]any, len(columns))
			for i := range values {
				targets[i] = &values[i]
			}
			if err := rows.Scan(targets...); err != nil {
				t.Fatal(err)
			}
			line := make([]string, len(columns))
			for i, v := range values {
				line[i] = v.String
			}
			table = append(table, line)
		}
		return table
	}
	sheets := read(`
		SELECT p.number_n, t.text, p.mark_height_mm, p.mark_width_mm, p.date_text, p.date_edtf, s.n, i.kind, i.written, i.pulled_at, h.name, o.how
		FROM impression i
		JOIN plate p ON p.id = i.plate_id
		JOIN plate_title t ON t.plate_id = p.id AND t.position = 0
		JOIN state s ON s.id = i.state_id
		JOIN holder h ON h.id = i.holder_id
		JOIN provenance o ON o.impression_id = i.id AND o.position = 0`)
	want := []string{"12", "Basse mer, l’étang", "151.5", "209", "c. 1931", "1931~", "2", "bon à tirer", "B.A.T.", "1931-06-02T09:30:00.000Z", "Town museum", "gift"}
	if len(sheets) != 1 {
		t.Fatalf("%d sheets", len(sheets))
	}
	for i, w := range want {
		if sheets[0][i] != w {
			t.Errorf("column %d: %q, want %q", i, sheets[0][i], w)
		}
	}
	photographs := read("SELECT sha256, ext, bytes, name FROM photograph")
	if len(photographs) != 1 {
		t.Fatalf("%d photographs", len(photographs))
	}
	for _, h := range photographs {
		data, err := os.ReadFile(filepath.Join(dir, "photographs", h[0][:2], h[0]+h[1]))
		if err != nil {
			t.Fatal(err)
		}
		sum := sha256.Sum256(data)
		if hex.EncodeToString(sum[:]) != h[0] {
			t.Errorf("%s is not what it was", h[3])
		}
	}
	if scores := read("SELECT ink_loss, ink_loss_u, burr_loss IS NULL FROM score"); len(scores) != 1 || scores[0][0] != "0.17" || scores[0][1] != "0.004" || scores[0][2] != "1" {
		t.Errorf("scores %v", scores)
	}
	history := read("SELECT a.who, a.label, c.noun, c.kind, json_extract(c.old, '$.metal'), json_extract(c.new, '$.metal') FROM change c JOIN action a ON a.n = c.action WHERE c.kind = 'changed' AND c.noun = 'plate'")
	if len(history) != 1 || history[0][0] != "A. Marrin" || history[0][1] != "Edit plate" || history[0][4] != "copper" || history[0][5] != "zinc" {
		t.Errorf("history %v", history)
	}
	// Every column of every table is described in the schema: its line, or one
	// shared with others, has a comment or says what it is by its REFERENCES.
	if n := read("SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND name NOT LIKE 'search%' AND sql NOT LIKE '%STRICT%'"); n[0][0] != "0" {
		t.Errorf("%s tables are not STRICT", n[0][0])
	}
}

func makeCatalogue(t *testing.T, dir string) {
	t.Helper()
	ctx := t.Context()
	s, err := store.CreateWith(dir, store.Options{Who: "A. Marrin"})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	src := filepath.Join(t.TempDir(), "sheet.jpg")
	if err := os.WriteFile(src, []byte("a photograph, let us say"), 0o644); err != nil {
		t.Fatal(err)
	}
	kept, err := s.Archive().Add(ctx, src)
	if err != nil {
		t.Fatal(err)
	}
	p := &catalog.Plate{Number: catalog.Number{N: 12}, Titles: []catalog.Title{{Text: "Basse mer, l’étang", Language: "fr"}}, Metal: "copper",
		Mark: catalog.Size{HeightMM: 151.5, WidthMM: 209}, Date: catalog.Date{Text: "c. 1931", EDTF: "1931~"}}
	steps := []func(tx *store.Tx) error{
		func(tx *store.Tx) error { return tx.PutPlate(p) },
		func(tx *store.Tx) error { p.Metal = "zinc"; return tx.PutPlate(p) },
		func(tx *store.Tx) error {
			h := &catalog.Holder{Name: "Town museum"}
			if err := tx.PutHolder(h); err != nil {
				return err
			}
			first, st := &catalog.State{PlateID: p.ID, N: 1}, &catalog.State{PlateID: p.ID, N: 2}
			if err := tx.PutState(first); err != nil {
				return err
			}
			if err := tx.PutState(st); err != nil {
				return err
			}
			i := &catalog.Impression{PlateID: p.ID, StateID: st.ID, Kind: catalog.KindBAT, Written: "B.A.T.", HolderID: h.ID,
				PulledAt:   time1931(),
				Provenance: []catalog.Owner{{HolderID: h.ID, How: "gift"}}}
			if err := tx.PutImpression(i); err != nil {
				return err
			}
			photo := &catalog.Photograph{ImpressionID: i.ID, SHA256: kept.SHA256, Ext: kept.Ext, Bytes: kept.Bytes, Name: "sheet.jpg"}
			if err := tx.PutPhotograph(photo); err != nil {
				return err
			}
			return tx.PutScore(&catalog.Score{ImpressionID: i.ID, PhotoID: photo.ID, InkLoss: &catalog.Value{V: 0.17, U: 0.004}})
		},
	}
	for i, step := range steps {
		if err := s.Do(ctx, []string{"Add plate", "Edit plate", "Add sheet"}[i], step); err != nil {
			t.Fatal(err)
		}
	}
}

func time1931() time.Time { return time.Date(1931, 6, 2, 9, 30, 0, 0, time.UTC) }
