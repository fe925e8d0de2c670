package window

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2/container"

	"pullbook/app/studio"
	"pullbook/app/window/look"
	"pullbook/app/window/places"
	"pullbook/app/window/words"
	"pullbook/catalog/store"
)

// copiesShown is how many backups the window offers: the newest.
const copiesShown = 6

// rescue says why the catalogue in a folder did not open and offers what helps
// against that kind of trouble. It reports false when there is nothing to
// offer but the sentence.
func (w *houseWindow) rescue(dir string, err error) bool {
	var trouble *store.OpenError
	if !errors.As(err, &trouble) || trouble.Trouble != store.TroubleDamaged {
		return false
	}
	col := look.Column(12,
		look.Head(words.T("This catalogue does not open")).Giving(),
		look.Caution(words.Error(trouble)),
		look.Para(words.T("Nothing has been changed so far. Copy the whole folder to another disk before you try anything, if you can. What is damaged is kept in either case."), true))
	backups, _ := store.Backups(trouble.Path) // none can be listed: none are offered
	if len(backups) > 0 {
		col.Add(look.Label(words.T("Put back an older copy of the records; photographs stay as they are")))
		for _, b := range backups[:min(len(backups), copiesShown)] {
			say := words.T("as of %s, %s", words.DayClock(b.Made), words.Num(float64(b.Bytes)/1e6, 1)+" MB")
			col.Add(look.Border(nil, nil, nil, look.NewButton(words.T("Put it back"), look.IconUndo, func() { w.putBack(trouble.Path, b.Path) }), look.Line(say).Giving()))
		}
	} else {
		col.Add(look.Para(words.T("There is no older copy of the records in its folder."), false))
	}
	col.Add(look.Label(words.T("Bring what can still be read over into a new catalogue")))
	col.Add(look.Row(0, look.NewButton(words.T("Bring it over"), look.IconOut, func() { w.bringOver(trouble.Path) })))
	leave := look.QuietButton(words.T("Leave it"), "", func() { w.back("") })
	col.Add(look.Row(0, leave))
	w.win.SetContent(container.NewStack(look.NewFill(look.Paper), container.NewVScroll(look.Middle(look.Wide(560, look.Inset(col, 10, 20))))))
	w.log("rescue offered: %d copies", len(backups))
	return true
}

// back goes to the catalogue that is open, or to the beginning.
func (w *houseWindow) back(say string) {
	if w.frame == nil {
		w.welcome(say)
		return
	}
	var err error
	if say != "" {
		err = errors.New(say)
	}
	w.frame.Show(err)
}

// putBack restores a backup and opens the catalogue.
func (w *houseWindow) putBack(dir, backup string) {
	w.enter(words.T("Putting an older copy back"), dir, func(ctx context.Context, p studio.Progress) (*studio.Studio, error) {
		if _, err := store.Restore(ctx, dir, backup, store.Options{Who: w.who()}); err != nil {
			return nil, err
		}
		return studio.Open(dir, w.options())
	})
}

// bringOver salvages what can be read into a new catalogue beside the damaged
// one and opens that.
func (w *houseWindow) bringOver(dir string) {
	to := besideName(dir)
	w.enter(words.T("Bringing over what can be read"), to, func(ctx context.Context, p studio.Progress) (*studio.Studio, error) {
		r, err := store.Salvage(ctx, dir, to, store.Options{Who: w.who()}, func(done, total int, what string) {
			p(float64(done)/float64(max(total, 1)), what)
		})
		if err != nil {
			return nil, err
		}
		w.salvaged = salvageWords(to, r)
		return studio.Open(to, w.options())
	})
}

// besideName is a folder that is not there yet, named after a catalogue.
func besideName(dir string) string {
	base := strings.TrimSuffix(dir, store.Suffix)
	for n := 1; ; n++ {
		to := base + " " + words.T("brought over")
		if n > 1 {
			to = fmt.Sprintf("%s %d", to, n)
		}
		if _, err := os.Lstat(to + store.Suffix); err != nil {
			return to + store.Suffix
		}
	}
}

// salvageWords says what could be brought over, and what could not.
func salvageWords(to string, r store.SalvageReport) string {
	rows := 0
	for _, n := range r.Rows {
		rows += n
	}
	s := words.T("%d records and %d photographs were brought over into %s.", rows, r.Photographs, filepath.Base(to))
	if n := len(r.Damaged) + r.Dropped + r.Loosened; n > 0 {
		s += " " + words.T("Not all could be read: look through the lists before you go on.")
	}
	if len(r.Lost) > 0 {
		s += " " + words.T("Missing or altered photographs: %s.", strings.Join(r.Lost, ", "))
	}
	return s
}

// who is the name under which changes are entered.
func (w *houseWindow) who() string { return w.memory.String(places.PrefBy) }

func (w *houseWindow) options() studio.Options { return studio.Options{Who: w.who()} }
