package literature

import (
	"encoding/json"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"pullbook/catalog"
)

// FuzzReadBibTeX reads any text: it is refused, or every entry became a work
// that can be cited or stands among the refused with a sentence.
func FuzzReadBibTeX(f *testing.F) {
	for _, s := range []string{"@book{a, title={b}}", "@a(b,c=\"d\"#e)", "@string{x=1}@b{c,d=x}", "@book{a, author={\\'{e} and \\u}}", "@{", "@a{b,c={\\"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		r, err := ReadBibTeX(strings.NewReader(s))
		if err != nil {
			return
		}
		sound(t, r)
		if n := strings.Count(s, "@"); len(r.Works)+len(r.Refused) > n {
			t.Fatalf("%d entries of %d signs @", len(r.Works)+len(r.Refused), n)
		}
	})
}

// FuzzReadCSL reads any text as CSL-JSON, with the same demands, and as many
// results as there are items.
func FuzzReadCSL(f *testing.F) {
	for _, s := range []string{`[{"id":1,"title":"Ebb","issued":{"date-parts":[[1911,3]]}}]`, `[{"id":"x","author":[{"literal":"S"}],"issued":{"literal":"before 1923","circa":true}},7]`, `[]`, `{}`, `[{"title":7}]`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		r, err := ReadCSL(strings.NewReader(s))
		if err != nil {
			return
		}
		sound(t, r)
		var items []json.RawMessage
		if err := json.NewDecoder(strings.NewReader(s)).Decode(&items); err != nil || len(items) != len(r.Works)+len(r.Refused) {
			t.Fatalf("%d items, %d works, %d refused, %v", len(items), len(r.Works), len(r.Refused), err)
		}
	})
}

// sound tests what holds of every list that was read.
func sound(t *testing.T, r Result) {
	t.Helper()
	ids := map[catalog.ID]bool{}
	for _, w := range r.Works {
		if w.ID == "" || ids[w.ID] || w.Short == "" || w.Title == "" && w.Authors == "" {
			t.Fatalf("a work that cannot be cited: %+v", w)
		}
		ids[w.ID] = true
	}
	for _, s := range r.Refused {
		if !strings.HasSuffix(s, ".") {
			t.Fatalf("no sentence: %q", s)
		}
	}
}

// FuzzTitles writes a title, a name and a note as BibTeX and as CSL-JSON: read
// back they are the same texts.
func FuzzTitles(f *testing.F) {
	f.Add("Tides, ebb & flood", "van der Meer", "a \"note\"")
	f.Add("1 = 2 # {x}", "Hollis and Co", "#")
	f.Add("Straße – état", "Ó Briain", "50 % off_hand")
	f.Fuzz(func(t *testing.T, title, family, note string) {
		for _, s := range []string{title, family, note} {
			if !plainText(s) {
				return
			}
		}
		if title == "" || family == "" {
			return
		}
		bib := "@book{key,\n title = {" + tex(title) + "},\n author = {{" + tex(family) + "}},\n note = {" + tex(note) + "}\n}\n"
		item, err := json.Marshal([]map[string]any{{"id": "key", "type": "book", "title": title, "author": []map[string]string{{"literal": family}}, "note": note}})
		if err != nil {
			t.Fatal(err)
		}
		for form, read := range map[string]func() (Result, error){
			"BibTeX":   func() (Result, error) { return ReadBibTeX(strings.NewReader(bib)) },
			"CSL-JSON": func() (Result, error) { return ReadCSL(strings.NewReader(string(item))) },
		} {
			r, err := read()
			if err != nil || len(r.Works) != 1 || len(r.Refused) > 0 {
				t.Fatalf("%s: %d works, refused %q, %v", form, len(r.Works), r.Refused, err)
			}
			if w := r.Works[0]; w.Title != title || w.Authors != family || w.Note != note {
				t.Fatalf("%s: %q by %q, %q came back as %+v", form, title, family, note, w)
			}
		}
	})
}

// plainText reports whether a text has one way only of being written in TeX:
// spaces single, letters composed, none of the signs that TeX sets otherwise.
func plainText(s string) bool {
	if !utf8.ValidString(s) || s != strings.Join(strings.Fields(s), " ") {
		return false
	}
	for _, r := range s {
		if r < 0x20 || r == 0x7f || r > 0x24f && r != '–' || unicode.Is(unicode.Mn, r) || strings.ContainsRune("-`'~\\^", r) {
			return false
		}
	}
	return true
}

// tex writes a plain text as TeX source.
func tex(s string) string {
	return strings.NewReplacer("{", `\{`, "}", `\}`, "&", `\&`, "%", `\%`, "#", `\#`, "_", `\_`, "$", `\$`).Replace(s)
}
