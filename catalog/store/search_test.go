package store

import (
	"slices"
	"testing"

	"pullbook/catalog"
)

// A small catalogue to look things up in.
func searchable(t *testing.T) (*Store, map[string]catalog.ID) {
	s := newStore(t)
	ids := map[string]catalog.ID{}
	do(t, s, "fill", func(tx *Tx) error {
		add := func(title, remarks string, n int, year string, techniques ...catalog.Technique) {
			p := &catalog.Plate{Number: catalog.Number{N: n}, Titles: []catalog.Title{{Text: title}}, Remarks: remarks,
				Techniques: techniques, Date: catalog.Date{Text: year, EDTF: year}}
			if err := tx.PutPlate(p); err != nil {
				t.Fatal(err)
			}
			ids[title] = p.ID
		}
		add("Étang à marée basse", "The estuary at low water", 3, "1931", catalog.Etching)
		add("Estuary, evening", "After the rain", 1, "1929", catalog.Drypoint, catalog.Etching)
		add("Mudlark", "100% of the edition; it's a \"find\" OR NOT", 2, "1940", catalog.Drypoint)
		add("Straße am Wehr", "ink_well", 10, "", catalog.Engraving)
		h := &catalog.Holder{Name: "Museum of the Weir", Place: "Łódka"}
		if err := tx.PutHolder(h); err != nil {
			return err
		}
		ids["holder"] = h.ID
		i := &catalog.Impression{PlateID: ids["Mudlark"], HolderID: h.ID, Condition: "foxed", Kind: catalog.KindTrial, Pull: 2}
		ids["sheet"] = ""
		err := tx.PutImpression(i)
		ids["sheet"] = i.ID
		return err
	})
	return s, ids
}

// Both ways of searching, with the index and without, find the same for whole
// words and beginnings of words.
func TestSearch(t *testing.T) {
	s, ids := searchable(t)
	if !s.fts {
		t.Fatal("built without full-text search: set the build tag sqlite_fts5")
	}
	for _, c := range []struct {
		typed string
		want  []string
	}{
		{"estuary", []string{"Étang à marée basse", "Estuary, evening"}},
		{"ESTU", []string{"Étang à marée basse", "Estuary, evening"}},
		{"etang", []string{"Étang à marée basse"}},
		{"étang maree", []string{"Étang à marée basse"}},
		{"marée", []string{"Étang à marée basse"}},
		{"eve est", []string{"Estuary, evening"}},
		{"drypoint", []string{"Estuary, evening", "Mudlark"}},
		{`"find" OR`, []string{"Mudlark"}},
		{"100%", []string{"Mudlark"}},
		{"it's", []string{"Mudlark"}},
		{"strasse", nil},
		{"straße", []string{"Straße am Wehr"}},
		{"ink_well", []string{"Straße am Wehr"}},
		{"foxed", []string{"sheet"}},
		{"weir", []string{"holder"}},
		{"nowhere", nil},
		{"   ", nil},
		{`"*`, nil},
		{"NEAR(", nil},
		{"1931", []string{"Étang à marée basse"}},
	} {
		for _, fts := range []bool{true, false} {
			r := Reader{q: s.read, fts: fts}
			hits, err := r.Search(ctx, c.typed, 0)
			if err != nil {
				t.Errorf("%q (index %v): %v", c.typed, fts, err)
				continue
			}
			var got, want []catalog.ID
			for _, h := range hits {
				got = append(got, h.ID)
			}
			for _, w := range c.want {
				want = append(want, ids[w])
			}
			slices.Sort(got)
			slices.Sort(want)
			if !slices.Equal(got, want) {
				t.Errorf("%q (index %v): %v", c.typed, fts, hits)
			}
		}
	}
	hits, err := s.Search(ctx, "estuary", 1)
	if err != nil || len(hits) != 1 || hits[0].ID != ids["Estuary, evening"] || hits[0].Noun != "plate" || hits[0].PlateID != hits[0].ID {
		t.Errorf("a find in the title does not come first: %+v, %v", hits, err)
	}
}

func TestFiltersCombine(t *testing.T) {
	s, ids := searchable(t)
	for i, c := range []struct {
		f    PlateFilter
		want []string
	}{
		{PlateFilter{}, []string{"Estuary, evening", "Mudlark", "Étang à marée basse", "Straße am Wehr"}},
		{PlateFilter{Order: "title"}, []string{"Estuary, evening", "Mudlark", "Straße am Wehr", "Étang à marée basse"}},
		{PlateFilter{Order: "date"}, []string{"Estuary, evening", "Étang à marée basse", "Mudlark", "Straße am Wehr"}},
		{PlateFilter{Technique: catalog.Etching}, []string{"Estuary, evening", "Étang à marée basse"}},
		{PlateFilter{Technique: catalog.Etching, From: 1930}, []string{"Étang à marée basse"}},
		{PlateFilter{Technique: catalog.Drypoint, Text: "est"}, []string{"Estuary, evening"}},
		{PlateFilter{From: 1929, To: 1931}, []string{"Estuary, evening", "Étang à marée basse"}},
		{PlateFilter{HolderID: ids["holder"]}, []string{"Mudlark"}},
		{PlateFilter{Text: "foxed"}, []string{"Mudlark"}}, // found in one of its impressions
		{PlateFilter{Text: "weir"}, []string{"Mudlark"}},  // who has a sheet of it
		{PlateFilter{Limit: 2, Offset: 1}, []string{"Mudlark", "Étang à marée basse"}},
		{PlateFilter{Fate: catalog.FateLost}, nil},
	} {
		rows, err := s.Plates(ctx, c.f)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, r := range rows {
			got = append(got, r.Title)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("filter %d: %v, want %v", i, got, c.want)
		}
	}
	for i, c := range []struct {
		f    ImpressionFilter
		want int
	}{
		{ImpressionFilter{}, 1}, {ImpressionFilter{Kind: catalog.KindTrial, HolderID: ids["holder"], Text: "fox"}, 1},
		{ImpressionFilter{Kind: catalog.KindNumbered}, 0}, {ImpressionFilter{NoPhotos: true, Undecided: true, Order: "plate"}, 1},
		{ImpressionFilter{Text: "museum"}, 1}, {ImpressionFilter{Text: "\"*"}, 0},
		{ImpressionFilter{WithPhotos: true}, 0}, {ImpressionFilter{Text: "fox", PlateID: ids["Estuary, evening"]}, 0},
		{ImpressionFilter{Order: "newest", Limit: 5, Offset: 1}, 0},
	} {
		sheets, err := s.Impressions(ctx, c.f)
		if err != nil || len(sheets) != c.want {
			t.Errorf("filter %d: %d sheets, %v", i, len(sheets), err)
		}
		if n, err := s.CountImpressions(ctx, c.f); c.f.Offset == 0 && (err != nil || n != c.want) {
			t.Errorf("filter %d counts %d, %v", i, n, err)
		}
	}
}

// Plates are listed in the order of catalog.CompareNumbers.
func TestListOrderIsNumberOrder(t *testing.T) {
	s := newStore(t)
	do(t, s, "fill", func(tx *Tx) error {
		for _, n := range []catalog.Number{{N: 2}, {}, {Prefix: "R", N: 10}, {N: 31, Suffix: "b"}, {Prefix: "R", N: 2}, {N: 31},
			{Prefix: "D", N: 1}, {N: 31, Suffix: "aa"}, {N: 10}, {N: 31, Suffix: "a"}} {
			if err := tx.PutPlate(&catalog.Plate{Number: n}); err != nil {
				return err
			}
		}
		return nil
	})
	rows, err := s.Plates(ctx, PlateFilter{})
	if err != nil || len(rows) != 10 {
		t.Fatal(len(rows), err)
	}
	if !slices.IsSortedFunc(rows, func(a, b PlateRow) int { return catalog.CompareNumbers(a.Number, b.Number) }) {
		t.Errorf("order %v", rows)
	}
	snap, err := s.Snapshot(ctx)
	if err != nil {
		t.Fatal(err)
	}
	for i := range rows {
		if snap.Plates[i].ID != rows[i].ID {
			t.Fatalf("the snapshot has another order at %d", i)
		}
	}
}

// What is typed is never taken for a query: no text gives an error.
func FuzzSearch(f *testing.F) {
	for _, s := range []string{"a", `"`, "a*", "NEAR(a b)", "-a", "a:b", "%", "_", `\`, "Ünï", "\x00", "a AND", "'"} {
		f.Add(s)
	}
	s, err := Create(f.TempDir() + "/f.pullbook")
	if err != nil {
		f.Fatal(err)
	}
	defer s.Close()
	f.Fuzz(func(t *testing.T, typed string) {
		for _, fts := range []bool{s.fts, false} {
			r := Reader{q: s.read, fts: fts}
			if _, err := r.Search(ctx, typed, 5); err != nil {
				t.Errorf("%q: %v", typed, err)
			}
			if _, err := r.Plates(ctx, PlateFilter{Text: typed}); err != nil {
				t.Errorf("%q: %v", typed, err)
			}
		}
	})
}
