package places

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
	"pullbook/catalog/notation"
)

// sized is a fact in a height and a width, millimetres; both empty is not
// recorded.
func sized(name string, to *catalog.Size) fact {
	h, w := "", ""
	if !to.IsZero() {
		h, w = trim(to.HeightMM), trim(to.WidthMM)
	}
	fh, fw := newField(h, false, nil), newField(w, false, nil)
	box := look.Row(6, look.Wide(70, fh), look.Small("×"), look.Wide(70, fw), look.Small(words.T("mm, height × width")))
	return fact{name, box, func() error {
		if fh.Text == h && fw.Text == w {
			return nil // the figures shown may be rounded
		}
		s, err := readSize(fh.Text, fw.Text)
		if err == nil {
			*to = s
		}
		return err
	}, func(f func()) {
		both := func() {
			if (fh.Text == "") == (fw.Text == "") { // else the other figure is still to come
				f()
			}
		}
		fh.left(both)
		fw.left(both)
	}}
}

// oneOf is one of the words a field may hold. What the catalogue holds besides
// is offered too, so that it is not lost.
func oneOf[T ~string](name string, to *T, list ...T) fact {
	if !slices.Contains(list, *to) {
		list = append(list, *to)
	}
	var texts []string
	for _, x := range list {
		if x == "" {
			texts = append(texts, words.T("not recorded"))
		} else {
			texts = append(texts, words.T(string(x)))
		}
	}
	c := newSelect(texts, nil)
	c.SetSelectedIndex(slices.Index(list, *to))
	return fact{name, c, func() error {
		if i := c.SelectedIndex(); i >= 0 {
			*to = list[i]
		}
		return nil
	}, func(f func()) { c.OnChanged = func(string) { f() } }}
}

// printedIn are the languages the book's own words can be in, by their own
// names.
var printedIn = []named{{"", "English"}, {"de", "Deutsch"}}

// printedTongue is the language of what is printed. A tag that is not among those
// offered stays; it is for hyphenation.
func printedTongue(name string, to *string) fact {
	list := slices.Clone(printedIn)
	if nameOf(list, catalog.ID(*to)) == "" {
		list = append(list, named{catalog.ID(*to), *to})
	}
	c := newSelect(namesOf(list), nil)
	c.SetSelected(nameOf(list, catalog.ID(*to)))
	return fact{name, c, func() error {
		*to = string(idOf(list, c.Selected))
		return nil
	}, func(f func()) { c.OnChanged = func(string) { f() } }}
}

// byName is a record of one of the lists, chosen or written; enter makes a
// record of a new name, which is put among made to be kept in the same step.
func byName(name string, to *catalog.ID, list []named, made *[]any, enter func(name string) (catalog.ID, any)) fact {
	c := newComboWith(nameOf(list, *to), namesOf(list), nil)
	return fact{name, c, func() error {
		s := strings.TrimSpace(c.Text)
		switch id := idOf(list, s); {
		case s == "":
			*to = ""
		case id != "":
			*to = id
		default:
			id, record := enter(s)
			*to, *made = id, append(*made, record)
		}
		return nil
	}, func(f func()) { c.done = func(string) { f() } }}
}

// The records that a new name enters.

func newPerson(role string) func(string) (catalog.ID, any) {
	return func(n string) (catalog.ID, any) {
		p := &catalog.Person{ID: catalog.NewID(), Name: n, Roles: role}
		return p.ID, p
	}
}

func newPaper(n string) (catalog.ID, any) {
	p := &catalog.Paper{ID: catalog.NewID(), Name: n}
	return p.ID, p
}

func newInk(n string) (catalog.ID, any) {
	p := &catalog.Ink{ID: catalog.NewID(), Name: n}
	return p.ID, p
}

func newPress(n string) (catalog.ID, any) {
	p := &catalog.Press{ID: catalog.NewID(), Name: n}
	return p.ID, p
}

func newHolder(n string) (catalog.ID, any) {
	h := &catalog.Holder{ID: catalog.NewID(), Name: n}
	return h.ID, h
}

// degrees is a temperature, which may lie below nought; empty is not recorded.
func degrees(name string, to *float64, wrong string) fact {
	text := ""
	if *to != 0 {
		text = trim(*to)
	}
	e := newField(text, false, nil)
	return fact{name, e, func() error {
		s := strings.TrimSpace(e.Text)
		if s == text {
			return nil
		}
		v, err := strconv.ParseFloat(strings.NewReplacer(",", ".", "\u2212", "-").Replace(s), 64)
		if s == "" {
			v, err = 0, nil
		}
		if err != nil {
			return sentenceError(wrong)
		}
		*to = v
		return nil
	}, e.left}
}

// clockLayout is how days with a time are typed.
const clockLayout = "2006-01-02 15:04"

// clocked is a fact in a day and a time of day, local; the time may be left
// away.
func clocked(name string, to *time.Time) fact {
	text := ""
	if !to.IsZero() {
		text = to.Local().Format(clockLayout)
	}
	e := newField(text, false, nil)
	e.SetPlaceHolder("2026-03-14 15:30")
	return fact{name, e, func() error {
		s := strings.TrimSpace(e.Text)
		switch {
		case s == text: // to the minute only
			return nil
		case s == "":
			*to = time.Time{}
			return nil
		}
		for _, l := range []string{clockLayout, "2006-01-02"} {
			if t, err := time.ParseInLocation(l, s, time.Local); err == nil {
				*to = t.UTC()
				return nil
			}
		}
		return sentence("Write a day, or a day and a time, such as 2026-03-14 or 2026-03-14 15:30.")
	}, e.left}
}

// inLines is a fact of which each line of text is an item.
func inLines(name, text, hint string, take func(text string) error) fact {
	e := newField(text, true, nil)
	e.SetPlaceHolder(hint)
	return fact{name, e, func() error {
		if e.Text == text {
			return nil
		}
		return take(e.Text)
	}, e.left}
}

// parts cuts a line of a line at semicolons; parts that are missing are
// empty.
func parts(line string, n int) []string {
	l := strings.SplitN(line, ";", n)
	for i := range l {
		l[i] = strings.TrimSpace(l[i])
	}
	return append(l, make([]string, n-len(l))...)
}

// joined writes parts with semicolons between, empty ones at the end left
// away.
func joined(l ...string) string {
	for len(l) > 0 && l[len(l)-1] == "" {
		l = l[:len(l)-1]
	}
	return strings.Join(l, " ; ")
}

// techniquesOf are techniques in words, with commas between.
func techniquesOf(l []catalog.Technique) string {
	var out []string
	for _, t := range l {
		out = append(out, words.T(string(t)))
	}
	return strings.Join(out, ", ")
}

func readTechniques(s string) []catalog.Technique {
	var l []catalog.Technique
	for _, t := range strings.Split(s, ",") {
		if t = strings.TrimSpace(t); t != "" {
			l = append(l, techniqueNamed(t))
		}
	}
	return l
}

// inscriptionText writes inscriptions one to a line: text, place, medium, hand.
func inscriptionText(l []catalog.Inscription) string {
	var out []string
	for _, i := range l {
		medium := ""
		if i.Medium != "" {
			medium = words.T(i.Medium)
		}
		out = append(out, joined(strings.ReplaceAll(i.Text, "\n", " / "), i.Place, medium, i.By))
	}
	return strings.Join(out, "\n")
}

// mediums are the words the catalogue keeps for what an inscription is made
// with.
var mediums = []string{"in the plate", "pencil", "ink", "stamp"}

// readInscriptions reads such lines; usual is the medium where none is named.
func readInscriptions(s, usual string) []catalog.Inscription {
	var out []catalog.Inscription
	for _, l := range lines(s) {
		p := parts(l, 4)
		i := catalog.Inscription{Text: strings.ReplaceAll(p[0], " / ", "\n"), Place: p[1], Medium: p[2], By: p[3]}
		for _, m := range mediums {
			if strings.EqualFold(i.Medium, words.T(m)) {
				i.Medium = m
			}
		}
		if i.Medium == "" {
			i.Medium = usual
		}
		out = append(out, i)
	}
	return out
}

// cited writes where the literature speaks of a record: short form, number,
// pages, state as that work counts it, note.
func (b *book) cited(l []catalog.Citation) string {
	var out []string
	for _, c := range l {
		short, state := "", ""
		if w := b.works[c.WorkID]; w != nil {
			short = firstText(w.Short, w.Title)
		}
		if c.State > 0 {
			state = notation.Roman(c.State)
		}
		out = append(out, joined(short, c.Number, c.Pages, state, c.Note))
	}
	return strings.Join(out, "\n")
}

// readCited reads such lines; a work that is not known yet is entered.
func (b *book) readCited(s string, made *[]any) ([]catalog.Citation, error) {
	var out []catalog.Citation
	for _, l := range lines(s) {
		p := parts(l, 5)
		c := catalog.Citation{Number: p[1], Pages: p[2], Note: p[4]}
		if p[3] != "" {
			n, ok := notation.ParseRoman(p[3])
			if !ok {
				n, _ = strconv.Atoi(p[3])
			}
			if n < 1 {
				return nil, sentence("The state as another work counts it is a figure, such as II or 2.")
			}
			c.State = n
		}
		for i := range b.Literature {
			if w := &b.Literature[i]; p[0] == firstText(w.Short, w.Title) {
				c.WorkID = w.ID
			}
		}
		for _, m := range *made {
			if w, ok := m.(*catalog.Literature); ok && w.Short == p[0] {
				c.WorkID = w.ID
			}
		}
		if c.WorkID == "" && p[0] != "" {
			w := &catalog.Literature{ID: catalog.NewID(), Short: p[0]}
			c.WorkID, *made = w.ID, append(*made, w)
		}
		out = append(out, c)
	}
	return out, nil
}

// shownAt writes exhibitions: short form, number, note.
func (b *book) shownAt(l []catalog.Showing) string {
	var out []string
	for _, x := range l {
		out = append(out, joined(nameOf(b.exhibitionNames(), x.ExhibitionID), x.Number, x.Note))
	}
	return strings.Join(out, "\n")
}

// readShown reads such lines; an exhibition that is not known yet is entered.
func (b *book) readShown(s string, made *[]any) []catalog.Showing {
	var out []catalog.Showing
	for _, l := range lines(s) {
		p := parts(l, 3)
		x := catalog.Showing{ExhibitionID: idOf(b.exhibitionNames(), p[0]), Number: p[1], Note: p[2]}
		if x.ExhibitionID == "" && p[0] != "" {
			e := &catalog.Exhibition{ID: catalog.NewID(), Short: p[0]}
			x.ExhibitionID, *made = e.ID, append(*made, e)
		}
		out = append(out, x)
	}
	return out
}

// headed is facts under a heading.
type headed struct {
	head  string
	facts []fact
}

// headedForm sets groups of facts one below another.
func headedForm(nameWidth float32, groups []headed) *fyne.Container {
	col := look.Column(8)
	for i, g := range groups {
		if i > 0 {
			col.Add(look.Space(1, 4))
		}
		col.Add(look.Label(g.head))
		col.Add(factForm(nameWidth, g.facts))
	}
	return col
}

func takeGroups(groups []headed) error {
	for _, g := range groups {
		if err := takeAll(g.facts); err != nil {
			return err
		}
	}
	return nil
}
