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

// editedPlate is a field of the plate in hand, kept when it is left.
func (d *deskPlace) editedPlate(what string, of func(p *catalog.Plate, made *[]any) fact) fyne.CanvasObject {
	p := *d.plate
	var made []any
	f := of(&p, &made)
	f.left(func() {
		d.editWith(what, func(cur *catalog.Plate) ([]any, error) {
			p, made = *cur, nil
			if err := f.take(); err != nil {
				return nil, err
			}
			*cur = p
			return made, nil
		})
	})
	return f.field
}

// entry is everything the catalogue keeps of the plate, edited in place.
func (d *deskPlace) entry() fyne.CanvasObject {
	var o []fyne.CanvasObject
	add := func(name, what string, of func(p *catalog.Plate, made *[]any) fact) {
		o = append(o, row(name, d.editedPlate(what, of))...)
	}
	add(words.T("Number"), words.T("number"), func(p *catalog.Plate, _ *[]any) fact { return numbered(&p.Number) })
	add(words.T("Standing"), words.T("standing"), func(p *catalog.Plate, _ *[]any) fact {
		return oneOf("", &p.Standing, catalog.Accepted, catalog.Doubtful, catalog.Rejected)
	})
	for i := range len(d.plate.Titles) + 1 {
		name := words.T("Title")
		if i > 0 {
			name = words.T("Other title")
		}
		add(name, words.T("title"), func(p *catalog.Plate, _ *[]any) fact { return titleAt(p, i) })
	}
	add(words.T("Date"), words.T("date"), func(p *catalog.Plate, _ *[]any) fact { return dated("", &p.Date) })
	add(words.T("Printmaker"), words.T("printmaker"), func(p *catalog.Plate, made *[]any) fact {
		return byName("", &p.MakerID, d.b.peopleNames(), made, newPerson("printmaker"))
	})
	add(words.T("Technique"), words.T("technique"), func(p *catalog.Plate, _ *[]any) fact { return techniques(&p.Techniques) })
	add(words.T("Plate mark"), words.T("plate mark"), func(p *catalog.Plate, _ *[]any) fact { return sized("", &p.Mark) })
	add(words.T("Metal"), words.T("metal"), func(p *catalog.Plate, _ *[]any) fact { return line("", &p.Metal) })
	add(words.T("Its size"), words.T("size of the metal"), func(p *catalog.Plate, _ *[]any) fact { return sized("", &p.Copper) })
	mm := words.T("Thickness and bevel are figures in millimetres, such as 1.5.")
	add(words.T("Thickness, mm"), words.T("thickness"), func(p *catalog.Plate, _ *[]any) fact { return amount("", &p.ThicknessMM, 1, mm) })
	add(words.T("Bevel, mm"), words.T("bevel"), func(p *catalog.Plate, _ *[]any) fact { return amount("", &p.BevelMM, 1, mm) })
	add("", words.T("steel-facing"), func(p *catalog.Plate, _ *[]any) fact { return ticked("", words.T("steel-faced"), &p.SteelFaced) })
	add(words.T("Faced at pull"), words.T("steel-facing"), func(p *catalog.Plate, _ *[]any) fact {
		return count("", &p.SteelFacedAtPull, words.T("The pull at which the plate was steel-faced is a whole number, such as 40."))
	})
	add(words.T("Fate of the metal"), words.T("fate"), func(p *catalog.Plate, _ *[]any) fact { return oneOf("", &p.Fate, fates...) })
	add(words.T("Since when"), words.T("date of its fate"), func(p *catalog.Plate, _ *[]any) fact { return dated("", &p.FateDate) })
	add(words.T("How, where"), words.T("note on its fate"), func(p *catalog.Plate, _ *[]any) fact { return line("", &p.FateNote) })
	add(words.T("Limit of ink loss, %"), words.T("limit of ink loss"), func(p *catalog.Plate, _ *[]any) fact {
		return amount("", &p.LossLimit, 100, words.T("The limit of ink loss is a figure in per cent, such as 25; empty takes the catalogue's own."))
	})
	add(words.T("In the plate"), words.T("inscriptions"), func(p *catalog.Plate, _ *[]any) fact {
		return inLines("", inscriptionText(p.Inscriptions), words.T("one to a line: text ; place ; with what ; by whom"), func(s string) error {
			p.Inscriptions = readInscriptions(s, "in the plate")
			return nil
		})
	})
	o = append(o, row(words.T("Portfolios, series"), newComboWith(d.groupsOf(d.plate), namesOf(d.b.groupNames()), func(s string) {
		d.editWith(words.T("portfolios"), func(p *catalog.Plate) ([]any, error) { return d.setGroups(p, s), nil })
	}))...)
	add(words.T("Subjects"), words.T("subjects"), func(p *catalog.Plate, _ *[]any) fact { return commas(&p.Subjects) })
	add(words.T("Remarks"), words.T("remarks"), func(p *catalog.Plate, _ *[]any) fact { return longText("", &p.Remarks) })
	return look.Form(128, o...)
}

// numbered is a catalogue number with prefix and suffix.
func numbered(to *catalog.Number) fact {
	text := numberWords(*to)
	e := newField(text, false, nil)
	return fact{"", e, func() error {
		if e.Text != text {
			*to = notation.ParseNumber(e.Text).Number
		}
		return nil
	}, e.left}
}

// techniques are techniques with commas between.
func techniques(to *[]catalog.Technique) fact {
	text := techniquesOf(*to)
	c := newComboWith(text, techniqueNames(), nil)
	return fact{"", c, func() error {
		if c.Text != text {
			*to = readTechniques(c.Text)
		}
		return nil
	}, func(f func()) { c.done = func(string) { f() } }}
}

// commas is a list of texts with commas between.
func commas(to *[]string) fact {
	text := strings.Join(*to, ", ")
	e := newField(text, false, nil)
	return fact{"", e, func() error {
		if e.Text == text {
			return nil
		}
		*to = nil
		for _, x := range strings.Split(e.Text, ",") {
			if x = strings.TrimSpace(x); x != "" {
				*to = append(*to, x)
			}
		}
		return nil
	}, e.left}
}

// edited is a field of a record, kept when it is left: of what the catalogue
// holds of the record then, which now gives, so that nothing is overwritten.
func edited[T any](d *deskPlace, x T, now func() *T, label string, of func(x *T, made *[]any) fact) fyne.CanvasObject {
	var made []any
	f := of(&x, &made)
	f.left(func() {
		if cur := now(); cur != nil {
			x = *cur
		}
		made = nil
		if err := f.take(); err != nil {
			d.f.fail(err)
			return
		}
		kept := x
		d.f.save(label, append(made, &kept)...)
	})
	return f.field
}

// editedState is a field of a state, kept when it is left.
func (d *deskPlace) editedState(s *catalog.State, what string, of func(x *catalog.State, made *[]any) fact) fyne.CanvasObject {
	return edited(d, *s, func() *catalog.State { return d.f.book.states[s.ID] }, words.T("edit %s of state %s", what, notation.Roman(s.N)), of)
}

// stateFacts are everything the catalogue keeps of a state besides its changes
// and the work on it.
func (d *deskPlace) stateFacts(s *catalog.State) fyne.CanvasObject {
	var o []fyne.CanvasObject
	add := func(name, what string, of func(x *catalog.State, made *[]any) fact) {
		o = append(o, row(name, d.editedState(s, what, of))...)
	}
	add(words.T("Described"), words.T("the description"), func(x *catalog.State, _ *[]any) fact { return longText("", &x.Description) })
	add(words.T("Date"), words.T("date"), func(x *catalog.State, _ *[]any) fact { return dated("", &x.Date) })
	add(words.T("Technique"), words.T("technique"), func(x *catalog.State, _ *[]any) fact { return techniques(&x.Techniques) })
	ref := words.T("none yet")
	if i := d.b.impressions[s.ReferenceID]; i != nil {
		ref = sheetName(i)
	}
	o = append(o, row(words.T("Reference pull"), look.Line(ref).Giving())...)
	o = append(o, row(words.T("Sheets"), look.Line(strconv.Itoa(len(d.b.inState(s.PlateID, s.ID)))))...)
	add(words.T("Counted elsewhere"), words.T("how others count it"), func(x *catalog.State, made *[]any) fact {
		return inLines("", d.b.cited(x.Literature), words.T("one to a line: short form ; number ; pages ; state there ; note"), func(t string) (err error) {
			x.Literature, err = d.b.readCited(t, made)
			return err
		})
	})
	add(words.T("Remarks"), words.T("remarks"), func(x *catalog.State, _ *[]any) fact { return longText("", &x.Remarks) })
	return look.Form(128, o...)
}
