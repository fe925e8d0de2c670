package places

import (
	"fmt"
	"slices"
	"strings"

	"pullbook/app/window/words"
	"pullbook/catalog"
)

// listKind is one of the lists a catalogue keeps beside its plates: people,
// papers and the like.
type listKind struct {
	name, enter string
	rows        func(b *book) []listed
	fresh       func() any // a new record
}

// listed is one line of a list.
type listed struct {
	name, detail string
	uses         int // records that name it
	record       any // a pointer to a copy
}

// listKinds are the lists in their order; the imprint comes after them.
func listKinds() []listKind {
	return []listKind{
		{words.T("People"), words.T("Enter a person…"), listOf(func(s *catalog.Snapshot) []catalog.Person { return s.People }), func() any { return &catalog.Person{} }},
		{words.T("Holders"), words.T("Enter a holder…"), listOf(func(s *catalog.Snapshot) []catalog.Holder { return s.Holders }), func() any { return &catalog.Holder{} }},
		{words.T("Papers"), words.T("Enter a paper…"), listOf(func(s *catalog.Snapshot) []catalog.Paper { return s.Papers }), func() any { return &catalog.Paper{} }},
		{words.T("Inks"), words.T("Enter an ink…"), listOf(func(s *catalog.Snapshot) []catalog.Ink { return s.Inks }), func() any { return &catalog.Ink{} }},
		{words.T("Presses"), words.T("Enter a press…"), listOf(func(s *catalog.Snapshot) []catalog.Press { return s.Presses }), func() any { return &catalog.Press{} }},
		{words.T("Portfolios and series"), words.T("Enter a portfolio or series…"), listOf(func(s *catalog.Snapshot) []catalog.Group { return s.Groups }), func() any { return &catalog.Group{Kind: "portfolio"} }},
		{words.T("Literature"), words.T("Enter a work…"), listOf(func(s *catalog.Snapshot) []catalog.Literature { return s.Literature }), func() any { return &catalog.Literature{} }},
		{words.T("Exhibitions"), words.T("Enter an exhibition…"), listOf(func(s *catalog.Snapshot) []catalog.Exhibition { return s.Exhibitions }), func() any { return &catalog.Exhibition{} }},
	}
}

func listOf[T any](of func(*catalog.Snapshot) []T) func(b *book) []listed {
	return func(b *book) []listed {
		uses := usesIn(b.Snapshot)
		var out []listed
		for _, x := range of(b.Snapshot) {
			l := listed{record: &x}
			l.name, l.detail = recordWords(&x)
			l.uses = uses[recordID(&x)]
			out = append(out, l)
		}
		slices.SortStableFunc(out, func(x, y listed) int {
			return strings.Compare(strings.ToLower(x.name), strings.ToLower(y.name))
		})
		return out
	}
}

// recordWords is a record's name and what else tells it from others.
func recordWords(record any) (name, detail string) {
	join := func(l ...string) string {
		return strings.Join(slices.DeleteFunc(l, func(s string) bool { return s == "" }), ", ")
	}
	switch r := record.(type) {
	case *catalog.Person:
		life := ""
		if !r.Born.IsZero() || !r.Died.IsZero() {
			life = r.Born.Text + "–" + r.Died.Text
		}
		return r.Name, join(r.Roles, life)
	case *catalog.Holder:
		private := ""
		if r.Private {
			private = words.T("private")
		}
		return r.Name, join(r.Place, private)
	case *catalog.Paper:
		weight := ""
		if r.WeightGSM > 0 {
			weight = trim(r.WeightGSM) + " g/m²"
		}
		return r.Name, join(r.Maker, r.Kind, weight)
	case *catalog.Ink:
		return r.Name, join(r.Maker, r.Colour)
	case *catalog.Press:
		return r.Name, r.Note
	case *catalog.Group:
		return r.Title, join(words.T(r.Kind), r.Date.Text)
	case *catalog.Literature:
		return firstText(r.Short, r.Title), join(r.Authors, r.Title, r.Year.Text)
	case *catalog.Exhibition:
		return firstText(r.Short, r.Title), join(r.Title, r.Venue, r.Place, r.Date.Text)
	}
	return fmt.Sprintf("%T", record), ""
}

func firstText(l ...string) string {
	for _, s := range l {
		if s != "" {
			return s
		}
	}
	return ""
}

func recordID(record any) catalog.ID {
	switch r := record.(type) {
	case *catalog.Person:
		return r.ID
	case *catalog.Holder:
		return r.ID
	case *catalog.Paper:
		return r.ID
	case *catalog.Ink:
		return r.ID
	case *catalog.Press:
		return r.ID
	case *catalog.Group:
		return r.ID
	case *catalog.Literature:
		return r.ID
	case *catalog.Exhibition:
		return r.ID
	}
	return ""
}

// usesIn counts how many plates, sheets and editions name each record.
func usesIn(s *catalog.Snapshot) map[catalog.ID]int {
	n := map[catalog.ID]int{}
	use := func(ids ...catalog.ID) {
		seen := map[catalog.ID]bool{"": true}
		for _, id := range ids {
			if !seen[id] {
				seen[id] = true
				n[id]++
			}
		}
	}
	use(s.Imprint.MakerID)
	for i := range s.Plates {
		p := &s.Plates[i]
		ids := append([]catalog.ID{p.MakerID}, p.GroupIDs...)
		use(append(ids, citedIn(p.Literature, p.Exhibitions)...)...)
	}
	for i := range s.Impressions {
		x := &s.Impressions[i]
		ids := []catalog.ID{x.PaperID, x.InkID, x.PressID, x.PrinterID, x.HolderID}
		for _, o := range x.Provenance {
			ids = append(ids, o.HolderID)
		}
		use(append(ids, citedIn(x.Literature, x.Exhibitions)...)...)
	}
	for i := range s.Editions {
		e := &s.Editions[i]
		use(e.PaperID, e.Publisher, e.PrinterID)
	}
	return n
}

func citedIn(works []catalog.Citation, shows []catalog.Showing) []catalog.ID {
	var ids []catalog.ID
	for _, c := range works {
		ids = append(ids, c.WorkID)
	}
	for _, x := range shows {
		ids = append(ids, x.ExhibitionID)
	}
	return ids
}

// factsOf are the facts of a record of one of the lists, and which of its
// texts it cannot be without.
func factsOf(record any) (facts []fact, needs *string) {
	switch r := record.(type) {
	case *catalog.Person:
		return []fact{line(words.T("Name"), &r.Name), line(words.T("Sorted as"), &r.Sort), line(words.T("Part in the work"), &r.Roles),
			dated(words.T("Born"), &r.Born), dated(words.T("Died"), &r.Died), longText(words.T("Remarks"), &r.Note)}, &r.Name
	case *catalog.Holder:
		return []fact{line(words.T("Name"), &r.Name), line(words.T("Short form"), &r.Short), line(words.T("Place"), &r.Place),
			ticked("", words.T("private: printed as “private collection”"), &r.Private), longText(words.T("Remarks"), &r.Note)}, &r.Name
	case *catalog.Paper:
		wrong := words.T("Weight and distance of chain lines are figures, such as 250.")
		return []fact{line(words.T("Name"), &r.Name), line(words.T("Maker"), &r.Maker), line(words.T("Wove, laid, japan…"), &r.Kind),
			amount(words.T("Weight, g/m²"), &r.WeightGSM, 1, wrong), line(words.T("Watermark"), &r.Watermark),
			amount(words.T("Chain lines, mm apart"), &r.ChainLineMM, 1, wrong), longText(words.T("Remarks"), &r.Note)}, &r.Name
	case *catalog.Ink:
		return []fact{line(words.T("Name"), &r.Name), line(words.T("Maker"), &r.Maker), line(words.T("Colour"), &r.Colour), longText(words.T("Remarks"), &r.Note)}, &r.Name
	case *catalog.Press:
		return []fact{line(words.T("Name"), &r.Name), longText(words.T("Remarks"), &r.Note)}, &r.Name
	case *catalog.Group:
		return []fact{line(words.T("Title"), &r.Title), groupKind(&r.Kind), dated(words.T("Date"), &r.Date), longText(words.T("Remarks"), &r.Note)}, &r.Title
	case *catalog.Literature:
		return []fact{line(words.T("Short form, as cited"), &r.Short), line(words.T("Authors"), &r.Authors), line(words.T("Full title"), &r.Title),
			line(words.T("Place, publisher, series"), &r.Published), dated(words.T("Year"), &r.Year),
			ticked("", words.T("an earlier catalogue of the work: it gets a concordance"), &r.Catalogue), longText(words.T("Remarks"), &r.Note)}, &r.Short
	case *catalog.Exhibition:
		return []fact{line(words.T("Short form, as cited"), &r.Short), line(words.T("Full title"), &r.Title), line(words.T("House"), &r.Venue),
			line(words.T("Place"), &r.Place), dated(words.T("Date"), &r.Date), longText(words.T("Remarks"), &r.Note)}, &r.Short
	}
	return nil, nil
}

// groupKinds are the words the catalogue keeps for groups of plates.
var groupKinds = []string{"portfolio", "series", "set", "book"}

func groupKind(to *string) fact {
	var list []named
	for _, k := range groupKinds {
		list = append(list, named{catalog.ID(k), words.T(k)})
	}
	id := catalog.ID(*to)
	f := picked(words.T("Kind"), &id, list)
	return fact{f.name, f.field, func() error { err := f.take(); *to = string(id); return err }, f.left}
}

// imprintFacts are what the catalogue says of itself.
func imprintFacts(b *book, m *catalog.Imprint) []fact {
	percent := words.T("The limit of ink loss is a figure in per cent, such as 25.")
	return []fact{line(words.T("Title"), &m.Title), line(words.T("Second title"), &m.Subtitle), picked(words.T("Printmaker"), &m.MakerID, b.peopleNames()),
		line(words.T("Author"), &m.Author), line(words.T("Publisher"), &m.Publisher), line(words.T("Place"), &m.Place), line(words.T("Year"), &m.Year),
		longText(words.T("Introduction"), &m.Introduction), longText(words.T("Rights"), &m.Rights), longText(words.T("Colophon"), &m.Colophon),
		amount(words.T("Limit of ink loss, %"), &m.LossLimit, 100, percent),
		amount(words.T("Limit of plate tone, D"), &m.ToneLimit, 1, words.T("The limit of plate tone is a density, such as 0.10.")),
		printedTongue(words.T("Printed in"), &m.Language), count(words.T("Sheets dry, hours"), &m.DryHours, words.T("The drying time is a whole number of hours, such as 48."))}
}
