package literature

import (
	"cmp"
	"fmt"
	"strings"
	"unicode"

	"pullbook/catalog"
	"pullbook/catalog/notation"
)

// Result is what a file holds.
type Result struct {
	Works []catalog.Literature
	// Refused lists the entries that were not read, a sentence each.
	Refused []string
}

// name is an author's or editor's name in its parts.
type name struct{ given, family string }

// String writes a name as printed.
func (n name) String() string { return strings.TrimSpace(n.given + " " + n.family) }

// cited is what a short title calls a person: the family name, or the only one
// there is.
func (n name) cited() string { return cmp.Or(n.family, n.given) }

// source is one entry of either format in common terms.
type source struct {
	key, kind                   string
	authors, editors            []name
	title, container, volume    string
	number, pages, place, house string
	edition, series, date, url  string
	doi, isbn, note             string
}

// trim drops the space round every text, so that one of spaces only counts as
// none.
func (s *source) trim() {
	for _, t := range []*string{&s.title, &s.container, &s.volume, &s.number, &s.pages, &s.place, &s.house, &s.edition, &s.series, &s.date, &s.url, &s.doi, &s.isbn, &s.note} {
		*t = strings.TrimSpace(*t)
	}
}

// work makes the record of a source. An entry without a title and without
// authors says nothing and is refused.
func (s source) work() (catalog.Literature, error) {
	people := s.authors
	suffix := ""
	if len(people) == 0 && len(s.editors) > 0 {
		people, suffix = s.editors, " (ed.)"
		if len(people) > 1 {
			suffix = " (eds)"
		}
	}
	if s.title == "" && len(people) == 0 {
		return catalog.Literature{}, fmt.Errorf("entry %q has neither title nor author", s.key)
	}
	l := catalog.Literature{ID: catalog.NewID(), Title: s.title, Authors: list(people) + suffix, Published: s.published(), Note: s.remarks()}
	if s.date != "" {
		l.Year = notation.ParseDate(s.date).Date
	}
	l.Short = s.short(people)
	return l, nil
}

// short is the short title entries cite by: family name and year.
func (s source) short(people []name) string {
	who := s.title
	if len(people) > 0 {
		who = people[0].cited()
		if len(people) == 2 {
			who += " and " + people[1].cited()
		} else if len(people) > 2 {
			who += " et al."
		}
	}
	return strings.TrimSpace(who + " " + year(s.date))
}

// year is the first four figures of a date.
func year(d string) string {
	run := 0
	for i, r := range d {
		if !unicode.IsDigit(r) {
			run = 0
			continue
		}
		if run++; run == 4 {
			return d[i-3 : i+1]
		}
	}
	return ""
}

// list joins names: "A. Bell, C. Dunn and E. Frost".
func list(people []name) string {
	var all []string
	for _, p := range people {
		all = append(all, p.String())
	}
	switch len(all) {
	case 0:
		return ""
	case 1:
		return all[0]
	}
	return strings.Join(all[:len(all)-1], ", ") + " and " + all[len(all)-1]
}

// published says where a work appeared.
func (s source) published() string {
	in := s.container
	if in != "" {
		if s.volume != "" {
			in += " " + s.volume
		}
		if s.number != "" {
			in += " (" + s.number + ")"
		}
	} else {
		in = s.series
		if s.volume != "" {
			in = join(in, "vol. "+s.volume)
		}
	}
	where := s.house
	if s.place != "" && where != "" {
		where = s.place + ": " + where
	} else {
		where = s.place + where
	}
	edition := s.edition
	if edition != "" && !strings.Contains(edition, "ed") {
		edition += " ed."
	}
	return join(in, edition, where, s.pages)
}

// remarks keeps what has no field of its own.
func (s source) remarks() string {
	var more []string
	for _, p := range []struct{ label, text string }{{"", s.note}, {"DOI ", s.doi}, {"ISBN ", s.isbn}, {"", s.url}} {
		if p.text != "" {
			more = append(more, p.label+p.text)
		}
	}
	return strings.Join(more, "\n")
}

func join(parts ...string) string {
	var some []string
	for _, p := range parts {
		if p != "" {
			some = append(some, p)
		}
	}
	return strings.Join(some, ", ")
}

// take adds a source to a result. Works of the same short title get letters,
// as is customary: "Bell 1990a".
func (r *Result) take(s source) {
	w, err := s.work()
	if err != nil {
		r.Refused = append(r.Refused, err.Error()+".")
		return
	}
	r.Works = append(r.Works, w)
}

// finish gives letters to works of the same short title.
func (r *Result) finish() {
	count, seen := map[string]int{}, map[string]int{}
	for _, w := range r.Works {
		count[w.Short]++
	}
	for i := range r.Works {
		s := r.Works[i].Short
		if count[s] > 1 && seen[s] < 26 {
			r.Works[i].Short = s + string(rune('a'+seen[s]))
			seen[s]++
		}
	}
}
