package places

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
	"pullbook/catalog/notation"
)

// fact is one thing recorded of something, with the field it is written in.
type fact struct {
	name  string
	field fyne.CanvasObject
	// take reads the field into the record.
	take func() error
	// left has f called whenever the field was written in and left.
	left func(f func())
}

// line is a fact in a line of text.
func line(name string, to *string) fact { return textFact(name, to, false) }

// lines of text.
func longText(name string, to *string) fact { return textFact(name, to, true) }

func textFact(name string, to *string, many bool) fact {
	e := newField(*to, many, nil)
	return fact{name, e, func() error { *to = strings.TrimSpace(e.Text); return nil }, e.left}
}

func (e *field) left(f func()) { e.done = func(string) { f() } }

// dated is a fact in the words of a date.
func dated(name string, to *catalog.Date) fact {
	e := newField(to.Text, false, nil)
	return fact{name, e, func() error {
		if s := strings.TrimSpace(e.Text); s != to.Text {
			*to = notation.ParseDate(s).Date
		}
		return nil
	}, e.left}
}

// amount is a fact in a figure; it is shown times scale. Empty is not
// recorded.
func amount(name string, to *float64, scale float64, wrong string) fact {
	text := ""
	if *to != 0 {
		text = strings.Replace(strconv.FormatFloat(*to*scale, 'f', -1, 64), ".", words.Point(), 1)
	}
	e := newField(text, false, nil)
	return fact{name, e, func() error {
		s := strings.TrimSpace(e.Text)
		if s == "" {
			*to = 0
			return nil
		}
		v, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
		if err != nil || v < 0 {
			return sentenceError(wrong)
		}
		*to = v / scale
		return nil
	}, e.left}
}

// count is a fact in a whole number.
func count(name string, to *int, wrong string) fact {
	v := float64(*to)
	f := amount(name, &v, 1, wrong)
	return fact{name, f.field, func() error {
		if err := f.take(); err != nil {
			return err
		}
		if v != float64(int(v)) {
			return sentenceError(wrong)
		}
		*to = int(v)
		return nil
	}, f.left}
}

// ticked is a fact that holds or not.
func ticked(name, say string, to *bool) fact {
	t := newTick(say, *to, nil)
	return fact{name, t, func() error { *to = t.Checked; return nil }, func(f func()) { t.OnChanged = func(bool) { f() } }}
}

// picked is one of some records, by name, or none.
func picked(name string, to *catalog.ID, list []named) fact {
	texts, now := []string{words.T("none")}, 0
	for i, n := range list {
		texts = append(texts, n.name)
		if n.id == *to {
			now = i + 1
		}
	}
	c := newSelect(texts, nil)
	c.SetSelectedIndex(now)
	return fact{name, c, func() error {
		*to = ""
		if i := c.SelectedIndex(); i > 0 {
			*to = list[i-1].id
		}
		return nil
	}, func(f func()) { c.OnChanged = func(string) { f() } }}
}

// named is a record as one chooses it.
type named struct {
	id   catalog.ID
	name string
}

func namesOf(list []named) []string {
	var l []string
	for _, n := range list {
		l = append(l, n.name)
	}
	return l
}

// idOf finds a record by its name, "" when there is none.
func idOf(list []named, name string) catalog.ID {
	for _, n := range list {
		if n.name == name {
			return n.id
		}
	}
	return ""
}

func nameOf(list []named, id catalog.ID) string {
	for _, n := range list {
		if n.id == id {
			return n.name
		}
	}
	return ""
}

// namedBy are records with the names that they are chosen by.
func namedBy[T any](list []T, name func(x *T) (catalog.ID, string)) []named {
	l := make([]named, len(list))
	for i := range list {
		l[i].id, l[i].name = name(&list[i])
	}
	return l
}

func (b *book) peopleNames() []named {
	return namedBy(b.People, func(x *catalog.Person) (catalog.ID, string) { return x.ID, x.Name })
}

func (b *book) paperNames() []named {
	return namedBy(b.Papers, func(x *catalog.Paper) (catalog.ID, string) { return x.ID, x.Name })
}

func (b *book) inkNames() []named {
	return namedBy(b.Inks, func(x *catalog.Ink) (catalog.ID, string) { return x.ID, x.Name })
}

func (b *book) pressNames() []named {
	return namedBy(b.Presses, func(x *catalog.Press) (catalog.ID, string) { return x.ID, x.Name })
}

func (b *book) holderNames() []named {
	return namedBy(b.Holders, func(x *catalog.Holder) (catalog.ID, string) { return x.ID, x.Name })
}

func (b *book) groupNames() []named {
	return namedBy(b.Groups, func(x *catalog.Group) (catalog.ID, string) { return x.ID, x.Title })
}

func (b *book) exhibitionNames() []named {
	return namedBy(b.Exhibitions, func(x *catalog.Exhibition) (catalog.ID, string) { return x.ID, firstText(x.Short, x.Title) })
}

// factForm sets facts one below another.
func factForm(nameWidth float32, facts []fact) *fyne.Container {
	var o []fyne.CanvasObject
	for _, f := range facts {
		o = append(o, row(f.name, f.field)...)
	}
	return look.Form(nameWidth, o...)
}

// takeAll reads every field into the record, or says what is wrong with one.
func takeAll(facts []fact) error {
	for _, f := range facts {
		if err := f.take(); err != nil {
			return err
		}
	}
	return nil
}
