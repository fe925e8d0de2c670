package places

import (
	"encoding/csv"
	"os"
	"strings"
	"testing"
)

// TestEveryFieldHasAName sees that every field that the history can say was
// altered has a name in the words of the trade, which the test of the
// translations then asks for in German too. A score is entered and never altered.
func TestEveryFieldHasAName(t *testing.T) {
	f, err := os.Open("../../../catalog/dictionary.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	names, seen := fieldNames(), map[string]bool{}
	for _, r := range rows[1:] {
		noun, field := r[0], r[1]
		seen[field] = true
		record := noun == strings.ToLower(noun) // else a part of one
		if record && noun != "score" && field != "id" && names[field] == "" {
			t.Errorf("%s of %s has no name", field, noun)
		}
	}
	for field := range names {
		if !seen[field] {
			t.Errorf("%s has a name and is no field of the data dictionary", field)
		}
	}
}
