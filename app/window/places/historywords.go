package places

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"pullbook/app/window/words"
	"pullbook/catalog"
	"pullbook/catalog/notation"
)

// nounWords is a kind of record as one says it.
func nounWords(noun string) string {
	if s, ok := map[string]string{"plate": words.T("plate"), "state": words.T("state"), "edition": words.T("edition"), "impression": words.T("sheet"),
		"printing_day": words.T("printing day"), "photograph": words.T("photograph"), "shooting_session": words.T("shooting session"),
		"score": words.T("score"), "person": words.T("person"), "holder": words.T("holder"), "paper": words.T("paper"), "ink": words.T("ink"),
		"press": words.T("press"), "literature": words.T("work"), "exhibition": words.T("exhibition"), "plate_group": words.T("portfolio or series"),
		"imprint": words.T("imprint")}[noun]; ok {
		return s
	}
	return strings.ReplaceAll(noun, "_", " ")
}

// nameOf is what a record is called, "" when it is not there or has no name.
func (b *book) nameOf(id catalog.ID) string {
	if p := b.plates[id]; p != nil {
		return strings.TrimSpace(numberWords(p.Number) + " " + p.Title())
	}
	if s := b.states[id]; s != nil {
		return notation.Roman(s.N)
	}
	if i := b.impressions[id]; i != nil {
		return sheetName(i)
	}
	if p := b.photos[id]; p != nil {
		return p.Name
	}
	if e := b.editions[id]; e != nil {
		return e.Name
	}
	if p := b.papers[id]; p != nil {
		return p.Name
	}
	if i := b.inks[id]; i != nil {
		return i.Name
	}
	if h := b.holders[id]; h != nil {
		return h.Name
	}
	if w := b.works[id]; w != nil {
		return firstText(w.Short, w.Title)
	}
	for _, l := range [][]named{b.peopleNames(), b.groupNames()} {
		if n := nameOf(l, id); n != "" {
			return n
		}
	}
	return ""
}

// longestValue bounds what of a value is shown.
const longestValue = 160

// valueWords is a value of the history as one reads it.
func (b *book) valueWords(raw string) string {
	var v any
	d := json.NewDecoder(strings.NewReader(raw))
	d.UseNumber()
	if raw == "" || d.Decode(&v) != nil {
		return words.T("nothing")
	}
	s := b.plain(v)
	if s == "" {
		return words.T("nothing")
	}
	if r := []rune(s); len(r) > longestValue {
		s = string(r[:longestValue-1]) + "…"
	}
	return s
}

// plain is a decoded value as text, "" when there is nothing in it.
func (b *book) plain(v any) string {
	switch x := v.(type) {
	case string:
		return b.plainText(x)
	case json.Number:
		f, err := x.Float64()
		if err != nil || f == 0 {
			return ""
		}
		return strings.Replace(figureWords(f), ".", words.Point(), 1)
	case bool:
		if x {
			return words.T("yes")
		}
		return words.T("no")
	case []any:
		var l []string
		between := ", " // of figures, which belong together as those of a place do
		for _, e := range x {
			if _, figure := e.(json.Number); !figure {
				between = "; "
			}
			if s := b.plain(e); s != "" {
				l = append(l, s)
			}
		}
		return strings.Join(l, between)
	case map[string]any:
		return b.plainRecord(x)
	}
	return ""
}

// figureWords is a figure with no more places than one reads: four that count,
// and none after the point of a large one.
func figureWords(f float64) string {
	if a := math.Abs(f); a >= 1000 {
		return strconv.FormatFloat(math.Round(f), 'f', -1, 64)
	}
	short := strconv.FormatFloat(f, 'g', 4, 64)
	if v, err := strconv.ParseFloat(short, 64); err == nil {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return short
}

// plainText is a text, the name of the record it points to, or a time.
func (b *book) plainText(s string) string {
	if n := b.nameOf(catalog.ID(s)); n != "" {
		return n
	}
	if t, err := time.Parse(time.RFC3339, s); err == nil {
		if t.IsZero() {
			return ""
		}
		return words.Day(t) + " " + words.Clock(t)
	}
	return strings.Join(strings.Fields(s), " ")
}

// plainRecord is a value of several parts.
func (b *book) plainRecord(m map[string]any) string {
	num := func(k string) float64 {
		n, _ := m[k].(json.Number)
		f, _ := n.Float64()
		return f
	}
	if _, ok := m["edtf"]; ok { // a date
		return b.plain(m["text"])
	}
	if _, ok := m["height_mm"]; ok {
		if num("height_mm") == 0 && num("width_mm") == 0 {
			return ""
		}
		return sizeWords(catalog.Size{HeightMM: num("height_mm"), WidthMM: num("width_mm")})
	}
	if _, ok := m["u"]; ok {
		return fmt.Sprintf("%s ± %s", words.Num(num("value"), 4), words.Num(num("u"), 4))
	}
	if _, ok := m["suffix"]; ok {
		p, _ := m["prefix"].(string)
		s, _ := m["suffix"].(string)
		return numberWords(catalog.Number{Prefix: p, N: int(num("n")), Suffix: s})
	}
	var l []string
	for _, k := range slices.Sorted(maps.Keys(m)) {
		if s := b.plain(m[k]); s != "" {
			if _, flag := m[k].(bool); flag {
				if s = fieldWords(k); m[k] == false {
					continue
				}
			}
			l = append(l, s)
		}
	}
	return strings.Join(l, ", ")
}
