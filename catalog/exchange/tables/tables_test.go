package tables

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"pullbook/catalog"
	"pullbook/catalog/exchange/cells"
)

// oddTexts are what tables most easily spoil.
var oddTexts = []string{"", "plain", "=1+1", "+44", "-0", "@x", "'quoted", "''", "\ttab", "\rreturn", "a\r\nb", "a\nb", "a\rb", "\"", "a\"b,c;d",
	" edged ", "\\e", "\\n", "\\", "\ufeffmark", "Käfer – état", "1/2", "10/Jan", "0012", "TRUE", "\x00", "\xff\xfe", "\n", "\u2028"}

// fill puts a value into every field of a record, lists with 0 to 3 items.
func fill(v reflect.Value, r *rand.Rand) {
	if v.Type() == timeType {
		if r.IntN(3) > 0 {
			v.Set(reflect.ValueOf(time.Unix(r.Int64N(4e9)-2e9, r.Int64N(1e9)).UTC()))
		}
		return
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString(oddTexts[r.IntN(len(oddTexts))])
	case reflect.Int, reflect.Int64:
		v.SetInt(int64(r.IntN(5) - 1))
	case reflect.Float64:
		v.SetFloat([]float64{0, 1, 152.4, 0.1, -0.25, 1e-17, 1.0 / 3, 5e300}[r.IntN(8)])
	case reflect.Bool:
		v.SetBool(r.IntN(2) == 0)
	case reflect.Pointer:
		if r.IntN(2) == 0 {
			v.Set(reflect.New(v.Type().Elem()))
			fill(v.Elem(), r)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i), r)
		}
	case reflect.Array:
		for i := range v.Len() {
			fill(v.Index(i), r)
		}
	case reflect.Slice:
		n := r.IntN(4)
		for range n {
			item := reflect.New(v.Type().Elem()).Elem()
			fill(item, r)
			v.Set(reflect.Append(v, item))
		}
	default:
		panic(v.Kind())
	}
}

// odd makes a snapshot with every field in use.
func odd(seed uint64) *catalog.Snapshot {
	r := rand.New(rand.NewPCG(seed, 1))
	var s catalog.Snapshot
	v := reflect.ValueOf(&s).Elem()
	fill(v, r)
	// Records are told apart by their identifiers.
	for _, n := range nouns {
		for i, rec := range n.records(v) {
			rec.FieldByName("ID").SetString(fmt.Sprintf("%s%d", n.name, i))
		}
	}
	return &s
}

// Write followed by Read is the same catalogue, whatever texts it holds.
func TestRoundTrip(t *testing.T) {
	for seed := range uint64(40) {
		want := odd(seed)
		dir := t.TempDir()
		if err := Write(context.Background(), dir, want, nil); err != nil {
			t.Fatal(err)
		}
		got, err := Read(context.Background(), dir)
		if err != nil {
			t.Fatal(err)
		}
		for i := range reflect.ValueOf(*want).NumField() {
			a, b := reflect.ValueOf(*want).Field(i).Interface(), reflect.ValueOf(*got).Field(i).Interface()
			if !reflect.DeepEqual(a, b) {
				t.Fatalf("seed %d: %s came back as\n%+v\nwant\n%+v", seed, reflect.TypeOf(*want).Field(i).Name, b, a)
			}
		}
	}
}

// No cell of an export may begin with a sign that makes a spreadsheet program
// reckon (OWASP, "CSV Injection"); plain numbers may be negative.
func TestNoFormulas(t *testing.T) {
	dir := t.TempDir()
	if err := Write(context.Background(), dir, odd(7), nil); err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, tb := range tables {
		f, err := os.Open(filepath.Join(dir, tb.name+".csv"))
		if err != nil {
			t.Fatal(err)
		}
		r := cells.NewReader(f, ',')
		for {
			row, err := r.Read()
			if err != nil {
				break
			}
			for _, c := range row {
				n++
				if c != "" && strings.ContainsAny(c[:1], "=+-@\t\r") && strings.Trim(c, "-+.e0123456789 ") != "" {
					t.Errorf("%s holds the cell %q", tb.name, c)
				}
			}
		}
		f.Close()
	}
	if n < 500 {
		t.Errorf("only %d cells were looked at", n)
	}
}

// Every column is explained, by the words of the catalogue's own dictionary.
func TestDictionaryIsComplete(t *testing.T) {
	columns := 0
	for _, tb := range tables {
		columns += len(tb.heading())
	}
	if len(Dictionary()) != columns {
		t.Errorf("%d lines for %d columns", len(Dictionary()), columns)
	}
	seen := map[string]Entry{}
	for _, e := range Dictionary() {
		if e.Meaning == "" || e.Kind == "" || strings.HasSuffix(e.Meaning, ": ") {
			t.Errorf("%s, column %s, is not explained: %+v", e.Table, e.Column, e)
		}
		seen[e.Table+" "+e.Column] = e
	}
	if e := seen["plate mark.height_mm"]; e.Unit != "mm" || e.Kind != "number" || e.Standard == "" {
		t.Errorf("height of the plate mark: %+v", e)
	}
	if e := seen["score plate_tone.u"]; strings.Contains(e.Unit, "unit") || e.Unit == "" {
		t.Errorf("uncertainty of plate tone: %+v", e)
	}
}

// A folder with anything wrong in it gives nothing, and says what is wrong.
func TestReadRefuses(t *testing.T) {
	const plate = "id,number.n\r\np1,1\r\n"
	for name, c := range map[string]struct {
		files map[string]string
		want  string
	}{
		"empty folder":    {nil, "none of the tables"},
		"unknown column":  {map[string]string{"plate": "id,colour\r\np1,red\r\n"}, `column "colour"`},
		"no identifier":   {map[string]string{"plate": "id,number.n\r\n,1\r\n"}, "line 2, has no identifier"},
		"twice":           {map[string]string{"plate": plate + "p1,2\r\n"}, "second time"},
		"not a number":    {map[string]string{"plate": "id,number.n\r\np1,one\r\n"}, `"one" is no whole number`},
		"nobody's list":   {map[string]string{"plate": plate, "plate_titles": "of,order,text\r\np2,1,Weir\r\n"}, "does not have"},
		"short row":       {map[string]string{"plate": "id,number.n\r\np1\r\n"}, "1 cells under 2 headings"},
		"open quotation":  {map[string]string{"plate": "id,number.n\r\n\"p1,1\r\n"}, "never closed"},
		"bad time":        {map[string]string{"impression": "id,pulled_at\r\ni1,yesterday\r\n"}, "is no time"},
		"list without of": {map[string]string{"plate": plate, "plate_titles": "order,text\r\n1,Weir\r\n"}, "belong to nothing"},
	} {
		dir := t.TempDir()
		for f, text := range c.files {
			if err := os.WriteFile(filepath.Join(dir, f+".csv"), []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		snap, err := Read(context.Background(), dir)
		if err == nil || snap != nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want an error with %q", name, err, c.want)
		}
	}
}

func TestWriteStopsWhenAsked(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	dir := t.TempDir()
	if err := Write(ctx, dir, odd(3), nil); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
	left, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

func FuzzTexts(f *testing.F) {
	for _, s := range oddTexts {
		f.Add(s, s)
	}
	f.Fuzz(func(t *testing.T, a, b string) {
		want := &catalog.Snapshot{Plates: []catalog.Plate{{ID: "p", Subjects: []string{a, b}, Remarks: a, Titles: []catalog.Title{{Text: b}}}}}
		dir := t.TempDir()
		if err := Write(context.Background(), dir, want, nil); err != nil {
			t.Fatal(err)
		}
		got, err := Read(context.Background(), dir)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(got.Plates, want.Plates) {
			t.Fatalf("%q and %q came back as %+v", a, b, got.Plates)
		}
	})
}
