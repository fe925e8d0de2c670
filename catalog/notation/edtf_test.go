package notation

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"testing"
)

// table reads a CSV file into one map a row, keyed by the header. Files of
// ../shared are not part of the project: where they are missing the test is
// skipped and says so.
func table(t testing.TB, path ...string) []map[string]string {
	t.Helper()
	name := filepath.Join(path...)
	f, err := os.Open(name)
	if os.IsNotExist(err) {
		t.Skipf("the table %s is not here; nothing was checked", filepath.Base(name))
	}
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		m := make(map[string]string, len(row))
		for i, v := range row {
			m[rows[0][i]] = v
		}
		out = append(out, m)
	}
	if len(out) == 0 {
		t.Fatalf("%s holds no rows", name)
	}
	return out
}

// checks and records are where the tables are, seen from this package.
var (
	checks  = filepath.Join("..", "..", "testdata")
	records = filepath.Join("..", "..", "..", "shared", "records")
)

// The 140 strings of edtf.csv come from the Library of Congress specification
// of 4 February 2019 and from the tests of two public libraries; see
// testdata/SOURCES.md.
func TestEDTFTable(t *testing.T) {
	valid, invalid := 0, 0
	for _, row := range table(t, checks, "edtf.csv") {
		s := row["string"]
		e, err := ParseEDTF(s)
		if row["valid"] != "yes" {
			invalid++
			if err == nil {
				t.Errorf("%q accepted; it is not valid: %s", s, row["meaning_or_reason"])
			}
			continue
		}
		valid++
		if err != nil {
			t.Errorf("%q refused: %v", s, err)
			continue
		}
		if e.String() != s {
			t.Errorf("%q is written back as %q", s, e.String())
		}
		if got := string(rune('0' + e.Level())); got != row["min_level"] {
			t.Errorf("%q: level %s, want %s", s, got, row["min_level"])
		}
		lo, hi := e.Span()
		if want := row["earliest_day"]; want != "" && lo.String() != want {
			t.Errorf("%q: earliest %s, want %s", s, lo, want)
		}
		if want := row["latest_day"]; want != "" && hi.String() != want {
			t.Errorf("%q: latest %s, want %s", s, hi, want)
		}
	}
	if valid != 97 || invalid != 43 {
		t.Errorf("%d valid and %d invalid rows, want 97 and 43", valid, invalid)
	}
}

// Beyond the table: rules of the format that follow from its text.
func TestEDTFRefuses(t *testing.T) {
	for _, s := range []string{
		"/", "../..", "1984/2004/", "[]", "{}", "[1984", "1984]", "[1984,]", "[..1984,..1985]", "[1985..,1990]",
		"2004-02-3X", "2004-1X-3X-01", "-0000-01", "Y1984", "Y01984", "1984S0", "1984E2", "?1984?", "2001-21-03",
		"1985-04-12T24:00:00", "1985-04T10:00:00", "1985-04-XXT10:00:00", "XXXX-02-30", "1984\n", "Y9E99", "٢٠٠١",
	} {
		if e, err := ParseEDTF(s); err == nil {
			t.Errorf("%q accepted as %q", s, e)
		}
	}
}

func TestEDTFSpans(t *testing.T) {
	for s, want := range map[string][2]string{
		"15XX-02-29":           {"1504-02-29", "1596-02-29"}, // leap years only
		"-1XXX":                {"-1999-01-01", "-1000-12-31"},
		"1985-04-12T23:20:30Z": {"1985-04-12", "1985-04-12"},
		"Y-17E7":               {"-170000000-01-01", "-170000000-12-31"},
		"Y3388E2S3":            {"338000-01-01", "338999-12-31"}, // the range the specification gives
		"Y171010000S3":         {"171000000-01-01", "171999999-12-31"},
		"2001-28":              {"2001-12-01", "2002-02-28"},
		"2001-34":              {"2001-04-01", "2001-06-30"},
		"1984-XX-31":           {"1984-01-31", "1984-12-31"},
		"[1667,..1672]":        {"", ""},
	} {
		e, err := ParseEDTF(s)
		if want[0] == "" {
			if err == nil {
				t.Errorf("%q accepted", s)
			}
			continue
		}
		if err != nil {
			t.Errorf("%q: %v", s, err)
			continue
		}
		if lo, hi := e.Span(); lo.String() != want[0] || hi.String() != want[1] {
			t.Errorf("%q spans %s to %s, want %s to %s", s, lo, hi, want[0], want[1])
		}
	}
}

func FuzzEDTF(f *testing.F) {
	for _, s := range []string{"1985-04-12", "156X-12-25", "Y-17E7", "[1667,1668,1670..1672]", "?2004-06-~11",
		"2004-06-XX/2004-07-03", "../1985", "1950S2", "Y171010000S3", "1985-04-12T23:20:30+04:30", "{..1984}", "1984-1X"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		e, err := ParseEDTF(s)
		if err != nil {
			return
		}
		if e.String() != s {
			t.Fatalf("%q is written back as %q", s, e.String())
		}
		again, err := ParseEDTF(e.String())
		if err != nil || again.String() != e.String() {
			t.Fatalf("%q does not survive: %q, %v", s, again, err)
		}
		lo, hi := e.Span()
		if lo.Kind == BoundKnown && hi.Kind == BoundKnown && hi.Day.Before(lo.Day) {
			t.Fatalf("%q spans %s to %s", s, lo, hi)
		}
		DateWords(s)
	})
}
