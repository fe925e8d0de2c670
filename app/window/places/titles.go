package places

import (
	"slices"
	"strings"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// givenBy are those a title may come from, as the catalogue keeps them.
var givenBy = []string{"artist", "supplied", "other"}

func givenNames() []string {
	return []string{words.T("the printmaker's own"), words.T("supplied"), words.T("given by others")}
}

// titleAt is one title of a plate: its words, and below them its language and
// who gave it. The one after the last adds a title; one that is emptied goes,
// but for the first.
func titleAt(p *catalog.Plate, i int) fact {
	t := catalog.Title{Given: givenBy[0]}
	if i > 0 {
		t.Given = "other"
	}
	is := i < len(p.Titles)
	if is {
		t = p.Titles[i]
	}
	text, tongue := newField(t.Text, false, nil), newField(t.Language, false, nil)
	if !is {
		text.SetPlaceHolder(words.T("another title"))
	}
	tongue.SetPlaceHolder(words.T("language, as en"))
	given := newSelect(givenNames(), nil)
	given.SetSelectedIndex(max(slices.Index(givenBy, t.Given), 0))
	under := look.Border(nil, nil, look.InsetEach(look.Wide(124, tongue), 0, 0, 6, 0), nil, given)
	take := func() error {
		now := catalog.Title{Text: strings.TrimSpace(text.Text), Language: strings.TrimSpace(tongue.Text), Given: t.Given}
		if k := given.SelectedIndex(); k != max(slices.Index(givenBy, t.Given), 0) {
			now.Given = givenBy[k]
		}
		l := slices.Clone(p.Titles)
		switch {
		case now.Text == "" && i == 0:
			return sentence("A plate needs a title; a supplied one in brackets will do.")
		case now.Text == "" && i < len(l):
			l = slices.Delete(l, i, i+1)
		case now.Text == "":
		case i < len(l):
			l[i] = now
		default:
			l = append(l, now)
		}
		p.Titles = l
		return nil
	}
	return fact{"", look.Column(4, text, under), take, func(f func()) {
		kept := func() {
			if is || strings.TrimSpace(text.Text) != "" { // else its words are still to come
				f()
			}
		}
		text.left(kept)
		tongue.left(kept)
		given.OnChanged = func(string) { kept() }
	}}
}
