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

func (b *book) peopleNames() []named {
	var l []named
	for i := range b.People {
		l = append(l, named{b.People[i].ID, b.People[i].Name})
	}
	return l
}

func (b *book) paperNames() []named {
	var l []named
	for i := range b.Papers {
		l = append(l, named{b.Papers[i].ID, b.Papers[i].Name})
	}
	return l
}

func (b *book) groupNames() []named {
	var l []named
	for i := range b.Groups {
		l = append(l, named{b.Groups[i].ID, b.Groups[i].Title})
	}
	return l
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
