package cells

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"
)

// The cases of RFC 4180, section 2, and the line ends that the standard
// library does not keep.
func TestReader(t *testing.T) {
	for text, want := range map[string][][]string{
		"aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n":             {{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}},
		"aaa,bbb,ccc\r\nzzz,yyy,xxx":                 {{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}},
		"\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx": {{"aaa", "b\r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}},
		"\"aaa\",\"b\"\"bb\",\"ccc\"":                {{"aaa", "b\"bb", "ccc"}},
		"a,,\n,,\n":                                  {{"a", "", ""}, {"", "", ""}},
		"\n\na\n\n":                                  {{"a"}},
		"\"\"\n":                                     {{""}},
		"\ufeffa,b\rc,d":                             {{"a", "b"}, {"c", "d"}},
		"6 x 8\", 9\n":                               {{"6 x 8\"", " 9"}},
		"\"one\ntwo\rthree\",\"\"\"quoted\"\"\"\n":   {{"one\ntwo\rthree", "\"quoted\""}},
	} {
		r := NewReader(strings.NewReader(text), ',')
		var got [][]string
		for {
			row, err := r.Read()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%q: %v", text, err)
			}
			got = append(got, row)
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%q is read as %q, want %q", text, got, want)
		}
	}
	if _, err := NewReader(strings.NewReader("a,\"b\nc"), ',').Read(); err == nil {
		t.Error("an open quotation mark is not refused")
	}
}

// Where the standard library keeps a text too, both must agree.
func TestAgreesWithStandardLibrary(t *testing.T) {
	name := filepath.Join("..", "..", "..", "..", "shared", "records", "moma_prints.csv")
	raw, err := os.ReadFile(name)
	if os.IsNotExist(err) {
		t.Skip("the museum records are not here; nothing was checked")
	}
	if err != nil {
		t.Fatal(err)
	}
	want, err := csv.NewReader(bytes.NewReader(raw)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	r := NewReader(bytes.NewReader(raw), ',')
	kept := 0
	for i := range want {
		row, err := r.Read()
		if err != nil {
			t.Fatalf("row %d: %v", i, err)
		}
		for j := range row {
			if strings.Contains(row[j], "\r\n") {
				kept++
			}
			row[j] = strings.ReplaceAll(row[j], "\r\n", "\n")
		}
		if !reflect.DeepEqual(row, want[i]) {
			t.Fatalf("row %d is %q, want %q", i, row, want[i])
		}
	}
	if _, err := r.Read(); !errors.Is(err, io.EOF) {
		t.Fatal("there are rows left over")
	}
	t.Logf("%d rows agree; %d line ends kept as they were", len(want), kept)
}

// What a spreadsheet program would reckon or run is made harmless (OWASP, "CSV
// Injection", names the six beginnings); everything else stays as it is.
func TestGuard(t *testing.T) {
	for _, s := range []string{"=1+1", "+1", "-2+3", "@SUM(A1)", "\t=1", "\r=1", "-", "-5"} {
		if g := Guard(s); g != "'"+s {
			t.Errorf("%q is written as %q", s, g)
		}
	}
	for _, s := range []string{"", "II/IV", "5-7", "a=b", " =1", "1+1", "c. 1911", "№ 3", "—"} {
		if g := Guard(s); g != s {
			t.Errorf("%q is written as %q, though no program runs it", s, g)
		}
	}
	if g := Guard("'tis"); g != "''tis" {
		t.Errorf("an apostrophe of one's own is written as %q and would be taken off", g)
	}
}

func FuzzRoundTrip(f *testing.F) {
	f.Add("a", "b\r\nc", "=1+1")
	f.Add("-2+3", "+1", "@SUM(A1)")
	f.Add("", "\"", "'")
	f.Add(" ", "\ufeff", "\t")
	f.Fuzz(func(t *testing.T, a, b, c string) {
		for _, s := range []string{a, b, c} {
			g := Guard(s)
			if Unguard(g) != s {
				t.Fatalf("%q comes back as %q", s, Unguard(g))
			}
			if g != "" && strings.IndexByte("=+-@\t\r", g[0]) >= 0 {
				t.Fatalf("%q is not harmless", g)
			}
		}
		var buf bytes.Buffer
		w := NewWriter(&buf)
		rows := [][]string{{a, b, c}, {c}, {b, a}}
		for _, row := range rows {
			if err := w.Write(row); err != nil {
				t.Fatal(err)
			}
		}
		if err := w.Flush(); err != nil {
			t.Fatal(err)
		}
		r := NewReader(&buf, ',')
		for _, row := range rows {
			got, err := r.Read()
			if err != nil || !reflect.DeepEqual(got, row) {
				t.Fatalf("%q comes back as %q, %v", row, got, err)
			}
		}
	})
}

func TestOpen(t *testing.T) {
	dir := t.TempDir()
	write := func(name string, b []byte) string {
		p := filepath.Join(dir, name)
		if err := os.WriteFile(p, b, 0o600); err != nil {
			t.Fatal(err)
		}
		return p
	}
	var wide []byte
	for _, u := range utf16.Encode([]rune("\ufeffTitel\tJahr\r\nMühle\t1911\r\n")) {
		wide = append(wide, byte(u), byte(u>>8))
	}
	book := excelize.NewFile()
	for cell, v := range map[string]any{"A1": "Titel", "B1": "Jahr", "A2": "Mühle", "B2": 1911} {
		if err := book.SetCellValue("Sheet1", cell, v); err != nil {
			t.Fatal(err)
		}
	}
	if err := book.SaveAs(filepath.Join(dir, "d.xlsx")); err != nil {
		t.Fatal(err)
	}
	for _, p := range []string{
		write("a.csv", []byte("Titel;Jahr\nMühle;1911\n")),
		write("b.csv", []byte("Titel,Jahr\nM\xfchle,1911\n")),
		write("c.txt", wide), filepath.Join(dir, "d.xlsx"),
	} {
		sheets, err := Open(p)
		if err != nil {
			t.Errorf("%s: %v", p, err)
			continue
		}
		s := sheets[0]
		if !reflect.DeepEqual(s.Heading, []string{"Titel", "Jahr"}) || !reflect.DeepEqual(s.Rows, [][]string{{"Mühle", "1911"}}) || s.At[0] != 2 {
			t.Errorf("%s is read as %+v", filepath.Base(p), s)
		}
	}
	for _, p := range []string{filepath.Join(dir, "none.csv"), dir, write("e.pdf", []byte("x")), write("f.csv", nil), write("g.xlsx", []byte("PK\x03\x04"))} {
		if _, err := Open(p); err == nil {
			t.Errorf("%s is not refused", p)
		}
	}
}
