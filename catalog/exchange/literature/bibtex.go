package literature

import (
	"fmt"
	"io"
	"strings"
	"unicode"
)

// ReadBibTeX reads a BibTeX file: entries in braces or round brackets, @string
// abbreviations, values joined with #, the usual TeX accents. Entries that
// cannot be read are listed; reading goes on with the next @.
func ReadBibTeX(r io.Reader) (Result, error) {
	raw, err := io.ReadAll(io.LimitReader(r, maxList))
	if err != nil {
		return Result{}, fmt.Errorf("the list of literature cannot be read: %w", err)
	}
	p := bibParser{text: string(raw), short: map[string]string{}}
	for _, m := range []string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"} {
		p.short[strings.ToLower(m[:3])] = m
	}
	var out Result
	for p.next() {
		line := 1 + strings.Count(p.text[:p.at], "\n")
		kind, key, fields, err := p.entry()
		switch {
		case err != nil:
			out.Refused = append(out.Refused, fmt.Sprintf("The entry on line %d cannot be read: %v.", line, err))
		case kind == "comment" || kind == "preamble" || kind == "string":
		default:
			out.take(bibSource(kind, key, fields))
		}
	}
	if len(out.Works)+len(out.Refused) == 0 {
		return out, fmt.Errorf("the file holds no entry of BibTeX, such as @book{…}")
	}
	out.finish()
	return out, nil
}

// bibParser walks through a BibTeX file.
type bibParser struct {
	text  string
	at    int
	short map[string]string // @string abbreviations
}

// next moves to the next entry.
func (p *bibParser) next() bool {
	i := strings.IndexByte(p.text[p.at:], '@')
	if i < 0 {
		return false
	}
	p.at += i
	return true
}

func (p *bibParser) space() {
	for p.at < len(p.text) && unicode.IsSpace(rune(p.text[p.at])) {
		p.at++
	}
}

// word reads letters, figures and the signs that names of fields and keys have.
func (p *bibParser) word() string {
	start := p.at
	for p.at < len(p.text) && !strings.ContainsRune(" \t\r\n{}(),=#\"@", rune(p.text[p.at])) {
		p.at++
	}
	return p.text[start:p.at]
}

// entry reads from "@" to the end of the entry.
func (p *bibParser) entry() (kind, key string, fields map[string]string, err error) {
	p.at++ // @
	kind = strings.ToLower(p.word())
	p.space()
	if p.at >= len(p.text) || (p.text[p.at] != '{' && p.text[p.at] != '(') {
		return kind, "", nil, fmt.Errorf("a brace is missing after @%s", kind)
	}
	shut := byte('}')
	if p.text[p.at] == '(' {
		shut = ')'
	}
	if kind == "comment" || kind == "preamble" {
		if shut == '}' {
			_, err = p.braced()
		}
		return kind, "", nil, err
	}
	p.at++
	p.space()
	fields = map[string]string{}
	if kind != "string" {
		key = p.word()
		p.space()
		if !p.take(',') && !p.isNext(shut) {
			return kind, key, nil, fmt.Errorf("a comma is missing after %q", key)
		}
	}
	for {
		p.space()
		if p.take(shut) {
			break
		}
		name := strings.ToLower(p.word())
		p.space()
		if name == "" || !p.take('=') {
			return kind, key, nil, fmt.Errorf("a field is not written as name = value")
		}
		value, err := p.value()
		if err != nil {
			return kind, key, nil, err
		}
		if _, twice := fields[name]; !twice {
			fields[name] = value
		}
		p.space()
		if !p.take(',') && !p.isNext(shut) {
			return kind, key, nil, fmt.Errorf("a comma is missing after the field %s", name)
		}
	}
	if kind == "string" {
		for k, v := range fields {
			p.short[k] = v
		}
	}
	return kind, key, fields, nil
}

func (p *bibParser) isNext(c byte) bool { return p.at < len(p.text) && p.text[p.at] == c }

func (p *bibParser) take(c byte) bool {
	if p.isNext(c) {
		p.at++
		return true
	}
	return false
}

// value reads parts joined with #.
func (p *bibParser) value() (string, error) {
	var b strings.Builder
	for {
		p.space()
		switch {
		case p.isNext('{'):
			s, err := p.braced()
			if err != nil {
				return "", err
			}
			b.WriteString(s)
		case p.isNext('"'):
			s, err := p.quoted()
			if err != nil {
				return "", err
			}
			b.WriteString(s)
		default:
			w := p.word()
			if w == "" {
				return "", fmt.Errorf("a value is missing")
			}
			if full, ok := p.short[strings.ToLower(w)]; ok {
				w = full
			}
			b.WriteString(w)
		}
		p.space()
		if !p.take('#') {
			return b.String(), nil
		}
	}
}

// braced reads a text in braces that may hold others.
func (p *bibParser) braced() (string, error) {
	start, depth := p.at+1, 0
	for ; p.at < len(p.text); p.at++ {
		switch p.text[p.at] {
		case '\\':
			p.at++
		case '{':
			depth++
		case '}':
			if depth--; depth == 0 {
				p.at++
				return p.text[start : p.at-1], nil
			}
		}
	}
	p.at = min(p.at, len(p.text))
	return "", fmt.Errorf("a brace is never closed")
}

// quoted reads a text between quotation marks, which may stand within braces.
func (p *bibParser) quoted() (string, error) {
	p.at++
	start, depth := p.at, 0
	for ; p.at < len(p.text); p.at++ {
		switch p.text[p.at] {
		case '\\':
			p.at++
		case '{':
			depth++
		case '}':
			depth--
		case '"':
			if depth == 0 {
				p.at++
				return p.text[start : p.at-1], nil
			}
		}
	}
	p.at = min(p.at, len(p.text))
	return "", fmt.Errorf("a quotation mark is never closed")
}

// bibSource puts the fields of an entry in common terms.
func bibSource(kind, key string, f map[string]string) source {
	get := func(names ...string) string {
		for _, n := range names {
			if s := untex(f[n]); s != "" {
				return s
			}
		}
		return ""
	}
	title := get("title")
	if sub := get("subtitle"); sub != "" {
		title += ": " + sub
	}
	date := get("date", "year")
	if m := get("month"); m != "" && f["date"] == "" && date != "" {
		date = m + " " + date
	}
	return source{key: key, kind: kind, authors: bibNames(f["author"]), editors: bibNames(f["editor"]), title: title,
		container: get("journaltitle", "journal", "booktitle"), series: get("series"), volume: get("volume"), number: get("number", "issue"),
		pages: strings.ReplaceAll(get("pages"), "--", "–"), place: get("location", "address"), house: get("publisher", "school", "institution", "organization", "howpublished"),
		edition: get("edition"), date: date, url: get("url"), doi: get("doi"), isbn: get("isbn"), note: get("note", "annote")}
}

// bibNames reads "Last, First and First Last and {The Institution}".
func bibNames(s string) []name {
	var out []name
	for _, one := range splitAnd(s) {
		if n := bibName(strings.TrimSpace(one)); n != (name{}) {
			out = append(out, n)
		}
	}
	return out
}

// bibName reads one name; it may come to nothing, as "\relax" does.
func bibName(one string) name {
	if held(one) {
		return name{family: untex(one)}
	}
	if family, given, ok := strings.Cut(one, ","); ok {
		return name{given: untex(given), family: untex(family)}
	}
	words := strings.Fields(untex(one))
	if len(words) == 0 {
		return name{}
	}
	cut := len(words) - 1
	for cut > 1 && unicode.IsLower([]rune(words[cut-1])[0]) { // "Ludwig van Hollis"
		cut--
	}
	return name{given: strings.Join(words[:cut], " "), family: strings.Join(words[cut:], " ")}
}

// held reports whether one pair of braces holds a whole name, which is not
// parted then: "{The Institution}".
func held(one string) bool {
	depth := 0
	for i := 0; i < len(one); i++ {
		switch one[i] {
		case '\\':
			i++
		case '{':
			depth++
		case '}':
			depth--
		}
		if depth == 0 {
			return i > 0 && i == len(one)-1
		}
	}
	return false
}

// splitAnd parts names at the word "and" outside braces.
func splitAnd(s string) []string {
	var out []string
	depth, start := 0, 0
	flat := strings.Join(strings.Fields(s), " ")
	for i := 0; i < len(flat); i++ {
		switch flat[i] {
		case '\\':
			i++
			continue
		case '{':
			depth++
		case '}':
			depth--
		}
		if depth == 0 && strings.HasPrefix(flat[i:], " and ") {
			out = append(out, flat[start:i])
			start = i + 5
			i += 4
		}
	}
	return append(out, flat[start:])
}
