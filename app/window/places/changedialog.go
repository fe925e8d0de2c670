package places

import (
	"regexp"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// openChange lets the user put a change into his own words and take it together
// with others of its kind.
func (p *scorePanel) openChange(st *catalog.State, k int) {
	c := st.Changes[k]
	say := newField(c.Words, true, nil)
	form := look.Column(6, look.Small(words.T("In words")), say)
	var with []*widget.Check
	var which []int
	for i, o := range st.Changes {
		if i == k || o.Kind != c.Kind || o.Ruling == "rejected" {
			continue
		}
		if len(with) == 0 {
			form.Add(look.Small(words.T("Taken together with")))
		}
		with, which = append(with, widget.NewCheck(changeSay(o), nil)), append(which, i)
		form.Add(with[len(with)-1])
	}
	f := p.t.f
	f.dialog(words.T("A change"), form, fyne.NewSize(460, 320), words.T("Keep it so"), func() error {
		s := *st
		joined := c
		var gone []int
		for i, w := range with {
			if w.Checked {
				joined = together(joined, st.Changes[which[i]])
				gone = append(gone, which[i])
			}
		}
		joined.Ruling = "accepted"
		if typed := strings.TrimSpace(say.Text); typed != c.Words && typed != "" {
			joined.Words = typed
		} else if len(gone) > 0 {
			joined.Words = catalog.ChangeWords(joined, catalog.SoleTechnique(st, p.t.plate), p.t.plate.Mark)
		}
		s.Changes = nil
		for i, o := range st.Changes {
			switch {
			case i == k:
				s.Changes = append(s.Changes, joined)
			case !slices.Contains(gone, i):
				s.Changes = append(s.Changes, o)
			}
		}
		p.t.changes = -1
		f.save(words.T("put a change into words"), &s)
		return nil
	})
	f.win.Canvas().Focus(say)
}

// together is one change made of two: the box round both, and no surer than the
// less sure.
func together(a, b catalog.Change) catalog.Change {
	a.BoxMM = [4]float64{min(a.BoxMM[0], b.BoxMM[0]), min(a.BoxMM[1], b.BoxMM[1]), max(a.BoxMM[2], b.BoxMM[2]), max(a.BoxMM[3], b.BoxMM[3])}
	a.AreaMM2 += b.AreaMM2
	a.Sure = min(a.Sure, b.Sure)
	return a
}

// describe adds the accepted changes to the description of their state.
func (p *scorePanel) describe(st *catalog.State) {
	s := *st
	if s.Description = withChanges(st); s.Description != st.Description {
		p.t.f.save(words.T("describe the state by its changes"), &s)
	}
}

// withChanges is a state's description with those accepted changes that it does
// not name yet.
func withChanges(st *catalog.State) string {
	var list []string
	for _, c := range st.Changes {
		if c.Ruling == "accepted" && c.Words != "" && !strings.Contains(strings.ToLower(st.Description), strings.ToLower(c.Words)) {
			list = append(list, c.Words)
		}
	}
	if len(list) == 0 {
		return st.Description
	}
	say := strings.Join(list, "; ") + "."
	say = strings.ToUpper(say[:1]) + say[1:]
	return strings.TrimSpace(st.Description + " " + say)
}

// timesBetween is the x between two figures of a size.
var timesBetween = regexp.MustCompile(`(\d) ?x ?(\d)`)

// changeSay is a change in words.
func changeSay(c catalog.Change) string {
	if c.Words != "" {
		return timesBetween.ReplaceAllString(c.Words, "$1 × $2")
	}
	return words.T("%s work, %s mm²", words.T(c.Kind), words.Num(c.AreaMM2, 0))
}
